"""Words people search with that the pages do not use: the glossary's other words for what really stands on a page."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from functools import cache

from macros.manual.views import ControlView, LinkView, PageView
from macros.published import load


def also_searched(page: PageView) -> list[str]:
    """The other words for each glossary term on the page, in the order of the glossary, one form of each.

    The search cuts endings off by itself: who types "net pots" finds "net pot".
    """
    text = "\n".join(texts_of(page))
    lowered = text.lower()  # a plain look first: most terms do not stand on the page at all
    words = [
        word
        for term, pattern, others in _terms()
        if term in lowered and pattern.search(text)
        for word in others
    ]
    return list(dict.fromkeys(words))


def texts_of(view: object) -> Iterator[str]:
    """Every text a page shows, but its addresses and its control block."""
    if isinstance(view, str):
        yield view
    elif isinstance(view, tuple):
        for item in view:
            yield from texts_of(item)
    elif is_dataclass(view) and not isinstance(view, ControlView):
        shown = (
            [view.text] if isinstance(view, LinkView) else [getattr(view, one.name) for one in fields(view)]
        )
        for item in shown:
            yield from texts_of(item)


_ENDINGS = ("s", "d", "ed")


def one_form_each(words: list[str]) -> tuple[str, ...]:
    """The words without those that are another one with an ending."""
    return tuple(
        word for word in words if not any(word == other + end for other in words for end in _ENDINGS)
    )


@cache
def _terms() -> tuple[tuple[str, re.Pattern[str], tuple[str, ...]], ...]:
    """Each term with other words: itself, where it stands as a whole word, singular or plural, and the words."""
    return tuple(
        (
            term.lower(),
            re.compile(rf"(?<![-\w]){re.escape(term)}s?(?![-\w])", re.IGNORECASE),
            one_form_each([str(word) for word in entry["not"]]),
        )
        for term, entry in load("glossary")["terms"].items()
        if entry["not"]
    )

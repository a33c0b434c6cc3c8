"""Words people search with that the pages do not use: the glossary's other words for what really stands on a page."""

from __future__ import annotations

import re
from dataclasses import is_dataclass
from functools import cache, lru_cache

from macros.page_model.page import ControlView, LinkView, PageView
from macros.page_model.photo import PhotoView
from macros.published.pages.words import glossary


def also_searched(page: PageView) -> list[str]:
    """The other words for each glossary term on the page, in the order of the glossary, one form of each.

    The search cuts endings off by itself: who types "net pots" finds "net pot".
    """
    found = {term for text in texts_of(page) for term in _terms_in(text)}
    return list(dict.fromkeys(word for term, _, others in _terms() if term in found for word in others))


def texts_of(view: object) -> list[str]:
    """Every text a page shows, but its addresses and its control block."""
    texts: list[str] = []
    _collect(view, texts)
    return texts


def _collect(view: object, texts: list[str]) -> None:
    if isinstance(view, str):
        texts.append(view)
    elif isinstance(view, tuple):
        for item in view:
            _collect(item, texts)
    elif isinstance(view, LinkView):
        texts.append(view.text)
    elif isinstance(view, PhotoView):
        texts += [view.alt, view.caption]
    elif is_dataclass(view) and not isinstance(view, ControlView):
        for item in vars(view).values():
            if item:  # neither an empty text nor a bare no
                _collect(item, texts)


_WORD = re.compile(r"\w+")
_ENDINGS = ("s", "d", "ed")


def one_form_each(words: list[str]) -> tuple[str, ...]:
    """The words without those that are another one with an ending."""
    return tuple(
        word for word in words if not any(word == other + end for other in words for end in _ENDINGS)
    )


@lru_cache(maxsize=16384)
def _terms_in(text: str) -> tuple[str, ...]:
    """The terms in one text. The pages of a house share most of their texts."""
    lowered = text.lower()
    if _longest_words().isdisjoint(_WORD.findall(lowered)):  # most texts
        return ()
    return tuple(term for term, pattern, _ in _terms() if term in lowered and pattern.search(text))


@cache
def _longest_words() -> frozenset[str]:
    """Words one of which stands in every text that holds a term: the longest of each, singular and plural."""
    words = [max(_WORD.findall(term), key=len) for term, _, _ in _terms()]
    return frozenset(words + [f"{word}s" for word in words])


@cache
def _terms() -> tuple[tuple[str, re.Pattern[str], tuple[str, ...]], ...]:
    """Each term with other words: itself, where it stands as a whole word, singular or plural, and the words."""
    return tuple(
        (
            term.lower(),
            re.compile(rf"(?<![-\w]){re.escape(term)}s?(?![-\w])", re.IGNORECASE),
            one_form_each(list(entry.not_)),
        )
        for term, entry in glossary().items()
        if entry.not_
    )

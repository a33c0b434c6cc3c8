"""Words of a published file that name something elsewhere: what is told of one that nobody knows."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterable

from pydantic import AfterValidator

from macros.ground.records import mistake, nearest


def unknown_word(word: str, kind: str, known: Iterable[str]) -> tuple[str, str, str]:
    """What was read, what is allowed, and the nearest known word."""
    names = tuple(known)
    return f'"{word}" is no {kind}', f"Allowed: {', '.join(names)}", nearest(word, names) or "Choose one"


def one_of(kind: str, known: Callable[[], Collection[str]]) -> AfterValidator:
    """A word that must stand in another list, which is looked up when the word is read."""

    def check(word: str) -> str:
        if word not in known():
            raise mistake(*unknown_word(word, kind, known()))
        return word

    return AfterValidator(check)


def filled_with(*names: str) -> AfterValidator:
    """A text whose gaps, as `{runs}`, are among these."""

    def check(text: str) -> str:
        for gap in re.findall(r"\{(.*?)\}", text):
            if gap not in names:
                raise mistake(*unknown_word(gap, "gap of this text", names))
        return text

    return AfterValidator(check)

"""One page a person: how high rows stand in the sheet's type, and rows joined until they fit; type never shrinks."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from macros.page_model.day_plan import PersonRow

PAGE = 250.0
"""Height of the smaller of the two papers within its margins [mm]; both are laid alike."""
LINE = 4.9
"""Height of a line in the body type [mm]."""
ROW = 7.0
"""Least height of a row, so that a time can be written in its blanks [mm]."""
ROW_LETTERS, PAGE_LETTERS = 52, 76
"""Letters of the body type a line of a row holds, and a line across the page; on the narrow side."""


def lines_of(text: str, letters: int = PAGE_LETTERS) -> int:
    """Lines a text takes."""
    return max(1, math.ceil(len(text) / letters))


def row_text(row: PersonRow) -> str:
    """All a row says beside its clock."""
    pieces = " · ".join(" ".join(filter(None, (one.page, one.steps, one.words))) for one in row.pieces)
    return " ".join(filter(None, (row.second, pieces, *(f"· {text}" for text in row.told))))


def height(row: PersonRow) -> float:
    """Height of a row [mm]."""
    return max(ROW, LINE * lines_of(row_text(row), ROW_LETTERS) + 1.2)


def fitted(rows: Sequence[PersonRow], room: float) -> tuple[PersonRow, ...]:
    """The rows, those with the fewest minutes joined to a neighbour until all stand in so many mm.

    A break and a look hours later stay rows of their own.
    """
    own = list(rows)
    while sum(map(height, own)) > room:
        pairs = [
            (one.minutes + then.minutes, at)
            for at, (one, then) in enumerate(zip(own, own[1:], strict=False))
            if {one.kind, then.kind} <= {"work", "again"}
        ]
        if not pairs:
            break
        _, at = min(pairs)
        own[at : at + 2] = [_joined(own[at], own[at + 1])]
    return tuple(own)


def _joined(one: PersonRow, then: PersonRow) -> PersonRow:
    """Two rows as one; of a page that stands in both the name is written once, and waits that are over are left out."""
    last, first = one.pieces[-1], then.pieces[0]
    pieces = (*one.pieces, *then.pieces)
    if last.page == first.page:
        steps = f"{last.steps}, {first.steps.split(' ', 1)[-1]}"
        pieces = (*one.pieces[:-1], replace(last, steps=steps, words=_title(last.words)), *then.pieces[1:])
    else:
        pieces = tuple(replace(piece, words=_title(piece.words)) for piece in pieces)
    return replace(
        one,
        end=then.end,
        pieces=pieces,
        told=(*one.told, *then.told),
        second=one.second or then.second,
        critical=one.critical or then.critical,
        kind="work",
        minutes=one.minutes + then.minutes,
    )


def _title(words: str) -> str:
    """The words of a row without what stands after the title."""
    return words.split(":")[0].rstrip(".")

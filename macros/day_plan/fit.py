"""One page a person: how high rows stand in the sheet's type, and rows joined until they fit; type never shrinks."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from macros.page_model.day_plan import PersonRow

PAGE = 256.0
"""Height of the smaller of the two papers within its margins [mm]; the rows are the same on both."""
LINE = 4.9
"""Height of a line in the body type [mm]."""
ROW = 6.5
"""Least height of a row, so that a time can be written in its blanks [mm]."""
ROW_LETTERS, PAGE_LETTERS = 64, 88
"""Letters of the body type a line of a row holds, and a line across the page, on the smaller paper; the other is as much
longer as its lines are shorter."""


def lines_of(text: str, letters: int = PAGE_LETTERS) -> int:
    """Lines a text takes."""
    return max(1, math.ceil(len(text) / letters))


def row_text(row: PersonRow) -> str:
    """All a row says beside its clock."""
    texts = []
    for number, one in enumerate(row.pieces):
        start = one.start if number else ""
        texts.append(" ".join(filter(None, (start, one.second, one.page, one.steps, one.words))))
        texts += one.told
    return " · ".join(texts)


def height(row: PersonRow) -> float:
    """Height of a row [mm]."""
    return max(ROW, LINE * lines_of(row_text(row), ROW_LETTERS) + 0.8)


def fitted(rows: Sequence[PersonRow], room: float) -> tuple[PersonRow, ...]:
    """The rows so that all stand in so many mm: as they are; each page with words only once; then neighbours joined.

    Those are joined first that make the lowest row, then those with fewest minutes. A break stays a row of its own.
    """
    own = list(rows)
    if sum(map(height, own)) > room:
        own = _named_once(own)
    while sum(map(height, own)) > room:
        joined = {at: _joined(*pair) for at, pair in enumerate(pairwise(own)) if _may_join(*pair)}
        saving = [at for at, row in joined.items() if height(row) < height(own[at]) + height(own[at + 1])]
        if not saving:
            break
        at = min(saving, key=lambda at: (height(joined[at]), joined[at].minutes, at))
        own[at : at + 2] = [joined[at]]
    return tuple(own)


def _may_join(one: PersonRow, then: PersonRow) -> bool:
    return {one.kind, then.kind} <= {"work", "again"}


def _named_once(rows: Sequence[PersonRow]) -> list[PersonRow]:
    """Rows of a page that was told before, without words: its sheet has them. What a round is for stays."""
    told: set[str] = set()
    found = []
    for row in rows:
        pieces = tuple(replace(one, words=one.short if one.page in told else one.words) for one in row.pieces)
        told |= {one.page for one in row.pieces if one.page}
        found.append(replace(row, pieces=pieces))
    return found


def _joined(one: PersonRow, then: PersonRow) -> PersonRow:
    """Two rows as one, each piece with its clock. A wait is told by the start of what follows it, if that stands there."""
    pieces = (*one.pieces, *then.pieces)
    pages = [piece.page for piece in pieces]
    bare = tuple(
        replace(piece, told=piece.told if piece.page not in pages[at + 1 :] else piece.told[:0])
        for at, piece in enumerate(pieces)
    )
    critical = one.critical or then.critical
    return PersonRow(one.start, then.end, bare, critical, "work", one.minutes + then.minutes)

"""One page a person: how high rows stand in the sheet's type, in two columns where they must; type never shrinks."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from macros.page_model.day_plan import PersonRow

PAGE = 240.0
"""Height of the smaller of the two papers within its margins [mm]; the rows are the same on both."""
LINE = 4.9
"""Height of a line in the body type [mm]."""
ROW, HALF_ROW = 6.5, 5.6
"""Least height of a row, and of one in two columns, so that a time can be written in its blanks [mm]."""
ROW_LETTERS, HALF_LETTERS, PAGE_LETTERS = 60, 28, 84
"""Letters of the body type a line of a row holds, of a row in one of two columns, and a line across the narrower paper."""


def lines_of(text: str, letters: int = PAGE_LETTERS) -> int:
    """Lines a text takes."""
    return max(1, math.ceil(len(text) / letters))


def bare_numbers(steps: str) -> str:
    """The numbers of steps beside the name of their page, without the word."""
    return steps.removeprefix("steps ").removeprefix("step ")


def row_text(row: PersonRow) -> str:
    """All a row says beside its clock."""
    texts = []
    for number, one in enumerate(row.pieces):
        start = one.start if number else ""
        texts.append(
            " ".join(filter(None, (start, one.second, one.page, bare_numbers(one.steps), one.words)))
        )
        texts += filter(None, (one.after, *one.told))
    return " · ".join(texts)


def height(row: PersonRow, letters: int = ROW_LETTERS) -> float:
    """Height of a row [mm]."""
    least, edge = (HALF_ROW, 0.4) if letters == HALF_LETTERS else (ROW, 0.8)
    return max(least, LINE * lines_of(row_text(row), letters) + edge)


Columns = tuple[tuple[PersonRow, ...], ...]


def in_columns(rows: Sequence[PersonRow], room: float) -> Columns:
    """The rows so that each column stands in so many mm: in one; in one, each page with words only once; in two without
    words, read down the left first; and then with neighbours joined."""
    for own in (tuple(rows), tuple(_named_once(rows))):
        if sum(map(height, own)) <= room:
            return (own,)
    bare = [_without_words(row, rows[at + 1 :]) for at, row in enumerate(rows)]
    high = [height(row, HALF_LETTERS) for row in bare]
    at = next(n for n in range(len(high) + 1) if sum(high[:n]) >= sum(high[n:]))
    if max(sum(high[:at]), sum(high[at:])) <= room:
        return tuple(bare[:at]), tuple(bare[at:])
    return (fitted(rows, room),)


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


def _without_words(row: PersonRow, later: Sequence[PersonRow]) -> PersonRow:
    """A row that names page and steps alone: the sheet has the words. What a round is for stays. A wait is told by the
    start of what follows it, if that stands in a later row."""
    pages = {piece.page for one in later for piece in one.pieces}
    pieces = tuple(
        replace(one, words=one.short, told=() if one.page in pages else one.told) for one in row.pieces
    )
    return replace(row, pieces=pieces)


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

"""Whether a label's text fits a sheet's labels, and in which type: reckoned from the widths of our own characters.

Small labels get fewer rows, never type under 9 pt. The measures here are those of `labels.css`; the browser tests hold
the two together.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache

from macros.html.environment import spaced
from macros.html.qr_code import modules_across
from macros.page_model.photo import PhotoView
from macros.paper.labels.label import Blank, LabelRow, LabelView
from macros.published.paper.label_stocks import LabelStock, label_kinds
from macros.published.paper.type_widths import type_widths

POINT = 25.4 / 72
LEAST_TYPE = 9.0
"""[pt]"""
TYPES = (12.0, 11.0, 10.0)
"""[pt] Type of the rows that is tried, largest first, before the least."""
LINE = 1.1
"""Line height over type size."""
PAD_X, PAD_Y, GAP = 3.0, 1.5, 0.5
"""[mm] Inside the label's edge; between rows."""
WRITE = {9.0: 6.0, 10.0: 6.5, 11.0: 7.0, 12.0: 7.5}
"""[mm] Height of a row to write in."""
ROOMY = 50.0
"""[mm] From this height a label has room for a letter seen from across the room."""
TAG_BADGE = 14.0
"""[pt] The system's letter on a tag."""
MODULE, QUIET = 0.72, 4
"""[mm] A module of the code; modules of quiet zone on each side."""
PICTURE = 24.0
"""[mm] Longer side of a photograph on a label."""
FIXED = "Void if the house file changed."
WET = "Pencil or permanent pen; wipe dry before it goes on."

FRAME = 0.5
"""[mm] What the frame of a signal word adds to its line."""
SIGN = "WW"
"""As wide as the triangle and the frame of a signal word."""

Run = tuple[str, bool]
"""Text and whether it is bold."""


@dataclass(frozen=True)
class Fitted:
    """A label as it goes on paper: paragraphs of rows, type [pt] of rows and letter, side of its code [mm] or 0, foot.

    `picture` are width and height [mm] of its photograph, 0 where it carries none; it stands where the code would.
    """

    label: LabelView
    paragraphs: tuple[tuple[LabelRow, ...], ...]
    sub: str
    body: float
    badge: float
    qr: float
    foot: str
    picture: tuple[float, float] = (0.0, 0.0)

    @property
    def name(self) -> float:
        """[pt] Type of the name and of large rows."""
        return self.body + 3

    @property
    def quiet(self) -> float:
        """[mm] White around the code."""
        return QUIET * MODULE

    @property
    def write(self) -> float:
        """[mm] Height of a row to write in."""
        return WRITE[self.body]


def fitted(label: LabelView, stock: LabelStock) -> Fitted | None:
    """The label in the largest type with as many rows as fit; None where not even the rows of rank 1 do.

    First all rows one below the other, with the photograph, else with the code where there is room; then rows side by side, then run on; then
    only the needed ones.
    Only on a tag are the house's name and the fixed words of the foot left out.
    """
    kind = label_kinds()[label.kind]
    if stock.width < kind.min_width or stock.height < kind.min_height:
        return None
    return next((one for one in _tries(label, stock) if _fits(one, stock)), None)


def _tries(label: LabelView, stock: LabelStock) -> Iterator[Fitted]:
    source, width = label.source, stock.width - 2 * PAD_X
    short = f"{source.house_name} · {source.text} · {FIXED}"
    whole = f"{short} {WET}"
    badge = _badge_type(label.kind, stock)
    side = qr_side(source.address) if source.address else 0.0
    stacked = tuple((row,) for row in label.rows)
    if label.photo is not None:
        yield from _pictured_tries(label, width, badge, whole, picture_size(label.photo))
    for qr, body in (
        *((side, body) for body in TYPES if side),
        *((0.0, body) for body in (*TYPES, LEAST_TYPE)),
    ):
        yield Fitted(label, stacked, label.sub, body, badge, qr, whole)
    for rank, foot in ((3, whole), (2, whole), (2, short)):
        rows = _of_rank(label, rank)
        for body in (TYPES[-1], LEAST_TYPE):
            for paragraphs in (_packed(rows, body, width), _run_on(rows)):
                yield Fitted(label, paragraphs, label.sub, body, badge, 0.0, foot)
    if label_kinds()[label.kind].tag:
        yield from _tag_tries(label, width, (short, source.text))


def _pictured_tries(
    label: LabelView, width: float, badge: float, foot: str, picture: tuple[float, float]
) -> Iterator[Fitted]:
    """Every row beside the photograph: one below the other, then side by side."""
    stacked = tuple((row,) for row in label.rows)
    for body in (*TYPES, LEAST_TYPE):
        yield Fitted(label, stacked, label.sub, body, badge, 0.0, foot, picture)
    for body in (TYPES[-1], LEAST_TYPE):
        packed = _packed(label.rows, body, width - picture[0])
        yield Fitted(label, packed, label.sub, body, badge, 0.0, foot, picture)


def _tag_tries(label: LabelView, width: float, feet: Sequence[str]) -> Iterator[Fitted]:
    """On a tag the words under the name run on as a row."""
    under = (LabelRow(text=label.sub),) if label.sub else ()
    for rank in (2, 1):
        rows = (*under, *_of_rank(label, rank))
        for foot in feet:
            for paragraphs in (_packed(rows, LEAST_TYPE, width), _run_on(rows)):
                yield Fitted(label, paragraphs, "", LEAST_TYPE, TAG_BADGE, 0.0, foot)


def _of_rank(label: LabelView, rank: int) -> tuple[LabelRow, ...]:
    return tuple(row for row in label.rows if row.rank <= rank)


def _packed(rows: Sequence[LabelRow], points: float, width: float) -> tuple[tuple[LabelRow, ...], ...]:
    """Plain rows side by side as far as they share one line: no row is broken that has a line to itself."""
    return _joined_rows(rows, lambda paragraph: lines_needed(_runs(paragraph), points, width) == 1)


def _run_on(rows: Sequence[LabelRow]) -> tuple[tuple[LabelRow, ...], ...]:
    """Plain rows that follow one another as one paragraph."""
    return _joined_rows(rows, lambda paragraph: True)


def _joined_rows(
    rows: Sequence[LabelRow], together: Callable[[Sequence[LabelRow]], bool]
) -> tuple[tuple[LabelRow, ...], ...]:
    """Plain rows joined while they may stand together, each ended by a full stop; any other row alone."""
    paragraphs: list[list[LabelRow]] = []
    running = False
    for row in rows:
        plain = not (row.blanks or row.word or row.large)
        if plain and row.text[-1:] not in (".", ";", ":"):
            row = replace(row, text=f"{row.text}.")
        if plain and running and together([*paragraphs[-1], row]):
            paragraphs[-1].append(row)
        else:
            paragraphs.append([row])
        running = plain
    return tuple(tuple(paragraph) for paragraph in paragraphs)


def qr_side(address: str) -> float:
    """[mm] The code with its quiet zone."""
    return (modules_across(address) + 2 * QUIET) * MODULE


def picture_size(photo: PhotoView) -> tuple[float, float]:
    """[mm] Width and height of a photograph on a label."""
    longer = max(photo.width, photo.height)
    return PICTURE * photo.width / longer, PICTURE * photo.height / longer


def _badge_type(kind: str, stock: LabelStock) -> float:
    """[pt] A tray and a tank are read from across the room."""
    if kind not in ("tray", "tank"):
        return 20.0
    return 34.0 if stock.height >= ROOMY else 24.0


def text_width(text: str, points: float, *, bold: bool) -> float:
    """[mm] Never less than the text really takes."""
    widths, other = _widths("bold" if bold else "regular")
    return sum(widths.get(character, other) for character in text) * points * POINT


def lines_needed(runs: Sequence[Run], points: float, width: float) -> int:
    """Lines the runs take, one after the other, in a column of `width` [mm]; breaks at spaces and inside long words."""
    lines, used = 1, 0.0
    for text, bold in runs:
        space = text_width(" ", points, bold=bold)
        for word in spaced(text).split(" "):
            taken = text_width(word, points, bold=bold)
            if used > 0 and used + space + taken <= width:
                used += space + taken
                continue
            if used > 0:
                lines += 1
            lines += max(0, math.ceil(taken / width) - 1)
            used = taken % width if taken > width else taken
    return lines


def height_of(one: Fitted, width: float) -> float:
    """[mm] What the label takes in a column of `width` [mm] inside its edges."""
    rows = sum(
        _height_of_rows(rows, one, width - max(one.qr, one.picture[0])) + GAP for rows in one.paragraphs
    )
    foot = lines_needed([(one.foot, False)], LEAST_TYPE, width) * LEAST_TYPE * POINT * LINE
    return _head_height(one, width) + GAP + max(rows, one.qr, one.picture[1]) + foot


def _fits(one: Fitted, stock: LabelStock) -> bool:
    return height_of(one, stock.width - 2 * PAD_X) <= stock.height - 2 * PAD_Y


def _head_height(one: Fitted, width: float) -> float:
    label, badge_height = one.label, 0.0
    if label.badge:
        width -= text_width(label.badge, one.badge, bold=True) + 5.0
        badge_height = one.badge * POINT + 1.5
    name = lines_needed([(label.name, True)], one.name, width) * one.name
    sub = lines_needed([(one.sub, False)], one.body, width) * one.body if one.sub else 0.0
    return max((name + sub) * POINT * LINE, badge_height)


def _height_of_rows(rows: Sequence[LabelRow], one: Fitted, width: float) -> float:
    """[mm] One paragraph: a row with blanks, or one or more rows of text that run on."""
    if rows[0].blanks:
        return _blank_lines(rows[0].blanks, one.body, width) * one.write
    points = one.name if rows[0].large else one.body
    frame = FRAME if rows[0].word else 0.0
    return lines_needed(_runs(rows), points, width) * points * POINT * LINE + frame


def _runs(rows: Sequence[LabelRow]) -> list[Run]:
    runs: list[Run] = []
    for row in rows:
        word = f"{SIGN}{row.word}" if row.word else ""
        runs += [run for run in ((word, True), (row.head, True), (row.text, row.large)) if run[0]]
    return runs


def _blank_lines(blanks: Sequence[Blank], points: float, width: float) -> int:
    lines, used = 1, 0.0
    for blank in blanks:
        taken = text_width(spaced(f"{blank.head} "), points, bold=True) + blank.wide + 2.0
        taken += text_width(spaced(blank.after), points, bold=False) + 1.0 if blank.after else 0.0
        if used > 0 and used + taken > width:
            lines, used = lines + 1, 0.0
        used += taken
        lines += max(0, math.ceil(taken / width) - 1)
    return lines


@cache
def _widths(weight: str) -> tuple[dict[str, float], float]:
    known = type_widths()
    widths = {character: row.em for row in known.weights[weight] for character in row.characters}
    return {**widths, "\u00a0": widths[" "]}, known.other

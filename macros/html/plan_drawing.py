"""A crop plan as bars by weeks: every stretch a bar of its own look, what is overbooked crossed and said.

Tenths of a millimetre as printed, x to the right, y down.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

from markupsafe import Markup

from macros.html.environment import render
from macros.page_model.figure import Bar, BarsView

LEFT, WIDTH = 460, 1420
"""Where the first day begins, and the length of the whole plan."""
TOP, ROW, HIGH = 60, 46, 32
KINDS = ("plugs", "grows", "harvest", "use", "over", "cleanout")
_FOR_TEXT = 22
"""Width of a figure."""
_LABELS = 120
"""Least width from date to date."""
_WEEKS = (1, 2, 4, 8, 13, 26, 52, 104, 208)


def day_left(view: BarsView, day: int) -> int:
    """The left edge of a day, the first being 0."""
    return round(LEFT + WIDTH * day / view.days)


def row_top(number: int) -> int:
    """The upper edge of the bars of a row."""
    return TOP + number * ROW


def in_words(view: BarsView) -> str:
    """What the drawing says of what is short; the tables below say the rest."""
    over = [
        f"{bar.count} {name} from {_date(view, bar.first)} to {_date(view, bar.last)}"
        for name, bars in view.rows
        for bar in bars
        if bar.kind == "over"
    ]
    weeks = f"{view.title}, {view.days // 7} weeks from {_date(view, 0)}"
    return f"{weeks}. Overbooked: {'; '.join(over) or 'nothing'}."


def plan_drawing(view: BarsView) -> Markup:
    """A plan as HTML without a blank line inside."""
    bars = [(row_top(number), bar) for number, (_, row) in enumerate(view.rows) for bar in row]
    kinds = {kind: [one for one in bars if one[1].kind == kind] for kind in KINDS}
    return Markup(
        render(
            "bars.html.j2",
            said=in_words(view),
            names=[(name, row_top(number) + 26) for number, (name, _) in enumerate(view.rows)],
            paths={kind: "".join(_path(view, y, bar) for y, bar in found) for kind, found in kinds.items()},
            through="".join(_through(view, y, bar) for y, bar in kinds["harvest"]),
            counts=_counts(view, kinds["use"]),
            over=_counts(view, kinds["over"]),
            weeks=[day_left(view, day) for day in range(0, view.days + 1, 7)],
            dates=_dates(view),
            bottom=row_top(len(view.rows)),
            left=LEFT,
        ).strip()
    )


def _dates(view: BarsView) -> list[tuple[int, str]]:
    """(x, text) of the Mondays that have room, every second, fourth ... week of a long plan."""
    every = next(n for n in _WEEKS if n * 7 * WIDTH >= _LABELS * view.days)
    found = [(day_left(view, day), _date(view, day)) for day in range(0, view.days, 7 * every)]
    return [(x, text) for x, text in found if x + _LABELS <= LEFT + WIDTH]


def _path(view: BarsView, y: int, bar: Bar) -> str:
    x, end = day_left(view, bar.first), day_left(view, bar.last + 1)
    if bar.kind == "cleanout":
        return f"M{(x + end) // 2} {y}l16 16-16 16-16-16z"
    return f"M{x} {y}H{end}v{HIGH}H{x}z"


def _through(view: BarsView, y: int, bar: Bar) -> str:
    """A line through the bar: grey paper tells it from its neighbour."""
    return f"M{day_left(view, bar.first)} {y + HIGH // 2}H{day_left(view, bar.last + 1)}"


def _counts(view: BarsView, bars: Sequence[tuple[int, Bar]]) -> list[tuple[int, int, str]]:
    """(x, y, text) of the figures of bars, where they have room."""
    found = []
    for y, bar in bars:
        x, end = day_left(view, bar.first), day_left(view, bar.last + 1)
        text = f"{bar.count}!" if bar.kind == "over" else bar.count
        if text and len(text) * _FOR_TEXT <= end - x:
            found.append(((x + end) // 2, y + 28, text))
    return found


def _date(view: BarsView, day: int) -> str:
    on = view.start + timedelta(days=day)
    return f"{on.day} {on:%b}"

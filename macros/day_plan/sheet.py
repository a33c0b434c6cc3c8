"""The sheet of a day's plan, and its drawing: lanes for each person and for what waits, told by hatching and words."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from macros.day_plan.fit import LINE, PAGE, Columns, bare_numbers, height, in_columns, lines_of
from macros.html.environment import fragment
from macros.html.paper import Part, head_left
from macros.page_model.day_plan import PersonPlan, PlanBar, PlanView

_LEFT, _RIGHT, _TOP = 64.0, 806.0, 30.0
_LANE, _WAIT_LANE, _GAP = 24.0, 9.0, 4.0
_LETTER = 10.5
"""Drawing units a letter of a label takes."""


@dataclass(frozen=True)
class DrawnBar:
    """A bar where it is drawn; an empty label is one that would not fit."""

    x: float
    y: float
    width: float
    height: float
    label: str
    kind: str
    critical: bool
    told: str


@dataclass(frozen=True)
class RoomDrawing:
    """The system along the day: the line of the tank's level, and when trays are up, pump and air pump plugged in."""

    level: str
    level_y: float
    level_height: float
    bands: tuple[tuple[str, float, tuple[tuple[float, float], ...]], ...]


@dataclass(frozen=True)
class DayDrawing:
    """Positions of a day's drawing, in drawing units; y downward.

    `lanes` are (y, height, name); `hours` the lines of the grid, (x, label), without label between those named.
    """

    room: RoomDrawing | None
    lanes: tuple[tuple[float, float, str], ...]
    bars: tuple[DrawnBar, ...]
    hours: tuple[tuple[float, str], ...]
    left: float
    right: float
    top: float
    bottom: float
    width: float
    height: float


def day_drawing(view: PlanView) -> DayDrawing:
    """Bars on a clock from the whole hour before the start to the whole hour after the finish."""
    first = view.start_minute // 60
    last = -(-(view.start_minute + view.minutes) // 60)
    scale = (_RIGHT - _LEFT) / max(60, 60 * (last - first))

    def x(minutes: int) -> float:
        return round(_LEFT + (view.start_minute + minutes - 60 * first) * scale, 1)

    tops, y = {}, _TOP
    lanes = []
    for name in "AB"[: view.people]:
        lanes.append((y, _LANE, name))
        tops[name] = (y, _LANE)
        y += _LANE + _GAP
    for number in range(view.wait_lanes):
        lanes.append((y, _WAIT_LANE, "waits" if number == 0 else ""))
        tops[str(number)] = (y, _WAIT_LANE)
        y += _WAIT_LANE + 2
    bars = tuple(_drawn(bar, x(bar.start), x(bar.end), *tops[bar.lane]) for bar in view.bars)
    step = 1 if last - first <= 14 else 2
    hours = tuple(
        (
            round(_LEFT + 60 * (hour - first) * scale, 1),
            f"{hour % 24:02d}" if (hour - first) % step == 0 else "",
        )
        for hour in range(first, last + 1)
    )
    room, y = _room(view, x, y)
    return DayDrawing(
        room, tuple(lanes), bars, hours, _LEFT, _RIGHT, _TOP, round(y, 1), 816.0, round(y + 8, 1)
    )


_LEVEL, _BAND = 26.0, 14.0


def _room(view: PlanView, x: Callable[[int], float], y: float) -> tuple[RoomDrawing | None, float]:
    """Level and bands under the lanes; and where the drawing goes on."""
    if not view.room:
        return None, y
    ends = [*(round(one.minute) for one in view.room[1:]), view.minutes]
    pieces = [(x(round(one.minute)), x(end), one) for one, end in zip(view.room, ends, strict=True)]
    line = " ".join(
        f"{begin},{round(y + _LEVEL * (1 - one.level), 1)} {end},{round(y + _LEVEL * (1 - one.level), 1)}"
        for begin, end, one in pieces
    )
    bands, below = [], y + _LEVEL + 6
    for name, field in (("trays", "up"), ("pump", "pump"), ("air", "air")):
        bands.append(
            (name, below, tuple((a, round(b - a, 1)) for a, b, one in pieces if getattr(one, field)))
        )
        below += _BAND + 4
    return RoomDrawing(line, y, _LEVEL, tuple(bands)), below


def _drawn(bar: PlanBar, begin: float, end: float, y: float, height: float) -> DrawnBar:
    width = round(max(1.5, end - begin), 1)
    fits = width >= _LETTER * len(bar.label) + 4 and height >= _LANE
    return DrawnBar(begin, y, width, height, bar.label if fits else "", bar.kind, bar.critical, bar.told)


@dataclass(frozen=True)
class PersonPage:
    """One person's page: the rows that fit it, in one column or two; the drawing where it leaves room."""

    plan: PersonPlan
    columns: Columns
    drawing: DayDrawing | None


HEAD, BLANKS, ALARMS, ALARM, TABLE = 18.0, 9.0, 7.0, 6.6, 6.0
"""Heights of what stands around the rows [mm]: the head, the line of blanks, the box of
alarms and each line of it, the head of the table."""
ACROSS = 175.0
"""Width of the drawing on the narrower paper [mm]."""


def person_pages(view: PlanView) -> tuple[PersonPage, ...]:
    """A page for each person. The day's drawing stands on the first on which all rows then still fit as they are."""
    pages: list[PersonPage] = []
    drawing = day_drawing(view)
    needs = drawing.height / drawing.width * ACROSS + 3 * LINE
    for plan in view.persons:
        room = room_for_rows(view, plan)
        fits = all(page.drawing is None for page in pages) and sum(map(height, plan.rows)) <= room - needs
        columns = (plan.rows,) if fits else in_columns(plan.rows, room)
        pages.append(PersonPage(plan, columns, drawing if fits else None))
    return tuple(pages)


def room_for_rows(view: PlanView, plan: PersonPlan) -> float:
    """Height a person's page leaves for rows [mm]."""
    first = plan is view.persons[0]
    texts = [*view.day_lines, *below(view)] if first else list(view.day_lines[:1])
    lines = sum(map(lines_of, [*texts, *([" ".join(plan.waits)] if plan.waits else [])]))
    return PAGE - HEAD - BLANKS - TABLE - LINE * lines - (_alarms_height(view) if first else 0.0)


WIDE = 34
"""An alarm with more letters takes the whole width of the box."""


def _alarms_height(view: PlanView) -> float:
    """Height of the box of alarms [mm]."""
    wide = sum(len(one.text) > WIDE for one in view.alarms)
    return ALARMS + ALARM * (wide + math.ceil((len(view.alarms) - wide) / 2)) if view.alarms else 0.0


def below(view: PlanView) -> tuple[str, ...]:
    """What stands under the rows of the first page, a paragraph each."""
    found = []
    for title, lines in (("A second person", view.second), ("Later", view.later)):
        if lines:
            found.append(f"{title}: {'; '.join(f'{one.clock} {one.text}' for one in lines)}.")
    if view.within_call:
        found.append(f"Within call while stock is open, from {', '.join(view.within_call)}.")
    return (*found, *view.rules, view.finish_text)


def plan_part(view: PlanView) -> Part:
    """The day's plan as a sheet that can stand in a pack or alone, a page for each person."""
    people = "one person" if view.people == 1 else "two people"
    return Part(
        key=view.key,
        title=f"{view.title}, {people}",
        html=fragment(
            "plan.html.j2",
            v=view,
            pages=person_pages(view),
            wide=WIDE,
            below=below(view),
            people=people,
            numbers=bare_numbers,
        ),
        styles=("plan",),
        top_left=head_left(view.house_name, f"{view.title} · {'DRAFT' if view.draft else people}"),
        top_right=view.key,
        bottom_left=f"For {view.day} · values code {view.values_code}",
        bottom_right="Clock times bend; order, waits and limits do not",
    )

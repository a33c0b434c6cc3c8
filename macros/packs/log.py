"""The record of a day: a row for every batch, harvest, reading and due time, in the order of the work."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from macros.day_plan.rows import done, looks
from macros.day_plan.work import DayActivity
from macros.manual.records.record_form import WAIT_OVER, FormRow, outside_of, row_of
from macros.packs.pack import PackContext
from macros.page_model.page import PageView, StepView


@dataclass(frozen=True)
class LogBlock:
    """Rows one below the other; or one table of rounds, a row for each label and a column for each of its `rows`."""

    rows: tuple[FormRow, ...]
    document: str = ""
    labels: tuple[str, ...] = ()


def log_blocks(pack: PackContext) -> list[LogBlock]:
    """What is written on the day, in the order in which its plan does it; else in the order of the pages."""
    blocks: list[LogBlock] = []
    rows: list[FormRow] = []
    activities = _activities(pack)
    planned = {activity.page.key for activity in activities}
    for page in pack.day_pages:
        if page.key not in planned:
            rows += _rows(pack, page, page.steps)
    rounds: set[str] = set()
    for activity in activities:
        if activity.part.each != "variety":
            rows += _rows(pack, activity.page, _with_choices(pack, activity), activity.label)
        elif activity.part.id not in rounds:
            rounds.add(activity.part.id)
            table = _table(pack, [one for one in activities if one.part is activity.part])
            if table.rows:
                blocks += [LogBlock(_joined(rows)), table] if rows else [table]
                rows = []
    return [*blocks, LogBlock(_joined(rows))] if rows else blocks


def _activities(pack: PackContext) -> list[DayActivity]:
    """The work of the day on the clock, and the looks hours later; what is done again is written in its one row."""
    day = pack.planned
    if day is None or pack.plan.next_day:
        return []
    once = (one.activity for one in done(day) if one.activity.kind != "again")
    return [*once, *(activity for activity, _, _ in looks(day))]


def _with_choices(pack: PackContext, activity: DayActivity) -> Iterator[StepView]:
    """The steps of an activity; behind one of which only one is done, those that may be done in its place."""
    by_number = {step.number: step for step in activity.page.steps}
    assert pack.planned is not None
    for step in activity.steps:
        found = (step.number, *pack.planned.work.instead.get(step.id, ()))
        yield from (by_number[number] for number in sorted(found))


def _rows(pack: PackContext, page: PageView, steps: Iterable[StepView], label: str = "") -> Iterator[FormRow]:
    for step in steps:
        row = row_of(step, page.document, label)
        if row is not None:
            yield replace(row, tool=", ".join(_instruments(pack, step, row.quantity)))


def _joined(rows: list[FormRow]) -> tuple[FormRow, ...]:
    """A wait that begins with the very next step has its box in the row of the value before."""
    found: list[FormRow] = []
    for row in rows:
        last = found[-1] if found else None
        follows = last is not None and (last.document, last.number + 1) == (row.document, row.number)
        if last is not None and follows and row.quantity == WAIT_OVER and not last.due:
            found[-1] = replace(last, due=row.due)
        else:
            found.append(row)
    return tuple(found)


def _instruments(pack: PackContext, step: StepView, said: str) -> list[str]:
    """What a value is read with, unless its name says so; a row tells no other tool of its step."""
    house = pack.house
    known = {meter.name for meter in house.meters} | {strip.name for strip in house.test_strips}
    known |= {tool.name for tool in house.measuring_tools}
    used = dict.fromkeys((*step.tools, *(view.tool for view in step.amounts)))
    return [name for name in used if name in known and name not in said]


def _table(pack: PackContext, rounds: list[DayActivity]) -> LogBlock:
    """One row a round instead of one a value: a harvest is read across."""
    page = rounds[0].page
    steps = {step.id: step for one in rounds for step in one.steps}
    labels = dict.fromkeys(one.label for one in rounds)
    return LogBlock(tuple(_rows(pack, page, steps.values())), page.document, tuple(labels))


def outside_lines(pack: PackContext) -> list[tuple[str, str]]:
    """What to do with a value outside its limits, and for which pages."""
    by_act: dict[str, list[str]] = {}
    for page in pack.day_pages:
        if any(step.record for step in page.steps):
            by_act.setdefault(outside_of(page), []).append(page.document)
    return [(", ".join(documents), act) for act, documents in by_act.items()]

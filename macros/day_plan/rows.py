"""The rows and bars of a day's plan: activities on the clock, neighbours of one page and person as one row."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from macros.calculations.scheduler import Placed
from macros.day_plan.schedule import PlannedDay
from macros.day_plan.times import length
from macros.day_plan.work import DayActivity, Work
from macros.page_model.day_plan import PlanBar, PlanRow, RowKind
from macros.page_model.page import PageView, StepView
from macros.published.labour import jobs

FREE_FROM = 30
"""A gap in somebody's day of so many minutes gets a row of its own."""
PLACES = 2
"""A row names so many places."""
PHASE_MOST = 30
"""A phase with more letters is told up to its first comma."""


@dataclass(frozen=True)
class Done:
    """An activity of work on the clock."""

    activity: DayActivity
    start: int
    end: int
    people: tuple[int, ...]
    critical: bool


def done(day: PlannedDay) -> list[Done]:
    """All activities of work, in the order of their starts."""
    own = {activity.id: activity for activity in day.work.activities if activity.kind in ("work", "again")}
    return [
        Done(own[one.id], one.start, one.finish, one.people, one.id in day.plan.critical)
        for one in day.plan.plan.placed
        if one.id in own
    ]


def rows(day: PlannedDay, call_second: bool) -> tuple[PlanRow, ...]:
    """The rows of the sheet in the order of the clock."""
    found = [
        (group[0].start, group[0].people[:1] or (0,), _row(day, group, call_second)) for group in _groups(day)
    ]
    found += [(one.start, (0,), _rest(day, one)) for one in day.plan.rests]
    found += [
        (begin, (person,), _free(day, begin, end, person))
        for person in range(day.people)
        for begin, end in gaps(day, person)
        if end - begin >= FREE_FROM
    ]
    found += [(minute, (0,), _later(day, activity, minute, room)) for activity, minute, room in looks(day)]
    return tuple(row for _, _, row in sorted(found, key=lambda entry: entry[:2]))


def looks(day: PlannedDay) -> list[tuple[DayActivity, int, int | None]]:
    """What is done hours later: the activity, its earliest minute, and the latest."""
    return [
        (activity, end + least, None if greatest is None else end + greatest)
        for activity, after, least, greatest in day.work.later
        for end in (day.plan.placed[after].finish,)
    ]


def gaps(day: PlannedDay, person: int) -> list[tuple[int, int]]:
    """When a person has nothing to do between the start and their own last activity; rests are no gaps."""
    busy = sorted((one.start, one.finish) for one in day.plan.plan.placed if person in one.people)
    found, free = [], 0
    for begin, end in busy:
        if begin > free:
            found.append((free, begin))
        free = max(free, end)
    return found


def _groups(day: PlannedDay) -> list[list[Done]]:
    """Pieces of one page by one person, one right after the other, as one row; a wait ends it."""
    waited = {
        link.activity
        for activity in _runs_by_itself(day.work)
        for link in day.work.links.get(activity.id, ())
    }
    groups: list[list[Done]] = []
    open_: dict[tuple[int, ...], list[Done]] = {}
    for one in done(day):
        last = open_.get(one.people)
        if last is not None and _goes_on(last[-1], one, waited):
            last.append(one)
            continue
        for people in [key for key in open_ if set(key) & set(one.people)]:
            del open_[people]
        groups.append([one])
        open_[one.people] = groups[-1]
    return groups


def _runs_by_itself(work: Work) -> list[DayActivity]:
    return [activity for activity in work.activities if activity.kind in ("wait", "runs")]


def _goes_on(last: Done, one: Done, waited: set[str]) -> bool:
    return (
        last.end == one.start
        and last.activity.page is one.activity.page
        and last.activity.kind == one.activity.kind == "work"
        and last.activity.id not in waited
        and last.activity.label == one.activity.label
        and last.activity.hands == one.activity.hands
        and not one.activity.extra
        and last.activity.steps[-1].number < one.activity.steps[0].number
    )


def _row(day: PlannedDay, group: list[Done], call_second: bool) -> PlanRow:
    first, last = group[0], group[-1]
    steps = [step for one in group for step in one.activity.steps]
    again = first.activity.kind == "again"
    extras = extras_of(group)
    return PlanRow(
        start=day.clock(first.start),
        end=day.clock(last.end),
        who=names(first.people, day.people),
        page=first.activity.page.document,
        steps=numbers(steps, day.work.instead),
        words=words_of(first.activity.page, steps, first.activity.label, again),
        where=_where(steps),
        tools=_tools(group, steps),
        wait=wait_of_row(day, last),
        note="with " + ", ".join(extras) if extras else "",
        second=second_of(group, steps, day.people, call_second),
        critical=any(one.critical for one in group),
        kind="again" if again else "work",
    )


def extras_of(group: Sequence[Done]) -> list[str]:
    """What is done around the steps, with its minutes."""
    return [f"{one.activity.words} {length(one.activity.extra)}" for one in group if one.activity.extra]


def _where(steps: Sequence[StepView]) -> str:
    """The places where most of the minutes are spent, in the order of the steps."""
    minutes: dict[str, float] = {}
    for step in steps:
        if step.where:
            minutes[step.where] = minutes.get(step.where, 0.0) + step.minutes
    longest = sorted(minutes, key=lambda place: -minutes[place])[:PLACES]
    return ", ".join(place for place in minutes if place in longest)


def _tools(group: Sequence[Done], steps: Sequence[StepView]) -> tuple[str, ...]:
    """The shared tools held; a place is told already."""
    places = {step.where for step in steps}
    needs = dict.fromkeys(need for one in group for need in one.activity.needs)
    return tuple(need for need in needs if need in jobs.day_facts().shared_tools and need not in places)


def names(persons: Iterable[int], people: int) -> str:
    """`A`, `B`, `A+B`."""
    return "+".join("AB"[person] for person in persons) if people > 1 else "A"


def numbers(steps: Sequence[StepView], instead: Mapping[str, tuple[int, ...]]) -> str:
    """`step 5`, `steps 1 to 3, 13`: exactly the steps named; one that may be done in place of another counts with it."""
    found = sorted({number for step in steps for number in (step.number, *instead.get(step.id, ()))})
    ranges: list[list[int]] = []
    for number in found:
        if ranges and number == ranges[-1][-1] + 1:
            ranges[-1].append(number)
        else:
            ranges.append([number])
    texts = [str(r[0]) if len(r) == 1 else f"{r[0]} to {r[-1]}" for r in ranges]
    return f"{'step' if len(found) == 1 else 'steps'} {', '.join(texts)}"


def words_of(page: PageView, steps: Sequence[StepView], label: str, again: bool) -> str:
    """One step in its own words; several as the page's title and the phases they stand in."""
    if len(steps) == 1:
        text = steps[0].short or steps[0].do
        if again:
            return f"Again: {text.split(',')[0].rstrip('.')}."
        return f"{_capital(label)}: {text}" if label else text
    title = page.title.split(":")[0]
    if label:
        return f"{title}: {label}"
    phases = _phases(page, steps)
    inside = phases[0] if len(phases) == 1 else f"{phases[0]} … {phases[-1]}" if phases else ""
    return f"{title}: {inside}" if inside else title


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _phases(page: PageView, steps: Sequence[StepView]) -> list[str]:
    """The phases the steps stand in, each once; a long one up to its first comma."""
    phase, of_step = "", {}
    for step in page.steps:
        phase = step.phase or phase
        of_step[step.id] = phase
    found = [text for text in dict.fromkeys(of_step[step.id] for step in steps) if text]
    return [text if len(text) <= PHASE_MOST else text.split(",")[0] for text in found]


def wait_of_row(day: PlannedDay, last: Done) -> str:
    """What runs by itself after a row: until when at least, and at the latest."""
    links = day.work.links
    texts = []
    for activity in _runs_by_itself(day.work):
        if not activity.minutes or all(
            link.activity != last.activity.id for link in links.get(activity.id, ())
        ):
            continue
        over = day.plan.placed[activity.id].finish
        if activity.kind == "runs":
            texts.append(f"runs {length(activity.minutes)}, to {day.clock(over)}")
            continue
        after = [link.greatest for own in links.values() for link in own if link.activity == activity.id]
        room = [greatest for greatest in after if greatest is not None]
        latest = f", at most to {day.clock(over + min(room))}" if room else ""
        texts.append(f"{length(activity.minutes)} wait to {day.clock(over)}{latest}")
    return "; ".join(texts)


def second_of(group: Sequence[Done], steps: Sequence[StepView], people: int, call_second: bool) -> str:
    """What a plan for one says of the second person."""
    if people > 1:
        return ""
    if any(one.activity.hands > 1 for one in group):
        return "two people"
    if call_second and any(step.timing is not None and step.timing.open_stock for step in steps):
        return "within call"
    return ""


def _rest(day: PlannedDay, one: Placed) -> PlanRow:
    who, words = names(range(day.people), day.people), "Break, out of the room, hands washed."
    return PlanRow(day.clock(one.start), day.clock(one.finish), who, words=words, kind="rest")


def _free(day: PlannedDay, begin: int, end: int, person: int) -> PlanRow:
    who, words = names((person,), day.people), f"Nothing to do for {length(end - begin)}."
    return PlanRow(day.clock(begin), day.clock(end), who, words=words, kind="free")


def _later(day: PlannedDay, activity: DayActivity, minute: int, latest: int | None) -> PlanRow:
    limit = f", {day.clock(latest)} at most" if latest is not None else ""
    return PlanRow(
        start=day.clock(minute),
        end=day.clock(minute + activity.minutes),
        who="A or B" if day.people > 1 else "A",
        page=activity.page.document,
        steps=numbers(activity.steps, {}),
        words=words_of(activity.page, activity.steps, activity.label, False),
        where=_where(activity.steps),
        wait=f"not before {day.clock(minute)}{limit}",
        kind="later",
    )


# ------------------------------------------------------------------ bars


def bars(day: PlannedDay) -> tuple[tuple[PlanBar, ...], int]:
    """The bars of the drawing, and how many lanes the waits take."""
    work = [_work_bar(day, group, "AB"[person]) for group in _groups(day) for person in group[0].people]
    rests = [
        PlanBar("AB"[person], rest.start, rest.finish, "", "rest", False, "break")
        for rest in day.plan.rests
        for person in rest.people
    ]
    waits, lanes = _wait_bars(day)
    return (*work, *rests, *waits), lanes


def _work_bar(day: PlannedDay, group: list[Done], person: str) -> PlanBar:
    first, end = group[0], group[-1].end
    page = first.activity.page.document
    told = f"{page} {day.clock(first.start)} to {day.clock(end)}"
    kind: RowKind = "again" if first.activity.kind == "again" else "work"
    critical = any(one.critical for one in group)
    return PlanBar(person, first.start, end, page.removeprefix("SOP-"), kind, critical, told)


def _wait_bars(day: PlannedDay) -> tuple[list[PlanBar], int]:
    """What holds nobody, each in the first lane that is free then; and how many lanes that takes."""
    found: list[PlanBar] = []
    lanes: list[int] = []
    own = {activity.id: activity for activity in day.work.activities if not activity.hands}
    for one in day.plan.plan.placed:
        if one.id not in own or one.finish == one.start:
            continue
        lane = next((n for n, until in enumerate(lanes) if until <= one.start), len(lanes))
        lanes[lane : lane + 1] = [one.finish]
        page, step = own[one.id].page.document, own[one.id].steps[-1].number
        told = f"wait of {page} step {step} {day.clock(one.start)} to {day.clock(one.finish)}"
        label, critical = page.removeprefix("SOP-"), one.id in day.plan.critical
        found.append(PlanBar(str(lane), one.start, one.finish, label, "wait", critical, told))
    return found, len(lanes)

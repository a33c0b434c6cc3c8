"""The rows and bars of a day's plan: pieces on the clock, neighbours of one page and person as one row."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from macros.calculations.scheduler import Placed
from macros.day_plan.schedule import Schedule
from macros.day_plan.times import clock, length
from macros.day_plan.work import Piece, Work
from macros.page_model.day_plan import PlanBar, PlanRow
from macros.page_model.page import PageView, StepView
from macros.published.work import jobs

FREE_FROM = 30
"""A gap in somebody's day of so many minutes gets a row of its own."""
PLACES = 2
"""A row names so many places."""
PHASE_MOST = 30
"""A phase with more letters is told up to its first comma."""


@dataclass(frozen=True)
class Done:
    """A piece of work on the clock."""

    piece: Piece
    start: int
    end: int
    people: tuple[int, ...]
    critical: bool


def done(work: Work, plan: Schedule) -> list[Done]:
    """All pieces of work, in the order of their starts."""
    own = {piece.id: piece for piece in work.pieces}
    return [
        Done(own[one.id], one.start, one.finish, one.people, one.id in plan.critical)
        for one in plan.plan.placed
        if one.id in own and own[one.id].kind in ("work", "again")
    ]


def rows(work: Work, plan: Schedule, people: int, start: int, call_second: bool) -> tuple[PlanRow, ...]:
    """The rows of the sheet in the order of the clock."""
    found = [
        (group[0].start, group[0].people[:1] or (0,), _row(work, plan, group, people, start, call_second))
        for group in _groups(done(work, plan), work)
    ]
    found += [(one.start, (0,), _rest(one, people, start)) for one in plan.rests]
    found += [
        (begin, (person,), _free(begin, end, person, people, start))
        for person in range(people)
        for begin, end in gaps(plan, person)
        if end - begin >= FREE_FROM
    ]
    found += [
        (minute, (0,), _later(piece, minute, room, people, start))
        for piece, minute, room in looks(work, plan)
    ]
    return tuple(row for _, _, row in sorted(found, key=lambda entry: entry[:2]))


def looks(work: Work, plan: Schedule) -> list[tuple[Piece, int, int | None]]:
    """What is done hours later: the piece, its earliest minute, and the latest."""
    return [
        (
            piece,
            plan.placed[after].finish + least,
            None if greatest is None else plan.placed[after].finish + greatest,
        )
        for piece, after, least, greatest in work.later
    ]


def gaps(plan: Schedule, person: int) -> list[tuple[int, int]]:
    """When a person has nothing to do between the start and their own last piece; rests are no gaps."""
    busy = sorted((one.start, one.finish) for one in plan.plan.placed if person in one.people)
    found, free = [], 0
    for begin, end in busy:
        if begin > free:
            found.append((free, begin))
        free = max(free, end)
    return found


def _groups(pieces: Sequence[Done], work: Work) -> list[list[Done]]:
    """Pieces of one page by one person, one right after the other, as one row; a wait ends it."""
    waited = {
        link.activity
        for piece in work.pieces
        if piece.kind in ("wait", "runs")
        for link in work.links.get(piece.id, ())
    }
    groups: list[list[Done]] = []
    open_: dict[tuple[int, ...], list[Done]] = {}
    for one in pieces:
        last = open_.get(one.people)
        if last is not None and _goes_on(last[-1], one, waited):
            last.append(one)
            continue
        for people in [key for key in open_ if set(key) & set(one.people)]:
            del open_[people]
        groups.append([one])
        open_[one.people] = groups[-1]
    return groups


def _goes_on(last: Done, one: Done, waited: set[str]) -> bool:
    return (
        last.end == one.start
        and last.piece.page is one.piece.page
        and last.piece.kind == one.piece.kind == "work"
        and last.piece.id not in waited
        and last.piece.label == one.piece.label
        and last.piece.hands == one.piece.hands
        and not one.piece.extra
        and last.piece.steps[-1].number < one.piece.steps[0].number
    )


def _row(
    work: Work, plan: Schedule, group: list[Done], people: int, start: int, call_second: bool
) -> PlanRow:
    first, last = group[0], group[-1]
    steps = [step for one in group for step in one.piece.steps]
    again = first.piece.kind == "again"
    extras = [f"{one.piece.words} {length(one.piece.extra)}" for one in group if one.piece.extra]
    return PlanRow(
        start=clock(start, first.start),
        end=clock(start, last.end),
        who=names(first.people, people),
        page=first.piece.page.document,
        steps=numbers(steps, work.instead),
        words=_words(first.piece.page, steps, first.piece.label, again),
        where=_where(steps),
        tools=_tools(group, steps),
        wait=_wait(work, plan, last, start),
        note="with " + ", ".join(extras) if extras else "",
        second=_second(group, steps, people, call_second),
        critical=any(one.critical for one in group),
        kind="again" if again else "work",
    )


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
    needs = dict.fromkeys(need for one in group for need in one.piece.needs)
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


def _words(page: PageView, steps: Sequence[StepView], label: str, again: bool) -> str:
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


def _wait(work: Work, plan: Schedule, last: Done, start: int) -> str:
    """What runs by itself after a row: until when at least, and at the latest."""
    texts = []
    for piece in work.pieces:
        if piece.kind not in ("wait", "runs") or not piece.minutes:
            continue
        if all(link.activity != last.piece.id for link in work.links.get(piece.id, ())):
            continue
        over = plan.placed[piece.id].finish
        if piece.kind == "runs":
            texts.append(f"runs {length(piece.minutes)}, to {clock(start, over)}")
            continue
        room = [
            link.greatest
            for links in work.links.values()
            for link in links
            if link.activity == piece.id and link.greatest is not None
        ]
        latest = f", at most to {clock(start, over + min(room))}" if room else ""
        texts.append(f"{length(piece.minutes)} wait to {clock(start, over)}{latest}")
    return "; ".join(texts)


def _second(group: Sequence[Done], steps: Sequence[StepView], people: int, call_second: bool) -> str:
    """What a plan for one says of the second person."""
    if people > 1:
        return ""
    if any(one.piece.hands > 1 for one in group):
        return "two people"
    if call_second and any(step.timing is not None and step.timing.open_stock for step in steps):
        return "within call"
    return ""


def _rest(one: Placed, people: int, start: int) -> PlanRow:
    return PlanRow(
        start=clock(start, one.start),
        end=clock(start, one.finish),
        who=names(range(people), people),
        page="",
        steps="",
        words="Break, out of the room, hands washed.",
        where="",
        kind="rest",
    )


def _free(begin: int, end: int, person: int, people: int, start: int) -> PlanRow:
    return PlanRow(
        start=clock(start, begin),
        end=clock(start, end),
        who=names((person,), people),
        page="",
        steps="",
        words=f"Nothing to do for {length(end - begin)}.",
        where="",
        kind="free",
    )


def _later(piece: Piece, minute: int, latest: int | None, people: int, start: int) -> PlanRow:
    limit = f", {clock(start, latest)} at most" if latest is not None else ""
    return PlanRow(
        start=clock(start, minute),
        end=clock(start, minute + piece.minutes),
        who="A or B" if people > 1 else "A",
        page=piece.page.document,
        steps=numbers(piece.steps, {}),
        words=_words(piece.page, piece.steps, piece.label, False),
        where=_where(piece.steps),
        wait=f"not before {clock(start, minute)}{limit}",
        kind="later",
    )


# ------------------------------------------------------------------ bars


def bars(work: Work, plan: Schedule, people: int, start: int) -> tuple[tuple[PlanBar, ...], int]:
    """The bars of the drawing, and how many lanes the waits take."""
    found: list[PlanBar] = []
    for group in _groups(done(work, plan), work):
        for person in group[0].people:
            page = group[0].piece.page.document
            begin, end = group[0].start, group[-1].end
            found.append(
                PlanBar(
                    "AB"[person],
                    begin,
                    end,
                    page.removeprefix("SOP-"),
                    "again" if group[0].piece.kind == "again" else "work",
                    any(one.critical for one in group),
                    f"{page} {clock(start, begin)} to {clock(start, end)}",
                )
            )
    for rest in plan.rests:
        found += [
            PlanBar("AB"[person], rest.start, rest.finish, "", "rest", False, "break")
            for person in rest.people
        ]
    lanes: list[int] = []
    own = {piece.id: piece for piece in work.pieces}
    for one in plan.plan.placed:
        piece = own.get(one.id)
        if piece is None or piece.hands or one.finish == one.start:
            continue
        lane = next((n for n, until in enumerate(lanes) if until <= one.start), len(lanes))
        lanes[lane : lane + 1] = [one.finish]
        page = piece.page.document
        found.append(
            PlanBar(
                str(lane),
                one.start,
                one.finish,
                page.removeprefix("SOP-"),
                "wait",
                one.id in plan.critical,
                f"wait of {page} step {piece.steps[-1].number} {clock(start, one.start)} to {clock(start, one.finish)}",
            )
        )
    return tuple(found), len(lanes)

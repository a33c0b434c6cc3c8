"""Breakdown sheets: the important steps of a procedure, their key points, and a reason for each key point.

The three kinds of line are those of the Job Instruction sessions (US War Manpower Commission, Training Within
Industry, 1944); the column of reasons came later. Which steps are important follows from the page alone:

1. A step that is critical, a hold, easily missed, that waits, or that has a caution before it.
2. Where these are fewer than five: further steps that have a reason, those with most to read or measure first.
3. More than nine are split into sheets of five to nine, at the start of a phase wherever that is possible.

A sheet that says the same of several systems is told once; where only a figure differs, it names the system before it.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache

from macros.page_model.page import PageContent, PageView, PlacedCaution, StepView
from macros.page_model.room_view import RoomView

LEAST, MOST = 5, 9
"""Important steps of a sheet: no more than can be mastered in one go (TWI); the count is our own."""

_FIGURE = re.compile(r"\d+(?:\.\d+)?")

HOLD = "A hold: the steps after it are safe only once this is right."
"""The reason of a hold whose page gives no other."""


@dataclass(frozen=True)
class KeyGroup:
    """Key points that share one reason."""

    points: tuple[str, ...]
    reason: str


@dataclass(frozen=True)
class ImportantStep:
    """One important step: its number on the page, what is done, the sign it carries, its key points."""

    id: str
    number: int
    text: str
    mark: str
    groups: tuple[KeyGroup, ...]


@dataclass(frozen=True)
class BreakdownView:
    """One sheet of a page. `number` counts the sheets of the page, `phases` name what it holds.

    `pages` are those it is told for: one, or the same work in several systems; `page` is the first of them.
    """

    pages: tuple[PageView, ...]
    number: int
    count: int
    phases: tuple[str, ...]
    steps: tuple[ImportantStep, ...]

    @property
    def page(self) -> PageView:
        """The first of its pages."""
        return self.pages[0]

    @property
    def name(self) -> str:
        """What it is from: `SOP-08-A`, or `SOP-08-A, -B` where it is told for both."""
        return ", ".join((self.page.key, *(f"-{page.system}" for page in self.pages[1:])))

    @property
    def looks(self) -> tuple[RoomView, ...]:
        """On the last sheet of a page: the room at the start and at the end of the work, of its first system."""
        drawn = [step.looks for step in self.page.steps if step.looks]
        start = self.page.looks_at_start
        return (start, drawn[-1]) if start and drawn and self.number == self.count else ()

    @property
    def key(self) -> str:
        """The sheet's own name: `SOP-08-A-B1`, or `SOP-08-A-B-B1` where it is told for both."""
        return "-".join((self.page.key, *(page.system for page in self.pages[1:]), f"B{self.number}"))


def breakdown_sheets(page: PageView) -> tuple[BreakdownView, ...]:
    """The sheets of a page, in the order of the work; none for a page without steps."""
    chosen = important_steps(page)
    phases = _phases(page.steps)
    named = [phases[step.id] for step in chosen]
    starts = tuple(i == 0 or named[i] != named[i - 1] for i in range(len(chosen)))
    sizes = split_at_phases(starts)
    sheets, first = [], 0
    for number, size in enumerate(sizes, start=1):
        part = chosen[first : first + size]
        within = tuple(dict.fromkeys(phases[step.id] for step in part if phases[step.id]))
        sheets.append(BreakdownView((page,), number, len(sizes), within, _told(part)))
        first += size
    return tuple(sheets)


def shared_sheets(pages: Sequence[PageView]) -> tuple[BreakdownView, ...]:
    """The sheets of all pages in their order; those of one document are told once where they say the same.

    Systems say the same where their sheets have the same steps, marks, reasons and numbers of key points. Words that
    differ are told for each system, its letter before them: `A: 150 mL`, `B: 164 mL`.
    """
    alike: dict[object, list[tuple[BreakdownView, ...]]] = {}
    for page in pages:
        sheets = breakdown_sheets(page)
        alike.setdefault((page.document, _shape(sheets)), []).append(sheets)
    return tuple(_shared(same) for rows in alike.values() for same in zip(*rows, strict=True))


def _shape(sheets: Sequence[BreakdownView]) -> object:
    """All that must be equal in sheets that are told together: everything but the words of steps and points."""
    return tuple(
        (step.id, step.number, step.mark, tuple((len(group.points), group.reason) for group in step.groups))
        for sheet in sheets
        for step in sheet.steps
    )


def _shared(same: tuple[BreakdownView, ...]) -> BreakdownView:
    """One sheet for the same work in several systems."""
    systems = [sheet.page.system for sheet in same]
    steps = []
    for told in zip(*(sheet.steps for sheet in same), strict=True):
        groups = tuple(
            KeyGroup(
                tuple(
                    text
                    for said in zip(*(one.points for one in group), strict=True)
                    for text in by_system(systems, said)
                ),
                group[0].reason,
            )
            for group in zip(*(step.groups for step in told), strict=True)
        )
        text = " ".join(by_system(systems, [step.text for step in told]))
        steps.append(replace(told[0], text=text, groups=groups))
    return replace(same[0], pages=tuple(sheet.page for sheet in same), steps=tuple(steps))


def by_system(systems: Sequence[str], texts: Sequence[str]) -> list[str]:
    """The text once where it is the same for all; else each with the letters of its systems before it."""
    if len(set(texts)) == 1:
        return [texts[0]]
    told: dict[str, list[str]] = {}
    for system, text in zip(systems, texts, strict=True):
        told.setdefault(text, []).append(system)
    return [f"{', '.join(of)}: {text}" for text, of in told.items()]


def important_steps(page: PageContent) -> tuple[StepView, ...]:
    """The steps that stand on the sheets; fewer than five only where no others have a reason."""
    chosen = [step for step in page.steps if is_important(step)]
    if len(chosen) < LEAST:
        others = [step for step in page.steps if step not in chosen and step.reason]
        others.sort(key=lambda step: (-len(_own_points(step)), step.number))
        chosen += others[: LEAST - len(chosen)]
    return tuple(sorted(chosen, key=lambda step: step.number))


def is_important(step: StepView) -> bool:
    """Whether an error at the step harms, stops the work, is easily made, or the step waits."""
    flagged = step.critical or step.hold or step.easily_missed
    return flagged or step.wait is not None or bool(step.cautions)


def reason_of(step: StepView) -> str:
    """Why the step is done so: its own reason, else that of a hold, else what its worst caution says comes of an error."""
    if step.reason:
        return step.reason
    if step.hold:
        return HOLD
    return step.cautions[0].consequence if step.cautions else ""


@cache
def split_at_phases(starts: tuple[bool, ...]) -> tuple[int, ...]:
    """Sizes of the sheets for important steps of which those marked begin a phase.

    All sizes lie in 5 to 9, but for a whole of fewer than five. Of all ways the one that cuts least within a
    phase, then has the fewest sheets, then the most even ones; of equals the first sheets are the larger.
    """
    count = len(starts)
    if count <= MOST:
        return (count,) if count else ()
    best: dict[int, tuple[tuple[int, int, int], tuple[int, ...]]] = {count: ((0, 0, 0), ())}
    for first in range(count - LEAST, -1, -1):
        ways = [
            _joined(size, bool(first) and not starts[first], best[first + size])
            for size in range(MOST, LEAST - 1, -1)
            if first + size in best
        ]
        if ways:
            best[first] = min(ways, key=lambda way: way[0])
    return best[0][1]


def _joined(
    size: int, cuts: bool, rest: tuple[tuple[int, int, int], tuple[int, ...]]
) -> tuple[tuple[int, int, int], tuple[int, ...]]:
    """One more sheet before the rest: cuts within a phase, number of sheets, squares of sizes; and the sizes."""
    (within, sheets, squares), sizes = rest
    return (within + cuts, sheets + 1, squares + size * size), (size, *sizes)


def _phases(steps: Sequence[StepView]) -> dict[str, str]:
    """Step id -> the phase it belongs to; a page names a phase at its first step only."""
    found, last = {}, ""
    for step in steps:
        last = step.phase or last
        found[step.id] = last
    return found


def _told(steps: Sequence[StepView]) -> tuple[ImportantStep, ...]:
    """The steps of one sheet. A caution is told where the sheet first meets it; it holds for the later steps too."""
    told: set[tuple[str, str]] = set()
    found = []
    for step in steps:
        new = [c for c in step.cautions if (c.id, c.entry.short_hazard) not in told]
        told |= {(c.id, c.entry.short_hazard) for c in step.cautions}
        mark = "HOLD" if step.hold else "CRITICAL" if step.critical else ""
        groups = _grouped(_points_with_reasons(step, new))
        found.append(ImportantStep(step.id, step.number, step.short or step.do, mark, groups))
    return tuple(found)


def _points_with_reasons(step: StepView, new: Sequence[PlacedCaution]) -> list[tuple[str, str]]:
    """Cautions not told yet, then the step's own points; a step with neither tells its worst caution again, or its order."""
    own = _own_points(step)
    cautions = new if own or new else step.cautions[:1]
    pairs = [(_caution_point(c), c.consequence) for c in cautions]
    points = own if own or pairs else (_order_point(step),)
    return pairs + [(point, reason_of(step)) for point in points]


def _grouped(pairs: Sequence[tuple[str, str]]) -> tuple[KeyGroup, ...]:
    by_reason: dict[str, list[str]] = {}
    for point, reason in pairs:
        by_reason.setdefault(reason, []).append(point)
    return tuple(KeyGroup(tuple(dict.fromkeys(points)), reason) for reason, points in by_reason.items())


def _caution_point(caution: PlacedCaution) -> str:
    return f"{caution.word}: {caution.entry.short_hazard} {caution.entry.short_avoidance}"


def _own_points(step: StepView) -> tuple[str, ...]:
    """What the step measures, shows, writes and waits for."""
    points = [step.do] if _says_more(step) else []
    if step.one_of:
        points.append(f"One of: {'; '.join(step.one_of)}")
    points += [
        f"{amount.label}: {amount.printed}{f', {amount.tool}' if amount.tool else ''}"
        for amount in step.amounts
    ]
    if step.expect:
        points.append(f"Right when: {step.expect}")
    if step.record is not None:
        limits = f": {step.record.limits}" if step.record.limits else ""
        points.append(f"Written down: {step.record.label}{limits}")
    if step.wait is not None:
        missed = f" Missed: {step.wait.missed}" if step.wait.missed else ""
        points.append(
            f"Wait at least {step.wait.least}, at most {step.wait.greatest}, then {step.wait.then}.{missed}"
        )
    if step.until:
        points.append(f"Until: {step.until}")
    return tuple(points)


def _says_more(step: StepView) -> bool:
    """Whether the whole sentence has a figure that neither its short form nor the amounts show."""
    shown = " ".join((step.short, *(amount.printed for amount in step.amounts)))
    return bool(step.short) and not set(_FIGURE.findall(step.do)) <= set(_FIGURE.findall(shown))


def _order_point(step: StepView) -> str:
    """A step with nothing to read or measure: its whole sentence, or its place in the order."""
    if step.short:
        return step.do
    return f"At this place in the order: {step.where}." if step.where else "At this place in the order."

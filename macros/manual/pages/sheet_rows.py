"""The rows of a bench sheet: its steps, and what a page repeats word for word folded into one row with a box for each time."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from macros.page_model.page import PageContent, StepView

Round = tuple[StepView, ...]


@dataclass(frozen=True)
class SheetRow:
    """One row of a bench sheet.

    Parameters
    ----------
    steps : the step, or that step of each round where rounds are folded; they print the same, the first with its cautions
    phase : what stands over the row; of folded rounds the phases of all
    rounds : how often to go down the folded rows that begin here; 0 on every other row
    only : the rounds the row belongs to, where it is not of all
    place : where it is done, where that changes
    """

    steps: tuple[StepView, ...]
    phase: str = ""
    rounds: int = 0
    only: str = ""
    place: str = ""

    @property
    def step(self) -> StepView:
        """The step itself, the first of those folded."""
        return self.steps[0]

    @property
    def ids(self) -> str:
        """The ids of its steps, one after another."""
        return " ".join(step.id for step in self.steps)


def sheet_rows(steps: Sequence[StepView]) -> tuple[SheetRow, ...]:
    """The rows in the order of the work. No step is lost: each is in one row."""
    found = (row for group in _groups(steps) for row in _rows_of(group))
    # From the end of a round the way leads back to the place of its beginning.
    return tuple(replace(row, place=row.step.where if row.rounds else row.step.new_place) for row in found)


def _groups(steps: Sequence[StepView]) -> Iterator[list[Round]]:
    """Rounds that may be folded, in order; a step that is not repeated is a round by itself."""
    group: list[Round] = []
    for name, found in groupby(steps, key=_repeat):
        round_ = tuple(found)
        if group and name and _repeat(group[-1][0]) and _fits(group, round_):
            group.append(round_)
            continue
        if group:
            yield group
        group = [round_]
    if group:
        yield group


def _rows_of(group: Sequence[Round]) -> Iterator[SheetRow]:
    if len(group) == 1:
        yield from (SheetRow((step,), step.phase) for step in group[0])
        return
    phases = [round_[0].phase or f"time {number}" for number, round_ in enumerate(group, start=1)]
    for at, step in enumerate(_longest(group)):
        yield _folded(step, dict(zip(phases, group, strict=True)), rounds=0 if at else len(group))


def _folded(step: StepView, rounds_by_phase: Mapping[str, Round], rounds: int) -> SheetRow:
    """One step of all rounds it is in."""
    found = {phase: one for phase, round_ in rounds_by_phase.items() for one in _named(round_, step)}
    heads = dict.fromkeys(one.phase for one in found.values() if one.phase)
    only = "" if len(found) == len(rounds_by_phase) else ", ".join(found)
    return SheetRow(tuple(found.values()), " · ".join(heads), rounds, only)


def _longest(group: Sequence[Round]) -> Round:
    return max(group, key=lambda round_: len(round_))


def _fits(group: Sequence[Round], round_: Round) -> bool:
    """Whether a round says the same as those before it, with no caution anew. One of the two may have a step more."""
    if any(step.cautions for step in round_):
        return False
    longest = _longest(group)
    more, fewer = (longest, round_) if len(longest) >= len(round_) else (round_, longest)
    names = [_written(step) for step in more]
    places = [names.index(_written(step)) if _written(step) in names else -1 for step in fewer]
    in_order = -1 not in places and places == sorted(places)
    return in_order and all(
        _printed(one) == _printed(two) for two in round_ for other in group for one in _named(other, two)
    )


def _named(round_: Round, step: StepView) -> list[StepView]:
    """The same step of another round."""
    return [one for one in round_ if _written(one) == _written(step)]


def _printed(step: StepView) -> StepView:
    """All a sheet prints of a step but its number, its phase and its cautions."""
    return replace(
        step, id="", number=0, phase="", new_place="", cautions=(), after=(), timing=None, looks=None
    )


def _written(step: StepView) -> str:
    return step.timing.step if step.timing else step.id


def _repeat(step: StepView) -> str:
    """What tells the times of a repeated step apart; empty for a step that stands once."""
    return step.id.removeprefix(_written(step)).removeprefix("-")


def at_hand(page: PageContent) -> tuple[str, ...]:
    """The tools to fetch before the work, each once, in the order of the steps."""
    return tuple(dict.fromkeys(tool for step in page.steps for tool in step.tools))

"""What a run of a page finds wrong: a rule, the step, what would happen, and mends that may be tried."""

from __future__ import annotations

from dataclasses import dataclass

from macros.rehearsal.model.steps import RunStep


@dataclass(frozen=True)
class Mend:
    """An advice in words, and what it changes, so that it can be tried.

    `before` is what a new step before the finding does, `at_end` one after the last step; `stir` moves the water in the
    step itself, `drop` leaves it out, `rinse` rinses the measures before it.
    """

    text: str
    before: tuple[tuple[str, str], ...] = ()
    at_end: tuple[tuple[str, str], ...] = ()
    stir: bool = False
    drop: bool = False
    rinse: bool = False


@dataclass(frozen=True)
class Finding:
    """One refusal: `rule` as R-01, the step it falls on, what would happen with the numbers, what is allowed."""

    rule: str
    step: RunStep
    what: str
    allowed: str = ""
    mends: tuple[Mend, ...] = ()
    advice: str = ""

    @property
    def same(self) -> tuple[str, str, str, str]:
        """What makes it the same finding in another run, whatever its numbers are there."""
        return self.rule, self.step.page, self.step.id, self.allowed

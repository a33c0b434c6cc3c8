"""The sheet a page is signed off on: what has to be seen, the runs, who signs."""

from __future__ import annotations

from dataclasses import dataclass

from macros.house import House
from macros.manual.frequencies import frequencies
from macros.manual.repeats import repeat_days
from macros.manual.views import PageView
from macros.published import load


@dataclass(frozen=True)
class SignOffSheet:
    """One page to be signed off. `runs` are the rows to fill in, `recall` the days its questions are asked again."""

    page: PageView
    criteria: tuple[str, ...]
    critical: tuple[str, ...]
    runs: tuple[str, ...]
    recall: tuple[str, ...]
    refresh: str


def sign_off_sheet(house: House, page: PageView) -> SignOffSheet:
    """The sheet of a page: its own criteria, the critical steps, and as many runs as a sign-off takes."""
    facts = load("sign_off")
    good, surprise = int(facts["good_runs"]), int(facts["unannounced_runs"])
    return SignOffSheet(
        page,
        page.done_when or ("Every step done as the page says",),
        tuple(f"{step.number} {step.short or step.do}" for step in page.steps if step.critical),
        (*(f"Good run {n}" for n in range(1, good + 1)), *["Unannounced run"] * surprise),
        tuple(f"day {days}" for days in repeat_days()),
        frequencies(house)["refresher"].text,
    )

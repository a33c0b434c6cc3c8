"""Power fails at a random minute of every page: the floor stays dry, no pump runs dry on its return, no crop dies unsaid."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from macros.manual.pages.build_page import BuiltPage
from macros.rehearsal.model.acts import back, up
from macros.rehearsal.model.equipment import Equipment
from macros.rehearsal.model.state import State
from macros.rehearsal.pages import rehearse, systems_of
from macros.rehearsal.run import Run
from tests.making import manual_of

HOUSES = ("first", "second", "third", "fourth", "fifth")
DRAWS = 200
"""In each house: a thousand in all."""


def moment_at(run: Run, minute: float) -> tuple[State, State]:
    """The room as it stands at a minute, and how it stood when that step began; a flood of the step is at its top."""
    before = run.start
    for moment in run.moments:
        if moment.after.clock > minute:
            floods = moment.step.does.flood in ("once", "timer")
            return (moment.after if floods else replace(before, words=moment.after.words)), before
        before = moment.after
    return run.end, before


def at_its_worst(state: State, of: Equipment, floods: bool) -> State:
    return up(state, of) if floods and not state.trays.litres else state


def said_of_power(page: BuiltPage) -> bool:
    return any(one.kind == "power_loss" for one in page.content.if_wrong)


@pytest.mark.parametrize("house", HOUSES)
def test_power_may_fail_in_any_minute(house: str) -> None:
    site, draw = manual_of(house), random.Random(17)
    pages = [(page, system) for page in site.built for system in systems_of(page, site.register)]
    seen = 0
    for _ in range(DRAWS):
        page, system = draw.choice(pages)
        found = rehearse(page, site.register, system)
        assert found is not None
        run, of = draw.choice(found.runs), found.of
        state, _ = moment_at(run, draw.uniform(0.0, max(1.0, run.end.clock)))
        can_flood = state.pump_live and state.all_water >= of.dead + of.draw
        worst = at_its_worst(state, of, can_flood)
        dark = back(replace(worst, words={**worst.words, "breaker": "off"}), of)
        where = f"{page.content.key} on {system} at {state.clock:.0f} min"
        assert dark.tank.litres <= of.brim, (
            f"{where}: {dark.tank.litres:.1f} L come back into {of.brim:.1f} L"
        )
        if state.pump_live and state.words["timer"] == "auto":
            assert state.all_water >= of.dead + of.draw - 0.5, (
                f"{where}: the pump runs dry when power is back"
            )
        if state.words["crop"] == "in" and state.pump_live != run.start.pump_live:
            assert said_of_power(page), (
                f"{where}: the page says nothing of power that fails with plants in it"
            )
        seen += 1
    assert seen == DRAWS

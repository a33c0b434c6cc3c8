"""What a working says of a rinse, a batch or the waste of the day is what the run comes to."""

from __future__ import annotations

import pytest

from macros.amounts.engine.number_format import brief
from macros.ground.units import convert
from macros.published.labour.jobs import job
from macros.rehearsal.jobs import rehearse_job
from macros.rehearsal.model.acts import sanitizer_left
from macros.rehearsal.pages import Rehearsal, rehearse, systems_of
from tests.making import manual_of

WITH_LOOP = [
    ("third", "K"),
    ("third", "M"),
    ("fourth", "K"),
    ("fourth", "M"),
    ("fifth", "K"),
    ("second", "N"),
    ("second", "S"),
]


def loop_of(house: str, system: str) -> Rehearsal:
    site = manual_of(house)
    page = next(
        one
        for one in site.built
        if one.content.document == "SOP-06" and system in systems_of(one, site.register)
    )
    found = rehearse(page, site.register, system)
    assert found is not None
    return found


@pytest.mark.parametrize(("house", "system"), WITH_LOOP)
def test_the_loop_is_rinsed_as_often_as_its_residue_asks(house: str, system: str) -> None:
    found, register = loop_of(house, system), manual_of(house).register
    count = register.get("rinse_count", system=system)
    floods = [one for one in found.runs[0].moments if one.step.written == "rinse_flood"]
    assert len(floods) == count.rounded
    left = sanitizer_left(floods[-1].after)
    assert f"= {brief(left)} mg/L if well mixed; the strip decides" in count.working
    assert found.of.residue is None or left <= found.of.residue
    if len(floods) > 1 and found.of.residue is not None:
        assert sanitizer_left(floods[-2].after) > found.of.residue


@pytest.mark.parametrize(("house", "system"), WITH_LOOP)
def test_the_loop_batch_stands_at_its_line(house: str, system: str) -> None:
    found, register = loop_of(house, system), manual_of(house).register
    line = next(one for one in found.runs[0].moments if one.step.written == "line")
    volume = register.get("loop_volume", system=system, task="loop_circulate")
    assert line.after.tank.litres == pytest.approx(convert(volume.rounded, volume.unit, "L"), rel=1e-12)


@pytest.mark.parametrize(("house", "system"), [("fourth", "K"), ("fourth", "M"), ("fifth", "K")])
def test_the_waste_of_the_day_is_what_the_day_lets_go(house: str, system: str) -> None:
    site = manual_of(house)
    found = rehearse_job(job("cleanout"), site.built, site.register, system)
    assert found is not None
    full = next(one for one in found.runs if one.start.tank.litres == found.of.levels["fill_mark"])
    waste = site.register.get("disposal_volume", system=system)
    assert full.end.drained.litres == pytest.approx(waste.exact, rel=1e-9)

"""Each refusal: told with its numbers where it must be, silent beside it, its mend tried."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from macros.published.labour.effects import RoomWords
from macros.rehearsal.mends import advice
from macros.rehearsal.model.steps import RunStep
from macros.rehearsal.pages import rehearsal
from tests.rehearsal.rooms import ROOM, step

DRAINED = {
    "pump": "out",
    "air": "out",
    "lamps": "out",
    "valve": "shut",
    "tank": "heel",
    "crop": "none",
    "water": "plain",
}
AT_WORK = {"pump": "out", "crop": "none"}


def told(
    steps: Sequence[RunStep], begins: dict[str, str], ends: dict[str, str] | None = None
) -> dict[str, str]:
    """The refusals by rule, each with its sentence and the mend that held."""
    start, end = RoomWords.model_validate(begins), RoomWords.model_validate({**begins, **(ends or {})})
    found = rehearsal("SOP-99", steps, ROOM, start, end).findings
    again = lambda new: rehearsal("SOP-99", new, ROOM, start, end).findings  # noqa: E731
    sentences: dict[str, list[str]] = {}
    for one in found:
        sentences.setdefault(one.rule, []).append(f"{one.what}. {advice(one, steps, found, again)}")
    return {rule: " | ".join(all_of) for rule, all_of in sentences.items()}


def test_a_tank_filled_while_its_trays_are_up_overflows_when_they_come_back() -> None:
    steps = [step("start_pump"), step("fill", id_="top", fill="fill_mark"), step("unplug", pump="out")]
    begins = {"pump": "out", "crop": "none", "tank": "fill_mark", "water": "plain", "timer": "off"}
    # 153 L in all, 40 of them up: filled up to 150 L, 190 L come back into 150 L.
    assert told(steps, begins) == {
        "R-01": "the tank is filled to 150.0 L while 40.0 L stand on the trays: when they come back, 190.0 L are in a tank "
        "that holds 150.0 L at its fill mark. Put a step before it that unplugs the pump and lets the trays run back",
        "R-12": told(steps, begins)["R-12"],
    }


def test_a_rinse_that_cannot_flood_the_trays_runs_the_pump_dry() -> None:
    steps = [step("fill", fill="first_line"), step("flood", flood="once")]
    assert "R-02" not in told(steps, DRAINED, {"tank": "first_line"})
    few = [step("flood", id_="few", flood="once")]
    found = told(few, {**DRAINED, "tank": "heel"})
    assert found["R-02"] == (
        "a flood takes 40.0 L out of 5.0 L: 0.0 L are left where the pump needs 30.0 L, so the trays never fill and the pump "
        "runs dry. `trayside rehearse SOP-99` shows how the room stands before and after it"
    )


@pytest.mark.quick
def test_hands_go_in_only_while_the_pump_is_unplugged() -> None:
    reach = step("reach_into_reservoir")
    found = told([reach], {})
    assert found["R-03"].startswith(
        "hands go into the tank while the pump is plugged in, on AUTO: a flood can start at any minute. "
    )
    assert found["R-03"].endswith(
        "Put a step before it that unplugs the pump, and one at the end of the page that plugs it in again"
    )
    assert told([step("unplug", pump="out"), reach, step("plug_in", pump="in")], {}) == {}


def test_water_is_let_in_with_the_drain_shut() -> None:
    steps = [step("fill", fill="fill_mark")]
    found = told(steps, {**DRAINED, "valve": "open"}, {"tank": "fill_mark", "valve": "shut"})
    assert found["R-04"] == (
        "water is let in while the drain of the tank is open: it runs straight out. Put a step before it that shuts the drain"
    )


def test_nothing_flows_out_of_a_drained_tank() -> None:
    found = told([step("drain_reservoir")], DRAINED, {"valve": "open"})
    assert found["R-04"].startswith("a tank with 2.0 L in it is to be drained: nothing flows.")


def test_a_part_meets_moving_water_and_not_the_part_before_it() -> None:
    begins = {**DRAINED, "tank": "first_mark"}
    ends = {"water": "feed"}
    still = [step("dose_nutrient", part="part_1")]
    assert told(still, begins, ends)["R-05"] == (
        "it is poured into water that stands still: it sinks and lies on the floor of the tank. Stir while it is poured"
    )
    one, two = (step("dose_nutrient", id_=name, part=name, air="in", minutes=0.5) for name in "ab")
    found = told([one, two], begins, {**ends, "air": "in"})
    assert (
        found["R-05"]
        == "it is poured on the part before it, which nothing has stirred in. Put a step before it that stirs"
    )
    stirred = [step("dose_nutrient", id_=name, part=name, stir=True) for name in "ab"]
    assert told(stirred, begins, ends) == {}


def test_sanitizer_goes_where_no_plant_stands_and_on_what_was_washed() -> None:
    spray = step("spray_sanitizer", task="tray_spray")
    with_crop = told([spray], {**DRAINED, "crop": "in", "tray_faces": "washed"}, {"tray_faces": "wet"})
    assert with_crop["R-06"].startswith("sanitizer or detergent goes where plants stand.")
    dirty = told([spray], DRAINED, {"tray_faces": "wet"})
    assert dirty["R-06"].startswith("sanitizer goes on the trays before they are washed: dirt uses it up.")


def test_a_surface_is_wet_for_its_time() -> None:
    begins = {**DRAINED, "valve": "open", "tray_faces": "washed"}
    rinse = step("rinse", rinse=["tray_faces"])
    short = told(
        [step("spray_sanitizer", task="tray_spray", waits=4.0), rinse],
        begins,
        {"tray_faces": ["wet", "rinsed"]},
    )  # type: ignore[dict-item]
    assert "the trays were wet for 4 min; tray spray needs 10 min" in short["R-06"]


@pytest.mark.parametrize(
    ("steps", "rule", "sentence"),
    [
        ([step("dump_sanitizer", dump=True, task="tray_spray"), step("spray_sanitizer", task="tray_spray")], "R-07",
         "the batch for tray spray was not made before it. `trayside rehearse SOP-99` shows how the room stands before and after it"),
        ([step("measure", groups=(("jug", "acid"),)), step("measure", id_="again", groups=(("jug", "base"),))], "R-08",
         "jug measures base and last held acid. Put a step before it that rinses the measure"),
    ],
)  # fmt: skip
def test_batches_and_measures(steps: list[RunStep], rule: str, sentence: str) -> None:
    assert told(steps, {**DRAINED, "tray_faces": "washed"}, {"tray_faces": "wet"})[rule] == sentence


def test_plants_stand_no_longer_gap_and_no_longer_flood_than_the_house_says() -> None:
    idle = [
        step("unplug", pump="out"),
        step(minutes=200.0),
        step(id_="more", minutes=60.0),
        step("plug_in", pump="in"),
    ]
    assert told(idle, {})["R-10"].startswith(
        "by the end of this step the plants have stood 261 min without a flood; the thirstiest stand 240 min."
    )
    wet = [step("start_pump"), step(minutes=25.0), step("unplug", pump="out"), step("plug_in", pump="in")]
    assert told(wet, {})["R-10"].startswith(
        "the trays stand flooded for 26 min; this house allows 20 min with plants."
    )


def test_food_is_not_touched_in_chemical_gloves() -> None:
    steps = [step("measure", gear=frozenset({"gloves_chem"})), step("harvest_leaf")]
    assert told(steps, {})["R-11"] == (
        "food is touched in the gloves that handled a chemical. Put a step before it that takes the gloves off"
    )
    assert told([steps[0], step("wash_hands"), steps[1]], {}) == {}


def test_a_page_puts_back_what_it_takes_out() -> None:
    found = rehearsal("SOP-99", [step("unplug", pump="out")], ROOM, None, None).findings
    assert [one.what for one in found] == [
        "at the end the pump is unplugged, its plug hanging in sight: nobody changes it back, and the page does not say so"
    ]
    said = RoomWords.model_validate({"pump": "out"})
    assert rehearsal("SOP-99", [step("unplug", pump="out")], ROOM, None, said).findings == ()


def test_rinse_water_goes_a_named_way_out() -> None:
    found = told([step("wash_rack")], DRAINED, {"tray_faces": "washed"})
    assert found["R-13"] == (
        "the water from the trays runs into the tank, whose drain is shut, and stands there. Put a step before it that opens "
        "the drain, and one at the end of the page that shuts it"
    )

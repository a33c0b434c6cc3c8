"""Water that moves keeps its litres and what is in it; floods and rinses follow the closed forms."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from macros.rehearsal.model.acts import back, done, sanitizer_left, up
from macros.rehearsal.model.state import State, Water, water_word
from tests.rehearsal.rooms import ROOM, room, step

ACTS = {
    "fill": lambda: step("fill", fill="fill_mark"),
    "rinse line": lambda: step("fill", fill="rinse_line"),
    "drain": lambda: step("drain_reservoir"),
    "mop": lambda: step("reach_into_reservoir", mop=True),
    "flood": lambda: step("flood", flood="once"),
    "up": lambda: step("start_pump"),
    "unplug": lambda: step("unplug", pump="out"),
    "plug in": lambda: step("plug_in", pump="in"),
    "stock": lambda: step("pour", pour="stock", task="loop_circulate", stir=True),
    "part": lambda: step("dose_nutrient", part="part_1"),
    "batch": lambda: step("dilute", task="tray_spray"),
    "spray": lambda: step("spray_sanitizer", task="tray_spray"),
    "dump": lambda: step("dump_sanitizer", dump=True, task="tray_spray"),
}


def litres_in(state: State) -> float:
    return state.all_water + sum(batch.litres for batch in state.batches.values()) + state.faces.litres


def held_in(state: State, name: str) -> float:
    """Of a substance, in tank, trays, tubes and on the drain's side [mg or mL]."""
    return sum(water.held.get(name, 0.0) for water in (state.tank, state.trays, state.held_up, state.drained))


@settings(max_examples=200, deadline=None)
@given(
    names=st.lists(st.sampled_from(sorted(ACTS)), max_size=25),
    level=st.sampled_from(["fill_mark", "refill_mark", "empty"]),
)
def test_each_litre_let_in_is_in_the_room_or_went_down_the_drain(names: list[str], level: str) -> None:
    state = replace(room(tank=level), batches={})
    began = litres_in(state)
    poured_before = {name: held_in(state, name) for name in ("feed", "hydrogen peroxide")}
    for name in names:
        state = done(state, ACTS[name](), ROOM)
        assert min(state.tank.litres, state.trays.litres, state.held_up.litres) >= 0
        assert litres_in(state) == pytest.approx(began + state.let_in.litres - state.drained.litres, abs=1e-9)
        for substance, before in poured_before.items():
            came = before + state.let_in.held.get(substance, 0.0)
            assert held_in(state, substance) == pytest.approx(came, rel=1e-9, abs=1e-9)


def test_a_flood_takes_what_the_trays_and_tubes_hold_and_gives_it_back() -> None:
    flooded = up(room(), ROOM)
    # 150 L and the 3 L that were wet; 2 trays and their tubes take 40 L.
    assert flooded.trays.litres == pytest.approx(40.0)
    assert flooded.tank.litres == pytest.approx(113.0)
    assert back(flooded, ROOM).tank.litres == pytest.approx(150.0)


def test_a_rinse_thins_by_the_dilution_of_a_well_mixed_volume() -> None:
    """Source: serial dilution of a well-mixed volume, C1 V1 = C2 V2 again and again."""
    state = replace(
        room(tank="heel", water="plain", crop="none"), tank=Water(2.0, {"hydrogen peroxide": 6000.0})
    )
    state = replace(state, held_up=Water(3.0, {"hydrogen peroxide": 9000.0}))
    for number in (1, 2, 3):
        for one in (step("fill", fill="rinse_line"), step("flood", flood="once")):
            state = done(state, one, ROOM)
        # 5 L held, filled up to 75 L in the tank: 78 L in the loop.
        assert sanitizer_left(state) == pytest.approx(3000.0 * (5.0 / 78.0) ** number, rel=1e-12)
        state = done(state, step("drain_reservoir"), ROOM)
        assert state.tank.litres == pytest.approx(2.0)


def test_words_of_the_water_follow_from_it() -> None:
    assert water_word(Water(), ROOM) == "none"
    assert water_word(Water(10.0), ROOM) == "plain"
    assert water_word(Water(10.0, {"feed": 40.0}), ROOM) == "feed"
    assert water_word(Water(10.0, {"feed": 40.0, "sodium hypochlorite": 60.0}), ROOM) == "sanitizer"
    assert [replace(room(), tank=Water(litres)).word("tank", ROOM) for litres in (150.0, 151.0, 100.0, 0.0, 120.0)] == [
        "fill_mark", "fill_mark", "refill_mark", "empty", "",
    ]  # fmt: skip


def test_of_two_marks_within_a_step_of_the_scale_the_water_stands_at_both() -> None:
    """The scale reads to 5 mm, 2.5 L here: at 100 L the loop line of 101 L is no other mark, one of 105 L is."""
    state = replace(room(), tank=Water(100.0))
    for loop_line, both in ((101.0, True), (105.0, False)):
        of = replace(ROOM, levels={**ROOM.levels, "loop_line": loop_line})
        assert state.is_so("tank", ("refill_mark",), of)
        assert state.is_so("tank", ("loop_line",), of) == both


def test_a_tray_that_stays_up_comes_back_when_the_pump_is_unplugged() -> None:
    state = done(done(room(), step("start_pump"), ROOM), step("unplug", pump="out"), ROOM)
    assert state.trays.litres == 0.0
    assert state.tank.litres == pytest.approx(150.0)

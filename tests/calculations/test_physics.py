"""What rises and what falls: each formula against the direction physics gives it, and inverses that meet again."""

from __future__ import annotations

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from macros.calculations.crop import sowing
from macros.calculations.feed import feeding
from macros.calculations.labour import lifting
from macros.calculations.room import air, light
from macros.calculations.sanitizer import batches, rinsing, strength
from macros.calculations.water import flooding, hydraulics, mixing, oxygen, watering
from macros.ground.units import convert, kinds

temperatures, shares = st.floats(1, 39), st.floats(0.05, 0.95)
few = settings(max_examples=60, deadline=None)


@few
@given(temperatures, shares)
def test_air_at_its_dew_point_is_full(temperature: float, humidity: float) -> None:
    """Where vapour would freeze (dew point under 0 degC) the curve over water is not asked."""
    dew = air.dew_point(temperature, humidity)
    assume(dew > 0)
    assert air.saturation_vapour_pressure(dew) == pytest.approx(air.vapour_pressure(temperature, humidity))
    assert air.humidity_at_surface(temperature, humidity, dew) == pytest.approx(1)
    assert air.dew_point(dew, 1) == pytest.approx(dew)


@few
@given(temperatures, shares)
def test_damper_air_has_a_higher_dew_point_and_a_smaller_deficit(temperature: float, humidity: float) -> None:
    damper = humidity * 1.04
    assert air.dew_point(temperature, damper) > air.dew_point(temperature, humidity)
    assert air.vapour_pressure_deficit(temperature, damper) < air.vapour_pressure_deficit(
        temperature, humidity
    )
    assert air.humidity_ratio(temperature, damper) > air.humidity_ratio(temperature, humidity)
    assert air.vapour_pressure_deficit(temperature + 1, humidity) > air.vapour_pressure_deficit(
        temperature, humidity
    )
    assert air.dew_point(temperature, humidity) < temperature


@few
@given(st.floats(10, 500), st.floats(0.3, 0.6), st.floats(1, 500), st.floats(10, 200))
def test_air_to_move_rises_with_the_load_and_with_damp_supply(
    load: float, supply: float, flow: float, volume: float
) -> None:
    room = (24, 0.65)
    needed = air.ventilation_needed(load, room, (18, supply))
    assert air.ventilation_needed(load * 1.1, room, (18, supply)) == pytest.approx(1.1 * needed)
    assert air.ventilation_needed(load, room, (18, supply + 0.05)) > needed
    changes = air.air_changes(flow, volume)
    assert air.dilution_minutes(changes * 1.1) < air.dilution_minutes(changes)
    assert air.dilution_minutes(changes, 0.01) > air.dilution_minutes(changes, 0.05)


@few
@given(st.floats(0, 39), st.floats(-200, 3000))
def test_warm_or_high_water_holds_less_oxygen(temperature: float, altitude: float) -> None:
    here = oxygen.oxygen_saturation(temperature, altitude)
    assert oxygen.oxygen_saturation(temperature + 1, altitude) < here
    assert oxygen.oxygen_saturation(temperature, altitude + 100) < here


@few
@given(
    st.floats(0.3, 1),
    st.floats(0.2, 0.8),
    st.floats(0.01, 0.08),
    st.floats(600, 3000),
    st.floats(1.5, 4),
    st.floats(0.2, 1.2),
)
def test_trays_fill_slower_when_deeper_or_higher(
    length: float, width: float, depth: float, flow: float, shut_off: float, head: float
) -> None:
    def minutes(deep: float, up: float) -> float:
        tray = flooding.tray_flood_volume(length, width, deep)
        return flooding.draw(2, tray, 0.5) / (hydraulics.flow_against_head(flow, shut_off, up) / 60)

    assert minutes(depth * 1.1, head) > minutes(depth, head)
    assert minutes(depth, head * 1.1) > minutes(depth, head)
    by_friction = hydraulics.operating_flow(flow / 3.6e6, shut_off, head, 0.016, 2, 2)
    assert by_friction < flow / 3.6e6
    assert hydraulics.operating_flow(flow / 3.6e6, shut_off, head * 1.1, 0.016, 2, 2) < by_friction
    assert hydraulics.operating_flow(flow / 3.6e6, shut_off, head, 0.016, 3, 2) < by_friction
    assert hydraulics.operating_flow(flow / 3.6e6, shut_off, head, 0.020, 2, 2) > by_friction


@few
@given(st.floats(0.1, 1), st.floats(0.01, 0.1), st.floats(0.008, 0.04), st.floats(0.1, 0.9))
def test_a_deep_tray_drains_longer_and_a_wide_hole_shorter(
    area: float, depth: float, hole: float, share: float
) -> None:
    whole = hydraulics.drain_time(area, depth, hole)
    assert hydraulics.drain_time(area, depth * 1.1, hole) > whole
    assert hydraulics.drain_time(area, depth, hole * 1.1) < whole
    left = depth * share
    in_two = hydraulics.drain_time(area, depth, hole, left=left) + hydraulics.drain_time(area, left, hole)
    assert in_two == pytest.approx(whole), "two parts of one drain take as long as the whole"


@few
@given(st.floats(0.01, 0.1), st.floats(0.002, 0.05))
def test_a_wide_pipe_or_more_water_over_it_passes_more(diameter: float, head: float) -> None:
    here = hydraulics.overflow_capacity(diameter, head)
    assert hydraulics.overflow_capacity(diameter * 1.1, head) > here
    assert hydraulics.overflow_capacity(diameter, head * 1.1) > here
    assert here <= min(hydraulics.weir_flow(diameter, head), hydraulics.orifice_flow(diameter, head))


@few
@given(st.floats(1, 200), st.floats(1, 30), st.floats(31, 400), st.floats(0.5, 0.99))
def test_strong_stock_is_poured_less_and_a_strong_batch_takes_more(
    volume: float, target: float, stock: float, share: float
) -> None:
    poured = batches.stock_for_batch(volume, target, stock)
    assert batches.strength_made(poured, stock, volume) == pytest.approx(target)
    assert batches.stock_for_batch(volume, target, stock * 1.1) < poured
    assert batches.stock_for_batch(volume, target * share, stock) < poured
    limit = target * share
    water = batches.quench_water(volume, target, limit)
    assert target * volume / (volume + water) == pytest.approx(limit)
    assert batches.quench_water(volume, limit, target) == 0


@few
@given(st.floats(1, 50), st.floats(0.9, 1.5), st.floats(0.005, 0.2), st.floats(0.1, 0.95))
def test_strength_goes_there_and_back(percent: float, density: float, loss: float, left: float) -> None:
    grams = strength.stock_strength(percent, "w/w", density)
    assert strength.percent_by_mass(grams, density) == pytest.approx(percent)
    assert strength.stock_strength(percent, "w/v", None) == pytest.approx(grams / density)
    months = strength.months_until_fraction(left, loss)
    assert strength.strength_after(grams, loss, months) == pytest.approx(grams * left)
    assert strength.strength_after(grams, loss, months + 1) < strength.strength_after(grams, loss, months)


@few
@given(st.floats(0, 49))
def test_strong_peroxide_is_denser(percent: float) -> None:
    assert strength.peroxide_density(percent + 1) > strength.peroxide_density(percent)


@few
@given(st.integers(1, 60), st.integers(5, 9), st.floats(0.5, 0.97), st.floats(0.7, 0.95))
def test_plugs_rise_with_certainty_and_fall_with_germination(
    wanted: int, came_up: int, certainty: float, survival: float
) -> None:
    plugs = sowing.plugs_to_sow(wanted, certainty, came_up, 10, 1, survival)
    assert sowing.plugs_to_sow(wanted, certainty + 0.015, came_up, 10, 1, survival) >= plugs >= wanted
    assert sowing.plugs_to_sow(wanted, certainty, came_up + 1, 10, 1, survival) <= plugs
    assert sowing.plugs_to_sow(wanted, certainty, came_up, 10, 2, survival) <= plugs
    assert sowing.plugs_to_sow(wanted + 1, certainty, came_up, 10, 1, survival) > plugs
    assert sowing.chance_after_test(plugs, wanted, came_up, 10, 1, survival) >= certainty
    if plugs > wanted:
        assert sowing.chance_after_test(plugs - 1, wanted, came_up, 10, 1, survival) < certainty, (
            "one plug fewer would have done"
        )
    assert sowing.plug_chance(survival + 0.04, 1, 0.9) > sowing.plug_chance(survival, 1, 0.9)
    assert sowing.plug_chance(survival, 2, 0.9) > sowing.plug_chance(survival, 1, 0.9)


def test_far_more_certainty_takes_more_plugs() -> None:
    """The least counts of the property above may stand still for a small step; over a wide one they may not."""
    counts = [sowing.plugs_to_sow(20, certainty, 8, 10) for certainty in (0.5, 0.8, 0.95, 0.999)]
    assert counts == sorted(set(counts))
    of_shares = [sowing.plugs_to_sow(20, 0.95, came_up, 10) for came_up in (5, 6, 7, 8, 9)]
    assert of_shares == sorted(set(of_shares), reverse=True)
    of_evidence = [sowing.plugs_to_sow(20, 0.95, 8 * seeds, 10 * seeds) for seeds in (1, 4, 10, 100)]
    assert of_evidence == sorted(set(of_evidence), reverse=True)


@few
@given(st.floats(25, 57), st.floats(0, 175), st.floats(25, 160), st.floats(0, 120))
def test_a_far_turned_or_long_lift_is_a_lighter_one(
    reach: float, height: float, travel: float, turn: float
) -> None:
    here = lifting.recommended_weight(reach, height, travel, turn)
    assert 0 < here <= lifting.LOAD_CONSTANT
    assert lifting.recommended_weight(reach + 1, height, travel, turn) < here
    assert lifting.recommended_weight(reach, height, travel + 1, turn) < here
    assert lifting.recommended_weight(reach, height, travel, turn + 1) < here
    off = 1 if height >= 75 else -1
    if 0 <= height + off <= 175:
        assert lifting.recommended_weight(reach, height + off, travel, turn) < here


@few
@given(st.floats(50, 900), st.floats(1, 23))
def test_hours_of_light_go_there_and_back(ppfd: float, hours: float) -> None:
    total = light.daily_light_integral(ppfd, hours)
    assert light.hours_for(total, ppfd) == pytest.approx(hours)
    assert light.daily_light_integral(ppfd, hours + 0.5) > total
    assert light.hours_for(total, ppfd * 1.1) < hours


@few
@given(st.floats(5, 100), st.floats(10, 200), st.floats(0.2, 0.8), st.floats(6, 20), st.floats(0, 0.8))
def test_a_thirsty_plant_stands_a_shorter_time(
    held: float, daily: float, limit: float, hours: float, dark: float
) -> None:
    """In a warmer or drier room a plant drinks more; that reaches the hours it stands through its use."""
    use = watering.hourly_use(daily, hours, dark)
    assert use * (hours + dark * (24 - hours)) == pytest.approx(daily), "a day of hours drinks a day's water"
    stands = watering.dry_hours(held, limit, use)
    assert watering.dry_hours(held, limit, watering.hourly_use(daily * 1.1, hours, dark)) < stands
    assert watering.dry_hours(held * 1.1, limit, use) > stands
    assert watering.floods_per_day(daily * 1.1, held, limit) > watering.floods_per_day(daily, held, limit)
    assert watering.floods_per_day(daily, held * 1.1, limit) < watering.floods_per_day(daily, held, limit)
    assert watering.days_to_refill(60, 40, use * 1.1) < watering.days_to_refill(60, 40, use)


@few
@given(
    st.lists(st.integers(0, 1439), min_size=1, max_size=8, unique=True), st.integers(0, 1439), st.floats(0, 1)
)
def test_one_more_flood_never_lengthens_the_gap(floods: list[int], more: int, dark: float) -> None:
    gap = watering.longest_gap(floods, 360, 1200, dark)
    assert watering.longest_gap([*floods, more], 360, 1200, dark) <= gap + 1e-9
    assert watering.longest_gap([floods[0]], 360, 1200, dark) == pytest.approx(14 + 10 * dark)


@few
@given(st.floats(100, 5000), st.floats(0.5, 20), st.floats(1, 5), st.floats(2.1, 20))
def test_rinses_are_the_least_that_do(start: float, allowed: float, held: float, times: float) -> None:
    rinse = held * times
    count = rinsing.rinse_count(start, allowed, rinse, held)
    assert mixing.thinned(start, held, rinse, count) <= allowed * (1 + 1e-6)
    assert count == 1 or mixing.thinned(start, held, rinse, count - 1) > allowed
    assert rinsing.rinse_count(start * 10, allowed, rinse, held) >= count
    assert rinsing.rinse_count(start, allowed, rinse * 2, held) <= count


@few
@given(st.floats(0, 200), st.floats(0, 5000), st.floats(0.1, 200), st.floats(0, 5000))
def test_what_mixes_keeps_its_mass(one: float, strong: float, other: float, weak: float) -> None:
    found = mixing.mixed(one, strong, other, weak)
    assert found * (one + other) == pytest.approx(one * strong + other * weak, rel=1e-9, abs=1e-9)
    assert min(strong, weak) - 1e-9 <= found <= max(strong, weak) + 1e-9
    assert mixing.thinned(strong, one, other, 2) == pytest.approx(
        mixing.mixed(one, mixing.mixed(one, strong, other, 0), other, 0)
    )


@few
@given(st.floats(10, 400), st.floats(0.3, 3), st.floats(0.5, 1.3), st.floats(0.05, 0.2))
def test_a_raise_of_ec_reaches_the_target(volume: float, full_feed: float, read: float, step: float) -> None:
    share = feeding.ec_raise(read, read + step, full_feed)
    assert read + share * full_feed == pytest.approx(read + step)
    assert feeding.ec_raise(read, read + 2 * step, full_feed) > share
    assert feeding.dose_full(volume * 1.1, 1, share) > feeding.dose_full(volume, 1, share)


def test_every_unit_goes_to_every_other_of_its_kind_and_back() -> None:
    pairs = 0
    for kind, (_, units) in kinds().items():
        if kind in ("volume_or_mass", "tool_measure"):
            continue  # two dimensions in one kind: no way from one to the other
        for one in units:
            for other in units:
                assert convert(convert(3.7, one, other), other, one) == pytest.approx(3.7, rel=1e-9)
                pairs += 1
    assert pairs > 200

"""A fact of the house moved one way moves the amounts that rest on it the way physics says, and leaves no wire crossed."""

from __future__ import annotations

import pytest

from macros.amounts import Register
from macros.ground.yaml_source import Source
from tests.facts import leaves, register_of, source_of, with_texts

MOVED: list[tuple[str, str, dict[str, str]]] = [
    ("systems.0.trays.flood_depth", "0.035 m", {"flood_tray": "up", "draw_simultaneous": "up", "flood_fill_time": "up", "flood_drain_time": "up", "level_at_flood": "down", "level_at_first": "down", "draw_margin_at_refill": "down"}),
    ("systems.0.trays.overflow_head_allowed", "0.025 m", {"standpipe_capacity": "up"}),
    ("systems.0.plumbing.drain_inside_diameter", "22 mm", {"flood_drain_time": "down"}),
    ("systems.0.pump.bucket_test_at_top_tray", "10 L/min", {"flood_fill_time": "up", "pump_flow_at_head": "down"}),
    ("systems.0.reservoir.fill_mark_height", "0.32 m", {"res_fill": "up", "dose_full": "up", "ph_first_dose": "up", "tap_fill_time": "up", "heel_carryover": "down", "airflow_per_100L": "down"}),
    ("systems.0.reservoir.water_temperature", "23 degC", {"do_saturation": "down"}),
    ("room.altitude", "500 m", {"do_saturation": "down"}),
    ("room.relative_humidity_lights_on", "0.60", {"dew_point/lights_on": "up", "vpd/lights_on": "down", "air_exchange_needed": "down", "dew_point/lights_off": "same"}),
    ("room.air_temperature_lights_on", "24 degC", {"dew_point/lights_on": "up", "vpd/lights_on": "up"}),
    ("room.exhaust_fan_flow_installed", "150 m^3/h", {"air_changes": "up", "reentry_wait": "down"}),
    ("water_source.alkalinity_as_caco3", "90 mg/L", {"acid_demand": "up", "ph_first_dose": "up"}),
    ("water_source.ec", "0.35 mS/cm", {"ec_expected": "up"}),
    ("chemicals.1.strength", "12 % w/w", {"acid_normality": "up", "ph_first_dose": "down"}),
    ("chemicals.2.strength", "12 % w/v", {"ph_up_first_dose": "down"}),
    ("chemicals.0.strength", "12 % w/w", {"stock_strength_now": "up", "stock_for_batch": "down"}),
    ("sanitizing.tasks.tray_spray.coverage", "250 mL/m^2", {"batch_spray": "up", "stock_total": "up"}),
    ("sanitizing.rinse.residue_allowed", "0.5 mg/L", {"rinse_count": "up", "rinse_count_trays": "up", "rinse_count_parts": "up", "rinse_total": "up"}),
    ("sanitizing.rinse.reservoir_rinse_volume", "40 L", {"rinse_volume": "up", "rinse_count": "same"}),
    ("sanitizing.rinse.rate_trays", "8 L/m^2", {"rinse_trays": "up", "rinse_count_trays": "down"}),
    ("systems.0.trays.left_in_tray_after_drain", "0.6 L", {"rinse_count_trays": "up"}),
    ("systems.0.cup_plate.hole_pitch", "85 mm", {"area_plates": "down", "batch_spray": "down", "rinse_trays": "down"}),
    ("policies.disposal.dilute_peroxide_below", "0.4 % w/v", {"quench_water": "down"}),
    ("margins.sowing_certainty", "0.99", {"sow_plugs/viola": "up", "seed_count/viola": "up"}),
    ("seed_lots.0.germination", "0.70", {"sow_plugs/viola": "up"}),
    ("varieties.0.survival", "0.75", {"sow_plugs/viola": "up"}),
    ("varieties.0.water_per_day", "75 mL", {"dry_hours/viola": "down", "floods_per_day/viola": "up", "water_use_day": "up", "reorder_point": "up"}),
    ("varieties.0.dli_target", "14 mol/m^2/day", {"light_hours/viola": "up"}),
    ("plug.volume", "30 mL", {"dry_hours": "up", "soil_volume": "down"}),
    ("systems.0.lights.canopy_ppfd", "270 umol/m^2/s", {"dli": "up", "light_hours/viola": "down"}),
    ("systems.0.lights.power_per_fixture", "60 W", {"heat_load": "up", "energy_day": "up"}),
    ("electricity.loads.0.power", "450 W", {"circuit_load": "up"}),
    ("electricity.supply_voltage", "220 V", {"circuit_load": "up"}),
    ("supplies.lead_time", "14 day", {"reorder_point": "up"}),
    ("crop_plan.moved_to_soil.pot_volume", "2.2 L", {"soil_volume": "up", "first_water": "up"}),
    ("labour.cost", "18.00 EUR/h", {"cost_cleanout": "up", "cost_crop": "up"}),
    ("cleanout_tasks.0.hands_on", "50 min", {"cleanout_time_1": "up", "cleanout_time_2": "up", "training_hours": "up"}),
]  # fmt: skip
"""(field, its text after the change, amount -> `up`, `down` or `same`); a key after a stroke picks one."""


@pytest.fixture(scope="module")
def house() -> Source:
    return source_of("fourth")


@pytest.fixture(scope="module")
def before(house: Source) -> Register:
    return register_of(house)


@pytest.mark.parametrize(("field", "text", "expected"), MOVED, ids=[field for field, _, _ in MOVED])
def test_amounts_move_the_way_physics_says(
    house: Source, before: Register, field: str, text: str, expected: dict[str, str]
) -> None:
    path = tuple(int(step) if step.isdigit() else step for step in field.split("."))
    assert dict(leaves(house.data))[path] != text
    after = register_of(with_texts(house, {path: text}))
    for named, way in expected.items():
        old, new = (values(register, named) for register in (before, after))
        assert old, f"the house has no amount {named}"
        assert old.keys() == new.keys()
        steps = {key: new[key] - old[key] for key in old}
        if way == "same":
            assert not any(steps.values()), named
            continue
        sign = 1 if way == "up" else -1
        assert any(sign * step > 1e-9 for step in steps.values()), f"{named} does not move {way}: {steps}"
        assert all(sign * step >= -1e-9 for step in steps.values()), f"{named} moves the other way: {steps}"


def values(register: Register, named: str) -> dict[str, float]:
    """Exact values of an amount's id, of all systems; after a stroke only those with that key."""
    id_, _, wanted = named.partition("/")
    found = [amount for amount in register.all() if amount.id == id_]
    return {a.key: a.exact for a in found if not wanted or wanted in dict(a.of).values()}

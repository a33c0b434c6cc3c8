"""Nothing written is ignored in silence: keys nobody knows, and facts that move nothing where they stand, are told."""

from __future__ import annotations

from pathlib import Path

import pytest

from macros.house import load_house
from macros.house.records.house import House
from tests.house.test_new_house import records_below
from tests.making import made_house

MARGINS = 'margins: {reserve_volume: "6 L"'
TASKS = "sanitizing:\n  label_reference"
SPRAY = 'target: "3.0 % w/v", ceiling: "4.0 % w/v", coverage'

FREE = {"House.own_frequencies", "House.own_sources"}
"""Mappings whose names a house gives itself."""
ELSEWHERE = {"House.sow_layout", "Training.modules"}
"""Told by the amounts of sowing and by the training path: tests/house/test_wrong_figures.py, tests/training/test_path.py."""

KEYS = {
    "House.frequencies": (MARGINS, f"frequencies: {{tank_chnge: every week}}\n{MARGINS}",
        'frequencies.tank_chnge: "tank_chnge" is no rhythm of the manual: nothing reads it.'),
    "Sanitizing.tasks": ("    tool_dip: {", "    tooldip: {",
        'sanitizing.tasks.tooldip: "tooldip" is no task of sanitizing: nothing reads it. There are tray_spray, parts_soak, '
        "tool_dip, loop_circulate. Did you mean tool_dip?"),
    "CropPlan.weekly_demand": ("  cleanout_system: K", "  cleanout_system: K\n  weekly_demand: {violet: 10}",
        'crop_plan.weekly_demand.violet: "violet" is no variety of the house: nothing reads it. There are viola, rocket, '
        "lettuce. Did you mean viola?"),
    "Nutrients.stages": ("    leafy: {rates", "    leavy: {rates", "systems[K].fill_stage: leafy is no "),
    "FeedStage.rates": ('part_2: "1.5 mL/L"', 'part_9: "1.5 mL/L"', "nutrients.stages.leafy.rates.part_9: "),
}  # fmt: skip
"""Each mapping of the model: a slip in one of its keys, and the message; its place is that of the slip."""

IDLE = [
    (SPRAY, 'target: "3.0 % w/v", ceiling: "4.0 % w/v", batch: "1 L", coverage',
     "sanitizing.tasks.tray_spray.batch: batch under tray_spray is read by nothing. It is a fact of tool_dip; tray_spray "
     "takes coverage, waste_factor. Take it out, or write it under tool_dip."),
    (MARGINS, f"people:\n  - {{role: owner, may: [all]}}\n  - {{role: helper, may: [watering]}}\n{MARGINS}",
     "people[helper].may: watering is printed and read by nothing: helper stays at level 0, never alone. What a role may do "
     "alone is its sign_off_level, 1 to 4; may: [all] is level 4. Write sign_off_level under helper."),
    ("policies: {", 'policies: {cold_store: "48 degF", ',
     'policies.cold_store: "48 degF" is no aim for a cold store. 0 to 8 degC (32 to 46 degF); over that SOP-18 stops the '
     'harvest. Write what the thermometer in it should read, as "4 degC" or "39 degF".'),
]  # fmt: skip


def told(folder: Path, old: str, new: str) -> list[str]:
    """What the third house says after the change; each line at a line of the file."""
    _, problems = load_house(made_house(folder, (old, new), name="third"))
    return [
        str(problem).partition(": ")[2].removeprefix("warning: ")
        for problem in problems
        if problem.place.line > 1
    ]


@pytest.mark.parametrize("mapping", list(KEYS))
def test_a_key_nobody_knows_is_told(tmp_path: Path, mapping: str) -> None:
    old, new, message = KEYS[mapping]
    assert any(line.startswith(message) for line in told(tmp_path, old, new)), told(tmp_path, old, new)


def test_every_mapping_of_the_model_is_tried() -> None:
    mappings = {
        f"{record.__name__}.{name}"
        for record in records_below(House)
        for name, info in record.model_fields.items()
        if str(info.annotation).startswith("dict[")
    }
    assert mappings - FREE - ELSEWHERE == set(KEYS)


@pytest.mark.parametrize(("old", "new", "message"), IDLE)
def test_a_fact_that_moves_nothing_where_it_stands_is_told(
    tmp_path: Path, old: str, new: str, message: str
) -> None:
    assert [line for line in told(tmp_path, old, new) if line.startswith(message.partition(": ")[0])] == [
        message
    ]

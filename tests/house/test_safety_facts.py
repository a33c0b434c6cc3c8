"""Facts that say something is not as the pages take it to be are told, and facts nothing reads are passed over."""

from __future__ import annotations

from pathlib import Path

import pytest

from macros.ground.problems import errors_in
from macros.ground.record_shape import record_at
from macros.house import load_house
from macros.house.files.dropped import DROPPED
from macros.house.records.house import House
from tests.making import made_house, made_register


def lines_of(folder: Path, old: str, new: str) -> list[str]:
    """What the fourth house says after a change of its first `old`, which it did not say before."""
    house = made_house(folder, name="fourth")
    before = {str(problem) for problem in load_house(house)[1]}
    file = house / "site_data" / "house.yml"
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), encoding="utf-8")
    found, problems = load_house(house)
    assert found is not None, [str(problem) for problem in errors_in(problems)]
    return [str(problem) for problem in problems if str(problem) not in before]


RACK = "fixed_to_wall: yes"
CIRCUIT = '{id: C1, breaker: "10 A"'
POLICIES = "policies: {"
WATER = "water_source: {"


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        (RACK, "fixed_to_wall: no", "systems[K].rack.fixed_to_wall: the rack of system K is not fixed to the wall. "
         "A rack with flooded trays is heavy at the top and tips. Fix it before the next flood."),
        (CIRCUIT, CIRCUIT + ', rcd: "100 mA"', "electricity.circuits[C1].rcd: the residual-current device of C1 trips at 100 mA. "
         "Over 30 mA it guards wires, not people; everything here is wet. Ask a licensed electrician for a finer one."),
        (POLICIES, POLICIES + "nobody_eats_in_room: no, ", "policies.nobody_eats_in_room: eating in the room is allowed. "
         "Chemicals and feed are handled there. Forbid it."),
        (POLICIES, POLICIES + "allergen_notice_to_kitchen: no, ", "policies.allergen_notice_to_kitchen: the kitchen is not "
         "told of a new plant. A flower or leaf new to a dish can hurt a guest who does not bear it. Tell the kitchen before the first box."),
        (WATER, WATER + 'sodium: "51 mg/L", ', "water_source.sodium: the tap water holds 51 mg/L of sodium. Over 50 mg/L it "
         "builds up in the tank and harms the crop. Blend in rain or low-mineral water."),
        (WATER, WATER + 'chloride: "141 mg/L", ', "water_source.chloride: the tap water holds 141 mg/L of chloride. Over 140 mg/L "
         "it builds up in the tank and harms the crop. Blend in rain or low-mineral water."),
    ],
)  # fmt: skip
def test_what_is_not_safe_is_told(tmp_path: Path, old: str, new: str, told: str) -> None:
    assert any(f"warning: {told}" in line for line in lines_of(tmp_path, old, new))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (CIRCUIT, CIRCUIT + ', rcd: "30 mA"'),
        (POLICIES, POLICIES + "nobody_eats_in_room: yes, allergen_notice_to_kitchen: yes, "),
        (WATER, WATER + 'sodium: "50 mg/L", chloride: "140 mg/L", '),
    ],
)
def test_what_is_safe_is_not_told(tmp_path: Path, old: str, new: str) -> None:
    assert lines_of(tmp_path, old, new) == []


def test_more_loads_than_one_batch_takes_are_told(tmp_path: Path) -> None:
    """500 cups of 60 mL are 30 L loose; 0.50 x 0.40 x 0.20 m packed to 0.60 takes 24 L of them: two loads."""
    for most, systems in ((1, "KM"), (2, "")):
        house = made_house(
            tmp_path / str(most),
            ("count_per_system: 100", "count_per_system: 500"),
            ("parts_soak: {chemical", f"parts_soak: {{loads_per_batch: {most}, chemical"),
            name="fourth",
        )
        told = [str(one) for one in made_register(house).problems if "loads_per_batch" in one.key]
        assert [line.partition("warning: ")[2] for line in told] == [
            f"sanitizing.tasks.parts_soak.loads_per_batch: the parts of system {system} take 2 loads of the tub. "
            "One batch takes 1; after that it is spent. Make a new batch for the loads after that."
            for system in systems
        ]


def test_a_fact_nothing_reads_is_passed_over_and_told(tmp_path: Path) -> None:
    told = lines_of(tmp_path, RACK, "fixed_to_wall: yes}\n    shelves: 2\n    racks: 1 #")
    assert [line.partition(": ")[2] for line in told if "nothing reads" in line] == [
        f"warning: systems[K].{name}: nothing reads this fact any more. No amount and no page rests on it. "
        "Take it away, or keep it as a comment."
        for name in ("shelves", "racks")
    ]


def test_a_whole_section_nothing_reads_is_passed_over(tmp_path: Path) -> None:
    told = lines_of(tmp_path, WATER, 'cup: {top_diameter: "50 mm"}\n' + WATER)
    assert any("warning: cup: nothing reads this fact any more." in line for line in told)


def test_no_dropped_fact_is_one_that_is_read() -> None:
    for path in DROPPED:
        names = path.split(".")
        holder: type | None = House
        for name in names[:-1]:
            assert holder is not None
            steps = (name, 0) if record_at(holder, (name,)) is None else (name,)
            holder = record_at(holder, steps)
        assert holder is not None, path
        assert names[-1] not in holder.model_fields, path

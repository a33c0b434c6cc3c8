"""Advice that names a value is followed to the letter: written where the message points, it is refused no more."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from macros.amounts import compute_amounts
from macros.ground.problems import Problem, errors_in
from macros.house import load_house
from tests.making import made_house

Follow = Callable[[str, re.Match[str]], str]


def errors_of(folder: Path) -> list[Problem]:
    """What stops this house, its amounts included."""
    house, problems = load_house(folder)
    if house is None:
        return errors_in(problems)
    assert house.house.as_of is not None
    return errors_in(compute_amounts(house, house.house.as_of, house.house.place("as_of")).problems)


def instead(old: str, new: str) -> Follow:
    """The first `old` of the text becomes `new`, in which {0} is what the advice names."""

    def follow(text: str, advice: re.Match[str]) -> str:
        assert old in text, old
        return text.replace(old, new.format(*advice.groups()), 1)

    return follow


CASES: dict[str, tuple[str, tuple[tuple[str, str], ...], str, Follow]] = {
    "refill mark, round tank": (
        "second",
        (('flood_order: staggered}\n    trays: {count: 4, inside_length: "3 ft", inside_width: "1.5 ft", wall_height: "4 in", flood_depth: "1.25 in",\n            overflow_head_allowed: "0.75 in", left_in_tray_after_drain: "0.1 gal", top_tray_inlet_height_above_reservoir_floor: "5 ft"}\n    timer: {smallest_step: "1 min", on_time_set: "8 min", floods_set: ["07:00", "12:00", "17:00"]}\n  - id: S',
          'flood_order: staggered}\n    trays: {count: 4, inside_length: "5 ft", inside_width: "3 ft", wall_height: "4 in", flood_depth: "1.5 in",\n            overflow_head_allowed: "0.75 in", left_in_tray_after_drain: "0.1 gal", top_tray_inlet_height_above_reservoir_floor: "5 ft"}\n    timer: {smallest_step: "1 min", on_time_set: "8 min", floods_set: ["07:00", "12:00", "17:00"]}\n  - id: S'),),
        r"Raise the refill mark to ([\d.]+ in)",
        instead('refill_mark_height: "10 in"', 'refill_mark_height: "{0}"'),
    ),
    "refill mark, box": (
        "first",
        (('refill_mark_height: "0.20 m"', 'refill_mark_height: "0.08 m"'),),
        r"Raise the refill mark to ([\d.]+ m)\b",
        instead('refill_mark_height: "0.08 m"', 'refill_mark_height: "{0}"'),
    ),
    "fill mark": (
        "first",
        (('fill_mark_height: "0.30 m"', 'fill_mark_height: "0.38 m"'),),
        r"Lower the fill mark to ([\d.]+ m)\b",
        instead('fill_mark_height: "0.38 m"', 'fill_mark_height: "{0}"'),
    ),
    "flood depth": (
        "first",
        (('wall_height: "0.09 m"', 'wall_height: "0.06 m"'),),
        r"Flood ([\d.]+ m) deep",
        instead('flood_depth: "0.030 m"', 'flood_depth: "{0}"'),
    ),
    "wall": (
        "first",
        (('wall_height: "0.09 m"', 'wall_height: "0.06 m"'),),
        r"fit a wall of ([\d.]+ m)\b",
        instead('wall_height: "0.06 m"', 'wall_height: "{0}"'),
    ),
    "time of the pump": (
        "first",
        (('on_time_set: "8 min"', 'on_time_set: "1 min"'), ('bucket_test_at_top_tray: "12 L/min"', 'bucket_test_at_top_tray: "4 L/min"')),
        r"Set ([\d.]+ min)",
        instead('on_time_set: "1 min"', 'on_time_set: "{0}"'),
    ),
    "bore of the standpipe": (
        "first",
        (('standpipe_inside_diameter: "50 mm"', 'standpipe_inside_diameter: "25 mm"'),),
        r"Fit a wider pipe, for example ([\d.]+ mm)",
        instead('standpipe_inside_diameter: "25 mm"', 'standpipe_inside_diameter: "{0}"'),
    ),
    "two floods too near": (
        "first",
        (('["07:00", "13:00", "19:00"]', '["07:00", "07:12", "19:00"]'), ('standpipe_inside_diameter: "50 mm"', 'standpipe_inside_diameter: "50 mm", drain_inside_diameter: "20 mm"')),
        r"Leave (\d\d) min between",
        instead('"07:12"', '"07:{0}"'),
    ),
    "decimal comma": ("first", (('ec: "0.30 mS/cm"', 'ec: "0,30 mS/cm"'),), r'Write "([^"]+)"', instead('"0,30 mS/cm"', '"{0}"')),
    "a name nearly right": ("first", (("policies: {", "polices: {"),), r"Did you mean (\w+)\?", instead("polices: {", "{0}: {{")),
    "tool too coarse for acid": (
        "first",
        (('name: "acid syringe 20 mL", capacity: "20 mL", mark: "0.5 mL", smallest_use: "2 mL"', 'name: "acid syringe 20 mL", capacity: "500 mL", mark: "50 mL", smallest_use: "100 mL"'),),
        r"marks of ([\d.]+) mL or finer that holds ([\d.]+) mL",
        instead('capacity: "500 mL", mark: "50 mL", smallest_use: "100 mL"', 'capacity: "{1} mL", mark: "{0} mL", smallest_use: "{0} mL"'),
    ),
    "tool too coarse for feed": (
        "first",
        (('name: "cylinder 100 mL", capacity: "100 mL", mark: "1 mL", smallest_use: "20 mL"', 'name: "cylinder", capacity: "1000 mL", mark: "100 mL", smallest_use: "200 mL"'),),
        r"marks of ([\d.]+) mL or finer that holds ([\d.]+) mL",
        instead('capacity: "1000 mL", mark: "100 mL", smallest_use: "200 mL"', 'capacity: "{1} mL", mark: "{0} mL", smallest_use: "{0} mL"'),
    ),
    "a target over its ceiling": (
        "third",
        (('tray_spray: {chemical: perox, target: "3.0 % w/v"', 'tray_spray: {chemical: perox, target: "5.0 % w/v"'),),
        r"is over the ceiling ([\d.]+) % w/v",
        instead('target: "5.0 % w/v", ceiling: "4.0 % w/v"', 'target: "3.0 % w/v", ceiling: "{0} % w/v"'),
    ),
    "rinse over the fill mark": (
        "third",
        (('reservoir_rinse_volume: "15 L"', 'reservoir_rinse_volume: "61 L"'),),
        r"([\d.]+ L) reach it",
        instead('reservoir_rinse_volume: "61 L"', 'reservoir_rinse_volume: "{0}"'),
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_advice_followed_is_refused_no_more(tmp_path: Path, name: str) -> None:
    house, changes, said, follow = CASES[name]
    folder = made_house(tmp_path, *changes, name=house)
    advised = [(problem, match) for problem in errors_of(folder) if (match := re.search(said, str(problem)))]
    assert advised, [str(problem) for problem in errors_of(folder)]
    refused, advice = advised[0]
    file = folder / "site_data" / "house.yml"
    file.write_text(follow(file.read_text(encoding="utf-8"), advice), encoding="utf-8")
    after = [str(problem) for problem in errors_of(folder)]
    assert not any(
        problem.startswith(str(refused.place).rpartition(":")[0]) and f" {refused.key}: " in problem
        for problem in after
    ), after

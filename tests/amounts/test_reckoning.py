"""The reckoners against the printed tables of each house, against sums worked by hand, and what they refuse."""

from __future__ import annotations

import copy
from functools import cache
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from macros.amounts import Register
from macros.amounts.reckoners import collect, offered
from tests.facts import register_of, source_of
from tests.reckoners import (
    Answer,
    reckon_batch,
    reckon_ec,
    reckon_level,
    reckon_missed_flood,
    reckon_order,
    reckon_ph,
    reckon_strip,
)

HOUSES = ("second", "fourth", "fifth")


@cache
def register(name: str) -> Register:
    return register_of(source_of(name))


@cache
def facts(name: str, system: str) -> dict[str, Any]:
    return collect(register(name), register(name).house.system(system))


def systems() -> list[tuple[str, str]]:
    return [(name, system.id) for name in HOUSES for system in register(name).house.systems]


def rows(name: str, id_: str, system: str) -> list[list[Any]]:
    """The rows of a printed table."""
    found: list[list[Any]] = register(name).get(id_, system=system).exact["rows"]
    assert found
    return found


def full_level(data: dict[str, Any]) -> str:
    text: str = data["tank"]["fill_text"]
    return text


def typed(value: float) -> str:
    """A printed number as a person types it."""
    return f"{value:g}"


# ---------------------------------------------------------------- as printed


@pytest.mark.parametrize(("name", "system"), systems())
def test_level_answers_as_the_printed_tables(name: str, system: str) -> None:
    data = facts(name, system)
    stands = {row[0]: row[1] for row in rows(name, "level_table", system)}
    feed = {row[0]: row[1:] for row in rows(name, "topup_table", system)}
    parts = [part["id"] for part in data["feed"]["parts"]]
    with_feed = 0
    for level, _, water in rows(name, "level_table", system):
        values = reckon_level(data, typed(level)).values
        assert values["short"] == water
        assert values["present"] == stands[level]
        under = [row for row in feed if row <= water + 1e-9]
        if not under:
            assert values.get("row", 0) == 0  # a full tank is asked for no row
            continue
        printed = feed[max(under)]
        assert [values[f"part:{part}"] for part in parts] == printed[: len(parts)]
        assert [values[f"full:{part}"] for part in parts] == printed[len(parts) :]
        with_feed += 1
    assert with_feed >= 5


@pytest.mark.parametrize(("name", "system"), systems())
def test_a_level_at_the_refill_mark_leaves_the_printed_margin(name: str, system: str) -> None:
    values = reckon_level(facts(name, system), facts(name, system)["tank"]["refill_text"]).values
    assert values["flood_left"] == register(name).get("draw_margin_at_refill", system=system).rounded


@pytest.mark.parametrize(("name", "system"), systems())
def test_ec_in_the_full_tank_answers_as_the_printed_tables(name: str, system: str) -> None:
    data = facts(name, system)
    parts = [part["id"] for part in data["ec"]["parts"]]
    for read, *doses in rows(name, "ec_raise", system):
        values = reckon_ec(data, typed(read), full_level(data)).values
        assert [values[f"part:{part}"] for part in parts] == doses
    for key, id_ in (("water", "ec_dilute"), ("swap", "ec_swap")):
        for read, litres in rows(name, id_, system):
            assert reckon_ec(data, typed(read), full_level(data)).values[key] == litres


@pytest.mark.parametrize(("name", "system"), systems())
def test_ph_answers_as_the_printed_doses(name: str, system: str) -> None:
    data, book = facts(name, system), register(name)
    for read, dose in rows(name, "ph_next_dose", system):
        assert reckon_ph(data, typed(read), "0").values == {"down": dose}
        assert reckon_ph(data, typed(read), "1").values == {"down": dose}
    low = typed(data["ph"]["low"] - 0.1)
    base = book.of_id("ph_up_first_dose", system=system)
    answer = reckon_ph(data, low, "0")
    if base:
        assert answer.values == {"up": base[0].rounded}
    else:
        assert "This house gives no pH-up dose." in answer.title


def test_missed_floods_answer_as_the_printed_hours() -> None:
    seen = 0
    for name, system in systems():
        if "missed_flood" not in offered(register(name), system):
            continue
        for crop, young, grown in rows(name, "missed_flood_clock", system):
            values = reckon_missed_flood(facts(name, system), "07:00", "07:01").values
            assert values[f"left:{crop}:young"] == young * 60 - 1
            assert values[f"left:{crop}:grown"] == grown * 60 - 1
            seen += 1
    assert seen >= 6


@pytest.mark.parametrize(("name", "system"), systems())
def test_batches_and_strips_answer_as_printed(name: str, system: str) -> None:
    data, book = facts(name, system), register(name)
    assert len(data["batch"]) >= 3
    for task, rule in data["batch"].items():
        keys = {"system": system, "task": task}
        answer = reckon_batch(data, task, rule["printed_text"])
        assert answer.kind == "answer", answer.title
        for key, id_ in (
            ("stock", "stock_for_batch"),
            ("water", "water_for_batch"),
            ("made", "strength_made"),
        ):
            printed = book.get(id_, **keys)
            assert answer.values[key] == printed.rounded, (task, key)
            shown = printed.printed.partition(" (")[0].split(" to ")[-1]  # bracketed: as a label says it
            assert any(shown in line for line in answer.lines), (task, shown)
        tool = book.get("stock_for_batch", **keys).tool
        assert any(line.endswith(f", {tool}.") for line in answer.lines)
        water_tool = book.get("water_for_batch", **keys).tool
        assert answer.lines[0].endswith(f", {water_tool}.")
        band = book.get("strip_band", **keys).exact
        for pad in (band["low"], band["high"]):
            assert reckon_strip(data, task, typed(pad), "0").kind == "answer"
        assert reckon_strip(data, task, typed(band["low"] - 1), "0").kind == "stop"
        assert reckon_strip(data, task, typed(band["high"] + 1), "0").kind == "stop"


# ---------------------------------------------------------------- worked by hand

# The fourth house, rack K. Source of every number below: worked by hand from the facts in its file.
# Tank 0.50 m x 0.40 m: 2 L a cm; fill mark 30 cm = 60 L, pump minimum 5 cm = 10 L. Feed 1.5 mL/L of each of two
# parts, cylinder 100 mL with marks of 1 mL, used from 20 mL. Water 0.30, target 1.35, band 1.1 to 1.6 mS/cm;
# a full feed adds 1.5 x 0.40 + 1.5 x 0.30 = 1.05 mS/cm. A flood takes 2 x 0.80 x 0.40 x 0.030 x 1000 + 0.5 = 19.7 L.


@pytest.mark.quick
def test_a_level_by_hand() -> None:
    answer = reckon_level(facts("fourth", "K"), "14")
    # 14 cm = 28 L, 60 - 28 = 32 L short, row 30: 30 x 1.5 = 45 mL, half of it 22.5, to the even mark 22; 28 - 19.7 - 10
    assert answer.title == "System K: add 32 L of water, up to the fill mark, 30 cm."
    assert answer.values == {
        "present": 28.0, "short": 32.0, "flood_left": -1.7, "row": 30.0,
        "part:part_1": 22.0, "part:part_2": 22.0, "full:part_1": 45.0, "full:part_2": 45.0,
    }  # fmt: skip
    assert (
        "Let no flood run before the top-up: a flood takes 19.7 L, and 18 L stand over the pump minimum."
        in answer.lines
    )
    assert answer.groups[1].head == "EC under 1.1 mS/cm: row of 30 L, at full strength"
    assert answer.groups[1].items[0] == "part 1 (calcium): 45 mL, cylinder 100 mL"


@pytest.mark.parametrize(
    ("ec", "level", "title", "values"),
    [
        # (1.35 - 1.05) / 1.05 x 60 x 1.5 = 25.7 mL, down to 25
        ("1.05", "30", "System K: EC 1.05 mS/cm is too low. Add feed.", {"part:part_1": 25.0, "part:part_2": 25.0}),
        # 60 L x 0.05 / 1.05 = 2.86, up to 3; 60 x 0.05 / (1.40 - 0.30) = 2.73, up to 3
        ("1.4", "30", "System K: add nothing. EC 1.4 mS/cm is in its band, 1.1 to 1.6 mS/cm.", {"water": 3.0, "swap": 3.0, "room": 0.0}),
        # 40 L x 0.30 / (1.35 - 0.30) = 11.43, up to 11.5; room for 60 - 40 = 20 L; 40 x 0.30 / 1.35 = 8.89, up to 9
        ("1.65", "20", "System K: EC 1.65 mS/cm is too high. Add 11.5 L of plain water.", {"water": 11.5, "swap": 9.0, "room": 20.0}),
        # water alone 60 x 0.30 / 1.05 = 17.14 does not fit; 60 x 0.30 / (1.65 - 0.30) = 13.33, up to 13.5
        ("1.65", "30", "System K: EC 1.65 mS/cm is too high. Drain 13.5 L, then add 13.5 L of plain water.", {"water": 17.5, "swap": 13.5, "room": 0.0}),
        ("0.29", "30", "System K: stop. 0.29 mS/cm is under the tap water's own 0.3 mS/cm.", {}),
        # half of the tank is drained at 2 x 1.35 - 0.30 = 2.40
        ("2.41", "30", "System K: stop. 2.41 mS/cm is over 2.4 mS/cm, where the tables end.", {}),
    ],
)  # fmt: skip
def test_an_ec_by_hand(ec: str, level: str, title: str, values: dict[str, float]) -> None:
    answer = reckon_ec(facts("fourth", "K"), ec, level)
    assert answer.title == title
    assert answer.values == pytest.approx(values)


def made_ph() -> dict[str, Any]:
    """Rack K with 100 L, 0.30 mL/L for a pH unit and a first dose of 12 mL, on a syringe with marks of 0.5 mL."""
    data = copy.deepcopy(facts("fourth", "K"))
    data["ph"]["down"] |= {"volume": 100.0, "slope": 0.30, "first": 12.0, "first_text": "12.0 mL"}
    return data


def test_a_ph_by_hand() -> None:
    data = made_ph()
    # 100 x 0.30 x (6.61 - 6.0) / 2 = 9.15, down to 9.0; at 7.0 half is 15, over the first dose of 12
    assert reckon_ph(data, "6.61", "0").values == {"down": 9.0}
    assert reckon_ph(data, "7.0", "1").values == {"down": 12.0}
    second = reckon_ph(data, "6.6", "1")
    assert second.lines[-1] == "After it no more today: outside the band again means stop and ask the owner."
    third = reckon_ph(data, "6.6", "2")
    assert third.kind == "stop"
    assert third.title == "System K: stop, give nothing. 2 doses went in within 24 h; 2 is the most."
    assert third.lines == ("Check the pen in buffer (SOP-10). Ask the owner.",)


def test_a_missed_flood_by_hand() -> None:
    # Over 14 + 0.2 x 10 = 16 hours: full-grown viola 60 mL a day, 3.75 mL/h, 40 mL x 0.7 / 3.75 = 7.47, down to 7.0 h;
    # a young plug 10 mL a day, 0.625 mL/h, 15 mL x 0.7 / 0.625 = 16.8, down to 16.5 h. From 22:00 that is 05:00 and
    # 14:30, half of it 01:30 and 06:15.
    answer = reckon_missed_flood(facts("fourth", "K"), "22:00", "01:30")
    assert answer.kind == "stop"
    assert answer.title == "System K: wet by hand now: viola, full-grown."
    assert answer.lines == (
        "Since the flood at 22:00: 3 h 30 min.",
        "viola, full-grown: half of its 7 h is gone. Dry at 05:00; 3 h 30 min left.",
        "viola, young plug: act by 06:15, half of its 16.5 h. Dry at 14:30; 13 h left.",
    )
    later = reckon_missed_flood(facts("fourth", "K"), "2200", "05:00")
    assert later.lines[1] == "viola, full-grown: all of its 7 h were gone at 05:00. Wet it first."
    early = reckon_missed_flood(facts("fourth", "K"), "22:00", "01:29")
    assert early.title == "System K: nothing is due yet. Act by 01:30: viola, full-grown."


def test_a_strip_by_hand() -> None:
    # 1.0 % w/v = 10 000 mg/L, 1 in 20 = 500 mg/L; 90 to 125 % is 450 to 625: the pads 500 and 600 pass
    data = facts("fourth", "K")
    assert reckon_strip(data, "parts_soak", "500", "0").title == (
        "System K: pass. The parts soak batch may be used until it is dead, 4 h after it was made."
    )
    assert reckon_strip(data, "parts_soak", "250", "0").title == (
        "System K: fail, too weak. Throw the parts soak batch away and make a fresh one with fresh stock."
    )
    assert reckon_strip(data, "parts_soak", "1000", "0").title.startswith("System K: fail, too strong.")
    assert reckon_strip(data, "parts_soak", "250", "1").title == (
        "System K: stop. The parts soak batch failed again: nothing is sanitized with this stock."
    )
    assert reckon_strip(data, "residue", "5", "0").kind == "answer"
    assert reckon_strip(data, "residue", "5.1", "0").title == (
        "System K: fail. The last rinse shows 5.1 mg/L; 5 mg/L may stay. Rinse once more, then read again."
    )
    assert reckon_strip(data, "residue", "10", "1").title.startswith("System K: stop.")


def test_a_batch_by_hand() -> None:
    # 10 % w/w x 1.035 = 103.5 g/L, opened on the day. 0.5 L to 30 g/L: 144.9 mL; one pour of the jug with marks of
    # 10 mL beats two of the cylinder: 150 mL, which makes 150 x 103.5 / 500 = 31.05 g/L. 0.35 L of water go in first.
    answer = reckon_batch(facts("fourth", "K"), "tool_dip", "0.47")
    assert answer.values == {"batch": 0.5, "stock": 150.0, "water": 0.34, "made": 3.11}
    assert answer.lines == (
        "0.47 L was rounded up to 0.5 L, a readable mark.",
        "Water first: 0.34 L, water jug 1 L.",
        "Stock: 150 mL, red jug 1 L.",
        "Make up with water to 0.5 L, red jug 1 L.",
        "Strength made with stock as bought: 3.11 % w/v; older stock makes less. Wanted 3.0 % w/v, never over 4.0 % w/v.",
    )


def test_us_units_by_hand() -> None:
    # The second house, rack N: pi/4 x 22^2 x 15 / 231 = 24.68 gal at the mark, x 10 / 15 = 16.46 gal at 10 in
    values = reckon_level(facts("second", "N"), "10").values
    assert (values["present"], values["short"], values["row"]) == (16.5, 8.2, 8.0)


# ---------------------------------------------------------------- refused, in words


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "Nothing is written under the level. Write 5 to 30 cm."),
        (" \t", "Nothing is written under the level. Write 5 to 30 cm."),
        ("1,234", '"1,234" can be read in two ways. Write 1.234, or 1234.'),
        ("14,", '"14," is not a number. Write digits with a point and no unit: 5 to 30 cm.'),
        ("1,4,5", '"1,4,5" is not a number. Write digits with a point and no unit: 5 to 30 cm.'),
        ("-4", '"-4" is below zero. Write 5 to 30 cm.'),
        ("14cm", '"14cm" is not a number. Write digits with a point and no unit: 5 to 30 cm.'),
        ("1e1", '"1e1" is not a number. Write digits with a point and no unit: 5 to 30 cm.'),
        ("14.", '"14." is not a number. Write digits with a point and no unit: 5 to 30 cm.'),
        ("١٤", '"١٤" is not a number. Write digits with a point and no unit: 5 to 30 cm.'),
        ("14.123456", '"14.123456" has more digits than a scale shows. Write 5 to 30 cm.'),
        (
            "40.1",
            "40.1 cm is over the rim of the tank, 40 cm. Allowed: 5 to 30 cm. Read the scale again, eyes at the height of "
            "the water.",
        ),
        (
            "x" * 30,
            f'"{"x" * 20}..." is not a number. Write digits with a point and no unit: 5 to 30 cm.',
        ),
    ],
)
def test_a_level_that_cannot_be_read_is_refused(text: str, told: str) -> None:
    assert reckon_level(facts("fourth", "K"), text) == Answer("refused", told)


@pytest.mark.parametrize(("comma", "point"), [("14,5", "14.5"), ("14,50", "14.50"), ("0,123", "0.123")])
def test_a_comma_that_parts_no_thousands_is_a_point(comma: str, point: str) -> None:
    """A keypad may have no point. "0,123" and "14,50" cannot part thousands; "1,234" can and is refused."""
    with_comma, with_point = (reckon_level(facts("fourth", "K"), text) for text in (comma, point))
    assert with_comma == with_point
    assert with_comma.kind == ("stop" if point == "0.123" else "answer")


@pytest.mark.parametrize("text", ["06:30", "6:30", "6.30", "6,30", "0630", "630"])
def test_a_time_needs_no_colon(text: str) -> None:
    """2 h 30 min from the last good flood to the finding, whatever the keypad had."""
    data = facts("fourth", "K")
    answer = reckon_missed_flood(data, text, "09:00")
    assert answer == reckon_missed_flood(data, "06:30", "09:00")
    crops = rows("fourth", "missed_flood_clock", "K")
    assert crops
    for crop, young, _ in crops:
        assert answer.values[f"left:{crop}:young"] == young * 60 - 150


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "Nothing is written under the last good flood. Write a time of the 24 h clock, as 06:30 or 630."),
        ("6.3", '"6.3" is not a time. Write a time of the 24 h clock, as 06:30 or 630.'),
        ("12345", '"12345" is not a time. Write a time of the 24 h clock, as 06:30 or 630.'),
        ("675", '"675" is not a time. Write a time of the 24 h clock, as 06:30 or 630.'),
        ("6:30 pm", '"6:30 pm" names a half of the day. Write the 24 h clock: 18:30 for half past six in the evening.'),
        ("24:00", '"24:00" is not a time. Write a time of the 24 h clock, as 06:30 or 630.'),
    ],
)  # fmt: skip
def test_a_time_that_cannot_be_read_is_refused(text: str, told: str) -> None:
    assert reckon_missed_flood(facts("fourth", "K"), text, "09:00") == Answer("refused", told)


def test_what_no_reckoner_may_answer_is_told() -> None:
    data = facts("fourth", "K")
    told = {
        reckon_level(data, "4").title: "System K: stop. 4 cm is under the pump minimum, 5 cm.",
        reckon_level(data, "31").title: "System K: add nothing. 31 cm is over the fill mark, 30 cm.",
        reckon_ec(data, "1.2", "31").title: (
            "31 cm is outside the tank's marks. Allowed: 5 to 30 cm, pump minimum to fill mark. Over the mark reckon "
            "with 30 cm; under the minimum fill first."
        ),
        reckon_ph(data, "61", "0").title: (
            "61 is no pH. Allowed: 4.6 to 7.5. Read again in a fresh cup; write a point, as 6.1."
        ),
        reckon_ph(data, "4.5", "0").title: (
            "System K: stop, give nothing. pH 4.5 is outside 4.6 to 7.5, where a dose is reckoned."
        ),
        reckon_ph(data, "6.1", "two").title: (
            '"two" is not a whole count. Write a whole number, 0 to 20.'
        ),
        reckon_strip(data, "parts_soak", "1001", "0").title: (
            "1001 mg/L is not on the high strip. Allowed: 0 to 1000 mg/L. Read the pad again beside the colours of its own box."
        ),
        reckon_batch(data, "tool_dip", "1.2").title: (
            "1.2 L of tool dip cannot be made here. Allowed: 0.1 to 1 L, up to the jar. Write an amount within it."
        ),
    }  # fmt: skip
    assert list(told) == list(told.values())


def test_a_batch_that_leaves_its_limits_or_the_shelf_is_refused() -> None:
    data = copy.deepcopy(facts("fourth", "K"))
    rule = data["batch"]["tool_dip"]
    # 0.5 L takes 150 mL and makes 31.05 g/L: over a ceiling of 31. Half a mark, 5 mL of stock and 0.025 L of batch:
    # 155 x 103.5 / 475 = 33.77 g/L
    rule |= {"ceiling": 31.0, "ceiling_text": "3.1 % w/v"}
    assert reckon_batch(data, "tool_dip", "0.5").title == (
        "System K: refused. Poured to the marks of the house it would be 3.11 % w/v; the ceiling is 3.1 % w/v. Make a "
        "larger amount, or ask the owner."
    )
    rule |= {"ceiling": 33.0, "ceiling_text": "3.3 % w/v"}
    assert reckon_batch(data, "tool_dip", "0.5").title == (
        "System K: refused. Half a mark of the measures alone could make it 3.38 % w/v; the ceiling is 3.3 % w/v. Make a "
        "larger amount, or ask the owner."
    )
    rule |= {"ceiling": 40.0, "shelf": 149.0}
    assert reckon_batch(data, "tool_dip", "0.5").title == (
        "System K: refused. It takes 150 mL of peroxide, food-contact grade; 149 mL stand on the shelf. Make less, or ask "
        "the owner."
    )
    data["tools"]["sanitizer"]["tools"] = data["tools"]["sanitizer"]["tools"][2:]
    assert reckon_batch(data, "tool_dip", "0.1").title == (
        "System K: refused. No measure of the house pours 29 mL of peroxide, food-contact grade within half a mark. Make "
        "another amount, or ask the owner."
    )


# ---------------------------------------------------------------- always true

READINGS = st.decimals(min_value=0, max_value=40, places=2).map(str)


@pytest.mark.parametrize(("name", "system"), systems())
def test_more_water_short_never_means_less_feed(name: str, system: str) -> None:
    tank = facts(name, system)["tank"]
    low, high = float(tank["pump_minimum_text"]), float(tank["fill_text"])
    last: dict[str, float] = {}
    seen = 0
    for step in range(61):
        level = f"{high - (high - low) * step / 60:.3f}"
        answer = reckon_level(facts(name, system), level)
        assert answer.kind == "answer"
        for key, dose in answer.values.items():
            if key.startswith(("part:", "full:", "short")) and dose is not None:
                assert dose >= last.get(key, 0.0), (level, key)
                last[key] = dose
                seen += 1
    assert seen > 60


@given(st.sampled_from(systems()), st.integers(0, 200), st.integers(0, 200))
def test_a_lower_ec_never_means_less_feed_nor_more_than_the_last_row(
    where: tuple[str, str], one: int, other: int
) -> None:
    data = facts(*where)
    target, least = data["ec"]["target"], data["ec"]["least"]
    lower, higher = sorted((one, other))
    doses = []
    for part in (higher, lower):
        read = f"{least + (target - least) * part / 200:.4f}"
        doses.append(reckon_ec(data, max(read, f"{least:.4f}"), full_level(data)).values)
    bound = {f"part:{part['id']}": part for part in data["ec"]["parts"]}
    for key, part in bound.items():
        more, less = (values.get(key) or 0.0 for values in reversed(doses))
        assert more >= less
        share = (target - data["ec"]["least"]) / data["ec"]["full_feed"]
        most = data["tank"]["full"] * part["rate"] * share * data["tools"]["nutrients"]["per_mL"]
        assert more <= most * (1 + 1e-9)


@given(st.sampled_from(systems()), READINGS, st.integers(0, 20))
def test_a_ph_dose_is_never_over_the_first_nor_a_third(
    where: tuple[str, str], read: str, given_: int
) -> None:
    data = facts(*where)
    rules = data["ph"]
    answer = reckon_ph(data, read, str(given_))
    for way, group in (("down", "acids"), ("up", "bases")):
        per = data["tools"][group]["per_mL"]
        dose = answer.values.get(way)
        if dose is not None:
            assert given_ < 2
            assert 0 < dose <= rules[way]["first"] * per * (1 + 1e-9)
            assert (float(read) > rules["high"]) is (way == "down")
    if float(read) > 14:
        assert answer.kind == "refused"
    if rules["low"] <= float(read) <= rules["high"]:
        assert dict(answer.values) == {}


@settings(deadline=None)
@given(st.sampled_from(systems()), st.data())
def test_a_batch_made_is_within_its_limits(where: tuple[str, str], draw: st.DataObject) -> None:
    data = facts(*where)
    task = draw.draw(st.sampled_from(sorted(data["batch"])))
    rule = data["batch"][task]
    share = draw.draw(st.integers(-100, 1100)) / 1000
    wanted = max(0.0, rule["least"] + (rule["most"] - rule["least"]) * share)
    answer = reckon_batch(data, task, f"{wanted:.3f}")
    if answer.kind == "refused":
        assert answer.values == {}
        return
    made, batch = answer.values["made"], answer.values["batch"]
    assert made is not None
    assert batch is not None
    assert rule["target"] / 10 * (1 - 1e-9) - 0.0005 <= made <= rule["ceiling"] / 10 * (1 + 1e-9)
    assert rule["least"] <= batch <= rule["most"]
    assert batch >= float(f"{wanted:.3f}") - 1e-9


def test_facts_are_the_same_on_every_run() -> None:
    one = collect(register("fourth"), register("fourth").house.systems[0])
    again = register_of(source_of("fourth"))
    other = collect(again, again.house.systems[0])
    assert one == other


# ---------------------------------------------------------------- an order


def test_an_order_the_plan_gives_already() -> None:
    """8 violas x 6 / 7 x 0.85 = 5.83 a day; the fourth house says no shelf life, so one day of picking counts."""
    found = reckon_order(facts("fourth", "K"), "viola", "5", "2031-08-01")
    assert (found.kind, found.values["given"]) == ("answer", 5)
    assert found.title == "System K: nothing to sow. The plan as it stands gives the viola for 2031-08-01."


def test_an_order_beside_the_plan_finds_no_place() -> None:
    """10 flowers of one day: 10 / (6 / 7 x 0.85) = 13.7, 14 plants. 2031-08-01 less 62 days is Saturday 05-31, the Monday
    before 05-26. K-1 has 8 places, all taken; K-2 has 8 and stands in no plan: 6 are missing.
    """
    found = reckon_order(facts("fourth", "K"), "viola", "10", "2031-08-01")
    assert found.title == "System K: no room as planned. viola for 2031-08-01 would be sown by 2031-05-26."
    assert found.kind == "stop"
    assert found.values["plants"] == 14
    assert found.values["free"] == 8
    assert (
        "Places free on the rack then: 8. Too few for 14 plants: take plants off the plan, or promise less."
        in found.lines
    )
    assert "Plant from 2031-06-15 to 2031-06-25." in found.lines
    assert "The plan as it stands may promise 5 flowers for that day." in found.lines


def test_an_order_waits_for_a_nursery_tray() -> None:
    """4 plants fit K-2; three sheets fill three trays from 05-30, the violas of the order come off their dome on 06-03."""
    crowded = copy.deepcopy(facts("fourth", "K"))
    crowded["order"]["crops"]["viola"]["planned"] = 0
    found = reckon_order(crowded, "viola", "2.5", "2031-08-01")
    assert found.values["plants"] == 4
    assert "The nursery is full on 2031-06-03: 3 of 3 trays are taken and 1 more are needed." in found.lines
    assert found.kind == "stop"


def test_an_order_that_comes_too_late_tells_the_next_day() -> None:
    """2031-07-01 less 62 days is 04-30, the Monday before 04-28, before 05-01. Sown on Monday 05-05: 07-06."""
    found = reckon_order(facts("fourth", "K"), "viola", "5", "2031-07-01")
    assert found.title == "System K: too late. viola for 2031-07-01 had to be sown by 2031-04-28."
    assert found.lines[0] == "Sown on 2031-05-05, as much may be promised for 2031-07-06."


@pytest.mark.parametrize(
    ("typed_order", "words"),
    [
        (("", "5", "2031-08-01"), "Nothing known is chosen under the crop. Choose one of the list."),
        (("viola", "", "2031-08-01"), "Nothing is written under the amount wanted. Write an amount above 0, in flowers."),
        (("viola", "0", "2031-08-01"), "Nothing is wanted. Write an amount above 0, in flowers."),
        (("viola", "5", "1.8.2031"), '"1.8.2031" is no day of the calendar. Write a day as 2031-06-30.'),
        (("viola", "5", "2031-02-29"), '"2031-02-29" is no day of the calendar. Write a day as 2031-06-30.'),
        (("viola", "5", "2031-04-30"), "2031-04-30 is before 2031-05-01, the day this was built for. Write a day to come."),
        (("viola", "5", "2032-12-01"), "2032-12-01 is more than 400 days after 2031-05-01, the day this was built for. "
         "Build the manual nearer to it."),
        (("viola", "20", "2031-08-01"), "20 flowers of viola take 28 plants. The whole rack has places for 16. Promise less."),
    ],
)  # fmt: skip
def test_what_is_no_order_is_refused(typed_order: tuple[str, str, str], words: str) -> None:
    found = reckon_order(facts("fourth", "K"), *typed_order)
    assert (found.kind, found.title) == ("refused", words)

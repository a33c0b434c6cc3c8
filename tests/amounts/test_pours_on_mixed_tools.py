"""300 amounts on benches of US and metric tools: what is printed is read again, and each filling is a mark of the tool named.

The marks are counted here in fractions, and the units by NIST SP 811, B.8: 1 fl oz is 29.5735295625 mL, 1 gal 128 fl oz.
"""

from __future__ import annotations

import copy
import random
import re
from fractions import Fraction
from types import SimpleNamespace
from typing import Any

from macros.amounts.engine.pours import bench, give_poured
from macros.amounts.engine.register import Register
from macros.amounts.engine.working import Working
from macros.ground.records import build_record
from macros.ground.units import convert
from macros.ground.yaml_source import Source
from macros.house.records.house import House
from macros.house.records.tools import MeasuringTool
from tests.facts import register_of, source_of

MILLILITRES = {
    "mL": Fraction(1),
    "L": Fraction(1000),
    "fl oz": Fraction("29.5735295625"),
    "gal": 128 * Fraction("29.5735295625"),
}
TOOLS = (
    ("jug one quart", "32 fl_oz", "1 fl_oz", "4 fl_oz"), ("jug one gallon", "1 us_gal", "8 fl_oz", "16 fl_oz"),
    ("pail", "5 us_gal", "0.25 us_gal", "0.5 us_gal"), ("cup", "8 fl_oz", "0.25 fl_oz", "1 fl_oz"),
    ("syringe", "10 mL", "0.5 mL", "2 mL"), ("fine syringe", "3 mL", "0.1 mL", "0.5 mL"),
    ("cylinder", "100 mL", "1 mL", "5 mL"), ("glass jug", "1 L", "10 mL", "100 mL"),
)  # fmt: skip
PIECE = re.compile(r"(?:(\d+) x )?(\d+(?:\.\d+)?)")
"""One number of a told sum, and how many times it is poured."""


def test_every_filling_told_is_a_mark_of_its_tool() -> None:
    chance, register, every = random.Random(22), register_of(source_of("second")), _owned()
    poured = mixed = 0
    for case in range(300):
        owned = chance.sample(every, chance.randint(2, 5))
        wanted = round(10 ** chance.uniform(0.3, 4.2), chance.randint(0, 3))
        amount = _given(register, owned, wanted, case)
        if amount is None:
            continue
        poured += 1
        mixed += len({tool.capacity.unit in ("mL", "L") for tool in owned}) == 2
        told = _fillings(amount, owned)
        number, unit = re.fullmatch(r"([\d.]+) (mL|fl oz)", amount.printed).groups()  # type: ignore[union-attr]
        whole = sum(Fraction(text) * MILLILITRES[one] for _, text, one in told)
        assert abs(whole - Fraction(number) * MILLILITRES[unit]) <= whole / 10**6, (
            amount.printed,
            amount.tool,
        )
        for tool, text, one in told:
            own = next(thing for thing in owned if thing.name == tool)
            marks = Fraction(text) * MILLILITRES[one] / _millilitres(own.mark)
            assert marks.denominator == 1, (amount.printed, amount.tool)
            assert (
                _millilitres(own.smallest_use) <= marks * _millilitres(own.mark) <= _millilitres(own.capacity)
            )
            metric = own.capacity.unit in ("mL", "L")
            assert (one in ("mL", "L")) == metric, (amount.printed, amount.tool)
    assert poured >= 200
    assert mixed >= 120


def _given(register: Register, owned: list[MeasuringTool], wanted: float, case: int) -> Any:
    house = SimpleNamespace(measuring_tools=owned, us=True, place=register.house.place)
    own = Register(house, register.day, register.day_place, register.built_for)  # type: ignore[arg-type]
    w = Working(own, "dose_full", "Dose", "Feed", part=f"p{case}")
    found = bench(own, w, "nutrients", wanted)
    return give_poured(w, wanted, found, "nearest", "to a mark", register.house.place("house"))


def _owned() -> tuple[MeasuringTool, ...]:
    source = source_of("second")
    data = copy.deepcopy(source.data)
    data["measuring_tools"] = [
        {"name": name, "capacity": capacity, "mark": mark, "smallest_use": smallest, "for": ["nutrients"]}
        for name, capacity, mark, smallest in TOOLS
    ]
    house, problems = build_record(House, Source(data, source.places, source.file), us_gallons=True)
    assert house is not None, problems
    return house.measuring_tools


def _millilitres(measure: Any) -> Fraction:
    unit = {"fl_oz": "fl oz", "us_gal": "gal"}.get(measure.unit, measure.unit)
    return Fraction(str(measure.value)) * MILLILITRES[unit]


def _fillings(amount: Any, owned: list[MeasuringTool]) -> list[tuple[str, str, str]]:
    """Tool, number and unit of each filling, read off the printed words."""
    number, printed_in = amount.printed.split(" ", 1)
    found = []
    for piece in amount.tool.split("; "):
        tool, _, told = piece.partition(": ")
        unit = next((one for one in MILLILITRES if told.endswith(f" {one}")), printed_in)
        for times, text in PIECE.findall(told.removesuffix(unit)) or [("", number)]:
            found += [(tool, text, unit)] * int(times or 1)
    return found


def test_the_units_here_are_those_of_the_program() -> None:
    assert convert(1, "us_gal", "mL") == float(MILLILITRES["gal"])

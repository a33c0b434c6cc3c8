"""Damage as tidy people make it: parts of another house or page, figures in other units, figures at a border.

Every value stands in its form; only together with the rest it may be wrong. The same seed makes the same damage.
"""

from __future__ import annotations

import copy
import math
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from random import Random
from typing import Any

from macros.ground.unit_factors import kept_factors
from macros.house.rules.plausible_ranges import MOST
from macros.published import published_rows
from macros.published.amounts.plausible import Plausible
from tests.facts import source_of
from tests.fuzz.mutations import Way, as_yaml, at, ways_into

HOUSES = ("first", "second", "third", "fourth", "fifth")
_FIGURE = re.compile(r"(-?\d+(?:\.\d+)?) ([A-Za-z]\S*)")
_SPELT = {"L": "litre", "mL": "ml", "degC": "°C", "degF": "°F", "us_gal": "gal", "in": "inch", "m": "metres", "h": "hours",
          "L/h": "l/hour", "uS/cm": "µS/cm", "kg": "Kg", "min": "minutes", "cm": "CM", "% w/w": "%", "day": "days"}  # fmt: skip
"""Other ways in which labels and people write a unit."""
_EDGES = ("{}", "{}0", "{}.0", "{}.000000001", "-{}", "+{}", "0{}")
"""How a whole number may be written that still is, or nearly is, the border."""


@cache
def _data(name: str) -> Any:
    return source_of(name).data


def make_other_house(random: Random, house: Path) -> Path:
    """A test house in which parts were exchanged, units rewritten or figures put on borders."""
    data = copy.deepcopy(_data(random.choice(HOUSES)))
    change = random.choice((exchange, exchange, rewrite_units, rewrite_units, put_on_border))
    for _ in range(random.choice((1, 1, 2, 4))):
        change(random, data)
    (house / "site_data").mkdir(parents=True)
    (house / "site_data" / "house.yml").write_text(as_yaml(data), encoding="utf-8")
    return house


def exchange(random: Random, data: Any, other: Any = None) -> None:
    """A section, a record, an entry or a value of another house in the place of ours, its way the same as far as it goes."""
    other = _data(random.choice(HOUSES)) if other is None else other
    ways = list(ways_into(data))
    way = random.choice([one for one in ways if len(one) == 1] if random.random() < 0.4 else ways)
    there = other
    for step in way:
        if isinstance(there, list) and there and isinstance(step, int):
            there = there[step % len(there)]
        elif isinstance(there, dict) and step in there:
            there = there[step]
        else:
            del at(data, way[:-1])[way[-1]]  # the other has nothing of the kind
            return
    at(data, way[:-1])[way[-1]] = copy.deepcopy(there)


def rewrite_units(random: Random, data: Any) -> None:
    """Every figure of one unit, of one section or of all: converted, in another unit with the number kept, or spelt otherwise."""
    ways = [
        way for way in ways_into(data) if isinstance(at(data, way), str) and _FIGURE.fullmatch(at(data, way))
    ]
    if not ways:
        return
    first = random.choice(ways)
    unit = _unit_of(at(data, first))
    chosen = random.choice(
        (
            [first],
            [way for way in ways if _unit_of(at(data, way)) == unit],
            [way for way in ways if way[0] == first[0]],
            ways,
        )
    )
    manner, to = random.randrange(3), random.choice(sorted(kept_factors()))
    for way in chosen:
        at(data, way[:-1])[way[-1]] = _rewritten(random, at(data, way), manner, to)


def _unit_of(text: str) -> str:
    found = _FIGURE.fullmatch(text)
    return found[2] if found else ""


def _rewritten(random: Random, text: str, manner: int, to: str) -> str:
    found = _FIGURE.fullmatch(text)
    assert found is not None
    number, unit = found.groups()
    alike = kept_factors().get(unit, {})
    if manner == 0 and alike:
        to = random.choice(sorted(alike))
        return f"{float(number) * alike[to]:.9f}".rstrip("0").rstrip(".") + f" {to}"
    if manner == 1:
        return f"{number} {random.choice(sorted(alike)) if alike and random.random() < 0.7 else to}"
    return f"{number} {_SPELT.get(unit, unit.upper())}"


def put_on_border(random: Random, data: Any) -> None:
    """A field with bounds on one of them, or the smallest step within or beyond; a list as long as may be, or one longer."""
    if random.random() < 0.15:
        _lengthened(random, data)
        return
    bounds = list(published_rows(Plausible, "plausible").values())
    random.shuffle(bounds)
    for bound in bounds:
        ways = list(_ways_of(data, bound.field))
        if ways:
            border = random.choice((bound.low, bound.high, 0.0))
            border = random.choice(
                (border, math.nextafter(border, math.inf), border * 1.0001, border * 0.9999)
            )
            text = (
                f"{border:.17f}".rstrip("0").rstrip(".") if random.random() < 0.6 else _edge(random, border)
            )
            for way in ways if random.random() < 0.3 else [random.choice(ways)]:
                at(data, way[:-1])[way[-1]] = f"{text} {bound.unit}".strip()
            return


def _edge(random: Random, border: float) -> str:
    return random.choice(_EDGES).format(f"{border:g}")


def _ways_of(data: Any, field: str) -> Iterator[Way]:
    """The ways of `systems[].pump.derate` in this house."""
    names = [
        step for name in field.split(".") for step in ((name[:-2], "[]") if name.endswith("[]") else (name,))
    ]
    for way in ways_into(data):
        if len(way) == len(names) and all(
            mine == name or (name == "[]" and (isinstance(mine, int) or isinstance(at(data, way[:-1]), dict)))
            for mine, name in zip(way, names, strict=True)
        ):
            yield way


def _lengthened(random: Random, data: Any) -> None:
    """Entries with an id of their own, as many as a list may have or one more."""
    names = [name for name in MOST if isinstance(data.get(name), list) and data[name]]
    if not names:
        return
    name = random.choice(names)
    entries, count = data[name], MOST[name] + random.choice((0, 1))
    for number in range(len(entries), count):
        entry = copy.deepcopy(entries[number % len(entries)])
        if isinstance(entry, dict):
            entry.update(
                {key: f"{entry[key]}{number}" for key in ("id", "name", "thing", "initials") if key in entry}
            )
        entries.append(entry)


# ------------------------------------------------------------------ pages


_IN_TEXT = re.compile(r"\b(\d+(?:\.\d+)?) ?(mL|L|min|h|cm|m|kg|g|mg/L|%|days?|seconds|minutes|hours)\b")
_PAGE_UNITS = (
    "mL",
    "L",
    "us_gal",
    "fl_oz",
    "min",
    "h",
    "seconds",
    "cm",
    "in",
    "kg",
    "lb",
    "mg/L",
    "%",
    "degF",
    "",
)
_PAGE_FIGURES = (
    0,
    1,
    -1,
    0.5,
    19,
    20,
    21,
    599,
    600,
    601,
    1440,
    1441,
    9_999_999,
    10_000_000,
    999_999_999,
    1_000_000_000,
)


def other_page(random: Random, front: Any, other: Any, body: str, other_body: str) -> str:
    """A page with parts of another, its figures in other units, or its counts and lengths at a border."""
    front = copy.deepcopy(front)
    change = random.choice(("parts", "steps", "units", "borders", "lengths", "body"))
    for _ in range(random.choice((1, 1, 3))):
        if change == "parts":
            exchange(random, front, other)
        elif change == "steps":
            _steps_exchanged(random, front, other)
        elif change == "units":
            _units_in_texts(random, front)
        elif change == "borders":
            _figure_on_border(random, front)
        elif change == "lengths":
            _text_or_list_at_its_length(random, front)
        else:
            body = other_body
    return f"---\n{as_yaml(front)}\n---\n{body}"


def _steps_exchanged(random: Random, front: Any, other: Any) -> None:
    """A run of steps of another page, put in or in the place of as many."""
    steps, theirs = front.get("steps"), other.get("steps")
    if not isinstance(steps, list) or not steps or not theirs:
        return
    begin, place, count = random.randrange(len(theirs)), random.randrange(len(steps)), random.randint(1, 6)
    steps[place : place + random.choice((0, count))] = copy.deepcopy(theirs[begin : begin + count])


def _texts(data: Any) -> list[Way]:
    return [way for way in ways_into(data) if isinstance(at(data, way), str)]


def _units_in_texts(random: Random, front: Any) -> None:
    """One figure with its unit, or each of the page, in another unit."""
    ways = [way for way in _texts(front) if _IN_TEXT.search(at(front, way))]
    for way in ways if random.random() < 0.3 else random.sample(ways, min(1, len(ways))):
        text = _IN_TEXT.sub(lambda found: f"{found[1]} {random.choice(_PAGE_UNITS)}", at(front, way))
        at(front, way[:-1])[way[-1]] = text


def _figure_on_border(random: Random, front: Any) -> None:
    """A number of the page that stands alone, as minutes, is one at which something ends."""
    ways = [way for way in _texts(front) if re.fullmatch(r"-?\d+(\.\d+)?", at(front, way))]
    if ways:
        way = random.choice(ways)
        at(front, way[:-1])[way[-1]] = str(random.choice(_PAGE_FIGURES))


def _text_or_list_at_its_length(random: Random, front: Any) -> None:
    """A text of as many words or letters as may be, a list with as many entries; or one more."""
    if random.random() < 0.5:
        way = random.choice(_texts(front))
        word, count = random.choice((("word ", 10), ("word ", 20), ("w", 200), ("w", 2_000), ("w", 20_000)))
        at(front, way[:-1])[way[-1]] = (word * (count + random.choice((0, 1)))).strip()
        return
    lists = [way for way in ways_into(front) if isinstance(at(front, way), list) and at(front, way)]
    if lists:
        items = at(front, random.choice(lists))
        count = random.choice((3, 4, 20, 21, 200, 201))
        items[:] = [_own_id(items[number % len(items)], number) for number in range(count)]


def _own_id(entry: Any, number: int) -> Any:
    entry = copy.deepcopy(entry)
    if isinstance(entry, dict) and "id" in entry:
        entry["id"] = f"{entry['id']}{number}"
    return entry

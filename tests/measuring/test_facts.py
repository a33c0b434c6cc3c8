"""Every field of the records can be typed, and what is open is told rightly."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any, get_args, get_origin

import pytest

from macros.ground.record_shape import field_names, is_record, plain_type
from macros.ground.records import Record
from macros.ground.yaml_source import Path_, Source
from macros.house.records.house import House
from macros.measuring.checked import is_checked, with_checked
from macros.measuring.facts import NOT_TYPED, Addition, Fact, facts_of, in_words, new_facts
from macros.measuring.order import place_of
from macros.measuring.state import state_of
from tests.making import HOUSES
from tests.measuring.sittings import new_house


def records_below(model: Any) -> Iterator[type[Record]]:
    """A record type and every one in its fields, found apart from the program's own walk."""
    yield model
    for name, info in model.model_fields.items():
        if model is House and name in NOT_TYPED:
            continue
        inner = [plain_type(info.annotation)]
        while inner and not is_record(inner[0]) and get_origin(inner[0]) is not None:
            inner = [plain_type(one) for one in get_args(inner[0]) if one is not Ellipsis][-1:]
        if inner and is_record(inner[0]):
            yield from records_below(inner[0])


def reachable(
    found: Iterator[Fact | Addition] | list[Fact | Addition], depth: int = 0
) -> Iterator[tuple[str, str]]:
    """Record and field of every question, those behind "one more?" among them."""
    assert depth < 9
    for one in found:
        if isinstance(one, Fact):
            yield one.record.__name__, one.field
        elif one.kind == "named value":
            yield one.record.__name__, one.path[-1] if isinstance(one.path[-1], str) else ""
        else:
            yield from reachable(new_facts(replace(one, path=(*one.path, 0))), depth + 1)


def test_every_field_of_the_model_is_reached_from_a_house_that_has_nothing() -> None:
    asked = set(reachable(list(facts_of(Source(data={})))))
    for record in set(records_below(House)):
        for written, name in field_names(record).items():
            inner = plain_type(record.model_fields[name].annotation)
            item = plain_type(get_args(inner)[0]) if get_origin(inner) is tuple else inner
            values = get_args(inner)[1:] if get_origin(inner) not in (None, tuple) else ()
            is_group = is_record(item) or any(is_record(plain_type(one)) for one in values)
            if not is_group and not (record is House and written in NOT_TYPED):
                assert (record.__name__, written) in asked, f"{record.__name__}.{written} is never asked"


def test_every_fact_has_its_place_on_the_walk() -> None:
    for one in facts_of(Source(data={})):
        assert place_of(one.path).name
    with pytest.raises(StopIteration):
        place_of(("log",))


@pytest.mark.quick
def test_names_as_people_say_them() -> None:
    assert in_words("systems[A].reservoir") == "system A, reservoir"
    assert in_words("measuring_tools[red jug 1.5 L]") == "red jug 1.5 L"
    assert in_words("sanitizing.tasks.tray_spray") == "sanitizing, tasks, tray spray"


def test_what_is_open_in_a_new_house_and_why(tmp_path: Path) -> None:
    state = state_of(new_house(tmp_path), {})
    why = {name: one.why for name, one in state.open.items()}
    assert why["house.emergency.poison_line"] == "to fill in"
    assert why["systems[A].reservoir.inside_length"] == "assumed"
    assert why["systems[A].timer.on_time_set"] == "starter"
    assert why["electricity"] == "missing"
    assert "circuit_allowed" in state.open["electricity"].waiting
    assert "house.made_with" not in why


def test_nothing_of_a_house_that_was_measured_is_open() -> None:
    """The first house says `basis: measured` or the like of all it has; its facts share values with the starter."""
    state = state_of(HOUSES / "first", {})
    assert {one.why for one in state.open.values()} <= {"missing", "assumed"}
    assert not [name for name, one in state.open.items() if one.why == "assumed" and ".reservoir" in name]


CHECKED = [
    ('a:\n  b: "1 m"\n', ("a", "b"), 'a:\n  b: "1 m"  # checked\n'),
    ('a:\n  b: "1 m" # tape\n', ("a", "b"), 'a:\n  b: "1 m" # tape; checked\n'),
    ("a: {b: 1, c: 2}\n", ("a", "c"), "a: {b: 1, c: 2}  # checked: c\n"),
    ("a: {b: 1, c: 2}  # checked: c\n", ("a", "b"), "a: {b: 1, c: 2}  # checked: c, b\n"),
    ("a:\r\n  b: 1\r\n", ("a", "b"), "a:\r\n  b: 1  # checked\r\n"),
    ("a:\n  b: 1  # checked\n", ("a", "b"), "a:\n  b: 1  # checked\n"),
]


@pytest.mark.parametrize(("text", "path", "wanted"), CHECKED)
def test_the_word_checked_is_written_and_read(text: str, path: Path_, wanted: str) -> None:
    assert with_checked(text, path) == wanted
    line = next(line for line in wanted.splitlines() if f"{path[-1]}:" in line)
    assert is_checked(line, str(path[-1]))


def test_checked_of_one_fact_is_not_of_its_neighbour() -> None:
    assert not is_checked("a: {b: 1, c: 2}  # checked: c", "b")
    assert not is_checked('a: "checked"', "a")

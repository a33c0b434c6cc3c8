"""The legend of the drawings: each thing in each state the pages speak of, no two symbols alike, one address."""

from __future__ import annotations

import re

import pytest

from macros.published.labour.effects import effects
from macros.reference.room_symbols import room_symbols_text, symbols

DRAWN = ("pump", "air", "lamps", "timer", "breaker", "valve", "lid", "stones", "water", "trays")


@pytest.mark.quick
def test_each_thing_stands_there_in_each_of_its_states() -> None:
    words = {one.words for one in symbols()}
    for name in DRAWN:
        phrases = effects().words[name]
        for value, phrase in phrases.items():
            if value != "say":
                assert phrases["say"].replace("{}", phrase).rstrip(".") + "." in words, f"{name} {value}"


def test_two_states_of_a_thing_look_different() -> None:
    drawn = [re.sub(r"symbol-\d+|<(title|desc).*?</\1>", "", one.drawing) for one in symbols()]
    told = [one.words for one in symbols()]
    assert len(set(told)) == len(told)
    pairs = [(told[n], told[n + 1]) for n in range(len(drawn) - 1) if drawn[n] == drawn[n + 1]]
    assert pairs == []


def test_ids_of_the_page_are_its_own() -> None:
    text = room_symbols_text()
    ids = re.findall(r'\sid="([^"]+)"', text)
    assert len(ids) == len(set(ids))
    assert "\n\n\n<figure" not in text

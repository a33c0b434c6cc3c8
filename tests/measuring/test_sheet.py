"""The measuring sheet: the questions' order, units of the house, reasons worked out and short."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest

from macros.measuring.facts import Fact
from macros.measuring.order import MOST_FIRST, names_a_thing
from macros.measuring.rests_on import REASON_WORDS
from macros.measuring.sheet import MOST_ROWS, MeasuringSheet, items_of, measuring_sheet, sheet_html
from macros.measuring.tape_drawing import PANELS, tape_drawing
from tests.making import manual_of
from tests.measuring.sittings import Sitting, new_house, starter_site


@cache
def sheet_of(us: bool) -> MeasuringSheet:
    site = starter_site(us)
    return measuring_sheet(site.register, site.built)


def rows(sheet: MeasuringSheet) -> list[tuple[str, str]]:
    """Place and words of each blank, from the first."""
    stops = (*sheet.first, *sheet.rest)
    return [(stop.place.name, row.words) for stop in stops for block in stop.blocks for row in block.rows]


@pytest.mark.parametrize("us", [False, True])
def test_the_order_of_the_sheet_is_the_order_of_the_questions(us: bool, tmp_path: Path) -> None:
    sitting = Sitting(new_house(tmp_path, us), ["q"], us=us)
    facts = [item for item in sitting.dialogue.queue if isinstance(item.what, Fact)]
    asked = [
        (item.place.name, item.what.words) for item in facts if item.what.path[-1] != "id"
    ]  # chosen while typing
    printed = rows(sheet_of(us))
    assert len(printed) > 80
    assert asked[: len(printed)] == printed


@pytest.mark.parametrize("us", [False, True])
def test_what_most_pages_rest_on_comes_first(us: bool) -> None:
    site = starter_site(us)
    items, own, pages = items_of(site.register, site.built)
    first = [item for item in items if item.tier == "first"]
    weighed = [item for item in first if not names_a_thing(item.what)]
    assert 20 <= len(weighed) <= MOST_FIRST
    assert min(item.pages for item in weighed) > max(item.pages for item in items if item.tier != "first")
    assert {"systems[A].reservoir.inside_length", "house.emergency.poison_line"} <= {
        i.what.name for i in first
    }
    assert 0 < own < pages == len(site.built)
    said = str(sheet_html(sheet_of(us), ()))
    assert f"{own} of {pages} pages rest on nothing else" in said


@pytest.mark.parametrize("us", [False, True])
def test_reasons_have_six_words_at_most_and_blanks_the_units_of_the_house(us: bool) -> None:
    sheet = sheet_of(us)
    units = set()
    for stop in (*sheet.first, *sheet.rest):
        for block in stop.blocks:
            for row in block.rows:
                assert 0 < len(row.reason.split()) <= REASON_WORDS, row
                units.add(row.unit)
    assert ({"in", "gal", "°F", "lb"} <= units) is us
    assert ({"m", "L", "°C", "kg"} <= units) is not us
    assert not ({"m", "cm", "L", "kg", "°C"} & units) or not us
    assert len(rows(sheet)) >= MOST_ROWS


def test_basis_is_asked_behind_the_facts_of_its_record() -> None:
    site = starter_site(False)
    names = [item.what.name for item in items_of(site.register, site.built)[0] if item.tier == "then"]
    tank = [name for name in names if name.startswith("systems[A].reservoir.")]
    assert tank[-1] == "systems[A].reservoir.basis"


def test_in_a_measured_house_only_what_amounts_wait_for_is_left() -> None:
    site = manual_of("first")
    sheet = measuring_sheet(site.register, site.built)
    assert (sheet.facts_first, sheet.own_after) == (0, sheet.pages)
    left = {row.reason for stop in sheet.rest for block in stop.blocks for row in block.rows}
    assert all(reason.startswith("Waits: ") for reason in left)
    assert "The manual is yours." in str(sheet_html(sheet, ()))


def test_the_drawing_names_every_shape_and_its_measures() -> None:
    said = str(tape_drawing("tape"))
    for panel in PANELS:
        assert panel.name in said
    for word in ("diameter top", "width bottom", "standpipe bore", "hole pitch", "hung above", "refill mark"):
        assert re.search(rf">{word}", said), word
    assert "\n\n" not in said

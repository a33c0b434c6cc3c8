"""How it should look now: the drawing says what the state says, in the words of the pages, and stands where it is asked for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import pytest

from macros.html.room_drawing import room_drawing
from macros.manual.pages.bench_sheet import bench_part
from macros.page_model.room_view import RackSizes
from macros.published.labour.effects import effects
from macros.rehearsal.looks import Rack, rack_of, room_view
from macros.rehearsal.model.equipment import equipment
from macros.rehearsal.model.state import Water
from macros.site.site import Site, prepare_site
from tests.rehearsal.rooms import ROOM, room

RACK = Rack(ROOM, RackSizes(2, 1.0, 1.0, 0.4), has_valve=True, us=False)
HOUSES = Path(__file__).parents[1] / "houses"
TOLD = {
    "pump": ("in", "out"),
    "air": ("in", "out"),
    "lamps": ("in", "out"),
    "timer": ("off", "auto"),
    "breaker": ("on", "off"),
    "valve": ("open", "shut"),
    "lid": ("shut", "open", "ajar"),
    "stones": ("in", "out"),
    "crop": ("none", "in"),
}


@pytest.mark.quick
@pytest.mark.parametrize("word", TOLD)
def test_every_word_of_the_state_is_drawn_and_said(word: str) -> None:
    phrases = effects().words[word]
    drawn = set()
    for value in TOLD[word]:
        view = room_view("After step 1", room(**{word: value}), RACK)
        said = phrases["say"].replace("{}", phrases[value]).rstrip(".")
        assert said[1:] in view.said
        drawn.add(room_drawing(replace(view, said=""), "r"))
    assert len(drawn) == len(TOLD[word])


def test_the_level_is_drawn_by_the_height_of_the_tank_and_said_with_its_litres() -> None:
    view = room_view("After step 1", replace(room(), tank=Water(100.0)), RACK)
    assert view.level == 0.5
    assert view.fill_mark == 0.75
    assert "its water stands 20.0 cm high, 100.0 L" in view.said
    gallons = room_view("After step 1", replace(room(), tank=Water(100.0)), replace(RACK, us=True))
    assert "its water stands 7.9 in high, 26.4 gal" in gallons.said


def test_an_empty_tank_has_no_level() -> None:
    view = room_view("After step 1", replace(room(), tank=Water()), RACK)
    assert (view.level, view.water) == (0.0, "none")
    assert "its water stands" not in view.said


def test_what_the_system_lacks_is_not_said() -> None:
    bare = replace(RACK, of=replace(ROOM, has_air=False, has_lamps=False, has_timer=False), has_valve=False)
    view = room_view("After step 1", room(), bare)
    assert (view.air, view.lamps, view.timer, view.valve) == (None, None, "", "")
    for word in ("air pump", "air stones", "lamps", "timer", "drain of the tank"):
        assert word not in view.said


@pytest.fixture(scope="module", params=["second", "fourth"])
def site(request: pytest.FixtureRequest) -> Site:
    """A house with tapered tanks in inches and gallons, and one in metres and litres."""
    return prepare_site(HOUSES / request.param, Path(__file__).parents[2] / "procedures", None, {})


@pytest.mark.parametrize("site", ["second"], indirect=True)
def test_sizes_are_those_of_the_house(site: Site) -> None:
    """The tapered tank is 28 in wide at its top and 16 in high, its trays 3 ft, to 0.1 m: by the file of the house."""
    (system,) = [one for one in site.register.house.systems if one.reservoir.shape == "tapered_box"]
    of = equipment(site.register, system.id)
    assert of
    sizes = rack_of(of, site.register).sizes
    assert sizes.trays == 4
    assert [sizes.tray_width, sizes.tank_width, sizes.tank_height] == [0.9, 0.7, 0.4]


def test_a_page_is_drawn_at_start_at_its_end_and_where_work_may_rest(site: Site) -> None:
    drawn = [view for view in site.views if view.looks_at_start]
    assert drawn
    for view in drawn:
        assert view.looks_at_start
        assert view.looks_at_start.title == "Before you start"
        assert view.steps[-1].looks, view.key
        for step in view.steps:
            if step.safe_to_leave:
                assert step.looks, f"{view.key} step {step.number}"
                assert step.looks.title == f"After step {step.number}, left like this"
                if "lid shut" in step.safe_to_leave.state and "lid ajar" not in step.safe_to_leave.state:
                    assert step.looks.lid == "shut", f"{view.key} step {step.number}"


def test_the_page_shows_each_drawing_and_leads_to_what_explains_them(site: Site) -> None:
    pages: Mapping[str, str] = site.pages
    for view in site.views:
        text = pages[view.page_address.replace(".html", ".md")]
        wanted = bool(view.looks_at_start) + sum(1 for step in view.steps if step.looks)
        assert text.count('<figure class="room">') == wanted, view.key
        assert ('href="../reference/drawings.html"' in text) == bool(view.looks_at_start)


def test_a_sheet_leaves_its_room_to_the_steps(site: Site) -> None:
    for view in site.views:
        if view.looks_at_start and view.sheet_address:
            assert '<figure class="room">' not in bench_part(view).html, view.key

"""One mark a variety in the whole house: on maps, labels and naming cards, and like no system or person."""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import SimpleNamespace
from typing import Any

from macros.html.drawings import figure
from macros.manual.house_facts.variety_facts import variety_marks
from macros.page_model.figure import MapView
from macros.site.site import Site
from macros.training.path.naming_test import plants_of


def letters(names: str, systems: str = "A B", initials: str = "") -> list[str]:
    house: Any = SimpleNamespace(
        varieties=[SimpleNamespace(id=name) for name in names.split()],
        systems=[SimpleNamespace(id=one) for one in systems.split()],
        sign_offs=[SimpleNamespace(who=one) for one in initials.split()],
    )
    return [mark.letters for mark in variety_marks(house).values()]


def test_marks_are_two_letters_of_the_name_and_each_its_own() -> None:
    assert letters("calendula borage nasturtium mizuna pak_choi") == ["Ca", "Bo", "Na", "Mi", "Pa"]
    assert letters("basil bali ba b_1") == ["Ba", "Bl", "B2", "B3"]
    assert letters("basil")[0] == letters("basil bali")[0], "a variety added at the end moves no other mark"


def test_no_mark_is_a_system_or_somebodys_initials() -> None:
    assert letters("borage mizuna", systems="BO K", initials="M.I. QM") == ["Br", "Mz"]


def test_map_legend_label_and_card_say_the_same_mark(sites: Mapping[str, Site]) -> None:
    """Shelf M-1 of the house has rocket and the other its look-alike lettuce: neighbours in the list of varieties."""
    site = sites["fourth"]
    marks = variety_marks(site.register.house)
    assert {plant.name: plant.letters for plant in plants_of(site.register.house)} == {
        name: mark.letters for name, mark in marks.items()
    }
    seen: dict[str, set[str]] = {}
    for view in site.views:
        for drawn in (one for one in view.figures if isinstance(one, MapView)):
            text = figure(drawn, "f1")
            for variety in drawn.varieties:
                assert variety.letters == marks[variety.name].letters
                plants = len(re.findall(rf'class="let" text-anchor="middle">{variety.letters}</text>', text))
                assert plants == variety.count + 1, "each plant and the legend"
                assert f"</b> {variety.name}," in text, "its name stands in the legend of the same map"
            if len(drawn.varieties) == 1:
                seen[drawn.varieties[0].name] = set(re.findall(r'<path transform="[^"]+" (d="[^"]+")', text))
    assert seen["rocket"].isdisjoint(seen["lettuce"]), "look-alikes differ in shape as well"

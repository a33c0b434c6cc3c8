"""Steps and words that are there for some houses only: machines a house has, and what its plugs are made of."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from macros.ground.problems import errors_in
from macros.manual.pages.build_page import build_pages
from macros.manual.procedures.write_text import TextWriter
from macros.page_model.page import PageContent, StepView
from macros.site.site import read_house
from tests.making import PROCEDURES, made_house, manual_of


@pytest.fixture(scope="module")
def other(tmp_path_factory: pytest.TempPathFactory) -> list[PageContent]:
    """The pages of the fourth house with a dehumidifier in place of its fan, and plugs of mineral wool."""
    house = made_house(
        tmp_path_factory.mktemp("other"),
        ("plug: {volume:", "plug: {material: mineral_wool, volume:"),
        ('exhaust_fan_flow_installed: "120 m^3/h",', 'dehumidifier_rating: "10 L/day",'),
        name="fourth",
    )
    register, files, _ = read_house(house, PROCEDURES, None, {})
    built, problems = build_pages(files, register, TextWriter())
    assert errors_in(problems) == []
    return [one.content for one in built]


@pytest.fixture(scope="module")
def fourth() -> Sequence[PageContent]:
    return manual_of("fourth").views


def page(views: Sequence[PageContent], key: str) -> PageContent:
    return next(view for view in views if view.key == key)


def steps(views: Sequence[PageContent], key: str) -> list[str]:
    return [step.id for step in page(views, key).steps]


def step(views: Sequence[PageContent], key: str, id_: str) -> StepView:
    return next(one for one in page(views, key).steps if one.id == id_)


def test_care_is_for_the_machines_a_house_has(
    fourth: Sequence[PageContent], other: list[PageContent]
) -> None:
    with_fan = steps(fourth, "SOP-27")
    assert with_fan[:3] == ["fan_out", "fan_wipe", "fan_in"]
    assert not {one for one in with_fan if one.startswith("dry_")}
    with_dryer = steps(other, "SOP-27")
    assert with_dryer[:4] == ["dry_out", "dry_bucket", "dry_filter", "dry_in"]
    assert not {one for one in with_dryer if one.startswith("fan_")}


def test_the_calendar_leads_to_the_page_of_the_machines() -> None:
    assert (
        "Care of lamps, fan, air pump and dehumidifier" in manual_of("fourth").pages["reference/calendar.md"]
    )


def test_dry_mineral_wool_is_told_of_its_dust_and_goes_to_refuse(other: list[PageContent]) -> None:
    soak = step(other, "SOP-11", "soak_plugs")
    assert "DUST-MINERAL-WOOL" in [caution.id for caution in soak.cautions]
    assert soak.expect.startswith("laid in dry, never shaken or torn.")
    assert step(other, "SOP-24-K", "plugs").one_of[0] == "mineral wool, from a healthy tray too: refuse"


def test_plugs_of_a_kind_not_known_are_handled_as_the_worst(fourth: Sequence[PageContent]) -> None:
    assert step(fourth, "SOP-11", "soak_plugs").expect.startswith(
        "kinds not known: laid in as dusty, never shaken."
    )
    assert step(fourth, "SOP-24-K", "plugs").one_of[0] == (
        "plant fibre or peat from healthy trays: compost; mineral wool, foam or not known: refuse"
    )

"""The reckoner pages: one a system with that system's facts alone, found from the procedures, safe against any name."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from macros.amounts.reckoners import NEEDS, collect
from macros.manual.pages.printed_lines import page_lines
from macros.manual.pages.values_code import lines_code
from macros.manual.procedures.file_format import ProcedureData
from macros.site.site import Site
from tests.making import ROOT, made_house, made_site, manual_of


@pytest.fixture(scope="module")
def site() -> Site:
    return manual_of("fourth")


def facts_of(text: str) -> dict[str, Any]:
    """The data a reckoner page carries for its script."""
    found = re.search(r'<script type="application/json" id="reckoner-facts">(.*?)</script>', text)
    assert found is not None
    facts: dict[str, Any] = json.loads(found.group(1))
    return facts


def test_each_system_has_a_page_with_its_own_facts_alone(site: Site) -> None:
    for system in site.register.house.systems:
        other = {"K": "M", "M": "K"}[system.id]
        text = site.pages[f"reckon/reckoner-{system.id.lower()}.md"]
        data = facts_of(text)["data"]
        assert data == json.loads(json.dumps(collect(site.register, system)))
        assert data["system"] == system.id
        assert f'<span class="sop-system" aria-label="System {system.id}">{system.id}</span>' in text
        assert text.count(f'<p class="reckon-system">System <b>{system.id}</b></p>') == len(NEEDS)
        assert not re.search(rf"[Ss]ystem {other}\b|Rack {other}\b", text)


def test_facts_of_the_page_stand_in_one_file_as_well(site: Site) -> None:
    whole = json.loads(site.files["reckoners.json"])
    assert sorted(whole) == ["K", "M"]
    assert whole["K"] == facts_of(site.pages["reckon/reckoner-k.md"])["data"]


def test_menu_and_start_page_lead_to_the_reckoners(site: Site) -> None:
    menu = next(entry["Reckoners"] for entry in site.navigation if "Reckoners" in entry)
    assert menu == [{"System K": "reckon/reckoner-k.md"}, {"System M": "reckon/reckoner-m.md"}]
    assert 'href="reckon/reckoner-m.html"' in site.pages["index.md"]


@pytest.mark.parametrize(
    ("page", "places"),
    [
        ("sop-09-k", ["k.html#reckon-level", "k.html#reckon-ec", "k.html#reckon-ph"]),
        ("sop-08-m", ["m.html#reckon-ec", "m.html#reckon-ph"]),
        ("sop-03-k", ["k.html#reckon-batch", "k.html#reckon-strip"]),
        ("sop-21", ["k.html#reckon-missed-flood", "m.html#reckon-missed-flood"]),
    ],
)
def test_a_procedure_leads_to_the_reckoners_of_its_own_system(
    site: Site, page: str, places: list[str]
) -> None:
    text = site.pages[f"p/{page}.md"]
    assert re.findall(r'href="\.\./reckon/reckoner-([^"]+)"', text) == places
    assert "Reckoner of system" in text


def test_first_doses_stand_under_ph_alone_as_the_amounts_print_them(site: Site) -> None:
    """They are the most that goes in at once, whatever pH reads."""
    under = dict(
        re.findall(r'(?s)data-reckoner="(\w+)"(.*?)(?=data-reckoner=|$)', site.pages["reckon/reckoner-k.md"])
    )
    assert [name for name, text in under.items() if "First doses at most, system K" in text] == ["ph"]
    for id_ in ("ph_first_dose", "ph_up_first_dose"):
        assert site.register.get(id_, system="K").printed in under["ph"].replace("\xa0", " ")


def test_a_link_to_a_reckoner_is_no_value_of_the_page(site: Site) -> None:
    view = next(view for view in site.views if view.key == "SOP-09-K")
    assert len(view.reckoners) == 3
    assert lines_code(page_lines(view), view.formulas) == view.control.values_code
    assert page_lines(replace(view, reckoners=())) == page_lines(view)
    assert page_lines(replace(view, when="never")) != page_lines(view)


def test_a_page_may_ask_for_every_reckoner_and_for_no_other() -> None:
    names = ProcedureData.model_fields["reckoners"].annotation
    assert str(names) == f"tuple[typing.Literal[{', '.join(repr(name) for name in NEEDS)}], ...]"


def test_a_system_without_a_crop_plan_says_so() -> None:
    site = manual_of("second")
    text = site.pages["reckon/reckoner-n.md"].replace("\xa0", " ")
    assert 'data-reckoner="missed_flood"' not in text
    assert "A missed flood: system N has no row. Wet every tray by hand now, then each hour (SOP-21)." in text
    assert "reckon/" not in site.pages["p/sop-21.md"]


def test_a_name_with_marks_of_html_stays_text(tmp_path: Path) -> None:
    evil = "</script><img src=x onerror=alert(1)> {{{ 7 }} {% raw %} {# note"
    house = made_house(tmp_path, ('"cylinder 100 mL"', f'"{evil}"'), ('"Rack K"', f'"{evil}"'), name="fifth")
    text = made_site(house).pages["reckon/reckoner-k.md"]
    assert evil not in text
    assert "<img" not in text
    assert re.search(r"\{[{%#]", text) is None
    data = facts_of(text)["data"]
    assert data["name"] == evil
    assert [tool["name"] for tool in data["tools"]["nutrients"]["tools"]] == [evil]


def test_every_word_the_script_says_stands_in_the_page(site: Site) -> None:
    text = (ROOT / "macros/html/theme/assets/reckoners.js").read_text(encoding="utf-8")
    words = facts_of(site.pages["reckon/reckoner-k.md"])["words"]
    said = set(re.findall(r'say\([^"()]*"([a-z_]+\.[a-z_]+)"', text))
    assert len(said) > 60
    assert {name for name in said if name.split(".")[1] not in words[name.split(".")[0]]} == set()
    assert "http" not in text

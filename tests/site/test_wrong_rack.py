"""Nobody can take a number of one system for another's: the letter stands on everything, and only its own numbers do."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from macros.calendar.events import known_events
from macros.house.records.systems import System
from macros.html.environment import TEMPLATES
from macros.manual.pages.page_markdown import see_also
from macros.packs.week_sheet import week_parts
from macros.page_model.addresses import source_address
from macros.page_model.page import PageView
from macros.paper.cards.sheet import card_parts
from macros.paper.labels.all_labels import house_labels
from macros.site.site import Site
from tests.making import HOUSES, labels_document, made_house, made_site, manual_of, pages_that_differ

READ = ("second", "fourth")
LETTER = re.compile(r'class="(?:sys|sop-system)" aria-label="System ([^"]+)">\1<')
WORKING = re.compile(r'workings\.html#([^"]+)"><strong>')


def systems(site: Site) -> tuple[System, ...]:
    return site.register.house.systems


def of_systems(site: Site) -> list[PageView]:
    return [view for view in site.views if view.system]


def page_of(site: Site, view: PageView) -> str:
    return site.pages[source_address(view.page_address)]


def documents(site: Site) -> Iterator[tuple[str, str, str]]:
    """(name, its system, its text) of everything that is for one system."""
    for view in of_systems(site):
        yield view.page_address, view.system, page_of(site, view)
        for address in (view.sheet_address, view.form_address):
            if address:
                yield address, view.system, site.files[address]
    for checklist in (one for one in site.checklists if one.system):
        yield checklist.address, checklist.system, site.files[checklist.address]
    for system in systems(site):
        address = f"reckon/reckoner-{system.id.lower()}.md"
        yield address, system.id, site.pages[address]


@pytest.mark.parametrize("name", READ)
def test_the_letter_stands_on_everything_of_a_system(name: str) -> None:
    site = manual_of(name)
    found = list(documents(site))
    assert {system for _, system, _ in found} == {system.id for system in systems(site)}
    assert len(found) > 50
    for address, system, text in found:
        assert LETTER.findall(text) == [system], address


def test_the_letter_is_large() -> None:
    """Large type: at least twice the text beside it (body 12 pt on paper, 0.85 rem on screen)."""
    assets = Path(TEMPLATES).parent / "theme" / "assets"
    paper = re.search(
        r"^\.sys\{[^}]*font-size:(\d+)pt", (assets / "paper.css").read_text("utf-8"), re.MULTILINE
    )
    screen = re.search(r"^\.sop-system\{[^}]*font-size:([\d.]+)rem", (assets / "site.css").read_text("utf-8"), re.MULTILINE)  # fmt: skip
    assert paper is not None
    assert screen is not None
    assert float(paper.group(1)) >= 24
    assert float(screen.group(1)) >= 1.7


@pytest.mark.parametrize("name", READ)
def test_cards_weeks_and_labels_bear_their_letter(name: str) -> None:
    site = manual_of(name)
    register, letters = site.register, {system.id for system in systems(site)}
    for part in card_parts(register, site.views):
        named = re.search(r", (\w+)$", part.title)
        if named and named.group(1) in letters:
            assert LETTER.findall(part.html) == [named.group(1)], part.key
    bench = [part for part in week_parts(register, site.views, date(2031, 6, 9)) if "bench-sheet" not in part.styles]  # fmt: skip
    lettered = {letter for part in bench for letter in LETTER.findall(part.html)}
    assert lettered == letters
    labels = house_labels(register, site.views)
    assert {label.badge for label in labels if label.kind == "tank"} == letters
    for label in labels:
        if label.kind in ("batch", "tray", "tank", "sowing"):
            assert label.badge in letters, label.what
    text = labels_document(register, site.views, kinds=("tank",))
    assert set(re.findall(r'class="label-badge">([^<]+)<', text)) == letters


@pytest.mark.parametrize("name", READ)
def test_a_page_prints_no_number_of_another_system(name: str) -> None:
    site = manual_of(name)
    whose = {amount.anchor: dict(amount.of).get("system", "") for amount in site.register.all()}
    seen = 0
    for view in of_systems(site):
        for anchor in WORKING.findall(page_of(site, view)):
            assert whose[anchor] in ("", view.system), f"{view.key}: {anchor}"
            seen += 1
    assert seen > 60


@pytest.mark.parametrize("name", READ)
def test_a_page_of_the_room_says_whose_each_number_is(name: str) -> None:
    site = manual_of(name)
    whose = {amount.anchor: dict(amount.of).get("system", "") for amount in site.register.all()}
    seen = 0
    for view in site.views:
        if view.system:
            continue
        text = page_of(site, view)
        sheet = site.files.get(view.sheet_address, "")
        for step in view.steps:
            for amount in step.amounts:
                if not amount.system:
                    continue
                assert f'#{amount.anchor}"><strong>' in text
                words = f'<b class="of">System {amount.system}</b>'
                row = re.search(rf'<tr class="step" data-step="{step.id}">.*?</tr>', sheet, re.DOTALL)
                assert row is not None
                assert words in row.group(), f"{view.key} step {step.number}"
        for found in WORKING.finditer(text):
            system = whose[found.group(1)]
            if not system:
                continue
            around = text[text.rindex("<tr" if "</td>" in text[found.end() : found.end() + 80] else "<span", 0, found.start()) : found.end() + 120]  # fmt: skip
            assert f'<b class="sop-of">System {system}</b>' in around, f"{view.key}: {found.group(1)}"
            seen += 1
    assert seen >= 4


def test_another_tank_moves_no_page_of_this_one(tmp_path: Path) -> None:
    """A tank of other size and name: pages, sheets and cautions of the first system stay as they are."""
    text = (HOUSES / "fourth" / "site_data" / "house.yml").read_text("utf-8")
    first, second = (
        text[: text.index("  - id: M")],
        text[text.index("  - id: M") : text.index("chemicals:\n")],
    )
    other = second.replace('inside_width: "0.40 m"', 'inside_width: "0.44 m"', 1)
    other = other.replace('supply_tube_volume: "0.5 L"', 'supply_tube_volume: "0.9 L"').replace(
        "Rack M", "Bench"
    )
    house = made_house(tmp_path, (first + second, first + other), name="fourth")
    moved = pages_that_differ(manual_of("fourth"), made_site(house))
    assert {key for key in moved if key.endswith("-K")} == set()
    assert {"SOP-06-M", "SOP-08-M", "SOP-09-M"} <= moved


@pytest.mark.parametrize("name", READ)
def test_links_stay_with_the_system_and_name_another(name: str) -> None:
    site = manual_of(name)
    places = {view.page_address: view for view in site.views}
    reckoners = {f"reckon/reckoner-{system.id.lower()}.html": system.id for system in systems(site)}
    seen = 0
    for view in site.views:
        for link in see_also(view, places):
            there = places[link.address]
            if there.system not in ("", view.system):
                assert link.text.endswith(f", system {there.system}"), f"{view.key}: {link.text}"
                assert not view.system or not _has(site, there.document, view.system), f"{view.key}: {link}"
                seen += 1
        for link in view.reckoners:
            system = reckoners[link.address.partition("#")[0]]
            assert system == view.system or (not view.system and re.search(rf"\b{system}\b", link.text))
    assert seen > 0


def _has(site: Site, document: str, system: str) -> bool:
    return any(view.document == document and view.system == system for view in site.views)


def test_a_page_the_system_lacks_is_named_as_the_others(tmp_path: Path) -> None:
    site = manual_of("fourth")
    view = next(view for view in of_systems(site) if any(f"-{view.system.lower()}." in link.address for link in view.see_also))  # fmt: skip
    link = next(link for link in view.see_also if f"-{view.system.lower()}." in link.address)
    there = next(one for one in site.views if one.page_address == link.address)
    other = next(one for one in site.views if one.document == there.document and one.system != view.system)
    places = {one.page_address: one for one in site.views}
    (found,) = see_also(replace(view, see_also=(replace(link, address=other.page_address),)), places)
    assert found.text == f"{link.text}, system {other.system}"


@pytest.mark.parametrize("name", READ)
def test_tab_menu_and_calendar_name_the_system(name: str) -> None:
    site = manual_of(name)
    menu = {address: title for section in site.navigation for title, address in _leaves(section)}
    for view in of_systems(site):
        title = re.search(r'^title: "(.*)"$', page_of(site, view), re.MULTILINE)
        assert title is not None
        assert title.group(1).endswith(f", {view.system}")
        assert menu[source_address(view.page_address)].endswith(f", {view.system}")
        for address in (view.sheet_address, view.form_address):
            if address:
                assert f"<title>{view.document}-{view.system} " in site.files[address]
    for checklist in (one for one in site.checklists if one.system):
        assert re.search(rf"<title>[^<]*\b{checklist.system}\b", site.files[checklist.address])
    for system in systems(site):
        page = site.pages[f"reckon/reckoner-{system.id.lower()}.md"]
        assert re.search(rf'^title: ".*\b{system.id}"$', page, re.MULTILINE)
        assert menu[f"reckon/reckoner-{system.id.lower()}.md"] == f"System {system.id}"
    of_amount = {amount.key: dict(amount.of).get("system", "") for amount in site.register.all()}
    for event in known_events(site.register, site.views):
        system = of_amount.get(event.amount_key, "")
        if system:
            assert re.search(rf"\b{system}\b", event.title), event.title


def _leaves(section: dict[str, object]) -> Iterator[tuple[str, str]]:
    for title, inside in section.items():
        if isinstance(inside, str):
            yield title, inside
        elif isinstance(inside, list):
            for one in inside:
                yield from _leaves(one)

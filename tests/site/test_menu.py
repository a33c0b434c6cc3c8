"""Many pages of one procedure stand in a group of the menu, so that no page lists them all."""

from __future__ import annotations

import json
from pathlib import Path

from macros.manual.procedures.file_format import SECTIONS
from macros.site.menu import MOST, in_a_row_or_group
from tests.benchmarks.many_houses import house_of
from tests.making import made_site


def entries(count: int) -> list[dict[str, str]]:
    return [{f"Page {number}": f"p/{number}.md"} for number in range(count)]


def test_few_stand_in_a_row_and_many_in_a_group() -> None:
    assert in_a_row_or_group("Mixing", entries(MOST)) == entries(MOST)
    assert in_a_row_or_group("Mixing", entries(MOST + 1)) == [{"Mixing": entries(MOST + 1)}]


def test_every_page_of_a_house_of_many_systems_is_in_the_menu_once(tmp_path: Path) -> None:
    site = made_site(house_of(tmp_path, MOST + 1))
    text = json.dumps(site.navigation)
    pages = [address for address in site.pages if address.startswith(("p/", "reckon/"))]
    assert len(pages) > 12 * MOST
    assert [address for address in pages if text.count(f'"{address}"') != 1] == []
    sections = {title: inside for section in site.navigation for title, inside in section.items()}
    for title in (*SECTIONS, "Reckoners"):
        assert len(sections.get(title, [])) <= MOST + 2, f"{title} grows with the systems"

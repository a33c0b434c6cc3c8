"""One changed fact: exactly the amounts whose inputs reach it change, and exactly the pages that print them."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from macros.site.site import Site
from tests.making import made_house, made_site, manual_of, pages_that_differ


def rows_of(site: Site) -> dict[str, dict[str, object]]:
    rows = json.loads(site.files["amounts.json"])
    return {row["id"] + str(sorted(row["of"].items())): row for row in rows}


def reaching(rows: dict[str, dict[str, object]], field: str) -> set[str]:
    return {key for key, row in rows.items() if any(item["name"] == field for item in row["inputs"])}  # type: ignore[attr-defined]


def values_without_inputs(row: dict[str, object]) -> dict[str, object]:
    return {key: value for key, value in row.items() if key != "inputs"}


CHANGES = {
    "systems[K].reservoir.inside_length": ('inside_length: "0.50 m"', 'inside_length: "0.62 m"'),
    "chemicals[up].strength": ('strength: "10 % w/v"', 'strength: "7 % w/v"'),
    "nutrients.stages.leafy.rates.part_2": ('part_2: "1.5 mL/L"}, ec', 'part_2: "1.2 mL/L"}, ec'),
}


@pytest.mark.parametrize("field", CHANGES)
def test_changed_amounts_are_those_the_fact_reaches(tmp_path: Path, field: str) -> None:
    before = rows_of(manual_of("first"))
    after = rows_of(made_site(made_house(tmp_path, CHANGES[field])))
    assert before.keys() == after.keys()
    changed = {
        key for key in before if values_without_inputs(before[key]) != values_without_inputs(after[key])
    }
    assert changed == reaching(before, field)
    assert len(changed) > 1


def test_values_code_moves_on_the_pages_touched_and_on_no_other(tmp_path: Path) -> None:
    """The second house has two systems: a changed tank of one leaves the other's pages and sheets alone."""
    field = "systems[N].reservoir.fill_mark_height"
    old = manual_of("second")
    touched = {
        view.key
        for view in old.views
        for amount in view.amounts
        if any(i.name == field for a in old.register.all() if a.anchor == amount.anchor for i in a.inputs)
    }
    change = ('fill_mark_height: "15 in"', 'fill_mark_height: "14 in"')
    new = made_site(made_house(tmp_path, change, name="second"))
    codes = {view.key: view.control.values_code for view in old.views}
    moved = {view.key for view in new.views if view.control.values_code != codes[view.key]}
    assert "SOP-08-N" in touched
    assert touched <= moved
    assert moved == pages_that_differ(old, new)
    assert not moved & {"SOP-01", "SOP-02", "SOP-10", "SOP-18", "SOP-19", "SOP-22", "SOP-26"}
    assert not [key for key in moved if key.endswith("-S")]


def test_page_sheet_and_data_agree(tmp_path: Path) -> None:
    site = made_site(made_house(tmp_path, CHANGES["systems[K].reservoir.inside_length"]))
    rows = rows_of(site)
    view = next(v for v in site.views if v.key == "SOP-08-K")
    page, sheet = site.pages["p/sop-08-k.md"], site.files[view.sheet_address]
    assert view.amounts
    for amount in view.amounts:
        printed = amount.printed.replace(" to ", "\u00a0to\u00a0").replace(" ", "\u00a0")
        assert printed in page
        assert printed in sheet
        assert any(
            row["id"] == amount.amount_id and row["printed"] == amount.printed for row in rows.values()
        )


def test_same_bytes_twice(tmp_path: Path) -> None:
    again, first = made_site(made_house(tmp_path)), manual_of("first")
    assert again.files == first.files
    assert again.pages == first.pages

"""The guide to findings: each finding whole, each line with its source, and a way to it from every page that speaks of one."""

from __future__ import annotations

import re

import pytest

from macros.published import published
from macros.published.pages.findings import Findings, findings
from macros.published.pages.sources import sources
from macros.reference.findings import findings_page
from tests.facts import register_of, source_of
from tests.making import manual_of

ASKED = {"aphid", "thrips", "spider_mite", "fungus_gnat", "powdery_mildew", "grey_mould", "root_rot", "tip_burn", "pale_leaves"}  # fmt: skip
"""What a grower who read the manual asked for."""
LEADS = ["sop-12", "sop-16", "sop-17", "sop-18", "sop-23"]


@pytest.mark.quick
def test_each_finding_asked_for_has_six_lines_with_a_source() -> None:
    assert {one.id for one in findings().findings} >= ASKED
    for one in published(Findings, "findings").findings:
        lines = (one.seen, one.look, one.taken_for, one.first, one.ring, one.stops)
        assert all(len(line.say) > 20 for line in lines), one.id
        assert all(line.source in sources() for line in lines), one.id


def test_no_first_act_is_a_product() -> None:
    for one in findings().findings:
        assert not re.search(
            r"\b(spray|oil|soap|sulfur|peroxide|pesticide|product)\b",
            one.first.say.split("Nothing is sprayed")[0],
        ), one.id


def test_what_spreads_in_the_water_stops_the_system_and_what_flies_is_bagged_before_it_moves() -> None:
    by_id = {one.id: one for one in findings().findings}
    assert "All harvest of the system" in by_id["root_rot"].stops.say
    for id_ in ("powdery_mildew", "downy_mildew", "grey_mould"):
        assert re.search(r"^Fan off.*bag.*before it moves", by_id[id_].first.say), id_


def test_the_page_rings_who_decides_and_leads_to_the_page_that_holds_a_finding() -> None:
    page = findings_page(register_of(source_of("fourth")).house, manual_of("fourth").views)
    assert "Ring the owner: 555-0102 (fictional)." in page.intro
    assert [link.address for link in page.see] == ["p/sop-23.html"]
    assert [table.title for table in page.tables[1:]] == [one.name for one in findings().findings]
    for table in page.tables:
        assert all("(obtained: " in str(row[-1]) for row in table.rows)


@pytest.mark.parametrize("page", LEADS)
def test_pages_that_speak_of_a_finding_lead_to_it(page: str) -> None:
    site = manual_of("fourth")
    found = [text for address, text in site.pages.items() if address.startswith(f"p/{page}")]
    assert found
    assert all("../reference/findings.md" in text for text in found)


def test_the_start_page_leads_to_it() -> None:
    assert "reference/findings.html" in manual_of("fourth").pages["index.md"]

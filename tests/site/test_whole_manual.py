"""The year in procedures: all of them build for a complete house, meet every requirement and keep their promises."""

from __future__ import annotations

import html
import re
from pathlib import Path

import pytest

from macros.manual.procedures.file_format import SECTIONS
from macros.manual.records.record_form import form_of
from macros.manual.requirements.judge import requirements
from macros.published.pages.words import things
from tests.amounts.test_dry_feed import MIXED
from tests.making import PROCEDURES, made_house, made_site, manual_of

WHOLE = ("fourth", "fifth")
"""Houses with every section; the fifth has one rack, another sanitizer and no log."""


@pytest.mark.quick
@pytest.mark.parametrize("name", WHOLE)
def test_every_procedure_builds(name: str) -> None:
    assert {view.document for view in manual_of(name).views} == {
        file.stem[:6].upper() for file in PROCEDURES.glob("sop-*.md")
    }


@pytest.mark.parametrize("name", ["first", "second", "third", *WHOLE])
def test_no_page_breaks_a_requirement(name: str) -> None:
    codes = [problem.code for problem in manual_of(name).warnings]
    assert [code for code in codes if code in requirements()] == []


@pytest.mark.parametrize("name", WHOLE)
def test_the_table_of_requirements_is_whole(name: str) -> None:
    page = manual_of(name).pages["reference/requirements.md"]
    rows = re.findall(r'<tr><th scope="row">([A-Z]+-\d\d)', page)
    assert {row for row in rows if not row.startswith("SOP-")} == set(
        requirements()
    )  # waivers name their page
    told = html.unescape(re.sub(r"<[^>]+>", "", page)).replace("\xa0", " ")
    assert [one.id for one in requirements().values() if one.asks_less and one.asks_less not in told] == []
    assert "✗" not in page.split("<table", 1)[1]


@pytest.mark.parametrize("name", WHOLE)
def test_emergency_pages_begin_with_three_lines_and_the_numbers(name: str) -> None:
    site = manual_of(name)
    urgent = [view for view in site.views if view.emergency]
    assert {view.document for view in urgent} == {"SOP-20", "SOP-21", "SOP-22", "SOP-23"}
    for view in urgent:
        assert len(view.first_lines) == 3
        assert all(len(line.split()) <= 14 for line in view.first_lines)
        assert view.level == 0
        text = site.pages[view.page_address.replace(".html", ".md")]
        assert text.index("sop-first") < text.index("sop-urgent") < text.index("## Purpose")
        for value in ("112", "555-0101 (fictional)", "hall, breaker 3", "under the sink"):
            assert value in text
    hurt, *pages = (entry["word"] for entry in site.extra["emergency"])
    assert hurt == "Hurt, shock, fire"
    assert pages == [view.emergency for view in urgent]


@pytest.mark.parametrize("name", WHOLE)
def test_every_page_that_writes_has_its_form_in_the_order_of_the_work(name: str) -> None:
    site = manual_of(name)
    with_forms = 0
    for view in site.views:
        steps = [step for step in view.steps if step.record is not None]
        assert bool(steps) == bool(view.form_address)
        if not steps:
            continue
        with_forms += 1
        text = site.files[view.form_address].replace("<span data-control>", "")
        numbers = [int(n) for n in re.findall(r'<th scope="row" class="c-no">(\d+)</th>', text)]
        written = [step.number for step in view.steps if step.record is not None or step.wait is not None]
        assert numbers == written == sorted(numbers)
        for promise in ("Date", "Start", "End", "Done by", "Checked by", "Time", "Read again", "Outside the limits", "Reviewed by",
                        "one line through it", f"worked to {view.key}, revision"):  # fmt: skip
            assert promise in text.replace("\xa0", " "), (view.key, promise)
        assert "value=" not in text
    assert with_forms >= 20


def test_a_form_names_its_pens_and_what_to_do_outside_the_limits() -> None:
    site = manual_of("fourth")
    page = next(view for view in site.views if view.document == "SOP-08")
    form = form_of(page, site.register.house)
    assert form is not None
    assert set(form.pens) == {"pH meter", "EC meter"}
    assert form.outside == next(entry.act for entry in page.if_wrong if entry.kind == "out_of_range")


@pytest.mark.parametrize("name", WHOLE)
def test_every_section_of_the_menu_has_pages(name: str) -> None:
    assert {view.section for view in manual_of(name).views} == set(SECTIONS)


def test_inventory_lists_exactly_what_the_pages_use() -> None:
    site = manual_of("fifth")
    page = site.pages["reference/inventory.md"]
    used = {tool for view in site.views for step in view.steps for tool in step.tools} & set(things())
    listed = set(
        re.findall(
            r'<tr><th scope="row">([^<]+)</th>',
            page.split("Measuring")[0].replace("&#160;", " ").replace("\xa0", " "),
        )
    )
    assert len(used) > 40
    assert listed == used


def test_every_shipped_thing_is_used_by_a_page(tmp_path: Path) -> None:
    """A list that outgrows its use is a list nobody reads."""
    dry = made_site(made_house(tmp_path, *MIXED, name="fifth"))
    views = [view for site in (*map(manual_of, WHOLE), dry) for view in site.views]
    used = {tool for view in views for step in view.steps for tool in step.tools}
    assert set(things()) - used == set()


def test_assumptions_are_asked_to_be_measured() -> None:
    page = manual_of("fourth").pages["reference/facts.md"]
    assumed = {text for amount in manual_of("fourth").register.all() for text in amount.assumed}
    assert len(assumed) > 3
    assert page.count("<tr>") > len(assumed)
    assert page.index("Measure this") < page.index("Facts as entered")


def test_who_may_do_what_follows_the_levels() -> None:
    page = manual_of("fourth").pages["reference/roles.md"].replace("\xa0", " ")
    row = re.search(r"SOP-03 Make up[^<]*</th><td[^>]*>3 lead</td><td[^>]*>([^<]*)</td>", page)
    assert row is not None
    assert row.group(1) == "owner"

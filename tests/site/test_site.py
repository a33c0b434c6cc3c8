"""The finished manual: cautions really stand where the triggers want them; broken links are told; control by values."""

from __future__ import annotations

from pathlib import Path

import pytest

from macros.amounts import compute_amounts
from macros.house import load_house
from macros.html.dead_links import broken_links
from macros.manual.pages.build_page import BuiltPage, build_pages
from macros.manual.pages.check_rendered import caution_mistakes
from macros.manual.procedures.load_files import load_procedures
from macros.manual.procedures.write_text import TextWriter
from macros.page_model.page import PageView
from macros.site.site import Site
from tests.making import HOUSES, PROCEDURES, made_house, made_site, manual_of


@pytest.fixture(scope="module")
def built() -> list[BuiltPage]:
    house, _ = load_house(HOUSES / "first")
    assert house is not None
    assert house.house.as_of is not None
    register = compute_amounts(house, house.house.as_of, house.house.place("as_of"))
    pages, problems = build_pages(load_procedures(PROCEDURES)[0], register, TextWriter())
    assert problems == []
    return pages


def test_caution_missing_from_a_rendered_page_is_told(built: list[BuiltPage]) -> None:
    site = made_site(HOUSES / "first")
    assert caution_mistakes({**site.pages, **site.files}, built) == []
    address = "p/sop-08-k.md"
    site.pages[address] = site.pages[address].replace('data-caution="ELEC-WATER"', 'data-lost="ELEC-WATER"')
    told = [str(problem) for problem in caution_mistakes({**site.pages, **site.files}, built)]
    (page,) = [one.content for one in built if one.content.key == "SOP-08-K"]
    stands = [step.id for step in page.steps if any(one.id == "ELEC-WATER" for one in step.cautions)]
    assert stands[0] == "mop_heel"
    assert [one.partition("; ")[0] for one in told] == [
        f"{address}:1: cautions: step {step}: ELEC-WATER (DANGER) is missing" for step in stands
    ]


def test_needless_caution_on_a_rendered_sheet_is_told(built: list[BuiltPage]) -> None:
    site = made_site(HOUSES / "first")
    address = "sheets/sop-08-k.html"
    text = site.files[address]
    site.files[address] = text.replace(
        '<tr class="step" data-step="shut_valve">',
        '<tr data-caution="WATER-HOT"></tr><tr class="step" data-step="shut_valve">',
    )
    told = [str(problem) for problem in caution_mistakes({**site.pages, **site.files}, built)]
    assert told == [
        f"{address}:1: cautions: step shut_valve: WATER-HOT is shown, but its trigger is not met here."
    ]


@pytest.mark.quick
def test_links_that_lead_nowhere_are_told_with_their_line() -> None:
    pages = {
        "a.md": '<a href="b.html#here">x</a>\n<a href="c.html">y</a>',
        "b.md": '<p id="there">z</p>\n\nSee [a](a.md), [c](c.html) or [outside](https://example.org/).',
    }
    assert [str(problem) for problem in broken_links(pages, {})] == [
        "a.html:1: link: b.html#here leads nowhere: b.html has no place named here. Mend the page or its template.",
        "a.html:2: link: c.html leads nowhere: no such page is built. Mend the page or its template.",
        "b.md:3: link: c.html leads nowhere: no such page is built. Mend the page or its template.",
    ]


def feed_page(site: Site) -> PageView:
    return next(view for view in site.views if view.document == "SOP-08")


def test_page_is_a_draft_until_issued_and_again_when_its_values_change(tmp_path: Path) -> None:
    view = feed_page(manual_of("first"))
    assert view.control.draft_reasons == ("This page has not been issued yet.",)
    issue = (
        "issued:\n  - {page: SOP-08-K, revision: 3, effective: 2031-05-01, approved_by: owner, why: first issue, "
        f'values_code: "{view.control.values_code}"}}\nmargins:'
    )
    issued = feed_page(made_site(made_house(tmp_path / "same", ("margins:", issue))))
    assert issued.control.draft_reasons == ()
    assert issued.control.revision == "3"
    assert [line.what for line in issued.history] == ["first issue"]
    changed = feed_page(
        made_site(made_house(tmp_path / "other", ("margins:", issue), ('flow_at_tap: "8', 'flow_at_tap: "5')))
    )
    assert changed.control.draft_reasons == ("The values changed since revision 3 was issued.",)


def test_unfilled_number_makes_page_and_sheet_a_draft_and_says_so(tmp_path: Path) -> None:
    placeholder = ('poison_line: "555-0101 (fictional)"', 'poison_line: "fill in before printing"')
    site = made_site(made_house(tmp_path, placeholder))
    assert "Not filled in: poison line." in site.views[0].control.draft_reasons
    assert "DRAFT" in site.files["sheets/sop-08-k.html"]
    assert "Not filled in: poison line." in site.pages["p/sop-08-k.md"].replace("&#46;", ".")
    assert "Not filled in: poison line." in site.pages["index.md"]


def test_sections_stand_in_one_order_on_every_page() -> None:
    """Source: EPA QA/G-6 (2007) outline of technical procedures, in the order the house plan fixes."""
    wanted = ["Purpose and scope", "Before you start", "Hazards", "Tools and supplies", "Steps",
              "Done when", "Clean-up and disposal", "If something goes wrong", "Amounts", "When", "Who", "Records",
              "References", "Why it is done this way", "Revision history"]  # fmt: skip
    pages = {a: t for a, t in manual_of("third").pages.items() if a.startswith("p/")}
    assert len(pages) >= 10
    for text in pages.values():
        assert [line[3:] for line in text.splitlines() if line.startswith("## ")] == wanted

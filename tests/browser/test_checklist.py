"""Checklists printed by a real browser: type for an arm's length, room to write, blocks kept whole, both papers."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.conftest import house_of
from tests.browser.looking import beyond_the_paper, look_at, paper_width, parted_units, texts_of

pytestmark = pytest.mark.browser

MILLIMETRE = 96 / 25.4
FEW = ("check-sop-08", "check-sop-21")


@dataclass
class Printed:
    """One checklist, opened as wide as its paper, and the text of each printed page."""

    name: str
    page: Page
    pages: list[str]


@pytest.fixture(scope="module", params=["A4", "Letter"])
def printed(
    request: pytest.FixtureRequest, browser: Browser, site: Path, tmp_path_factory: pytest.TempPathFactory
) -> list[Printed]:
    """A checklist of each kind on A4, the longest on Letter too."""
    folder = tmp_path_factory.mktemp("checklists")
    kinds: dict[str, Path] = {}
    for path in sorted((site / "sheets").glob("check-*.html")):
        if path.stem.startswith("check-sop-"):  # the one page of a day has a test of its own below
            kinds.setdefault(re.sub(r"-[a-z]$", "", path.stem), path)
    assert len(kinds) >= 9
    found = []
    for path in kinds.values():
        small = house_of(site) == "second" or request.param == "Letter"
        if small and not path.stem.startswith(FEW):
            continue
        page = browser.new_page(viewport=paper_width(request.param))
        page.goto(path.as_uri())
        page.emulate_media(media="print")
        page.evaluate("document.fonts.ready")
        pdf = folder / f"{path.stem}.pdf"
        page.pdf(path=str(pdf), format=request.param, print_background=True, tagged=True)
        found.append(Printed(path.stem, page, texts_of(pdf)))
    return found


def test_type_suits_an_arms_length(printed: list[Printed]) -> None:
    """Source: ISO 9241-3, height of characters, worked out for 700 mm: 14 pt text, 16 pt values, 12 pt at least."""
    smallest = """selector => Math.min(...[...document.querySelectorAll(selector)]
        .filter(e => [...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim()))
        .map(e => parseFloat(getComputedStyle(e).fontSize) * 0.75))"""
    for one in printed:
        assert (
            round(one.page.evaluate(smallest, ".item .c-say, .item .state, .block h2, .block h2 *"), 1) >= 14
        )
        assert round(one.page.evaluate(smallest, ".item .c-res b:not(.long)"), 1) >= 16
        assert round(one.page.evaluate(smallest, ".check *:not(.vh)"), 1) >= 12


def test_letters_are_plain(printed: list[Printed]) -> None:
    """Upright, not underlined, left aligned, lines 1.15 apart inside an item; words in capitals are two at most a run.

    Source: Degani, NASA CR-177605, 1992 (read in part).
    """
    for one in printed:
        styles = one.page.eval_on_selector_all(
            ".check .item .c-say, .check .item .c-res :not(i), .check .roles",
            "all => all.map(e => getComputedStyle(e)).map(s => [s.fontStyle, s.textDecorationLine, s.textAlign, s.textTransform])",
        )
        assert styles
        assert {tuple(style) for style in styles} <= {
            ("normal", "none", align, "none") for align in ("start", "left")
        }
        assert one.page.evaluate(
            "parseFloat(getComputedStyle(document.querySelector('.check')).lineHeight)"
        ) >= (1.3 * 14 / 0.75 - 0.1)


def test_lines_are_short_and_nothing_is_cut(printed: list[Printed]) -> None:
    """70 characters a line at most. Source: clear print guidelines, 60 to 70 characters."""
    for one in printed:
        longest = one.page.evaluate(
            """() => Math.max(...[...document.querySelectorAll('.item .c-say, .item .state, .item .c-res b')].map(e =>
                 e.textContent.length / Math.max(1, Math.round(e.getBoundingClientRect().height / parseFloat(getComputedStyle(e).lineHeight)))))"""
        )
        assert 5 < longest <= 70, one.name
        clipped = one.page.evaluate(
            """() => [...document.querySelectorAll('td, th, .meta div, .complete span, .fill span')]
                 .filter(e => e.scrollWidth > e.clientWidth + 1 && !e.querySelector('.vh')).map(e => e.className + ': ' + e.innerText)"""
        )
        assert clipped == [], one.name
        assert beyond_the_paper(one.page) == [], one.name
        assert parted_units(one.page) == [], one.name


def test_a_hand_finds_room_to_write(printed: list[Printed]) -> None:
    for one in printed:
        boxes, blanks, initials, rows, lines = one.page.evaluate(
            """() => ['.check .box', '.blank', '.complete span:not(.w)', '.item', '.fill span, .sign'].map(s =>
                 [...document.querySelectorAll(s)].map(e => e.getBoundingClientRect()).map(r => [r.width, r.height]))"""
        )
        items, conditional = one.page.evaluate(
            "() => ['.item', '.na'].map(s => document.querySelectorAll(s).length)"
        )
        assert len(boxes) == items + conditional
        assert all(abs(side / MILLIMETRE - 6) <= 0.1 for box in boxes for side in box)
        assert all(w >= 25 * MILLIMETRE and h >= 9 * MILLIMETRE for w, h in blanks), one.name
        assert all(w >= 12 * MILLIMETRE and h >= 8 * MILLIMETRE for w, h in initials), one.name
        assert min(h for _, h in rows) >= 8 * MILLIMETRE
        assert min(h for _, h in lines) >= 7.95 * MILLIMETRE


def test_each_sheet_says_mode_roles_and_what_to_do_after_a_break(printed: list[Printed]) -> None:
    for one in printed:
        text = " ".join(one.page.inner_text("article").split())
        assert len(re.findall(r"\b(READ, THEN DO|DO, THEN CONFIRM)\b", text)) == 1
        for words in ("one reads, the other", "Alone: point, say, look.", "restart the block", "permanent pen",
                      "skipped: item, reason, initials", "Date", "Reader", "Doer", "Start", "End", "Reviewed by"):  # fmt: skip
            assert words in text, f"{one.name}: {words}"
        blocks = one.page.eval_on_selector_all(
            ".block",
            """all => all.map(e => [e.querySelector('h2').innerText, e.querySelectorAll('.item').length,
                 e.lastElementChild.className, e.lastElementChild.innerText])""",
        )
        for head, count, last, call in blocks:
            assert re.search(r"\s(before|after) step\s\d+", head)
            assert 5 <= count <= 9
            assert last == "complete"
            assert call.startswith(head[: len("Block A")])


def test_pages_are_counted_and_no_block_is_parted(printed: list[Printed]) -> None:
    for one in printed:
        code, key = (one.page.get_attribute("article", name) for name in ("data-code", "data-key"))
        assert len(one.pages) <= 3, one.name
        for number, text in enumerate(one.pages, start=1):
            assert f"page {number} of {len(one.pages)}" in text
            assert f"{key} · rev" in text
            assert code
            assert code in text
        for block in set(re.findall(r"Block [A-Z]", " ".join(one.pages))):
            assert any(text.count(block) >= 2 for text in one.pages), (
                f"{block} is parted from its completion line"
            )


def test_a_list_of_one_block_is_one_page(printed: list[Printed]) -> None:
    for one in printed:
        if one.page.locator(".block").count() == 1:
            assert len(one.pages) == 1, one.name


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_cleanout_day_is_one_page(paper: str, browser: Browser, site: Path, tmp_path: Path) -> None:
    """Nothing is cut or runs out, for then the browser prints all of it smaller; type and room as elsewhere."""
    days = sorted((site / "sheets").glob("check-?.html"))
    assert days
    for path in days:
        page = browser.new_page(viewport=paper_width(paper))
        page.goto(path.as_uri())
        page.emulate_media(media="print")
        page.evaluate("document.fonts.ready")
        pdf = tmp_path / f"{path.stem}-{paper}.pdf"
        page.pdf(path=str(pdf), format=paper, print_background=True, tagged=True)
        assert len(texts_of(pdf)) == 1, path.stem
        assert beyond_the_paper(page) == [], path.stem
        sizes = """selector => Math.min(...[...document.querySelectorAll(selector)]
            .filter(e => [...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim()))
            .map(e => parseFloat(getComputedStyle(e).fontSize) * 0.75))"""
        for selector, least in ((".daylist .say", 14), (".daylist .state", 16), (".daylist *:not(.vh)", 12)):
            assert round(page.evaluate(sizes, selector), 1) >= least, selector
        for selector, width, height in (
            (".daylist .box", 5.9, 5.9),
            (".daylist .blank", 25, 9),
            (".daylist .complete span", 12, 8),
        ):
            found = page.eval_on_selector_all(
                selector, "all => all.map(e => e.getBoundingClientRect()).map(r => [r.width, r.height])"
            )
            assert found, selector
            assert all(w >= width * MILLIMETRE and h >= height * MILLIMETRE for w, h in found), selector
        page.close()


def test_a_checklist_is_read_on_a_phone_too(browser: Browser, site: Path) -> None:
    look_at(browser, next(iter(sorted((site / "sheets").glob("check-sop-08*.html")))), 390, "light")


def test_pictures_for_a_person_to_look_at(printed: list[Printed], site: Path, pictures: Path) -> None:
    for one in printed:
        picture = pictures / f"{house_of(site)}-{one.name}-{one.page.viewport_size['width']}.png"  # type: ignore[index]
        one.page.screenshot(path=str(picture), full_page=True)
        assert picture.stat().st_size > 5000

"""Bench sheets printed by a real browser: one page, nothing clipped, cautions with their steps, QR readable."""

from __future__ import annotations

import itertools
import re
import subprocess
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

import pytest
import zxingcpp
from PIL import Image
from playwright.sync_api import Browser, Page
from pypdf import PdfReader

from tests.browser.conftest import FEW, house_of, opened
from tests.browser.looking import PAPERS, beyond_the_paper, paper_width, parted_rows, parted_units, texts_of

pytestmark = pytest.mark.browser

POINT = 25.4 / 72
SIGNAL_WORDS = {"DANGER", "WARNING", "CAUTION", "NOTICE"}


@dataclass
class Sheet:
    """One sheet, opened and printed."""

    page: Page
    pdf: Path
    paper: str

    @cached_property
    def reader(self) -> PdfReader:
        return PdfReader(self.pdf)

    @cached_property
    def texts(self) -> list[str]:
        """The text of each page."""
        return texts_of(self.pdf)


def sheets_of(site: Path) -> list[Path]:
    """Bench sheets; checklists have their own rules."""
    found = sorted((site / "sheets").glob("sop-*.html"))
    assert found, "the site holds no sheet"
    return opened(found, site)


@pytest.fixture(scope="session", params=list(PAPERS))
def printed(
    request: pytest.FixtureRequest, browser: Browser, site: Path, tmp_path_factory: pytest.TempPathFactory
) -> list[Sheet]:
    """Every kind of sheet of a site on A4, a few on Letter, printed once."""
    tmp_path = tmp_path_factory.mktemp("printed")
    sheets = []
    for path in sheets_of(site):
        if request.param == "Letter" and not path.stem.startswith(FEW):
            continue
        page = browser.new_page(viewport=paper_width(request.param))
        page.goto(path.as_uri())
        page.evaluate("document.fonts.ready")
        pdf = tmp_path / f"{path.stem}.pdf"
        page.pdf(
            path=str(pdf),
            format=request.param,
            print_background=True,
            prefer_css_page_size=False,
            tagged=True,
        )
        sheets.append(Sheet(page, pdf, request.param))
    return sheets


def raster(pdf: Path, dots: int, *options: str) -> list[Image.Image]:
    """The pages of a PDF as pictures at `dots` per inch."""
    stem = pdf.with_suffix("")
    subprocess.run(["pdftoppm", "-r", str(dots), "-png", *options, str(pdf), str(stem)], check=True)
    pages = []
    for path in sorted(pdf.parent.glob(f"{stem.name}-*.png")):
        with Image.open(path) as picture:
            pages.append(picture.copy())
        path.unlink()
    return pages


def test_sheet_is_one_page_of_the_right_size(printed: list[Sheet]) -> None:
    for sheet in printed:
        if sheet.page.get_attribute("article", "data-one-page") == "1":
            assert len(sheet.reader.pages) == 1, sheet.pdf.name
        box = sheet.reader.pages[0].mediabox
        width, height = float(box.width) * POINT, float(box.height) * POINT
        assert (width, height) == pytest.approx(PAPERS[sheet.paper], abs=0.5)


def test_five_millimetres_are_left(printed: list[Sheet]) -> None:
    """Blank rows at the foot of the content area; the footer line stands in the page margin below it."""
    for sheet in printed:
        if sheet.page.get_attribute("article", "data-one-page") == "0":
            continue
        image = raster(sheet.pdf, 100)[0].convert("L")
        bottom_margin = round(19.2 / 25.4 * 100)
        content = image.crop((0, 0, image.width, image.height - bottom_margin))
        ink = content.point(lambda value: 255 if value < 200 else 0).getbbox()
        assert ink is not None
        left = (content.height - ink[3]) / 100 * 25.4
        assert left >= 5.0, f"{sheet.pdf.name} on {sheet.paper}: {left:.1f} mm left"


def test_no_cell_is_clipped(printed: list[Sheet]) -> None:
    for sheet in printed:
        sheet.page.emulate_media(media="print")
        wide = sheet.page.evaluate(
            """() => [...document.querySelectorAll('td, th, .amt, .hand, .hd-t, .dose')]
                 .filter(e => e.scrollWidth > e.clientWidth + 1 && !e.querySelector('.vh'))
                 .map(e => e.className + ': ' + e.innerText)"""
        )
        assert wide == []


def test_type_is_large_enough(printed: list[Sheet]) -> None:
    script = """([selector]) => Math.min(...[...document.querySelectorAll(selector)]
        .filter(e => [...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim()))
        .map(e => parseFloat(getComputedStyle(e).fontSize) * 0.75))"""
    for sheet in printed:
        sheet.page.emulate_media(media="print")
        steps = sheet.page.evaluate(script, [".steps tbody *"])
        told = sheet.page.evaluate(script, [".step .c-do, .step .act, .haz .txt, .haz .word, .phase th"])
        amounts = sheet.page.evaluate(script, [".amt > b"])
        numbers = sheet.page.evaluate(script, [".step .c-no b"])
        everything = sheet.page.evaluate(script, [".sheet *:not(.vh):not(svg *)"])
        assert round(steps, 2) >= 12
        assert round(told, 2) >= 14
        assert amounts is None or round(amounts, 2) >= 16
        assert round(numbers, 2) >= 16
        assert round(everything, 2) >= 12


def test_boxes_and_rows_suit_a_wet_hand(printed: list[Sheet]) -> None:
    millimetre = 96 / 25.4
    for sheet in printed:
        sheet.page.emulate_media(media="print")
        boxes = sheet.page.eval_on_selector_all(
            ".box", "all => all.map(e => { const r = e.getBoundingClientRect(); return [r.width, r.height] })"
        )
        rows = sheet.page.eval_on_selector_all(
            "tr.step", "all => all.map(e => e.getBoundingClientRect().height)"
        )
        assert len(boxes) >= len(rows) > 1
        for width, height in boxes:
            assert width / millimetre == pytest.approx(6.0, abs=0.1)
            assert height / millimetre == pytest.approx(6.0, abs=0.1)
        assert min(rows) / millimetre >= 7.05, "boxes run into one another"


def test_caution_stands_directly_before_its_step(printed: list[Sheet]) -> None:
    guarded = 0
    for sheet in printed:
        rows = sheet.page.eval_on_selector_all(
            ".steps tbody tr", "all => all.map(e => e.className.split(' ')[0])"
        )
        for this, following in itertools.pairwise(rows):
            if this == "haz":
                assert following in ("haz", "step")
                guarded += 1
    assert guarded > 0


def test_nothing_stands_beyond_the_paper(printed: list[Sheet]) -> None:
    for sheet in printed:
        sheet.page.emulate_media(media="print")
        assert beyond_the_paper(sheet.page) == [], sheet.pdf.name


def test_what_stands_beyond_the_paper_is_found(browser: Browser) -> None:
    page = browser.new_page(viewport=paper_width("A4"))
    page.set_content("<main><p style='width:190mm;height:1mm'>wide</p><p>narrow</p></main>")
    assert [name for name in beyond_the_paper(page) if "wide" in name]
    assert not [name for name in beyond_the_paper(page) if "narrow" in name]


def test_cautions_and_phases_are_on_the_page_of_their_step(printed: list[Sheet]) -> None:
    for sheet in printed:
        assert parted_rows(sheet.page, sheet.pdf) == [], f"{sheet.pdf.name} on {sheet.paper}"


def test_a_caution_parted_from_its_step_is_found(browser: Browser, site: Path, tmp_path: Path) -> None:
    page = browser.new_page()
    page.goto(next(path for path in sheets_of(site) if path.stem.startswith("sop-08")).as_uri())
    page.add_style_tag(content=".haz,.phase{break-after:page!important}")
    pdf = tmp_path / "parted.pdf"
    page.pdf(path=str(pdf), format="A4")
    kinds = {one.split(":")[0] for one in parted_rows(page, pdf)}
    assert kinds == {"haz", "phase"}


def test_no_number_is_parted_from_its_unit(printed: list[Sheet]) -> None:
    for sheet in printed:
        sheet.page.emulate_media(media="print")
        assert parted_units(sheet.page) == [], f"{sheet.pdf.name} on {sheet.paper}"


def test_a_number_parted_from_its_unit_is_found(browser: Browser) -> None:
    page = browser.new_page()
    page.set_content("<p style='width:1ch'>150 mL</p><p style='width:1ch'>20\u00a0min</p>")
    assert parted_units(page) == ["150 mL"]


def test_a_hand_finds_room_to_write(printed: list[Sheet]) -> None:
    """Initials 12 x 8 mm, values and times 25 x 9 mm, lines 8 mm; our own figures, tried with a pen in a wet hand."""
    millimetre = 96 / 25.4
    for sheet in printed:
        sheet.page.emulate_media(media="print")
        initials, values, lines = sheet.page.evaluate(
            """() => [
                 [...document.querySelectorAll('.init')].map(e => e.getBoundingClientRect()).map(r => [r.width, r.height]),
                 [...document.querySelectorAll('.blank')].map(e => e.getBoundingClientRect()).map(r => [r.width, r.height]),
                 [...document.querySelectorAll('.fill span, .sign')].map(e => e.getBoundingClientRect().height)]"""
        )
        assert all(w >= 12 * millimetre and h >= 7.95 * millimetre for w, h in initials), sheet.pdf.name
        assert all(w >= 25 * millimetre and h >= 9 * millimetre for w, h in values), sheet.pdf.name
        assert min(lines) >= 7.95 * millimetre
        clip = round(19.6 / 25.4 * 50)
        for leaf in raster(sheet.pdf, 50) if sheet.pdf.stem.startswith(FEW) else ():
            assert leaf.convert("L").crop((0, 0, clip, leaf.height)).getextrema()[0] > 200, (
                "ink in the clip margin"
            )
            ink = leaf.convert("L").point(lambda value: 255 if value < 200 else 0).getbbox()
            assert ink is not None
            edges = (ink[1], leaf.width - ink[2], leaf.height - ink[3])
            assert min(edges) / 50 * 25.4 >= 14.5, f"{sheet.pdf.name}: ink nearer than 15 mm to an edge"


def test_printed_while_dark_the_paper_stays_white(browser: Browser, site: Path, tmp_path: Path) -> None:
    page = browser.new_page(color_scheme="dark")
    for folder in ("sheets", "p"):
        path = next(iter(sorted((site / folder).glob("sop-08*.html"))))
        page.goto(path.as_uri())
        pdf = tmp_path / f"{folder}-dark.pdf"
        page.pdf(path=str(pdf), format="A4", print_background=True)
        for leaf in raster(pdf, 30):
            grey = leaf.convert("L")
            far = (grey.width - 1, grey.height - 1)
            assert all(grey.getpixel(at) > 250 for at in ((0, 0), far, (0, far[1]), (far[0], 0))), folder
            assert sum(grey.histogram()[:128]) < 0.5 * grey.width * grey.height, f"{folder}: mostly dark"


def test_header_names_page_revision_and_code(printed: list[Sheet]) -> None:
    for sheet in printed:
        text = sheet.texts[0]
        code = sheet.page.get_attribute("article", "data-code")
        key = sheet.page.get_attribute("article", "data-key")
        assert f"page 1 of {len(sheet.reader.pages)}" in text
        assert key
        assert f"{key} · rev" in text
        assert code
        assert text.count(code) >= 2


def test_every_amount_has_a_unit_and_a_tool(printed: list[Sheet]) -> None:
    seen = 0
    for sheet in printed:
        cells = sheet.page.eval_on_selector_all(
            ".amt",
            "all => all.map(e => [e.children[0].innerText, e.children[1].innerText])",
        )
        seen += len(cells)
        for amount, tool in cells:
            assert re.fullmatch(r"[\d.]+(\u00a0to\u00a0[\d.]+)?\u00a0\S.*", amount), amount
            assert tool.strip(), amount
    assert seen > 5


def test_qr_code_reads_back_as_the_page_address(printed: list[Sheet]) -> None:
    for sheet in (one for one in printed if one.pdf.stem.startswith("sop-08")):
        address = (sheet.page.text_content(".url") or "").strip()
        found = [
            (number, code.text)
            for number, page in enumerate(raster(sheet.pdf, 100), start=1)
            for code in zxingcpp.read_barcodes(page)
        ]
        assert [text for _, text in found] == [address]
        number = str(found[0][0])
        fine = raster(sheet.pdf, 300, "-f", number, "-l", number)
        assert [code.text for page in fine for code in zxingcpp.read_barcodes(page)] == [address]
        side = sheet.page.eval_on_selector(
            ".qr svg", "e => [e.getBoundingClientRect().width, e.viewBox.baseVal.width]"
        )
        assert side[0] / (96 / 25.4) / side[1] >= 0.7, "a module of the QR code is under 0.7 mm"


def test_fonts_are_embedded_and_ours(printed: list[Sheet]) -> None:
    for sheet in printed:
        listing = subprocess.run(
            ["pdffonts", str(sheet.pdf)], capture_output=True, text=True, check=True
        ).stdout
        rows = listing.splitlines()[2:]
        assert rows
        assert "Type 3" not in listing
        assert all("Atkinson" in row and " yes " in row for row in rows), listing
        assert sheet.reader.trailer["/Root"]["/MarkInfo"]["/Marked"]
        assert sheet.reader.metadata is not None
        assert sheet.reader.metadata.title


def luminance(colour: object) -> float:
    """Relative luminance, 0 to 1, of an sRGB colour. Source: WCAG 2.2, definition of relative luminance."""
    assert isinstance(colour, tuple)
    parts = [value / 255 for value in colour]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def test_four_signal_words_rank_without_colour(browser: Browser, site: Path, tmp_path: Path) -> None:
    """Word, triangle and border differ, and the grey of each panel is its own."""
    seen: dict[str, float] = {}
    page = browser.new_page()
    for path in sheets_of(site):
        if len(seen) == len(SIGNAL_WORDS):
            break
        page.goto(path.as_uri())
        page.evaluate("document.fonts.ready")
        for row in page.query_selector_all("tr.haz"):
            word = row.query_selector(".word")
            assert word is not None
            name = word.inner_text().strip()
            if name in seen:
                continue
            assert (row.query_selector(".word svg") is None) == (name == "NOTICE")
            picture = tmp_path / f"{name}.png"
            word.screenshot(path=str(picture))
            with Image.open(picture) as panel:
                seen[name] = luminance(panel.convert("RGB").getpixel((3, panel.height // 2)))
    if house_of(site) == "fourth":
        assert set(seen) == SIGNAL_WORDS
    assert seen
    greys = sorted(seen.values())
    assert seen.get("CAUTION", 0.7) - seen.get("WARNING", 0.4) >= 0.2
    assert all(1 - grey >= 0.2 for grey in greys), "a panel as light as the paper"
    assert len({round(grey, 2) for grey in greys}) == len(greys)


def test_four_bands_differ_by_shape(browser: Browser, site: Path) -> None:
    """Frame and bar alone, which a one-bit copy keeps, tell the words apart."""
    shapes: dict[str, set[str]] = {}
    page = browser.new_page()
    page.emulate_media(media="print")
    for path in sheets_of(site):
        page.goto(path.as_uri())
        for word, shape in page.evaluate(
            """() => [...document.querySelectorAll('tr.haz')].map(row => {
                 const band = row.querySelector('div'), frame = getComputedStyle(band), bar = getComputedStyle(band, '::before')
                 const hatched = bar.backgroundImage !== 'none'
                 return [row.querySelector('.word').innerText.trim(), [frame.borderTopStyle, bar.content !== 'none', hatched].join()]
               })"""
        ):
            shapes.setdefault(word, set()).add(shape)
    assert shapes
    assert all(len(found) == 1 for found in shapes.values()), shapes
    assert len({shape for found in shapes.values() for shape in found}) == len(shapes)


def test_every_word_of_the_steps_is_on_the_paper(printed: list[Sheet]) -> None:
    for sheet in printed:
        text = "".join("".join(sheet.texts).split())
        words = sheet.page.evaluate(
            """() => {
                 const texts = document.createTreeWalker(document.querySelector('main'), NodeFilter.SHOW_TEXT), found = []
                 while (texts.nextNode())
                   if (!texts.currentNode.parentElement.closest('.vh, svg, [hidden]')) found.push(...texts.currentNode.data.split(/\\s+/))
                 return found.filter(Boolean)
               }"""
        )
        assert len(words) > 50
        assert [word for word in words if word not in text] == [], sheet.pdf.name


def test_nothing_is_lost_with_backgrounds_off(browser: Browser, site: Path, tmp_path: Path) -> None:
    page = browser.new_page()
    for path in (one for one in sheets_of(site) if one.stem.startswith(FEW)):
        page.goto(path.as_uri())
        page.evaluate("document.fonts.ready")
        pdf = tmp_path / f"{path.stem}-bare.pdf"
        page.pdf(path=str(pdf), format="A4", print_background=False)
        text = " ".join(leaf.extract_text() for leaf in PdfReader(pdf).pages)
        for word in {element.inner_text().strip() for element in page.query_selector_all(".word")}:
            assert word in text


def test_pictures_for_a_person_to_look_at(printed: list[Sheet], pictures: Path) -> None:
    for sheet in (one for one in printed if one.pdf.stem.startswith(FEW)):
        image = raster(sheet.pdf, 80)[0]
        image.save(pictures / f"{sheet.page.get_attribute('article', 'data-key')}-{sheet.paper}.png")
        image.convert("L").save(
            pictures / f"{sheet.page.get_attribute('article', 'data-key')}-{sheet.paper}-grey.png"
        )
        assert image.width > 500

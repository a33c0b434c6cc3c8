"""Labels printed by a real browser: in their places, inside their edges, in type that is read, with a code that reads."""

from __future__ import annotations

import subprocess
from dataclasses import dataclass
from pathlib import Path

import pytest
import zxingcpp
from PIL import Image
from playwright.sync_api import Browser, Page
from pypdf import PdfReader

from macros.html.paper import Part, document
from macros.paper.labels.all_labels import LABEL_KINDS, house_labels
from macros.paper.labels.fit import fitted
from macros.paper.labels.sheet import label_parts
from macros.published.paper.label_stocks import label_stocks, paper_size
from macros.published.paper.type_widths import type_widths
from macros.site.site import Site
from tests.making import HOUSES, ROOT, made_site

pytestmark = pytest.mark.browser

MM = 96 / 25.4
POINT = 25.4 / 72


@dataclass
class Printed:
    """Every label sheet of one paper in one document, opened and printed once."""

    site: Site
    paper: str
    parts: list[Part]
    page: Page
    pdf: Path

    def picture(self, sheet: int, dots: int) -> Image.Image:
        """Page `sheet`, from 1, as a picture of `dots` per inch."""
        stem = self.pdf.with_suffix("")
        only = ["-f", str(sheet), "-l", str(sheet), "-singlefile"]
        subprocess.run(["pdftoppm", "-r", str(dots), "-png", *only, str(self.pdf), str(stem)], check=True)
        with Image.open(f"{stem}.png") as picture:
            return picture.copy()


@pytest.fixture(scope="module")
def manual() -> Site:
    """The finished manual of a house with every kind of thing."""
    return made_site(HOUSES / "fourth")


@pytest.fixture(scope="module", params=["A4", "Letter"])
def printed(
    request: pytest.FixtureRequest, browser: Browser, manual: Site, tmp_path_factory: pytest.TempPathFactory
) -> Printed:
    """On each label sheet of the paper the kinds it takes; batches on `single`."""
    paper, site = request.param, manual
    folder = tmp_path_factory.mktemp(f"labels-{paper}")
    (folder / "assets").symlink_to(ROOT / "macros/html/theme/assets")
    (folder / "sheets").mkdir()
    register = site.register
    labels = house_labels(register, site.views)
    parts: list[Part] = []
    for stock in label_stocks(paper):
        kinds = [
            kind for kind in LABEL_KINDS if all(fitted(one, stock) for one in labels if one.kind == kind)
        ]
        if stock.cut:
            kinds = kinds[:1]  # the larger sheets have shown every kind already
        if kinds:
            parts += label_parts(register.house, register, site.views, None, kinds, stock, paper)
    file = folder / "sheets" / "labels.html"
    file.write_text(document(parts, "Labels", paper=paper), encoding="utf-8")
    page = browser.new_page()
    page.goto(file.as_uri())
    page.evaluate("document.fonts.ready")
    page.emulate_media(media="print")
    pdf = folder / "labels.pdf"
    page.pdf(path=str(pdf), prefer_css_page_size=True, print_background=False, tagged=True)
    return Printed(site, paper, parts, page, pdf)


def test_each_part_is_one_page_of_the_paper(printed: Printed) -> None:
    pages = PdfReader(printed.pdf).pages
    assert len(pages) == len(printed.parts)
    for page in pages:
        size = (float(page.mediabox.width) * POINT, float(page.mediabox.height) * POINT)
        assert size == pytest.approx(paper_size(printed.paper), abs=0.5)


def test_all_text_is_inside_its_label(printed: Printed) -> None:
    """Nothing runs out of a label, and no row into the foot."""
    out = printed.page.evaluate(
        """() => [...document.querySelectorAll('.label')].filter(label => {
             const box = label.getBoundingClientRect()
             const inside = e => { const r = e.getBoundingClientRect(); return r.right <= box.right + .5 && r.bottom <= box.bottom + .5 }
             const rows = label.querySelector('.label-rows').getBoundingClientRect()
             const foot = label.querySelector('footer').getBoundingClientRect()
             return label.scrollWidth > label.clientWidth || label.scrollHeight > label.clientHeight
               || rows.bottom > foot.top + .5 || ![...label.querySelectorAll('*')].every(inside)
           }).map(label => label.getAttribute('aria-label') + ' on ' + label.closest('article').dataset.stock)"""
    )
    assert out == []
    stocks = printed.page.eval_on_selector_all(
        ".labels", "all => [...new Set(all.map(e => e.dataset.stock))]"
    )
    assert len(stocks) >= 3


def test_labels_lie_where_the_sheet_has_them(printed: Printed) -> None:
    seen = printed.page.evaluate(
        """() => [...document.querySelectorAll('.labels')].map(sheet => { const at = sheet.getBoundingClientRect()
             return [sheet.dataset.stock, [...sheet.querySelectorAll('.label')].map(e => { const r = e.getBoundingClientRect()
               return [r.left - at.left, r.top - at.top, r.width, r.height] })] })"""
    )
    stocks = {stock.name: stock for stock in label_stocks(printed.paper)}
    for name, boxes in seen:
        stock = stocks[name]
        for number, box in enumerate(boxes):
            wanted = (*stock.place_of(number), stock.width, stock.height)
            assert [value / MM for value in box] == pytest.approx(wanted, abs=0.1), name


def test_cut_marks_print_at_the_corners_of_the_strip(printed: Printed) -> None:
    """On paper, not in the browser: the upright mark over the first strip stands within 0.5 mm of its left edge."""
    number = next(n for n, part in enumerate(printed.parts, start=1) if part.key.startswith("labels-single"))
    stock = next(stock for stock in label_stocks(printed.paper) if stock.name == "single")
    dots = 200
    picture = printed.picture(number, dots).convert("L")
    scale = dots / 25.4
    box = [(stock.left - 3), (stock.top - 3.5), (stock.left + 3), (stock.top - 1.5)]
    ink = (
        picture.crop(tuple(round(value * scale) for value in box))
        .point(lambda v: 255 if v < 128 else 0)
        .getbbox()
    )  # type: ignore[arg-type]
    assert ink is not None
    middle = stock.left - 3 + (ink[0] + ink[2]) / 2 / scale
    assert middle == pytest.approx(stock.left, abs=0.5)


def test_no_type_is_too_small(printed: Printed) -> None:
    script = """([selector]) => Math.min(...[...document.querySelectorAll(selector)]
        .filter(e => [...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim()))
        .map(e => parseFloat(getComputedStyle(e).fontSize) * 0.75))"""
    assert round(printed.page.evaluate(script, [".labels *"]), 2) >= 9
    assert round(printed.page.evaluate(script, [".label h2, .label-badge"]), 2) >= 12
    assert round(printed.page.evaluate(script, [".label-large"]), 2) >= 12


def test_codes_read_back_with_room_around_them(printed: Printed) -> None:
    sides = printed.page.evaluate(
        """() => [...document.querySelectorAll('.label-qr')].map(e => { const s = e.querySelector('svg'), r = s.getBoundingClientRect()
             return [r.width / s.viewBox.baseVal.width, parseFloat(getComputedStyle(e).paddingLeft), e.dataset.address] })"""
    )
    assert sides
    for module, quiet, _ in sides:
        assert module / MM >= 0.7
        assert quiet / module >= 4 - 0.01
    number = next(n for n, part in enumerate(printed.parts, start=1) if "label-qr" in part.html)
    read = sorted(code.text for code in zxingcpp.read_barcodes(printed.picture(number, 150)))
    addresses = printed.page.eval_on_selector_all(
        f"#{printed.parts[number - 1].page} .label-qr", "all => all.map(e => e.dataset.address)"
    )
    assert read == sorted(addresses)
    assert set(read) <= {view.public_address for view in printed.site.views}


def test_words_stay_with_backgrounds_off(printed: Printed) -> None:
    """Printed without backgrounds: each signal word of a sheet is in its text, with its triangle drawn beside it."""
    run = subprocess.run(["pdftotext", str(printed.pdf), "-"], capture_output=True, text=True, check=True)
    texts = run.stdout.split("\f")[:-1]
    words = 0
    for part, text in zip(printed.parts, texts, strict=True):
        for word in ("DANGER", "WARNING", "CAUTION"):
            count = part.html.count(f'<b class="label-word">{word}</b>')
            assert text.count(word) == count
            words += count
    assert words > 0
    assert printed.page.locator(".label-word").count() == printed.page.locator(".label-rows p > svg").count()


def test_characters_are_never_wider_than_reckoned(printed: Printed) -> None:
    """The table by which fit is judged, against the type itself."""
    weights = {"regular": 400, "bold": 800}
    rows = [
        [weights[name], character, row.em]
        for name, found in type_widths().weights.items()
        for row in found
        for character in row.characters
    ]
    wide = printed.page.evaluate(
        """rows => { const span = document.createElement('span'); document.body.append(span)
             const found = rows.filter(([weight, character, em]) => {
               span.style.cssText = `position:absolute;white-space:pre;font-size:100px;font-weight:${weight};font-kerning:none`
               span.textContent = character.repeat(10)
               return span.getBoundingClientRect().width / 1000 > em + 0.001 })
             span.remove(); return found }""",
        rows,
    )
    assert wide == []
    assert len(rows) > 300


def test_pictures_for_a_person_to_look_at(printed: Printed, pictures: Path) -> None:
    seen = set()
    for number, part in enumerate(printed.parts, start=1):
        stock = part.key.split("-")[1]
        if stock not in seen:
            seen.add(stock)
            picture = printed.picture(number, 80)
            picture.save(pictures / f"labels-{printed.paper}-{stock}.png")
            assert picture.convert("L").getextrema()[0] < 100
    assert len(seen) >= 3

"""Cleanout packs printed by a real browser: both papers, one and two people, read back from the PDF."""

from __future__ import annotations

import re
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest
import zxingcpp
from PIL import Image
from playwright.sync_api import Browser, Page
from pypdf import PdfReader

from macros.amounts import amounts_json
from macros.doors.print_pack import pack_of
from macros.html.paper import Part
from macros.packs.makers import pack_document, pack_parts
from macros.packs.pack import PackContext, PackRequest
from macros.packs.sheets import readiness_part
from macros.page_model.addresses import source_address
from macros.page_model.page import PageView
from macros.site.site import Site, prepare_site
from tests.making import HOUSES, PROCEDURES, ROOT, quiet_environment

pytestmark = pytest.mark.browser

MILLIMETRE = 96 / 25.4
POINT = 25.4 / 72
SIZES = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
CASES = {"second": ("N", "2", "Letter"), "fourth": ("K", "1", "A4")}


@dataclass
class Printed:
    """A pack as printed, and as laid out in the browser."""

    site: Site
    pack: PackContext
    parts: list[Part]
    pdf: Path
    texts: list[str]
    page: Page
    paper: str
    starts: dict[str, int]

    def flat(self, number: int) -> str:
        """The text of a page, counted from 1, without any space: lines end where they must."""
        return squeezed(self.texts[number - 1])

    def pages_of(self, key: str) -> range:
        """The pages a sheet takes."""
        order = list(self.starts)
        after = order.index(key) + 1
        end = self.starts[order[after]] if after < len(order) else len(self.texts) + 1
        return range(self.starts[key], end)

    def sheets(self) -> list[PageView]:
        """The procedures with a sheet in the pack."""
        keys = {part.key for part in self.parts}
        return [view for view in self.pack.all_pages() if view.key in keys]


def squeezed(text: str) -> str:
    """Without spaces of any kind."""
    return re.sub(r"\s", "", text)


@pytest.fixture(scope="module", params=list(CASES))
def printed(
    request: pytest.FixtureRequest, browser: Browser, tmp_path_factory: pytest.TempPathFactory
) -> Printed:
    """A pack of each case, printed as the command prints it."""
    system, people, paper = CASES[request.param]
    house = HOUSES / request.param
    folder = tmp_path_factory.mktemp("pack")
    asked = PackRequest("cleanout", system=system, people=people)
    command = [sys.executable, "-m", "macros", "pack", "cleanout", "--house", str(house)]
    done = subprocess.run(
        [*command, "--system", system, "--people", people],
        cwd=folder,
        env=quiet_environment() | {"PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    site = prepare_site(house, PROCEDURES, None, {})
    pack = pack_of(site, asked, day_given=False)
    pdf = folder / f"cleanout-{system}-{pack.day}.pdf"
    assert [path.name for path in folder.iterdir()] == [pdf.name]
    text, parts = pack_document(pack, pack_parts(pack))
    html = folder / "pack.html"
    html.write_text(text, encoding="utf-8")
    page = browser.new_page()
    page.goto(html.as_uri())
    page.emulate_media(media="print")
    page.evaluate("document.fonts.ready")
    reader = PdfReader(pdf)
    texts = [leaf.extract_text() for leaf in reader.pages]
    assert done.stdout == f"{len(texts)} pages in {pdf.name}.\n"
    return Printed(site, pack, parts, pdf, texts, page, paper, starts_in(reader, parts))


def starts_in(reader: PdfReader, parts: list[Part]) -> dict[str, int]:
    """Key of a sheet -> its first page, from the named places of the PDF."""
    places = reader.named_destinations
    found = {}
    for part in parts:
        number = reader.get_destination_page_number(places[f"/{part.page}"])
        assert number is not None
        found[part.key] = number + 1
    return found


def test_every_page_is_counted(printed: Printed) -> None:
    total = len(printed.texts)
    assert total > 12
    for number in range(1, total + 1):
        assert f"page{number}of{total}" in printed.flat(number)
    assert f"{total}pagesof{printed.paper}" in printed.flat(1)


def test_contents_lead_to_the_real_pages(printed: Printed) -> None:
    starts = printed.starts
    rows = re.findall(
        r"^(\d+)\s+(SOP-\d\d(?:-\w)?|CHECK-\w|PLAN-\w-\d|log|ledger)\b(.*)$",
        printed.texts[0],
        re.M,
    )
    keys = [part.key for part in printed.parts if part.key != "cover"]
    assert [key for _, key, _ in rows] == keys
    for page, key, _ in rows:
        assert int(page) == starts[key]
        if key.startswith(("SOP", "CHECK")):
            assert f"{key}·rev" in printed.flat(int(page))


def test_page_boxes_are_those_of_the_paper(printed: Printed) -> None:
    width, height = SIZES[printed.paper]
    for number, leaf in enumerate(PdfReader(printed.pdf).pages, start=1):
        size = (float(leaf.mediabox.width) * POINT, float(leaf.mediabox.height) * POINT)
        assert size == pytest.approx((width, height), abs=0.5), number


def test_tagged_titled_in_our_type(printed: Printed) -> None:
    reader = PdfReader(printed.pdf)
    root = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"] == "en"
    assert reader.metadata is not None
    assert reader.metadata.title == (
        f"Cleanout day, system {printed.pack.system}, {printed.pack.day}, {printed.pack.house.house.name}"
    )
    titles = len(printed.parts) + printed.pack.people - 1  # the plan has a titled page for each person
    assert len([item for item in reader.outline if not isinstance(item, list)]) == titles
    listing = subprocess.run(
        ["pdffonts", str(printed.pdf)], capture_output=True, text=True, check=True
    ).stdout
    rows = listing.splitlines()[2:]
    assert rows
    assert "Type 3" not in listing
    assert all("Atkinson" in row and " yes " in row for row in rows), listing


def test_amounts_agree_to_the_last_digit(printed: Printed) -> None:
    """Step on paper, step on the page, supplies, the list of amounts: one text."""
    register = printed.pack.register
    in_json = amounts_json(register)
    seen = 0
    for view in printed.sheets():
        on_paper = "".join(printed.flat(number) for number in printed.pages_of(view.key))
        on_page = squeezed(printed.site.pages[source_address(view.page_address)].replace("&nbsp;", ""))
        supplies = " ".join(item.detail for item in view.supplies)
        for step in view.steps:
            for shown in step.amounts:
                amount = register.at_anchor(shown.anchor)
                assert amount is not None
                assert shown.printed == amount.printed
                assert squeezed(amount.printed) in on_paper, f"{view.key} step {step.number}: {amount.key}"
                assert squeezed(amount.printed) in on_page
                assert f'"printed": "{amount.printed}"' in in_json
                if amount.id in ("stock_for_batch", "dose_full"):
                    assert amount.printed in supplies
                    seen += 1
    assert seen >= 4


def test_totals_of_the_day_agree(printed: Printed) -> None:
    register, system = printed.pack.register, printed.pack.system
    ready = squeezed(str(readiness_part(printed.pack).html))
    ledger = "".join(printed.flat(number) for number in printed.pages_of("ledger"))
    for id_ in ("stock_total", "dose_full", "ph_first_dose"):
        amounts = register.of_id(id_, system=system)
        assert amounts
        for amount in amounts:
            assert squeezed(amount.printed) in ready
    for id_ in ("stock_total", "disposal_volume", "res_fill", "rinse_trays", "rinse_parts", "quench_water"):
        for amount in register.of_id(id_, system=system):
            assert squeezed(amount.printed) in ledger
    assert register.of_id("disposal_volume", system=system)
    totals = {amount.printed for amount in register.of_id("stock_total", system=system)}
    for amount in register.of_id("stock_for_batch", system=system):
        if amount.printed not in totals:  # how much to pour stands on the sheets alone
            assert not re.search(rf"(?<![\d.]){re.escape(squeezed(amount.printed))}", ready + ledger)


def test_caution_is_on_the_page_of_its_step(printed: Printed) -> None:
    guarded = 0
    for view in printed.sheets():
        for step in view.steps:
            for caution in step.cautions:
                wanted = squeezed(caution.entry.short_hazard), squeezed(step.do)
                assert any(
                    all(text in printed.flat(number) for text in wanted)
                    for number in printed.pages_of(view.key)
                ), f"{view.key} step {step.number}: {caution.id}"
                guarded += 1
    assert guarded > 10


@pytest.mark.parametrize("printed", ["fourth"], indirect=True)
def test_no_word_is_lost_without_backgrounds(printed: Printed, browser: Browser, tmp_path: Path) -> None:
    def words(background: bool) -> str:
        file = tmp_path / f"{background}.pdf"
        printed.page.pdf(
            path=str(file), prefer_css_page_size=True, print_background=background, page_ranges="1-12"
        )
        return " ".join(leaf.extract_text() for leaf in PdfReader(file).pages)

    texts = words(background=False)
    assert set(words(background=True).split()) <= set(texts.split())
    for word in ("WARNING", "CAUTION", "DRAFT"):
        assert word in texts


@pytest.mark.parametrize("printed", ["second"], indirect=True)
def test_qr_codes_read_back_in_grey(printed: Printed, tmp_path: Path) -> None:
    for view in [one for one in printed.sheets() if one.document == "SOP-03"]:
        found = set()
        for dots in (100, 300):
            first = str(printed.pages_of(view.key)[0])  # the code stands in the head
            picture = tmp_path / f"{view.key}-{dots}"
            how = ["-r", str(dots), "-f", first, "-l", first, "-gray", "-singlefile", "-png"]
            subprocess.run(["pdftoppm", *how, str(printed.pdf), str(picture)], check=True)
            with Image.open(picture.with_suffix(".png")) as image:
                found.add(tuple(code.text for code in zxingcpp.read_barcodes(image)))
        assert found == {(view.public_address,)}


def test_own_sheets_take_the_pages_they_are_meant_for(printed: Printed) -> None:
    """Cover, ledger with sign-off: one page; the log of the whole day four at most, with the pens to calibrate."""
    assert {key: len(printed.pages_of(key)) for key in ("cover", "ledger")} == {"cover": 1, "ledger": 1}
    assert len(printed.pages_of("log")) <= 4


def test_nothing_is_clipped(printed: Printed) -> None:
    wide = printed.page.evaluate(
        """() => [...document.querySelectorAll('td, th, .fill span, .hd-t, .meta div, .told, .things li, .complete span')]
             .filter(e => e.scrollWidth > e.clientWidth + 1 && !e.querySelector('.vh'))
             .map(e => e.closest('article').dataset.key + ' ' + e.className + ': ' + e.innerText)"""
    )
    assert wide == []


def test_fields_suit_a_wet_hand(printed: Printed) -> None:
    """Fields 8 mm high, initials 12 x 8 mm, values 25 x 9 mm (initials are no value), ticks 6 mm."""
    sizes = printed.page.evaluate(
        """() => Object.fromEntries(Object.entries({
              fill: '.fill span', initials: 'tbody .c-in', value: '.pack .c-value', empty: '.pack .tall td:empty:not(.c-in)',
              box: '.box'}).map(([name, at]) => [name, [...document.querySelectorAll(at)]
                .filter(e => e.tagName !== 'TH')
                .map(e => [e.getBoundingClientRect().width, e.getBoundingClientRect().height])]))"""
    )
    assert len(sizes["fill"]) > 50
    assert min(height for _, height in sizes["fill"]) / MILLIMETRE >= 7.55
    assert min(width for width, _ in sizes["initials"]) / MILLIMETRE >= 12
    assert min(height for _, height in sizes["initials"]) / MILLIMETRE >= 7.95
    assert min(height for _, height in sizes["empty"]) / MILLIMETRE >= 9
    columns = printed.page.eval_on_selector_all(
        ".pack th.c-value", "all => all.map(e => e.getBoundingClientRect().width)"
    )
    assert len(columns) >= 5
    assert min(columns) / MILLIMETRE >= 25
    for width, height in sizes["box"]:
        assert (width / MILLIMETRE, height / MILLIMETRE) == pytest.approx((6, 6), abs=0.1)


def test_type_is_large_enough(printed: Printed) -> None:
    least = printed.page.evaluate(
        """() => Math.min(...[...document.querySelectorAll('.sheet *:not(.vh)')]
            .filter(e => [...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim()))
            .map(e => parseFloat(getComputedStyle(e).fontSize) * 0.75))"""
    )
    assert least >= 9


def test_every_sheet_has_time_in_and_out(printed: Printed) -> None:
    for part in printed.parts:
        first = printed.texts[printed.pages_of(part.key)[0] - 1]
        assert ("Start" in first and "End" in first) or ("Time in" in first and "Time out" in first), part.key


def test_pictures_for_a_person_to_look_at(printed: Printed, pictures: Path) -> None:
    stem = pictures / f"pack-{printed.pack.system}-{printed.paper}"
    subprocess.run(["pdftoppm", "-r", "60", "-png", "-l", "3", str(printed.pdf), str(stem)], check=True)
    assert len(list(pictures.glob(f"{stem.name}-*.png"))) >= 3

"""Swap list, master list and note printed on both papers, with the new copies behind them as in the pack."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser

from macros.doors.print_pack import pack_of
from macros.packs.makers import pack_parts
from macros.packs.pack import PackRequest
from macros.site.site import Site
from tests.browser.test_cards import SIZES, WIDER, finished, least, opened, printed
from tests.controlling import controlled_house
from tests.making import made_site

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Site:
    return made_site(controlled_house(finished("fourth"), tmp_path_factory.mktemp("control")))


@pytest.mark.parametrize(
    ("paper", "long", "short"), [("A4", 297 - 27, 210 - 27), ("Letter", 279.4 - 27, 215.9 - 27)]
)
def test_sheets_of_control(
    browser: Browser, tmp_path: Path, pictures: Path, site: Site, paper: str, long: float, short: float
) -> None:
    parts = pack_parts(pack_of(site, PackRequest("control", paper=paper, with_copies=True), day_given=False))
    page = opened(browser, tmp_path, parts, "control", paper, long)
    texts = printed(page, pictures / f"fourth-control-{paper}.pdf")

    assert sum("Swap list: wall copies" in text for text in texts) == 1
    assert sum("Taken down, count" in text for text in texts) == 1
    assert [n for n, text in enumerate(texts) if "SWAP-LIST" in text] == [0]  # one page: it is carried round
    assert sum("Handwritten note on a wall copy" in text and "Never by hand" in text for text in texts) == 1
    assert (
        sum("Complaint, trace and recall of a lot" in text and "1 Complaint" in text for text in texts) == 1
    )
    assert sum("CARD-2-K · rev 2" in text for text in texts) == 2
    listed = "".join(text for text in texts if "MASTER-LIST" in text)
    assert all(item.key in listed for item in site.controlled_documents)

    assert least(page, ".control *") >= 9
    assert least(page, ".swap td, .swap tbody th, .notes .stop, .notes .rules li") >= 12
    assert all(height >= 12 for _, height in page.evaluate(SIZES, ".swap tbody tr"))
    boxes = page.evaluate(SIZES, ".control .box")
    assert len(boxes) == 4 + 2 + 2 * 5 + 3
    assert all(abs(side - 6) < 0.1 for box in boxes for side in box)
    assert page.evaluate(WIDER, ".swap, .swap *, .master, .master *") == []
    page.set_viewport_size({"width": round(short / 25.4 * 96), "height": 1000})
    assert page.evaluate(WIDER, ".notes, .notes *, .trace, .trace *") == []
    lines = page.evaluate(SIZES, ".notes .fill span")
    assert len(lines) == 2 * 15
    assert all(width >= 25 and height >= 12 for width, height in lines)
    page.close()

"""The measuring sheet printed: two to four pages, room to write, nothing cut off."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser

from macros.doors.print_pack import pack_of
from macros.packs.makers import pack_parts
from macros.packs.pack import PackRequest
from tests.browser.test_cards import SIZES, WIDER, least, opened, printed
from tests.measuring.sittings import starter_site

pytestmark = pytest.mark.browser


@pytest.mark.parametrize(("us", "paper", "width"), [(False, "A4", 210 - 30), (True, "Letter", 216 - 30)])
def test_the_sheet_of_a_new_house(
    us: bool, paper: str, width: float, browser: Browser, tmp_path: Path, pictures: Path
) -> None:
    parts = pack_parts(pack_of(starter_site(us), PackRequest("measure"), day_given=False))
    page = opened(browser, tmp_path, parts, f"measure-{paper}", paper, width)
    texts = printed(page, pictures / f"starter-measure-{paper}.pdf")
    assert 2 <= len(texts) <= 4
    assert "After these the manual is yours" in texts[0]
    assert "breaker" in texts[-1]
    blanks = page.evaluate(SIZES, ".measuring .m-blank")
    assert len(blanks) > 60
    assert all(width >= 20 and height >= 5.5 for width, height in blanks)
    assert least(page, ".measuring *") >= 9
    assert page.evaluate(WIDER, ".measuring, .measuring .m-row") == []
    page.close()

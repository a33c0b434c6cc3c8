"""Nothing that must be read is cut or hidden in the view when its button can be pressed, on the smallest phones too.

A procedure of each kind of three houses is gone through on the smallest phone, and those of one house at three larger
sizes: pages of two systems differ in their numbers alone. The pages are put one after the other into one document of
the built manual, which its scripts must bear as well.
"""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import markdown
import pytest
from playwright.sync_api import Browser, Page

from tests.browser.looking import open_page, unhurried
from tests.making import manual_of

pytestmark = [pytest.mark.browser, pytest.mark.parametrize("site", ["fourth"], indirect=True)]

SIZES = ((390, 844), (375, 667), (360, 640), (320, 568))
HOUSES = ("first", "second", "fourth")

QUICK = """() => {
  history.pushState = history.replaceState = () => {};  // a browser refuses thousands of them
  document.querySelector('.md-container').style.display = 'none';  // behind the view: laid out for nothing
}"""

GO_THROUGH = """html => {
  localStorage.clear();
  document.querySelector('article').innerHTML = html;
  document$.next(document);
  [...document.querySelectorAll('.ticks button')].find(one => one.textContent === 'One step at a time').click();
  const view = document.querySelector('.one'), card = view.querySelector('.one-card'), next = view.querySelector('.one-next');
  const musts = {caution: ['.sop-haz'], step: ['.one-amt strong', '.one-if'], wait: ['.one-left:not([hidden])', '.one-line:not([hidden])']};
  const found = [];
  const shows = (part, x, y) => {
    const at = document.elementFromPoint(x, y);
    return at !== null && (part.contains(at) || at.contains(part) && card.contains(at));
  };
  for (let screens = 0; view.dataset.kind !== 'end'; screens++) {
    if (screens > 400) throw new Error('the view does not come to its end');
    const kind = view.dataset.kind, parts = (musts[kind] ?? []).flatMap(one => [...card.querySelectorAll(one)]);
    const seen = parts.map(() => [false, false]);
    const look = () => parts.forEach((part, n) => {
      const box = part.getBoundingClientRect(), frame = card.getBoundingClientRect();
      const beside = box.left >= frame.left && box.right <= frame.right && part.scrollWidth <= part.clientWidth + 1;
      if (beside && box.top >= frame.top - 1 && shows(part, box.left + 6, box.top + 6)) seen[n][0] = true;
      if (beside && box.bottom <= frame.bottom + 1 && shows(part, box.left + 6, box.bottom - 6)) seen[n][1] = true;
    });
    look();
    for (let pulls = 0; next.textContent === 'Read on'; pulls++) {
      if (pulls > 20) throw new Error('the end is never reached');
      next.click();
      look();
    }
    const button = next.getBoundingClientRect();
    const reachable = button.height >= 63 && button.bottom <= innerHeight && button.right <= innerWidth && shows(next, button.left + 9, button.top + 9);
    const name = view.querySelector('.one-head').textContent;
    parts.forEach((part, n) => found.push([kind, seen[n][0] && seen[n][1], name + ': ' + part.textContent.slice(0, 60)]));
    found.push(["button", reachable && view.scrollWidth <= innerWidth, name]);
    const before = next.textContent;
    for (let taps = 0; taps < 3 && view.dataset.kind === kind && view.querySelector('.one-head').textContent === name; taps++) {
      if (taps && next.textContent === before) break;
      next.click();
    }
  }
  view.querySelector('.one-next').click();
  return found;
}"""


def pages_of(house: str) -> dict[str, str]:
    """A procedure of each kind of a house as HTML, by its address."""
    made = markdown.Markdown(extensions=["attr_list", "md_in_html", "tables", "toc"])
    kinds = {
        found[0]: address for address in manual_of(house).pages if (found := re.match(r"p/sop-\d\d", address))
    }
    texts = {address: str(manual_of(house).pages[address]) for address in kinds.values()}
    return {address: made.reset().convert(text.partition("\n---\n")[2]) for address, text in texts.items()}


def measured(page: Page, pages: dict[str, str], size: tuple[int, int]) -> tuple[Counter[str], list[str]]:
    """How many of each kind were looked at, and which were cut or hidden."""
    page.set_viewport_size({"width": size[0], "height": size[1]})
    counted: Counter[str] = Counter()
    hidden = []
    for address, html in pages.items():
        for kind, whole, name in page.evaluate(GO_THROUGH, html):
            counted[kind] += 1
            if not whole:
                hidden.append(f"{address} at {size[0]}x{size[1]}, {kind}: {name}")
    return counted, hidden


@pytest.mark.parametrize("house", HOUSES)
def test_no_caution_amount_or_timer_is_cut_or_hidden(browser: Browser, site: Path, house: str) -> None:
    page, _, errors = open_page(browser, next(iter(sorted((site / "p").glob("sop-08-*.html")))), 390, "light")
    unhurried(page)
    page.evaluate(QUICK)
    pages = pages_of(house)
    for size in SIZES if house == "fourth" else SIZES[-1:]:
        counted, hidden = measured(page, pages, size)
        assert hidden == []
        assert min(counted[kind] for kind in ("caution", "step", "wait", "button")) > 10
    assert errors == []
    page.context.close()


PARTED = """html => {
  document.querySelector('article').innerHTML = html;
  const found = [];
  for (const amount of document.querySelectorAll('.sop-amt strong, .sop-t td strong')) {
    const texts = document.createTreeWalker(amount, NodeFilter.SHOW_TEXT);
    while (texts.nextNode()) for (const word of texts.currentNode.data.matchAll(/[^ ]+/g)) {  // no-break spaces are of the word
      const range = document.createRange();
      range.setStart(texts.currentNode, word.index);
      range.setEnd(texts.currentNode, word.index + word[0].length);
      const lines = new Set([...range.getClientRects()].map(line => Math.round(line.top)));
      found.push([lines.size > 1, word[0]]);
    }
  }
  if (document.documentElement.scrollWidth > innerWidth) found.push([true, 'wider than the screen']);
  return found;
}"""


def test_no_number_is_parted_from_its_unit_on_a_page(browser: Browser, site: Path) -> None:
    page, _, _ = open_page(browser, next(iter(sorted((site / "p").glob("sop-08-*.html")))), 320, "light")
    looked, parted = 0, []
    for house in ("second", "fourth"):
        for address, html in pages_of(house).items():
            found = page.evaluate(PARTED, html)
            looked += len(found)
            parted += [f"{house} {address}: {word}" for is_parted, word in found if is_parted]
    assert parted == []
    assert looked > 100
    page.context.close()

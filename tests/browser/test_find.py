"""The search finds pages by the words people use, from disk: other words, amounts, cautions, steps."""

from __future__ import annotations

import json
import re
from html import unescape
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from macros.html.search_synonyms import texts_of
from macros.published.pages.words import glossary
from macros.site.site import Site
from tests.browser.conftest import house_of
from tests.browser.looking import open_page
from tests.making import HOUSES, made_site

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def manual(site: Path) -> Site:
    return made_site(HOUSES / house_of(site))


def indexed(site: Path) -> dict[str, str]:
    """Address of a page -> all its text the search holds."""
    found: dict[str, str] = {}
    for entry in json.loads((site / "search" / "search_index.json").read_text("utf-8"))["docs"]:
        address = entry["location"].partition("#")[0]
        text = unescape(re.sub(r"<[^>]*>", " ", f"{entry['title']} {entry['text']}"))
        found[address] = f"{found.get(address, '')} {text}"
    return found


def holds(text: str, word: str) -> bool:
    """As a whole word, or its form without the ending, which the search cuts off itself."""
    forms = {word, *(word.removesuffix(ending) for ending in ("s", "d", "ed"))}
    return any(re.search(rf"(?<![-\w]){re.escape(form)}(?![-\w])", text, re.IGNORECASE) for form in forms)


def test_each_other_word_of_a_term_stands_in_the_search_of_its_pages(site: Path, manual: Site) -> None:
    texts = indexed(site)
    seen = set()
    for view in manual.views:
        own = " ".join(texts_of(view))
        for term, entry in glossary().items():
            if re.search(rf"(?<![-\w]){re.escape(term)}s?(?![-\w])", own, re.IGNORECASE):
                for word in entry.not_:
                    assert holds(texts[view.page_address], word), f"{view.key}: {word}"
                    seen.add(word)
    assert {"reservoir", "net pots", "RCD", "fertilizer", "disinfect"} <= seen


FOUND = """() => { const root = new URL('.', document.baseURI).href;
  return [...document.querySelectorAll('.md-search-result__link')].map(a => a.href.replace(root, '').split(/[?#]/)[0]) }"""
"""Addresses the search lists, best first."""


def finds(page: Page, words: str, expected: set[str]) -> bool:
    """Whether one of these is listed for what is typed; the answer comes from a worker, so it is waited for."""
    page.keyboard.press("Control+a")
    page.keyboard.type(words)
    for _ in range(30):
        page.wait_for_timeout(100)
        if set(page.evaluate(FOUND)) & expected:
            return True
    return False


def telling(sentence: str) -> str:
    """What one remembers of a sentence."""
    return " ".join(word for word in re.findall(r"[A-Za-z]+", sentence) if len(word) > 3)


@pytest.mark.parametrize("site", ["fourth"], indirect=True)
def test_words_people_use_lead_to_the_pages(browser: Browser, site: Path, manual: Site) -> None:
    page, outside, errors = open_page(browser, site / "index.html", 390, "light")
    page.click(".md-header__button[for=__search]")
    page.wait_for_function(
        "() => /Type to start/.test(document.querySelector('.md-search-result__meta').textContent)"
    )
    view = next(v for v in manual.views if v.document == "SOP-08")
    step = next(s for s in view.steps if s.amounts)
    printed = {a.printed for v in manual.views for s in v.steps for a in s.amounts}
    told = [texts_of(v) for v in manual.views]
    # That of the fewest pages: the search shows the first few of many.
    amount = min(
        sorted(one for one in printed if re.fullmatch(r"[\d.]+ [A-Za-z]+", one)),
        key=lambda one: sum(any(one in text for text in texts) for texts in told),
    )
    caution = next(c for s in view.steps for c in s.cautions)
    by_word = {
        word: {v.page_address for v in manual.views if any(re.search(rf"\b{term}s?\b", t, re.IGNORECASE) for t in texts_of(v))}
        for word, term in (("net pots", "cup"), ("RCD", "residual-current device"), ("disinfect", "sanitize"))
    }  # fmt: skip
    for word, expected in by_word.items():
        assert expected, word
        assert finds(page, word, expected), f"{word}: {page.evaluate(FOUND)[:8]}"
    for words, shown in (
        (f'"{amount}"', amount),
        (telling(caution.hazard), caution.hazard),
        (telling(step.do), step.do),
    ):
        pages = {v.page_address for v in manual.views if any(shown in text for text in texts_of(v))}
        assert view.page_address in pages or shown == amount
        assert finds(page, words, pages), f"{words}: {page.evaluate(FOUND)[:8]}"
    page.keyboard.press("Control+a")
    page.keyboard.type("qqxxzz")
    page.wait_for_function(
        "() => /No match/.test(document.querySelector('.md-search-result__meta').textContent)"
    )
    assert page.evaluate(FOUND) == []
    assert outside == []
    assert errors == []
    page.context.close()

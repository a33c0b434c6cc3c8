"""The search finds pages by the words people use, from disk: other words, amounts, cautions, steps."""

from __future__ import annotations

import json
import re
from html import unescape
from pathlib import Path

import pytest
import yaml
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
    whole = (site / "search" / "whole_index.js").read_text("utf-8").partition("=")[2]
    for entry in json.loads(whole)["docs"]:
        address = entry["location"].partition("#")[0]
        text = unescape(
            re.sub(r"<[^>]*>", " ", f"{entry['title']} {entry['text']} {' '.join(entry.get('tags', ()))}")
        )
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


QUERIES = Path(__file__).with_name("queries.yml")

ANSWERS = """async queries => {
  const config = JSON.parse(document.querySelector('#__config').textContent);
  const input = document.querySelector('.md-search__input'), pause = time => new Promise(done => setTimeout(done, time));
  input.focus(); // the first touch loads the index
  for (let tries = 0; !window.wholeIndex && tries < 100; tries++) await pause(100);
  await pause(500); // from disk the worker that was made last hears the answers: that of the page comes first
  input.blur();
  const worker = new Worker(new URL(config.search, new URL(config.base, location)).href);
  const answer = () => new Promise((done, never) => { setTimeout(() => never('no answer'), 20000); worker.addEventListener('message', function told(event) {
    if (event.data.type === 3) { worker.removeEventListener('message', told); done(event.data.data.items); } }); });
  worker.postMessage({type: 0, data: {options: {}}});
  const found = {};
  for (const words of queries) {
    const items = answer();
    worker.postMessage({type: 2, data: words});
    input.focus();
    found[words] = (await items).map(group => group[0].location.split('#')[0]);
  }
  return found;
}"""
"""Each query asked of the search as a page asks it; the addresses of its answers, best first."""


def rank(answers: list[str], meant: list[str]) -> int:
    """Place of the first page that is meant, the pages of one document for several systems counted once; 99 if none."""
    documents = list(dict.fromkeys(re.sub(r"^p/(sop-\d\d).*", r"\1", one).upper() for one in answers))
    places = [documents.index(one.upper()) + 1 for one in meant if one.upper() in documents]
    return min(places, default=99)


@pytest.mark.parametrize("site", ["fourth"], indirect=True)
def test_sixty_queries_find_the_page_that_is_meant(browser: Browser, site: Path) -> None:
    """57 of 60 first, each among the first three; nothing of the index is read before the search is touched."""
    asked = {words: meant for group in yaml.safe_load(QUERIES.read_text("utf-8")).values() for words, meant in group.items()}  # fmt: skip
    assert len(asked) == 60
    page, outside, errors = open_page(browser, site / "index.html", 390, "light")
    read: list[str] = []
    page.on("request", lambda request: read.append(request.url))
    page.reload()
    page.wait_for_timeout(300)
    assert not [one for one in read if "whole_index" in one or "/workers/" in one]
    assert (site / "search" / "search_index.json").stat().st_size < 1000
    found = page.evaluate(ANSWERS, list(asked))
    assert [one for one in read if one.endswith("search/whole_index.js")]
    ranks = {words: rank(found[words], meant) for words, meant in asked.items()}
    assert {words: (place, found[words][:4]) for words, place in ranks.items() if place > 3} == {}
    assert sum(place == 1 for place in ranks.values()) >= 57, {w: p for w, p in ranks.items() if p > 1}
    assert (outside, errors) == ([], [])
    page.context.close()

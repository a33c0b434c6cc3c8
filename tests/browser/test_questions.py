"""A self-check on a phone: nothing is told before an answer is given; what a wrong one means; the key on paper."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, Page

from macros.html.paper import document
from macros.site.site import Site
from macros.training.self_checks.all_questions import QuestionView
from macros.training.self_checks.markdown import anchor
from macros.training.self_checks.sheet import key_parts, question_sheet_parts
from tests.browser.looking import look_at, open_page
from tests.making import HOUSES, ROOT, made_site

pytestmark = [pytest.mark.browser, pytest.mark.parametrize("site", ["fourth"], indirect=True)]

CHECK = "training/check-m7.html"
SHORT = "training/check-m3.html"


@pytest.fixture(scope="module")
def manual() -> Site:
    return made_site(HOUSES / "fourth")


def first(manual: Site, kind: str, module: str = "M7_mixing") -> QuestionView:
    """A question of a kind; a number with a tolerance and a wrong answer."""
    return next(
        q
        for q in manual.questions
        if q.kind == kind and q.module == module and (kind != "number" or (q.within and q.wrong))
    )


def form_of(page: Page, question: QuestionView) -> Locator:
    return page.locator(f"#{anchor(question.id)}")


def answered(form: Locator) -> str:
    form.get_by_role("button", name="Answer", exact=True).click()
    return form.locator(".quiz-answer").inner_text().replace("\u00a0", " ")


def test_a_self_check_meets_the_rules_of_every_page(browser: Browser, site: Path, manual: Site) -> None:
    look_at(browser, site / SHORT, 390, "dark")


def test_the_answer_shows_only_after_one_is_given(browser: Browser, site: Path, manual: Site) -> None:
    page, outside, errors = open_page(browser, site / CHECK, 390, "dark")
    here = [question for question in manual.questions if question.module == "M7_mixing"]
    assert page.locator("form.quiz").count() == len(here)
    assert page.locator(".quiz-answer").all_inner_texts() == [""] * len(here)
    assert page.locator(".quiz-look:visible").count() == 0
    assert page.locator(".quiz-state").inner_text() == f"0 of {len(here)} answered, 0 right"

    number = first(manual, "number")
    form = form_of(page, number)
    assert number.value is not None
    assert "Type a number" in answered(form)
    assert form.locator(".quiz-look").is_hidden()
    typed = form.locator("input")
    for off, right in (
        (0.0, True),
        (number.within, True),
        (-number.within, True),
        (1.01 * number.within, False),
    ):
        typed.fill(f"{number.value + off:.6f}".rstrip("0").rstrip("."))
        told = answered(form)
        assert told.startswith("Right." if right else "Not right."), (off, told)
        assert f"The answer: {number.answer}." in told
    assert form.locator(".quiz-look").is_visible()
    typed.fill(f"{number.value:.4f}".replace(".", ","))
    assert answered(form).startswith("Right.")
    typed.fill("1,234")
    assert answered(form) == "1,234 can be read in two ways. Type 1.234, or 1234."
    typed.fill(f"{number.wrong_values[0]:g}")
    told = answered(form)
    assert told.startswith("Not right.")
    assert number.wrong[0][1] in told
    for odd in ("7,5,1", "1e2", "<b>1</b>"):
        typed.fill(odd)
        assert "Type a number" in answered(form), odd

    choice = first(manual, "choice")
    form = form_of(page, choice)
    assert "Choose one first" in answered(form)
    form.get_by_label(choice.wrong[0][0], exact=True).check()
    assert choice.wrong[0][1] in answered(form)
    form.get_by_label(choice.answer, exact=True).check()
    assert answered(form).startswith("Right.")

    words = first(manual, "words")
    form = form_of(page, words)
    assert "Write your answer first" in answered(form)
    form.locator("textarea").fill("I look")
    assert words.answer in answered(form)
    form.get_by_role("button", name="Yes, all of it").click()
    state = page.locator(".quiz-state").inner_text()
    assert state == f"3 of {len(here)} answered, 2 right"

    order = first(manual, "order")
    form = form_of(page, order)
    places = {item: n for n, item in enumerate(order.items)}
    selects = form.locator("select")
    assert selects.count() == len(order.items) > 1
    shown = [(select.get_attribute("data-item") or "").replace("\u00a0", " ") for select in selects.all()]
    selects.nth(0).select_option("1")
    assert "a place of its own" in answered(form)
    for turn in (1, 0):
        for index, item in enumerate(shown):
            selects.nth(index).select_option(str((places[item] + turn) % len(shown) + 1))
        assert answered(form).startswith("Not right." if turn else "Right.")
    state = page.locator(".quiz-state").inner_text()
    assert state == f"4 of {len(here)} answered, 3 right"

    page.reload()
    page.wait_for_timeout(100)
    assert page.locator(".quiz-state").inner_text() == state
    page.get_by_role("button", name="Start again").click()
    assert page.locator(".quiz-state").inner_text().startswith("0 of")
    assert (outside, errors) == ([], [])


def test_key_and_sheet_stay_on_the_paper(
    browser: Browser, site: Path, manual: Site, tmp_path: Path, pictures: Path
) -> None:
    shutil.copytree(ROOT / "macros" / "html" / "theme" / "assets", tmp_path / "assets")
    (tmp_path / "print").mkdir()
    page = browser.new_page()
    for name, parts in (
        ("key", key_parts(manual.register, manual.views, "M8")),
        ("questions", question_sheet_parts(manual.register, manual.views, "M8")),
    ):
        file = tmp_path / "print" / f"{name}.html"
        file.write_text(document(parts, name, paper="A4"), encoding="utf-8")
        page.set_viewport_size({"width": 690, "height": 1000})  # A4 less its margins
        page.emulate_media(media="print")
        page.goto(file.as_uri())
        small = page.evaluate(
            """() => [...document.querySelectorAll('.quizsheet *')].filter(e => [...e.childNodes].some(n =>
            n.nodeType === 3 && n.textContent.trim()) && parseFloat(getComputedStyle(e).fontSize) < 12).length"""
        )
        assert small == 0  # 12 CSS px are 9 pt
        assert page.evaluate("document.documentElement.scrollWidth") <= 690
        page.pdf(path=str(pictures / f"self-check-{name}.pdf"), prefer_css_page_size=True)
    page.close()

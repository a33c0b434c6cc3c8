"""No number is read back from printed text: where every amount and fact prints as words, all that counts stays as it was."""

from __future__ import annotations

from dataclasses import replace

import pytest

from macros.amounts.engine.amount import Amount
from macros.amounts.engine.register import Register
from macros.day_plan.day_plan import plan_days
from macros.ground.units import Quantity
from macros.manual.house_facts import frequencies
from macros.manual.house_facts.fact_text import fact_text
from macros.manual.pages.build_page import build_pages
from macros.manual.pages.page_markdown import timer
from macros.manual.procedures import template_functions
from macros.manual.procedures.load_files import hands_on_minutes, load_procedures
from macros.manual.procedures.write_text import TextWriter
from macros.page_model.clock_times import Answer
from macros.page_model.page import ControlView, PageView
from macros.published.labour import jobs
from tests.making import HOUSES, PROCEDURES, made_register

WORDS = "so much"


def counted(house: str, system: str) -> tuple[dict[str, object], set[str]]:
    """Every number and name that pages, plan and rhythms take from facts and amounts; and the texts beside them."""
    register = made_register(HOUSES / house)
    built, _ = build_pages(load_procedures(PROCEDURES)[0], register, TextWriter())
    views = [PageView(**vars(page.content), control=ControlView("", "", "", "", "")) for page in built]
    found: dict[str, object] = {
        name: one.rhythm for name, one in frequencies.frequencies(register.house).items()
    }
    texts = {one.text for one in frequencies.frequencies(register.house).values()}
    for view in views:
        found[f"{view.key} scope"] = view.scope_line
        found[f"{view.key} supplies"] = [(one.group, one.name) for one in view.supplies]
        for step in view.steps:
            found[f"{view.key} {step.id} minutes"] = step.minutes
            texts |= {amount.printed for amount in step.amounts}
            reading = step.record and step.record.reading
            if reading and not reading.unit.startswith("°"):  # typed by the author in both units
                found[f"{view.key} {step.id} limits"] = (reading.least, reading.most)
            if step.wait is not None:
                times = step.wait.least_minutes, step.wait.greatest_minutes
                found[f"{view.key} {step.id} wait"] = (*times, bool(timer(step.wait)))
                texts |= {step.wait.least, step.wait.greatest}
    days, problems = plan_days(jobs.job("cleanout"), views, register, system, "08:00", [2])
    assert problems == []
    found["plan"] = [day.plan.placed for day in days]
    return found, texts


@pytest.mark.parametrize(("house", "system"), [("fourth", "K"), ("second", "N")])
def test_all_that_counts_stays_where_amounts_and_facts_print_as_words(
    house: str, system: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    before, texts = counted(house, system)
    enter = Register.add

    def in_words(register: Register, amount: Amount) -> Amount:
        figures = tuple(WORDS for _ in amount.figures)
        return enter(register, replace(amount, printed=WORDS, figures=figures, tool=amount.tool and WORDS))

    monkeypatch.setattr(Register, "add", in_words)

    def time_in_words(value: object, us: bool) -> str:
        return WORDS if isinstance(value, Quantity) else fact_text(value, us)

    for module in (template_functions, frequencies):
        monkeypatch.setattr(module, "fact_text", time_in_words)
    after, words = counted(house, system)
    assert after == before
    assert len([name for name in before if name.endswith(" wait")]) > 15
    assert len([limits for name, limits in before.items() if name.endswith(" limits") and any(limits)]) > 10
    assert {WORDS, f"every {WORDS}"} <= words - texts
    assert not any(text[:1].isdigit() and text in texts - words for text in words)


def answer(minutes: float | None) -> Answer:
    """What a word of a page answers: letters that say another time than the number."""
    return Answer("7 min", minutes)


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        ("{{ word }}", 90.0),
        (" {{ word }} ", 90.0),
        ("{% if word %}{{ word }}{% endif %}", 90.0),
        ("{{ word }} or more", None),
        ("{{ word }}{{ word }}", None),
        ("{{ other }}", None),
    ],
)
def test_the_time_of_a_text_is_that_of_the_answer_it_is(text: str, minutes: float | None) -> None:
    written = TextWriter().render(text, {"word": answer(90.0), "other": "7 min"}, "x", 1)
    assert isinstance(written, Answer)
    assert written.minutes == minutes


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        ("5", 5.0),
        ("2.5 min", 2.5),
        ("2 h", None),
        ("12345", None),
        ("1x", None),
        (answer(90.0), 90.0),
        (answer(None), None),
        (answer(10_000.0), None),
    ],
)
def test_the_minutes_of_a_step_are_typed_or_those_of_an_answer(text: str, minutes: float | None) -> None:
    assert hands_on_minutes(text) == minutes


def test_a_text_without_an_answer_is_as_its_author_typed_it() -> None:
    written = TextWriter().render("{% if other %}5 min{% endif %}", {"other": "7 min"}, "x", 1)
    assert not isinstance(written, Answer)
    assert written == "5 min"

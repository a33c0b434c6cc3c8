"""Two sanitizers in one house, in either order: each step names the one of its own task, and warns of that."""

from __future__ import annotations

from pathlib import Path

import pytest

from macros.ground.problems import DataProblems
from macros.page_model.page import PageView
from tests.making import made_house, made_site

BLEACH = (
    '  - {id: bleach, name: "plain bleach", role: sanitizer, active: "sodium hypochlorite", strength: "6 % w/w", density: "1.08 g/mL",\n'
    '     container: "1 L", containers_in_stock: 2, opened: 2031-05-09, expires: 2032-01-01, ppe: [goggles, gloves_chem, apron], never_with: [acids, oxidisers, nutrients]}\n'
)  # fmt: skip
PEROXIDE = '  - {id: perox, name: "peroxide, food-contact grade"'
ACID = '  - {id: down, name: "pH-down, nitric acid"'
NAMES = {"perox": "peroxide, food-contact grade, 10 % w/w", "bleach": "plain bleach, 6 % w/w"}
WARNS = {"perox": "CHEM-PEROXIDE-CONC", "bleach": "CHEM-CHLORINE-SOLUTION"}


@pytest.fixture(scope="module", params=["bleach first", "peroxide first"])
def views(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> list[PageView]:
    """The pages of a house that sprays and circulates with peroxide, keeps bleach too, and uses it for nothing."""
    before = PEROXIDE if request.param == "bleach first" else ACID
    folder = tmp_path_factory.mktemp("two")
    return made_site(made_house(folder, (before, BLEACH + before), name="fourth")).views


def ids_until(view: PageView, number: int) -> set[str]:
    """Cautions that stand before a step or above it."""
    return {one.id for step in view.steps[:number] for one in step.cautions}


def test_a_step_of_a_task_takes_the_stock_of_that_task(views: list[PageView]) -> None:
    seen = 0
    for view in views:
        if view.document in ("SOP-03", "SOP-06"):
            for step in (one for one in view.steps if one.stocks):
                assert step.stocks == (NAMES["perox"],), f"{view.key} step {step.number}"
                assert WARNS["perox"] in ids_until(view, step.number)
                seen += 1
            assert WARNS["bleach"] not in ids_until(view, len(view.steps)), view.key
    assert seen > 4


@pytest.mark.parametrize("document", ["SOP-02", "SOP-22", "SOP-25"])
def test_a_page_on_stocks_in_general_takes_each(views: list[PageView], document: str) -> None:
    for view in (one for one in views if one.document == document):
        named = {stock for step in view.steps for stock in step.stocks}
        assert named >= set(NAMES.values()), view.key
        assert ids_until(view, len(view.steps)) >= set(WARNS.values()), view.key


def test_bleach_and_acid_on_one_page_is_a_danger(views: list[PageView]) -> None:
    (view,) = [one for one in views if one.document == "SOP-02"]
    words = {one.id: one.word for step in view.steps for one in step.cautions}
    assert words["CHEM-CHLORINE-ACID"] == "DANGER"


def test_a_house_without_bleach_has_no_word_of_it(tmp_path: Path) -> None:
    site = made_site(made_house(tmp_path, name="fourth"))
    told = {key for key, text in site.pages.items() if key.startswith("p/") and "bleach " in text.lower()}
    assert told == set()


POWDER = 'name: "pH-down, nitric acid", role: acid, active: "nitric acid", strength: "10 % w/w", density: "1.0543 g/mL"'


def test_an_acid_powder_is_refused_until_it_is_a_solution(tmp_path: Path) -> None:
    """Citric acid makes some 64 % w/w in water of 25 degC (handbook figure, from memory): 99 % is no liquid."""
    as_bought = (
        'name: "citric acid", role: acid, active: "citric acid", strength: "99 % w/w", density: "0.9 g/mL"'
    )
    with pytest.raises(DataProblems) as refused:
        made_site(made_house(tmp_path / "powder", (POWDER, as_bought), name="fourth"))
    assert (
        'chemicals[down].strength: "99 % w/w" of citric acid is a powder, and pages pour in mL. A solution: at most 64 % w/w '
        "dissolves in water of 25 degC. Dissolve it once, powder into water, and write strength and density of that stock. [E05]"
    ) in str(refused.value)
    dissolved = (
        'name: "citric acid", role: acid, active: "citric acid", strength: "40 % w/w", density: "1.18 g/mL"'
    )
    views = made_site(made_house(tmp_path / "stock", (POWDER, dissolved), name="fourth")).views
    named = {
        stock for view in views if view.document == "SOP-08" for step in view.steps for stock in step.stocks
    }
    assert "citric acid, 40 % w/w" in named

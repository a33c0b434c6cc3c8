"""Chemicals, tasks and pages: each page names the chemicals of the house, each step the stock, dose and cautions of its task."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from functools import cache
from pathlib import Path

import pytest

from macros.ground.problems import DataProblems
from macros.ground.units import convert
from macros.manual.pages.printed_lines import printed_lines
from macros.page_model.page import PageView
from macros.published.safety.substances import group_of, substances, substances_of
from macros.site.site import Site
from tests.making import HOUSES, made_house, made_site, manual_of

BLEACH = (
    '  - {id: bleach, name: "plain bleach", role: sanitizer, active: "sodium hypochlorite", strength: "6 % w/w", density: "1.08 g/mL",\n'
    '     container: "1 L", containers_in_stock: 2, opened: 2031-05-09, expires: 2032-01-01, ppe: [goggles, gloves_chem, apron], never_with: [acids, oxidisers, nutrients]}\n'
)  # fmt: skip
PEROXIDE = '  - {id: perox, name: "peroxide, food-contact grade"'
ACID = '  - {id: down, name: "pH-down, nitric acid"'
NAMES = {"perox": "peroxide, food-contact grade, 10 % w/w", "bleach": "plain bleach, 6 % w/w"}
WARNS = {"perox": "CHEM-PEROXIDE-CONC", "bleach": "CHEM-CHLORINE-SOLUTION"}


ORDERS = {"bleach first": PEROXIDE, "peroxide first": ACID}
CONCENTRATE = {
    "perox": "CHEM-PEROXIDE-CONC",
    "bleach": "CHEM-CHLORINE-SOLUTION",
    "down": "CHEM-ACID-CONC",
    "up": "CHEM-BASE-CONC",
}
"""The caution of each chemical of these houses as it is bought."""
TOGETHER = {
    ("bleach", "down"): "CHEM-CHLORINE-ACID",  # chlorine gas: CDC guidance on chlorine solutions
    ("bleach", "perox"): "CHEM-PEROXIDE-BLEACH",  # oxygen and heat: NIOSH guideline on hydrogen peroxide
    ("down", "perox"): "CHEM-PEROXIDE-ACID",  # both oxidise and decay: safety data sheets, from memory
}
OTHER_NAMES = {"sodium_hypochlorite": ["chlorine", "chloramine"]}
"""What else speaks of a substance on a page."""


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Site]:
    """A house that cleans with peroxide and keeps bleach for nothing, in either order, or one that has bleach alone."""

    @cache
    def manual(kind: str) -> Site:
        if kind not in ORDERS:
            return manual_of("fifth")
        before = ORDERS[kind]
        return made_site(made_house(tmp_path_factory.mktemp("two"), (before, BLEACH + before), name="fourth"))

    return manual


@pytest.fixture(params=[*ORDERS, "bleach only"])
def site(request: pytest.FixtureRequest, made: Callable[[str], Site]) -> Site:
    """Each of the three houses."""
    return made(request.param)


@pytest.fixture(params=[*ORDERS])
def views(request: pytest.FixtureRequest, made: Callable[[str], Site]) -> list[PageView]:
    """The pages of each house with two sanitizers."""
    return made(request.param).views


def in_hand(site: Site, stocks: Iterable[str]) -> set[str]:
    """Ids of the chemicals a step names, each by its own name with the strength on its label."""
    own = {f"{one.name}, {one.strength.written}": one.id for one in site.register.house.chemicals}
    return {own[stock] for stock in stocks if stock in own}


def foreign_names(site: Site) -> set[str]:
    """How sanitizers, acids and bases are written that the house does not keep."""
    house, listed = site.register.house, substances()
    kept = {one for chemical in house.chemicals for one in substances_of(chemical.active)}
    kinds = {one for group in ("acids", "bases", "hypochlorite", "peroxide") for one in group_of(group)}
    names = {name for one in kinds - kept for name in [*listed[one].written, *OTHER_NAMES.get(one, [])]}
    own = " ".join(f"{one.name} {one.active}".lower() for one in house.chemicals)
    return {name for name in names if name not in own} - {"ph down", "ph up"}


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


def test_no_page_names_a_chemical_the_house_does_not_keep(site: Site) -> None:
    """Only what its own bleach must never meet may be named: vinegar and descaler are acids of any kitchen."""
    foreign, looked = foreign_names(site), 0
    assert {"citric acid", "sulfuric acid", "vinegar"} <= foreign
    never = {word for one in site.register.house.chemicals for word in one.never_with}
    for view in site.views:
        for line in printed_lines(view):
            text = line.text.lower().replace("-", " ")
            found = {name for name in foreign if re.search(rf"\b{re.escape(name)}\b", text)}
            looked += 1
            if line.kind == "figure":
                found -= never
            if "CHEM-CHLORINE-ACID" in line.place:
                found -= {"vinegar", "descaler"}
            assert found == set() or line.kind == "source", f"{view.key} {line.place}: {line.text}"
    assert looked > 5000


def test_each_dose_of_a_task_is_its_amount_and_makes_its_strength(site: Site) -> None:
    """Sum by hand: mL of stock x % w/w x g/mL over mL of batch is % w/v, no weaker than the target, never over the ceiling."""
    register, seen = site.register, 0
    sanitizing = register.house.sanitizing
    assert sanitizing is not None
    for view in site.views:
        for step in view.steps:
            for amount in (one for one in step.amounts if one.amount_id == "stock_for_batch"):
                keys = dict(step.timing.keys) if step.timing is not None else {}
                task = keys.get("task", "loop_circulate")
                chemical = register.house.chemical(sanitizing.tasks[task].chemical)
                stock = register.get("stock_for_batch", system=view.system, task=task)
                water = register.get("water_for_batch", system=view.system, task=task)
                assert amount.printed == stock.printed
                assert in_hand(site, step.stocks) == {chemical.id}, f"{view.key} step {step.number}"
                poured = convert(stock.rounded, stock.unit, "mL")
                whole = poured + convert(water.rounded, water.unit, "mL")
                assert chemical.density is not None
                made = poured * chemical.strength.percent * chemical.density.to("g/mL") / whole
                target, ceiling = sanitizing.tasks[task].target.percent, sanitizing.tasks[task].ceiling
                assert target * 0.98 <= made <= ceiling.percent, f"{view.key} {task}: {made}"
                seen += 1
    assert seen == 4 * len(register.house.systems)


def test_each_stock_in_hand_has_its_own_caution(site: Site) -> None:
    seen = 0
    for view in site.views:
        for step in view.steps:
            for chemical in in_hand(site, step.stocks):
                assert CONCENTRATE[chemical] in ids_until(view, step.number), f"{view.key} step {step.number}"
                seen += 1
    assert seen > 20


def test_no_caution_of_a_stock_stands_where_it_is_not_in_hand(site: Site) -> None:
    for view in site.views:
        held = in_hand(site, (stock for step in view.steps for stock in step.stocks))
        told = {chemical for chemical, id_ in CONCENTRATE.items() if id_ in ids_until(view, len(view.steps))}
        assert told <= held, view.key


def test_what_must_never_meet_is_told_of_the_stocks_of_a_page(site: Site) -> None:
    seen = 0
    for view in site.views:
        held = in_hand(site, (stock for step in view.steps for stock in step.stocks))
        told = ids_until(view, len(view.steps))
        for pair, caution in TOGETHER.items():
            assert (caution in told) is (set(pair) <= held), f"{view.key}: {caution}"
            seen += set(pair) <= held
    assert seen >= 3


def test_a_house_without_bleach_has_no_word_of_it() -> None:
    """But in the words a page is found by: whoever is splashed calls any bottle so, and the first aid is the same."""
    found_by = ("tags: ", '<p class="sop-also">')
    lines = [
        (key, line)
        for key, text in manual_of("fourth").pages.items()
        for line in text.lower().splitlines()
        if key.startswith("p/") and not line.startswith(found_by)
    ]
    assert len(lines) > 1000
    assert [(key, line) for key, line in lines if "bleach " in line] == []


def text_of(site: Site, document: str) -> str:
    """What the pages of a procedure print, in all."""
    lines = [line.text for view in site.views if view.document == document for line in printed_lines(view)]
    assert lines
    return "\n".join(lines)


@pytest.mark.parametrize(("house", "acid"), [("fourth", "nitric acid"), ("second", "sulfuric acid")])
def test_after_an_acid_that_holds_no_ph_it_is_read_again(house: str, acid: str) -> None:
    """7.8 to 8.0 after nitric or sulfuric acid, about 6.8 after phosphoric: open titration, a calculation of its own."""
    told = text_of(manual_of(house), "SOP-08")
    assert f"it asks for pH again tomorrow: after {acid} plain water climbs back to pH 7.8 to 8.0" in told
    assert "phosphoric acid plain" not in told


def test_phosphoric_acid_holds_ph_lower_and_a_house_without_acid_is_told_nothing(tmp_path: Path) -> None:
    as_bought = (
        'name: "pH-down", role: acid, active: "phosphoric acid", strength: "10 % w/w", density: "1.053 g/mL"'
    )
    phosphoric = made_site(made_house(tmp_path / "phosphoric", (POWDER, as_bought), name="fourth"))
    sentence = "after phosphoric acid plain water climbs back to about pH 6.8"
    assert f"it asks for pH again tomorrow: {sentence}" in text_of(phosphoric, "SOP-08")
    assert "Left overnight, plain water with phosphoric acid climbs back to about pH 6.8." in text_of(
        phosphoric, "SOP-11"
    )
    line = next(one for one in acid_lines() if POWDER in one)
    none = made_site(made_house(tmp_path / "none", (line, ""), name="fourth"))
    assert "climbs back to" not in text_of(none, "SOP-08") + text_of(none, "SOP-11")


def acid_lines() -> list[str]:
    """Entries of the house's chemicals as they are written, two lines each."""
    text = (HOUSES / "fourth" / "site_data" / "house.yml").read_text(encoding="utf-8")
    return re.findall(r"  - \{id: \w+, name: .*\n     container: .*\n", text)


@pytest.mark.parametrize(
    ("house", "limits"),
    [
        ("fourth", ["hydrogen peroxide: 12 % w/w", "nitric acid: 3 % w/w"]),
        ("second", ["sulfuric acid: 15 % w/w"]),
        ("fifth", ["nitric acid: 3 % w/w"]),
    ],
)
def test_limits_for_private_buyers_are_those_of_the_stocks_kept(house: str, limits: list[str]) -> None:
    """Regulation (EU) 2019/1148, Annex I."""
    told = text_of(manual_of(house), "SOP-02")
    assert re.findall(r"EU limit for private buyers of (.*? w/w)", told) == limits


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
        "dissolves in water of 25 degC (77 degF). Dissolve it once, powder into water, and write what you then keep: 100 g of it pure made "
        "up to 1 L is 10 % w/v, which needs no density. [E05]"
    ) in str(refused.value)
    dissolved = (
        'name: "citric acid", role: acid, active: "citric acid", strength: "40 % w/w", density: "1.18 g/mL"'
    )
    views = made_site(made_house(tmp_path / "stock", (POWDER, dissolved), name="fourth")).views
    named = {
        stock for view in views if view.document == "SOP-08" for step in view.steps for stock in step.stocks
    }
    assert "citric acid, 40 % w/w" in named

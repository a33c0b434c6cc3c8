"""The naming test: every look-alike pair is in it, the same draw on every run, nothing of its order on the site."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import timedelta
from itertools import combinations

import pytest

from macros.amounts import Register
from macros.house.records.crops import Variety
from macros.site.site import Site
from macros.training.path.naming_test import PLANTS, NamingTest, naming_page, naming_tests, plants_of
from macros.training.path.paper import naming_parts


def with_varieties(register: Register, kinds: Sequence[tuple[str, str | None]]) -> Register:
    """The house with as many varieties as there are (name, group)."""
    model = register.house.varieties[0]
    varieties = tuple(
        model.model_copy(update={"id": name, "look_alike_group": group, "leaf_look": f"leaf_of_{name}"})
        for name, group in kinds
    )
    return replace(register, house=register.house.model_copy(update={"varieties": varieties}))


def named_pairs(varieties: Sequence[Variety]) -> set[frozenset[str]]:
    return {
        frozenset((a.id, b.id))
        for a, b in combinations(varieties, 2)
        if a.look_alike_group and a.look_alike_group != "none" and a.look_alike_group == b.look_alike_group
    }


def pairs_in(tests: Sequence[NamingTest]) -> set[frozenset[str]]:
    return {frozenset((a.name, b.name)) for test in tests for a, b in combinations(test.order, 2)}


MADE = {
    "two pairs among many": [
        *[(f"v{n}", "one" if n in (3, 17) else "two" if n in (5, 19) else "none") for n in range(20)]
    ],
    "one large group": [(f"v{n}", "one") for n in range(15)],
    "seven pairs": [(f"v{n}", f"g{n % 7}") for n in range(14)],
    "two of a kind": [("v1", "one"), ("v2", "one")],
    "no look-alikes": [("v1", None), ("v2", "none"), ("v3", "none")],
}


@pytest.mark.parametrize("kinds", MADE.values(), ids=list(MADE))
def test_every_look_alike_pair_is_in_it(
    sites: Mapping[str, Site], kinds: list[tuple[str, str | None]]
) -> None:
    register = with_varieties(sites["fourth"].register, kinds)
    tests = naming_tests(register)
    wanted = named_pairs(register.house.varieties)
    assert wanted <= pairs_in(tests)
    assert bool(wanted) == any(group not in (None, "none") for _, group in kinds)
    assert all(len(test.order) == PLANTS for test in tests)
    assert [(test.number, test.of) for test in tests] == [(n + 1, len(tests)) for n in range(len(tests))]


@pytest.mark.parametrize("name", ["fourth", "fifth"])
def test_the_houses_pairs_are_in_it(sites: Mapping[str, Site], name: str) -> None:
    (test,) = naming_tests(sites[name].register)
    names = [plant.name for plant in test.order]
    assert {"rocket", "lettuce", "viola"} == set(names)
    assert {names.count(one) for one in set(names)} == {4}  # 12 plants of 3 varieties
    assert test.told == ("3 varieties for 12 plants: some stand there more than once.",)


def test_what_is_left_out_or_divided_is_told(sites: Mapping[str, Site]) -> None:
    register = sites["fourth"].register
    (one,) = naming_tests(with_varieties(register, MADE["two pairs among many"]))
    assert one.told == ("8 varieties without a look-alike here are left out today.",)
    first = naming_tests(with_varieties(register, MADE["one large group"]))[0]
    assert first.told[0].startswith("The look-alikes do not fit into one test: this is test 1 of ")
    (none,) = naming_tests(with_varieties(register, MADE["no look-alikes"]))
    assert "The house names no look-alikes." in none.told


def test_the_draw_is_the_same_today_and_another_tomorrow(sites: Mapping[str, Site]) -> None:
    register = with_varieties(sites["fourth"].register, MADE["seven pairs"])
    later = replace(register, built_for=register.built_for + timedelta(days=1))
    assert naming_tests(register) == naming_tests(register)
    assert naming_tests(register)[0].order != naming_tests(later)[0].order
    assert naming_tests(register)[0].code != naming_tests(later)[0].code


def test_a_house_of_fewer_than_two_varieties_has_no_test(sites: Mapping[str, Site]) -> None:
    second = sites["second"]
    assert naming_parts(second.register, second.views) == []
    assert "This house lists no varieties" in second.pages["training/naming.md"]
    assert naming_tests(with_varieties(sites["fourth"].register, [("v1", "one")])) == ()


def test_the_page_tells_the_pairs_apart_and_not_the_order(sites: Mapping[str, Site]) -> None:
    register = with_varieties(sites["fourth"].register, MADE["two pairs among many"])
    page = naming_page(register)
    pairs, plants, pictures = page.tables
    assert pictures.photos == ()
    assert [row[0] for row in pairs.rows] == ["v3 and v17", "v5 and v19"]
    assert pairs.rows[0][2] == "v3: leaf of v3; v17: leaf of v17"
    assert [row[0] for row in plants.rows] == [f"v{n}" for n in range(20)]  # the order of the file
    fourth = sites["fourth"]
    (test,) = naming_tests(fourth.register)
    published = {**fourth.pages, **fourth.files}
    assert [address for address, text in published.items() if f"test {test.code}" in text] == []
    page_text = fourth.pages["training/naming.md"]
    assert "does not say what tells rocket, lettuce apart: write leaf_look" in page_text.replace(
        "&nbsp;", " "
    )


def test_helper_and_trainer_sheets_carry_one_code_and_one_key(sites: Mapping[str, Site]) -> None:
    fourth = sites["fourth"]
    parts = naming_parts(fourth.register, fourth.views)
    assert [part.key for part in parts] == [
        "NAMING-cards-1-front", "NAMING-cards-1-back", "NAMING-trainer", "NAMING-helper",
    ]  # fmt: skip
    (test,) = naming_tests(fourth.register)
    trainer, helper = (str(part.html) for part in parts[2:])
    assert f"test {test.code}" in trainer
    assert f"test {test.code}" in helper
    assert trainer.count("<b>lettuce</b>") == 4 + 1  # and once on its back
    assert not any(word in helper for word in ("lettuce", "rocket", "viola", "Lactuca"))


def test_backs_mirror_the_fronts_and_only_they_name_the_plant(sites: Mapping[str, Site]) -> None:
    """Turned over its long edge, left stands behind right: a row 1 2 has the backs 2 1."""
    fourth = sites["fourth"]
    kinds = [(f"kind{n}", "one") for n in range(1, 10)]
    register = with_varieties(fourth.register, kinds)
    cards = [p for p in naming_parts(register, fourth.views) if "cards" in p.key]
    assert [part.key[-7:] for part in cards] == ["1-front", "-1-back", "2-front", "-2-back"]
    order = [
        [int(piece.split('"')[0]) for piece in str(part.html).split('data-number="')[1:]] for part in cards
    ]
    assert order == [[1, 2, 3, 4, 5, 6], [2, 1, 4, 3, 6, 5], [7, 8, 9], [8, 7, 9]]
    last = str(cards[3].html)
    assert last.rindex('class="plant none"') < last.index(
        'data-number="9"'
    )  # the empty place is mirrored too
    assert "kind" not in str(cards[0].html)
    assert "Not <b>kind2</b>: its leaf is leaf of kind2" in str(cards[1].html)
    assert "and 5 more: see the page Naming plants" in str(cards[1].html)


def test_hostile_names_stay_text(sites: Mapping[str, Site]) -> None:
    fourth = sites["fourth"]
    house = fourth.register.house
    update = {"botanical": "<img src=x> {{ 7 }}", "part": "<i>leaf</i>", "leaf_look": "<u>round</u>"}
    varieties = tuple(v.model_copy(update=update) for v in house.varieties)
    register = replace(fourth.register, house=house.model_copy(update={"varieties": varieties}))
    assert plants_of(register.house)[0].botanical == "<img src=x> {{ 7 }}"
    html = "".join(str(part.html) for part in naming_parts(register, fourth.views))
    assert "&lt;img src=x&gt;" in html
    assert "&lt;u&gt;round" in html
    assert not any(mark in html for mark in ("<img", "<i>", "<u>", "{{"))

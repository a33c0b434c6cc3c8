"""The words that decide cautions: misspelt, removed or exchanged they never leave fewer or weaker ones in silence."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

import pytest

from macros.house import House, load_house
from macros.house.records.chemicals import Chemical
from macros.house.rules.substance_names import check_substances
from macros.manual.cautions.cautions_of_page import page_cautions
from macros.manual.cautions.step_facts import StepFacts
from macros.manual.house_facts.chemicals_in_hand import stock_handling
from macros.published.safety.bands import label_word_of
from macros.published.safety.signal_words import worst_first
from macros.published.safety.substances import names_of_role, written_names
from tests.making import HOUSES

ROLES = {
    "sanitizer": ("hydrogen peroxide", "sodium hypochlorite", "peracetic acid", "quaternary ammonium"),
    "acid": ("phosphoric acid", "nitric acid", "citric acid"),
    "base": ("potassium hydroxide", "potassium carbonate"),
}
STRENGTHS = ("1 % w/v", "12 % w/v")


@cache
def house() -> House:
    found, _ = load_house(HOUSES / "fifth")
    assert found is not None
    return found


def bottle(role: str, active: str, strength: str, name: str = "bottle") -> Chemical:
    """One stock of that role, put together in memory."""
    source = next(one for one in house().chemicals if one.role == role)
    given = type(source.strength)(float(strength.split()[0]), "w/v", strength)
    return source.model_copy(update={"active": active, "name": name, "strength": given, "density": None})


def shown(chemical: Chemical) -> tuple[set[str], int, bool]:
    """Cautions when it is poured beside pH-down; the rank of the worst word, 0 the worst; whether it burns by its label."""
    item = stock_handling(chemical)
    if item is None:
        return set(), 9, False
    acid = stock_handling(next(one for one in house().chemicals if one.role == "acid"))
    assert acid is not None
    page = page_cautions([StepFacts("a", "pour", handlings=(item,))], elsewhere=[acid])
    words = [one.word for one in page.summary]
    rank = min((worst_first(word) for word in words), default=9)
    return {one.id for one in page.summary}, rank, label_word_of(item) == "Danger"


def told(chemical: Chemical) -> list[str]:
    """What the rules say of this bottle."""
    others = tuple(one for one in house().chemicals if one.role != chemical.role)
    with_it = house().model_copy(update={"chemicals": (chemical, *others), "sanitizing": None})
    return [str(one) for one in check_substances(with_it)]


def slips(word: str) -> Iterator[str]:
    """One letter left out, doubled or changed at each place; the last word alone; another language; nothing said."""
    for place in range(len(word)):
        yield word[:place] + word[place + 1 :]
        yield word[:place] + word[place] + word[place:]
        yield word[:place] + "y" + word[place + 1 :]
    yield word.split()[0]
    yield from ("Wasserstoffperoxid", "eau de javel", "see label", "unknown", "-")


def weaker(chemical: Chemical, before: tuple[set[str], int, bool]) -> bool:
    """Whether cautions are gone or weaker: of another id, none worse than before, or no longer burning."""
    ids, rank, burns = shown(chemical)
    same = before[0] <= ids
    return not same and (not ids or rank > before[1] or (before[2] and not burns))


@pytest.mark.parametrize("role", ROLES)
def test_a_slip_of_the_word_is_told_or_weakens_nothing(role: str) -> None:
    tried = silent = 0
    for active in ROLES[role]:
        for strength in STRENGTHS:
            before = shown(bottle(role, active, strength))
            for slip in slips(active):
                chemical = bottle(role, slip, strength)
                tried += 1
                if told(chemical):
                    continue
                silent += 1
                assert not weaker(chemical, before), (active, slip, strength)

    assert tried - silent > 150, "the words of slips are read as known ones"


@pytest.mark.parametrize("role", ROLES)
def test_words_of_another_bottle_are_told(role: str) -> None:
    """The active of another role is refused; that of another substance of the role is told by the bottle's name."""
    for own in ROLES[role]:
        for other_role, words in ROLES.items():
            for word in words:
                found = told(bottle(role, word, "12 % w/v", name=own))
                if word == own:
                    assert found == []
                elif other_role == role:
                    said = any(f'it is called "{own}", and its active is {word}' in one for one in found)
                    before = shown(bottle(role, own, "12 % w/v"))
                    assert said or not weaker(bottle(role, word, "12 % w/v"), before), (own, word)
                else:
                    assert any(f"{word} is no {role}" in one for one in found), (role, word)


def test_the_messages() -> None:
    (near,) = told(bottle("sanitizer", "hydrogen peroxyde", "10 % w/v"))
    assert '"hydrogen peroxyde" is no substance of the list, so its cautions are not known.' in near
    assert "Did you mean hydrogen peroxide?" in near
    assert "or active: unknown, which gets the strictest cautions" in near
    (unknown,) = told(bottle("acid", "unknown", "10 % w/v"))
    assert "what down holds is not known; it gets the cautions of the worst acid" in unknown
    assert told(bottle("sanitizer", "chlorine", "10 % w/v")) == []


@pytest.mark.parametrize("role", [*ROLES, "cleaner"])
def test_what_is_not_known_gets_the_worst_of_its_role(role: str) -> None:
    source = bottle("sanitizer" if role == "cleaner" else role, "unknown", "1 % w/v")
    chemical = source.model_copy(update={"role": role})
    ids, rank, burns = shown(chemical)
    assert ids
    assert burns or stock_handling(chemical).sds_codes is None  # type: ignore[union-attr]
    for strength in STRENGTHS:
        for active in ROLES.get(role, ()):
            assert rank <= shown(bottle(role, active, strength))[1], active


def test_every_known_name_is_taken_as_it_is() -> None:
    for name in written_names():
        assert any(
            not told(bottle("sanitizer", name, "5 % w/v").model_copy(update={"role": role}))
            for role in (*ROLES, "cleaner")
        ), name
    assert all(names_of_role(role) for role in ROLES)

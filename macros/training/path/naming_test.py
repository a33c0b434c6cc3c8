"""The naming test: 12 young plants, every look-alike pair of the house among them; and the cards to learn from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from hashlib import sha256

from macros.amounts import Register
from macros.house import House
from macros.house.records.crops import Variety
from macros.manual.house_facts.fact_text import fact_text
from macros.manual.house_facts.variety_facts import variety_marks
from macros.manual.pages.photographs import named_view
from macros.page_model.page import LinkView
from macros.page_model.photo import PhotoView
from macros.page_model.table import Table, TablePage
from macros.paper.cards.people_and_plants import look_alikes
from macros.photographs import NO_PHOTOGRAPHS, Photographs
from macros.photographs.photographs import PARTS_OF_A_VARIETY

PLANTS = 12
"""Plants of a test, all of which have to be named right."""

ADDRESS = "training/naming.html"
NOT_GIVEN = "not given"
PARTS_ON_A_CARD = ("leaf", "flower")


@dataclass(frozen=True)
class Plant:
    """A variety as it is told apart: its card number, names, the part eaten, leaf, and each look-alike's leaf.

    `letters` are those of its mark on maps and labels. `leaf` is empty where the house says nothing of it. `alike` holds
    (name, leaf) of each look-alike; `photos` are those of its leaf and its flower.
    """

    number: int
    name: str
    letters: str
    botanical: str
    eaten: str
    leaf: str
    alike: tuple[tuple[str, str], ...]
    photos: tuple[PhotoView, ...] = ()


@dataclass(frozen=True)
class NamingTest:
    """One test: its number, its code, the plants in order, and what is to be told of the draw."""

    number: int
    of: int
    code: str
    order: tuple[Plant, ...]
    told: tuple[str, ...]


def plants_of(house: House, photographs: Photographs = NO_PHOTOGRAPHS) -> tuple[Plant, ...]:
    """Every variety of the house in the order of the file, numbered."""
    alike: dict[str, list[Variety]] = {}
    for one, other in look_alikes(house):
        alike.setdefault(one.id, []).append(other)
        alike.setdefault(other.id, []).append(one)
    marks = variety_marks(house)
    return tuple(
        Plant(
            number,
            _name(variety),
            marks[variety.id].letters,
            str(variety.botanical),
            str(variety.part).replace("_", " "),
            _leaf(variety),
            tuple((_name(other), _leaf(other)) for other in alike.get(variety.id, ())),
            _photos(variety, PARTS_ON_A_CARD, photographs),
        )
        for number, variety in enumerate(house.varieties, start=1)
    )


def naming_tests(register: Register) -> tuple[NamingTest, ...]:
    """The tests of a house: one, or several where one cannot hold every look-alike pair. None below two varieties.

    The draw follows from the house and the day it is built for, so two prints of one day agree, and another day has
    another order.
    """
    house = register.house
    plants = plants_of(house)
    if len(plants) < 2:
        return ()
    rounds = _rounds(house, plants)
    tests = []
    for number, held in enumerate(rounds, start=1):
        seed = f"{house.house.name}\0{register.built_for}\0{number}\0{','.join(p.name for p in plants)}"
        order, told = _drawn(held, plants, seed)
        if len(rounds) > 1:
            told = (
                f"The look-alikes do not fit into one test: this is test {number} of {len(rounds)}.",
                *told,
            )
        code = sha256(seed.encode()).hexdigest()[:4]
        tests.append(NamingTest(number, len(rounds), code, order, told))
    return tuple(tests)


def _rounds(house: House, plants: Sequence[Plant]) -> list[list[Plant]]:
    """Sets of at most 12 plants that hold every look-alike pair between them."""
    by_name = {plant.name: plant for plant in plants}
    left = [(by_name[_name(a)], by_name[_name(b)]) for a, b in look_alikes(house)]
    rounds: list[list[Plant]] = []
    while left:
        held: list[Plant] = []
        rest = []
        for pair in left:
            new = [plant for plant in pair if plant not in held]
            if len(held) + len(new) <= PLANTS:
                held += new
            else:
                rest.append(pair)
        rounds.append(held)
        left = rest
    return rounds or [[]]


def _drawn(
    held: Sequence[Plant], plants: Sequence[Plant], seed: str
) -> tuple[tuple[Plant, ...], tuple[str, ...]]:
    """Twelve plants in a drawn order: those held, then others, then the same again; and what is told of it."""

    def draw(name: str) -> str:
        return sha256(f"{seed}\0{name}".encode()).hexdigest()

    others = sorted((p for p in plants if p not in held), key=lambda p: draw(p.name))
    once = [*held, *others][:PLANTS]
    again = [once[n % len(once)] for n in range(PLANTS)]
    told = []
    if len(once) < PLANTS:
        told.append(f"{len(once)} varieties for {PLANTS} plants: some stand there more than once.")
    if not held:
        told.append("The house names no look-alikes.")
    left_out = len(plants) - len(once)
    if left_out:
        told.append(f"{left_out} varieties without a look-alike here are left out today.")
    numbered = sorted(range(PLANTS), key=lambda n: draw(f"{n} {again[n].name}"))
    return tuple(again[n] for n in numbered), tuple(told)


def naming_page(register: Register, photographs: Photographs = NO_PHOTOGRAPHS) -> TablePage:
    """What the helper learns from: the pairs and how to tell them apart, never the order of a test."""
    house = register.house
    plants = plants_of(house)
    if not plants:
        return TablePage("Naming plants", "This house lists no varieties, so there is nothing to name.", ())
    shown = {plant.name: plant for plant in plants}
    pairs = tuple(
        (
            f"{_name(a)} and {_name(b)}",
            fact_text(a.look_alike_group, house.us),
            f"{_name(a)}: {shown[_name(a)].leaf or NOT_GIVEN}; {_name(b)}: {shown[_name(b)].leaf or NOT_GIVEN}",
            f"{_name(a)}: {shown[_name(a)].eaten}; {_name(b)}: {shown[_name(b)].eaten}",
        )
        for a, b in look_alikes(house)
    )
    return TablePage(
        "Naming plants",
        f"The test: {PLANTS} young plants with numbers, you write the name of each, and all {PLANTS} have to be right. "
        "Learn the pairs first, then ask the trainer for the cards. When in doubt about a plant, do not harvest it: ask.",
        (
            Table(
                "Look-alikes",
                ("Pair", "Both", "Leaf", "Eaten"),
                pairs,
                "" if not pairs else _pair_note(plants),
            ),
            Table(
                "All plants",
                ("Plant", "Botanical name", "Leaf", "Eaten"),
                tuple((p.name, p.botanical, p.leaf or NOT_GIVEN, p.eaten) for p in plants),
            ),
            Table(
                "How they look, and where they are cut",
                (),
                (),
                photos=tuple(
                    one
                    for variety in house.varieties
                    for one in _photos(variety, PARTS_OF_A_VARIETY, photographs)
                ),
            ),
        ),
        see=(LinkView("Roster: who is signed off for which page", "training/roster.html"),),
    )


def _pair_note(plants: Sequence[Plant]) -> str:
    missing = [plant.name for plant in plants if plant.alike and not plant.leaf]
    if not missing:
        return "Look at the leaf in your hand against these words before you name it."
    return f"The house does not say what tells {', '.join(missing)} apart: write leaf_look in the house file."


def _photos(variety: Variety, parts: Sequence[str], photographs: Photographs) -> tuple[PhotoView, ...]:
    """The photographs of these parts of a variety that there are, each with what it shows."""
    found = ((part, photographs.of("varieties", variety.id.lower(), part)) for part in parts)
    return tuple(named_view(one, f"{_name(variety)}, {part}") for part, one in found if one is not None)


def _name(variety: Variety) -> str:
    return variety.id.replace("_", " ")


def _leaf(variety: Variety) -> str:
    return variety.leaf_look.replace("_", " ") if variety.leaf_look else ""

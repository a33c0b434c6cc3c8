"""The wall cards of a house: which there are, which are refused, and which it lacks the data for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from macros.amounts import Register
from macros.ground.problems import Problem, errors_in
from macros.house import House
from macros.house.rules.report import problem_at
from macros.manual.house_facts.emergency import NOT_GIVEN
from macros.manual.house_facts.fact_text import fact_of
from macros.manual.pages.printed_lines import card_lines
from macros.manual.pages.values_code import control_block, public_address
from macros.page_model.card import Block, CardContent, CardSource, CardView, NoCard, Sentences
from macros.page_model.page import PageView
from macros.paper.cards import figures as card_figures
from macros.paper.cards import people_and_plants as card_people
from macros.published.paper.cards import CardKind, card_words

_NUMBERS = ("poison_line", "owner_phone", "ambulance_fire")
_PLACES = ("breaker_panel", "water_shutoff", "eyewash", "spill_kit", "street_address", "gas_shutoff")

_FIGURES = {
    "dilution": card_figures.dilution,
    "level": card_figures.level,
    "feed": card_figures.feed,
    "ph": card_figures.ph,
    "flood": card_figures.flood,
    "lifting": card_figures.lifting,
}
CARD_KINDS = ("emergency", "plants", "round", "signoff", *_FIGURES)


@dataclass(frozen=True)
class WallCards:
    """The cards in their order, those this house has not, and what stands against the emergency card."""

    cards: tuple[CardView, ...]
    without: tuple[NoCard, ...]
    problems: tuple[Problem, ...]


def wall_cards(register: Register, views: Sequence[PageView]) -> WallCards:
    """Every wall card of the house, worked out.

    A house whose emergency numbers are not real has no emergency card: that is an error among the problems, the
    other cards are there. A place that the house does not give is a warning; the card says so in its line.
    """
    problems = emergency_problems(register.house)
    cards: list[CardView] = []
    without: list[NoCard] = []
    for kind, entry in card_words().cards.items():
        refused = kind == "emergency" and bool(errors_in(problems))
        for system in [one.id for one in register.house.systems] if entry.each == "system" else [""]:
            why = "its numbers are not real yet" if refused else _lacks(register, views, entry, system)
            found = [] if why else _blocks(kind, register, views, system)
            if not found:
                why = why or f"nothing for it stands on system {system}"
                without.append(NoCard(kind, entry.title, system, why))
            for number, blocks in enumerate(found, start=1):
                part = f"{number} of {len(found)}" if len(found) > 1 else ""
                cards.append(_card(kind, entry, register, views, system, part, blocks))
    return WallCards(tuple(cards), tuple(without), tuple(problems))


def emergency_problems(house: House) -> list[Problem]:
    """What keeps the emergency card from being true: a number nobody can ring, a place nobody wrote down."""
    emergency, places = house.house.emergency, house.house.places
    rung = "A card on the wall holds numbers that somebody has rung"
    no_time = "In an emergency nobody has time to ask"
    problems = []
    for name in _NUMBERS:
        written = str(getattr(emergency, name))
        if name in emergency.unfilled() or not any(c.isdigit() for c in written):
            what = f'{name} reads "{written}", so the emergency wall card is refused'
            remedy = "Write the number, ring it once, and print again"
            problems.append(problem_at(emergency, name, what, rung, remedy))
    for name in places.unfilled():
        what = f'{name} reads "{getattr(places, name)}", so the emergency wall card is refused'
        problems.append(
            problem_at(places, name, what, no_time, f"Write house.places.{name}, and print again")
        )
    for name in _PLACES:
        if getattr(places, name) is None:
            what = f'{name} is not given; the emergency wall card reads "{NOT_GIVEN}" there'
            remedy = f"Write house.places.{name}"
            problems.append(problem_at(places, name, what, no_time, remedy, severity="warning"))
    return problems


def _lacks(register: Register, views: Sequence[PageView], entry: CardKind, system: str) -> str:
    """Why the house has no such card, in the words of the published list; "" where it has what is needed."""
    for need in entry.needs:
        if need.fact:
            there = bool(fact_of(register.house, need.fact))
        else:
            there = bool(register.of_id(need.amount, **({"system": system} if system else {})))
        if not there:
            return need.without
    if _pages(views, entry, system):
        return ""
    return f"the house has none of the pages its figures come from ({', '.join(entry.pages)})"


def _pages(views: Sequence[PageView], entry: CardKind, system: str) -> list[PageView]:
    """The pages the figures come from: those of the system, of the room, or for a room's card each system's."""
    return [
        view
        for document in entry.pages
        for view in views
        if view.document == document and (not system or view.system in ("", system))
    ]


def _blocks(kind: str, register: Register, views: Sequence[PageView], system: str) -> list[tuple[Block, ...]]:
    """The blocks of each card of a kind; several where one card does not hold them."""
    house = register.house
    if kind == "emergency":
        return card_people.emergency(house)
    if kind == "plants":
        return card_people.plants(house, system)
    if kind == "round":
        page = next(view for view in views if view.document == "SOP-16")
        return card_people.daily_round(page, [s.id for s in house.systems])
    if kind == "signoff":
        return card_people.sign_off(house, views)
    return _FIGURES[kind](register, system)


def _card(
    kind: str,
    entry: CardKind,
    register: Register,
    views: Sequence[PageView],
    system: str,
    part: str,
    blocks: tuple[Block, ...],
) -> CardView:
    """The card under its own control: its code is that of what it says, whichever revision its pages have."""
    house = register.house
    title = entry.title
    if kind == "feed":
        title = f"{title}, {house.system(system).fill_stage.replace('_', ' ')}"
    if entry.rules:
        blocks = (*blocks, Sentences("", entry.rules))
    pieces = [f"CARD-{entry.number}", system, part.split(" ")[0]]
    key = "-".join(piece for piece in pieces if piece)
    address = f"sheets/{key.lower()}.html"
    pages = _pages(views, entry, system)
    card = CardContent(
        key=key,
        kind=kind,
        number=entry.number,
        title=title,
        system=system,
        system_name=house.system(system).name if system else "",
        house_name=house.house.name,
        lead=entry.lead,
        part=part,
        blocks=blocks,
        sources=tuple(CardSource(p.key, p.control.revision, p.control.values_code) for p in pages),
        built_for=register.built_for.isoformat(),
        address=address,
        public_address=public_address(house, address),
    )
    return CardView(**vars(card), control=control_block(house, key, key, card_lines(card)))

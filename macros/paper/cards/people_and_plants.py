"""The cards of people, plants and the round: emergency, plant pictures, daily round, sign-off."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations

from macros.house import House
from macros.house.records.crops import Variety
from macros.manual.cautions.page_safety import house_pairs
from macros.manual.house_facts.chemicals_in_hand import stock_handling
from macros.manual.house_facts.emergency import NOT_GIVEN, urgent_facts
from macros.manual.house_facts.fact_text import fact_text
from macros.manual.house_facts.sign_off_levels import LEVELS
from macros.manual.house_facts.variety_facts import own_bands, stems
from macros.page_model.card import Block, CardTable, Facts, Frame, Frames, Sentences
from macros.page_model.page import PageView, StepView
from macros.published.paper.cards import card_words
from macros.published.safety.pairs import pairs_among
from macros.published.safety.substances import Handling, handling_of

FRAMES, PEOPLE, SHEETS, SYSTEMS = 6, 4, 13, 2
"""What one card holds: picture frames, columns of people, rows to sign, systems of a daily round."""


def emergency(house: House) -> list[tuple[Block, ...]]:
    """Numbers, places, what to say on the telephone, and what must never meet of this house's stocks."""
    places = house.house.places
    lines = [(name, value, "") for name, value in urgent_facts(house)]
    lines.append(("Gas shut-off", places.gas_shutoff or NOT_GIVEN, ""))
    words = tuple(
        line.replace(
            "{street_address}",
            places.street_address or "the street address (the house file does not give it)",
        )
        for line in card_words().call_words
    )
    blocks: list[Block] = [Facts("", tuple(lines)), Sentences("Say on the telephone", words)]
    pairs = never_together(house)
    if pairs:
        blocks.append(Sentences("NEVER together", pairs))
    return [tuple(blocks)]


def never_together(house: House) -> tuple[str, ...]:
    """Each stock with what it must never meet, by what comes of it."""
    met: dict[tuple[str, str], list[str]] = {}
    for pair in pairs_among(_stocks(house), house_pairs(house)):
        met.setdefault((pair.first.shown_name, pair.gives), []).append(pair.second.shown_name)
    return tuple(
        f"{first} + {' / '.join(dict.fromkeys(others))}{f': {gives}' if gives else ''}."
        for (first, gives), others in met.items()
    )


def _stocks(house: House) -> list[Handling]:
    names = [*(c.name for c in house.chemicals), *(part.name for part in house.nutrients.parts)]
    heads = [_head(name) for name in names]

    def _brief(name: str) -> str:
        """The name up to its first comma or bracket, where no other stock begins alike."""
        return _head(name) if heads.count(_head(name)) == 1 else name

    stocks = []
    for chemical in house.chemicals:
        held = stock_handling(chemical)
        stocks.append(replace(held, name=_brief(chemical.name)) if held is not None else None)
    for part in house.nutrients.parts_in_order():
        held = handling_of("nutrient concentrate", None, "nutrient", f"{part.name} {' '.join(part.contains)}")
        stocks.append(replace(held, name=_brief(part.name)) if held is not None else None)
    return [stock for stock in stocks if stock is not None]


def _head(name: str) -> str:
    return re.split(r"[,(]", name)[0].strip() or name


def plants(house: House, system: str) -> list[tuple[Block, ...]]:
    """A frame for each variety of the system, look-alikes beside each other; none where nothing stands there."""
    own = sorted(
        (v for v in house.varieties if v.system == system),
        key=lambda v: (v.look_alike_group in (None, "none"), v.look_alike_group or "", v.id),
    )
    alike = look_alikes(house)
    found: dict[str, set[int]] = {}
    for number, (one, other) in enumerate(alike):
        found.setdefault(one.id, set()).add(number)
        found.setdefault(other.id, set()).add(number)
    cards: list[tuple[Block, ...]] = []
    for start in range(0, len(own), FRAMES):
        group = own[start : start + FRAMES]
        blocks: list[Block] = [Frames(tuple(_frame(v, house) for v in group))]
        numbers = sorted(set().union(*(found.get(v.id, ()) for v in group)))
        pairs = tuple(_pair(*alike[number], house) for number in numbers)
        if pairs:
            blocks.append(Sentences("Look-alikes", pairs))
        cards.append(tuple(blocks))
    return cards


def look_alikes(house: House) -> list[tuple[Variety, Variety]]:
    """Every two varieties of one look-alike group."""
    groups: dict[str, list[tuple[int, Variety]]] = {}
    for place, variety in enumerate(house.varieties):
        if variety.look_alike_group not in (None, "none"):
            groups.setdefault(str(variety.look_alike_group), []).append((place, variety))
    pairs = [pair for group in groups.values() for pair in combinations(group, 2)]
    return [(a, b) for (_, a), (_, b) in sorted(pairs, key=lambda pair: (pair[0][0], pair[1][0]))]


def _frame(variety: Variety, house: House) -> Frame:
    group = variety.look_alike_group
    alike = (one for one in house.varieties if one is not variety and one.look_alike_group == group)
    like = [_name(one) for one in alike] if group not in (None, "none") else []
    words = [str(variety.botanical), f"eaten: {variety.part}", f"leaf: {_look(variety)}"]
    own = [*own_bands(variety, house.us), *filter(None, (stems(variety),))]
    if own:
        words.append(", ".join(own))
    if like:
        words.append(f"looks like {' and '.join(like)}")
    return Frame(_name(variety), tuple(words))


def _pair(a: Variety, b: Variety, house: House) -> str:
    group = fact_text(a.look_alike_group, house.us)
    text = f"{_name(a)} and {_name(b)}, both {group}. {_name(a)}: {_look(a)}. {_name(b)}: {_look(b)}."
    return text[:1].upper() + text[1:]


def _look(variety: Variety) -> str:
    return variety.leaf_look.replace("_", " ") if variety.leaf_look else "not given, write leaf_look"


def _name(variety: Variety) -> str:
    return variety.id.replace("_", " ")


def daily_round(page: PageView, systems: Sequence[str]) -> list[tuple[Block, ...]]:
    """The steps of the round in order; what each rack repeats stands once, with the limits of each rack."""
    chunks = [systems[n : n + SYSTEMS] for n in range(0, len(systems), SYSTEMS)] or [()]
    return [(_round(page, list(chunk), systems),) for chunk in chunks]


def _round(page: PageView, chunk: list[str], systems: Sequence[str]) -> CardTable:
    rows: dict[tuple[str, str], dict[str, list[str]]] = {}
    for step in page.steps:
        system = next((s for s in systems if step.id.endswith(f"-{s}")), "")
        if system and system not in chunk:
            continue
        key = (step.id.removesuffix(f"-{system}") if system else step.id, _short(step, system))
        limits = step.record.limits if step.record is not None else ""
        rows.setdefault(key, {}).setdefault(limits, []).append(system)
    cells = []
    for number, ((_, text), by_limits) in enumerate(rows.items(), start=1):
        one = len(by_limits) == 1
        said = "; ".join(
            value if one or not value else f"{', '.join(whose)}: {value}"
            for value, whose in by_limits.items()
        )
        cells.append((str(number), text, said))
    return CardTable("", ("No.", "Look, read, count", "Limits"), tuple(cells), first_wide=True)


def _short(step: StepView, system: str) -> str:
    """What is written down, else the short sentence; without the letter of a rack, as the row stands for each."""
    text = step.record.label if step.record is not None else step.short or step.do
    if not system:
        return text
    text = re.sub(rf"\btank {re.escape(system)}\b", "each tank", text)
    return re.sub(rf" {re.escape(system)}(?=,|$)", "", text)


def sign_off(house: House, views: Sequence[PageView]) -> list[tuple[Block, ...]]:
    """People across, procedures down, the least level of each, and boxes for initials and date."""
    documents: dict[str, PageView] = {}
    for view in views:
        documents.setdefault(view.document, view)
    sheets = sorted(documents.items())
    rows_each = -(-len(sheets) // -(-len(sheets) // SHEETS)) if sheets else SHEETS
    cards: list[tuple[Block, ...]] = []
    for first in range(0, len(house.people), PEOPLE):
        people = house.people[first : first + PEOPLE]
        heads = (
            "Procedure",
            "Rev.",
            "Least level",
            *(f"{person.role}, now {person.level}" for person in people),
        )
        for start in range(0, len(sheets), rows_each):
            rows = tuple(
                (f"{name} {view.title}", view.control.revision, str(view.level), *("" for _ in people))
                for name, view in sheets[start : start + rows_each]
            )
            table = CardTable("", heads, rows, blank=True, first_wide=True)
            cards.append((table, Sentences("", (f"Levels: {'; '.join(LEVELS)}.",))))
    return cards

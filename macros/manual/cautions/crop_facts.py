"""What cautions want to know of the plants a step is about: limits on who eats them, and how their seed was treated.

A limit is told of its own plant alone: what one plant does is never said of another.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from macros.house import House
from macros.house.records.crops import EdibleEntry, Variety
from macros.published.safety.edible import plant_rule

_WORST_FIRST = ("treated", "unknown", "untreated")
_HARM_NOT_KNOWN = "what it does is not known here; ask who wrote the limit"


def crop_facts(house: House, system: str, variety: str) -> tuple[dict[str, Any], dict[str, str]]:
    """Facts and slots of the variety of a step, or of all it may be about: the worst of them counts."""
    about = [one for one in house.varieties if _is_about(one, system, variety)]
    if not about:
        return {}, {}
    slots = _limits(house, about)
    facts = {
        "species_has_caution": bool(slots) if slots or house.edible_list is not None else None,
        "seed_treatment": min((_treatment(house, one) for one in about), key=_WORST_FIRST.index),
    }
    return facts, slots


def _limits(house: House, about: Sequence[Variety]) -> dict[str, str]:
    """The limit of each plant that has one and what it does, each behind its plant's name."""
    found = [(_capital(one.spoken), *_limit(house, one)) for one in about]
    limited = [one for one in found if one[1]]
    return {
        slot: ". ".join(f"{one[0]}: {one[column]}" for one in limited)
        for slot, column in (("species_caution", 1), ("species_harm", 2))
        if limited
    }


def eating_limit(house: House, variety: Variety) -> str | None:
    """What the kitchen is told of a variety: the published limit on who eats it, then what the house says of it."""
    return _limit(house, variety)[0] or None


def _limit(house: House, variety: Variety) -> tuple[str, str]:
    """The limit on who eats a variety, and what it does; both empty where none is known."""
    rule, entry = plant_rule(variety.botanical), edible_entry(house, variety)
    own = entry.caution if entry is not None and entry.caution else ""
    line = "; ".join(text for text in (rule.who if rule else "", own) if text)
    return line, (rule.harm if rule and rule.harm else _HARM_NOT_KNOWN) if line else ""


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _is_about(one: Variety, system: str, variety: str) -> bool:
    return one.id == variety if variety else system in ("", one.system)


def edible_entry(house: House, variety: Variety) -> EdibleEntry | None:
    """The line of the house's edible list for a variety and the part it is grown for."""
    entries = house.edible_list.entries if house.edible_list is not None else ()
    return next(
        (one for one in entries if one.botanical == variety.botanical and variety.part in one.parts), None
    )


def _treatment(house: House, variety: Variety) -> str:
    """The worst on file for the lots of a variety; without a lot, what the variety says; else unknown."""
    lots = [lot.treatment for lot in house.seed_lots if lot.variety == variety.id]
    return min(lots or [variety.seed_treatment or "unknown"], key=_WORST_FIRST.index)

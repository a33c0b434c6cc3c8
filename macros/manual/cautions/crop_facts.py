"""What cautions want to know of the plants a step is about: limits on who eats them, and how their seed was treated."""

from __future__ import annotations

from typing import Any

from macros.house import House
from macros.house.records.crops import EdibleEntry, Variety

_WORST_FIRST = ("treated", "unknown", "untreated")


def crop_facts(house: House, system: str, variety: str) -> dict[str, Any]:
    """Facts of the variety of a step, or of all varieties the page may be about: the worst of them counts."""
    about = [
        one
        for one in house.varieties
        if (not variety or one.id == variety) and (not system or variety or one.system == system)
    ]
    if not about:
        return {}
    limited = [(one, entry.caution) for one in about if (entry := edible_entry(house, one)) and entry.caution]
    facts: dict[str, Any] = {
        "species_has_caution": bool(limited) if house.edible_list is not None else None,
        "seed_treatment": min((_treatment(house, one) for one in about), key=_WORST_FIRST.index),
    }
    slots = {}
    if len(limited) == 1:
        slots = {
            "species_name": limited[0][0].id.replace("_", " ").capitalize(),
            "species_caution": limited[0][1],
        }
    elif limited:
        names = ", ".join(one.id.replace("_", " ") for one, _ in limited)
        slots = {
            "species_name": names[:1].upper() + names[1:],
            "species_caution": "each has a limit on who eats it or how much; it stands in the table and on the house list",
        }
    return facts | ({"slots": slots} if slots else {})


def edible_entry(house: House, variety: Variety) -> EdibleEntry | None:
    """The line of the house's edible list for a variety and the part it is grown for."""
    entries = house.edible_list.entries if house.edible_list is not None else ()
    return next(
        (one for one in entries if one.botanical == variety.botanical and variety.part in one.parts), None
    )


def _treatment(house: House, variety: Variety) -> str:
    """The worst on file for the lots of a variety; without a lot, what the variety says; else unknown."""
    lots = [lot.treatment for lot in house.seed_lots if lot.variety == variety.id]
    told = [*lots, *([variety.seed_treatment] if variety.seed_treatment is not None and not lots else [])]
    return min(told, key=_WORST_FIRST.index, default="unknown")

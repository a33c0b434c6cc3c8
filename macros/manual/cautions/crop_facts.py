"""What cautions want to know of the plants a step is about: limits on who eats them, and how their seed was treated."""

from __future__ import annotations

from typing import Any

from macros.house import House
from macros.house.records.crops import EdibleEntry, Variety

_WORST_FIRST = ("treated", "unknown", "untreated")
_SEVERAL = "each has a limit on who eats it or how much; it stands in the table and on the house list"


def crop_facts(house: House, system: str, variety: str) -> tuple[dict[str, Any], dict[str, str]]:
    """Facts and slots of the variety of a step, or of all it may be about: the worst of them counts."""
    about = [one for one in house.varieties if _is_about(one, system, variety)]
    if not about:
        return {}, {}
    entries = {one.id: edible_entry(house, one) for one in about}
    limits = {id_: entry.caution for id_, entry in entries.items() if entry and entry.caution}
    facts = {
        "species_has_caution": bool(limits) if house.edible_list is not None else None,
        "seed_treatment": min((_treatment(house, one) for one in about), key=_WORST_FIRST.index),
    }
    if not limits:
        return facts, {}
    names = ", ".join(limits).replace("_", " ")
    said = _SEVERAL if len(limits) > 1 else next(iter(limits.values()))
    return facts, {"species_name": names[:1].upper() + names[1:], "species_caution": said}


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

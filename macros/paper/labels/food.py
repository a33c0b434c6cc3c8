"""Labels of packed food: what is in the punnet, its lot and last day, how it is kept, who must take care.

What a food label must carry is law of the place: the owner asks the authority. Regulation (EU) 1169/2011, Articles 9 and
21, from memory: name, allergens, amount, date, conditions of storage, name and address of the business.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from macros.amounts import Register
from macros.house import House
from macros.house.records.crops import Variety
from macros.manual.cautions.crop_facts import eating_limit
from macros.page_model.page import PageView
from macros.paper.labels.label import ASK, Blank, LabelRow, LabelView, printed, source_of
from macros.published.safety.edible import allergen

_MANY = {"leaf": "leaves"}
_UNWASHED = "Not washed: wash before eating."
"""No page washes what is picked."""


def food_labels(register: Register, views: Sequence[PageView]) -> Iterator[LabelView]:
    """One for each variety that is grown."""
    for variety in register.house.varieties:
        yield _food(register, views, variety)


def _food(register: Register, views: Sequence[PageView], variety: Variety) -> LabelView:
    house = register.house
    contained, limit = allergen(variety.botanical), eating_limit(house, variety)
    part = _MANY.get(variety.part, f"{variety.part}s")
    rows = (
        LabelRow(
            blanks=(
                Blank("Lot", 28),
                Blank("Amount", 14),
                Blank("Picked", 18),
                Blank("Use by", 18, _keeps(register, variety)),
            )
        ),
        LabelRow("Keep at", f"{printed(register, 'kept_at', ASK, variety=variety.id)}, shut."),
        LabelRow(text=_UNWASHED),
        *((LabelRow("Allergen:", f"{contained}."),) if contained else ()),
        *((LabelRow("Eaten:", f"{limit}."),) if limit else ()),
        LabelRow("Packed by", f"{house.house.name}, {_address(house)}."),
    )
    return LabelView(
        "food",
        f"packed {variety.spoken}",
        variety.spoken,
        f"{part} of {variety.botanical}",
        variety.system,
        rows,
        source_of("food", register, views),
        variety.place("id"),
        variety.key("id"),
    )


def _keeps(register: Register, variety: Variety) -> str:
    """How long after the day of picking it may be sold, in the house's own days."""
    days = printed(register, "use_by_leaves" if variety.part == "leaf" else "use_by")
    return f"{days} after picking" if days else ASK


def _address(house: House) -> str:
    """What is said to the ambulance is where the food is packed."""
    places = house.house.places
    return (
        ASK
        if places.street_address is None or "street_address" in places.unfilled()
        else places.street_address
    )

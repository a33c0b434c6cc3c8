"""Hazard words of a container: what the cautions say of its strength, what to wear, first aid, what never to mix."""

from __future__ import annotations

from collections.abc import Sequence

from macros.amounts import Register
from macros.house import House
from macros.manual.cautions.cautions_of_page import PageCautions, asks_for_flushing, page_cautions
from macros.manual.cautions.page_safety import first_aid_places, house_pairs
from macros.manual.cautions.step_facts import StepFacts
from macros.manual.house_facts.chemicals_in_hand import part_handling, stock_handling
from macros.page_model.page import PlacedCaution
from macros.paper.labels.label import ASK, LabelRow
from macros.published.safety.bands import codes_of, hazard_text, label_word_of
from macros.published.safety.pairs import pairs_among, partners_of
from macros.published.safety.protection import (
    equipment,
    fill,
    first_aid,
    first_aid_rule,
    first_aid_text,
    in_ppe_order,
    ppe_id,
)
from macros.published.safety.substances import Handling, group_of, not_known, shown_words

NO_WORDS = "This strength carries no hazard words. Keep it out of eyes. Not to drink."
UNLISTED = "Not in our list: read the label and the safety data sheet. Goggles and gloves on. Not to drink."
_LONG_FLUSH = {"ph_up", "other_base", "sodium_hypochlorite", "calcium_hypochlorite"}
"""What the first-aid text names beside codes: these ask for the longer rinse at any strength."""


def hazard_rows(
    item: Handling | None, register: Register, action: str, *, as_bought: bool
) -> tuple[LabelRow, ...]:
    """Signal words with short texts, worst first, then the meaning of the hazard codes at this strength.

    The words are the procedure's; the label's own word stands only for the stock as bought.
    """
    if item is None:
        return (LabelRow(text=UNLISTED),)
    deadly, own = _shown(item, register, action)
    rows = [
        LabelRow(word=one.word, text=f"{one.entry.short_hazard} {one.entry.short_avoidance}")
        for one in (*deadly, *own)
    ]
    codes = codes_of(item)
    if codes:
        meanings = "; ".join(hazard_text(code) for code in codes)
        if as_bought:
            rows.append(LabelRow(f"Its own label says {label_word_of(item)}:", f"{meanings}."))
        else:
            rows.append(LabelRow("At this strength:", f"{meanings}."))
    elif item.sds_codes is None:
        rows.append(LabelRow("Hazard codes:", ASK))
    elif not own:
        rows.append(LabelRow(text=NO_WORDS))
    return tuple(rows)


LEAST_WORN = ("goggles", "gloves_chem")
"""Worn at a chemical's container where neither a caution nor the house asks for anything: our own choice."""


def wear_row(item: Handling | None, register: Register, own: Sequence[str] = ()) -> LabelRow:
    """What to wear, the house's own list for the stock included."""
    worn = list(_cautions(item, register.house, "label").ppe) if item is not None else []
    worn += [found for name in own if (found := ppe_id(name)) is not None]
    return LabelRow("Wear", ", ".join(equipment().short[one] for one in in_ppe_order(worn or LEAST_WORN)))


def first_aid_rows(item: Handling | None, house: House) -> tuple[LabelRow, ...]:
    """The rule for a splash in the eye, whole where a longer rinse may be asked for; whom to call."""
    values = first_aid_places(house)
    title, whole = first_aid_text("eye", values)
    text = whole if item is None or _asks_for_long_rinse(item) else first_aid_rule("eye")
    return (LabelRow(f"{title}:", text), LabelRow("Then:", fill(first_aid().follow, values), rank=3))


def never_with_row(item: Handling | None, house: House, head: str) -> LabelRow:
    """What must never meet it: words for everything of the published pairs, and the house's own pairs."""
    if item is None:
        return LabelRow(head, "anything")
    feed = "nutrient_concentrate" in item.counts_as
    partners = partners_of(item, house_pairs(house)) - (group_of("nutrients") if feed else frozenset())
    partners -= not_known()  # anything not known is no word for a label
    words = list(shown_words(partners))
    if feed:
        words += [f"{name} undiluted" for name in _parts_that_meet(item, house)]
    return LabelRow(head, "; ".join(words) or "nothing known; keep it by itself")


def kept_in(house: House) -> tuple[Handling, ...]:
    """Everything the house keeps on its shelves, as bought."""
    stocks = [stock_handling(chemical) for chemical in house.chemicals]
    parts = [part_handling(part) for part in house.nutrients.parts_in_order()]
    return tuple(one for one in (*stocks, *parts) if one is not None)


def _shown(
    item: Handling, register: Register, action: str
) -> tuple[list[PlacedCaution], list[PlacedCaution]]:
    """Of its pairs with what the house keeps those that kill, and what the substance itself calls for."""
    house = register.house
    own = [one for one in _cautions(item, house, action).summary if _speaks_of(one, item)]
    others = [one for one in kept_in(house) if one.substance != item.substance]
    met = _cautions(item, house, action, others).summary
    ids = {one.id for one in own}
    return [one for one in met if one.word == "DANGER" and one.id not in ids], own


def _speaks_of(placed: PlacedCaution, item: Handling) -> bool:
    """Whether the caution is about the substance: one about the work (alone, unlabelled) is for the page."""
    return bool(placed.entry.substances & item.counts_as)


def _cautions(item: Handling, house: House, action: str, elsewhere: Sequence[Handling] = ()) -> PageCautions:
    return page_cautions(
        [StepFacts("label", action, handlings=(item,))],
        elsewhere=elsewhere,
        house_pairs=house_pairs(house),
        unit_style="us" if house.us else "metric",
    )


def _asks_for_long_rinse(item: Handling) -> bool:
    return asks_for_flushing(item) or bool(item.counts_as & _LONG_FLUSH)


def _parts_that_meet(item: Handling, house: House) -> list[str]:
    found = []
    for part in house.nutrients.parts_in_order():
        other = part_handling(part)
        if other is not None and other != item and pairs_among((item, other), house_pairs(house)):
            found.append(part.name)
    return found

"""Labels beside the maker's own on bottles as bought: chemicals and feed parts, with dates, place and measure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from macros.amounts import Register
from macros.house import House
from macros.house.records.chemicals import Chemical
from macros.house.records.feeding import NutrientPart
from macros.manual.house_facts.chemicals_in_hand import part_handling, stock_handling
from macros.page_model.page import PageView
from macros.paper.labels.hazard_words import hazard_rows, never_with_row, wear_row
from macros.paper.labels.label import ASK, READ, Blank, LabelRow, LabelView, known, printed, source_of

_TOOLS_FOR = {
    "sanitizer": {"sanitizer"},
    "acid": {"acids", "acids_bases"},
    "base": {"bases", "acids_bases"},
    "nutrient": {"nutrients"},
    "cleaner": set[str](),
}
"""Groups of liquids of a measuring tool that go with a role."""


def stock_labels(register: Register, views: Sequence[PageView]) -> Iterator[LabelView]:
    """One for each chemical, one more for its unopened bottles, one for each feed part."""
    for chemical in register.house.chemicals:
        yield _chemical(register, views, chemical, opened=chemical.opened is not None)
        if chemical.opened is not None and chemical.containers_in_stock > 1:
            yield _chemical(register, views, chemical, opened=False)
    for number, part in enumerate(register.house.nutrients.parts_in_order(), start=1):
        yield _part(register, views, part, number)


def _chemical(
    register: Register, views: Sequence[PageView], chemical: Chemical, *, opened: bool
) -> LabelView:
    house, item = register.house, stock_handling(chemical)
    rows = (
        LabelRow(text=f"{chemical.strength.written} {chemical.active}", large=True),
        *_dates(register, chemical, opened=opened),
        LabelRow("Store with", f"{known(chemical.store_with)}."),
        never_with_row(item, house, "Never with"),
        LabelRow("Measure with", _tools(house, chemical.role)),
        *(replace(row, rank=3) for row in hazard_rows(item, register, "store", as_bought=True)),
        replace(wear_row(item, register, chemical.ppe), rank=3),
        LabelRow("Safety data sheet:", known(chemical.sds_page), rank=3),
        LabelRow("Lot:", known(chemical.lot, READ), rank=3),
    )
    return LabelView(
        "stock",
        f"bottle of {chemical.name}",
        chemical.name,
        f"{chemical.role}, as bought{'' if opened else ': bottle not yet opened'}",
        "",
        rows,
        source_of("stock", register, views),
        chemical.place("name"),
        chemical.key("name"),
    )


def _dates(register: Register, chemical: Chemical, *, opened: bool) -> tuple[LabelRow, ...]:
    """Opened, expires, discard; of an unopened bottle the last day is reckoned anew once it is opened."""
    expires = chemical.expires.isoformat() if chemical.expires is not None else READ
    if not opened:
        return (
            LabelRow(blanks=(Blank("Opened", 24), Blank("Discard on", 24))),
            LabelRow("Expires", f"{expires}. Discard on this day or before."),
        )
    discard = printed(register, "discard_date", chemical=chemical.id)
    assert chemical.opened is not None
    return (
        LabelRow("Opened", f"{chemical.opened.isoformat()}. Expires {expires}."),
        LabelRow("Discard on", f"{discard}.")
        if discard
        else LabelRow(blanks=(Blank("Discard on", 24, ASK),)),
    )


def _part(register: Register, views: Sequence[PageView], part: NutrientPart, number: int) -> LabelView:
    house, item = register.house, part_handling(part)
    dry = house.nutrients.weighs(part.id)
    adds, each = (part.ec_per_g_per_l, "g/L") if dry else (part.ec_per_ml_per_l, "mL/L")
    strength = f"adds {adds.written} for 1 {each}" if adds is not None else ""
    count = len(house.nutrients.parts_in_order())
    rows = (
        LabelRow("Strength:", strength or f"EC {READ}"),
        LabelRow(blanks=(Blank("Opened", 24), Blank("Discard on", 24))),
        LabelRow("Expires", f"{READ}."),
        LabelRow("Goes in", f"number {number} of {count}, into the full tank, stirred before the next."),
        never_with_row(item, house, "Never with"),
        LabelRow("Weigh with", _scales(house))
        if dry
        else LabelRow("Measure with", _tools(house, "nutrient")),
        LabelRow(
            "Store with", f"feed parts: off the floor, {'dry, shut' if dry else 'out of light'}.", rank=3
        ),
    )
    return LabelView(
        "stock",
        f"{'bag' if dry else 'bottle'} of {part.name}",
        part.name,
        f"{'dry feed' if dry else 'feed concentrate'}, as bought",
        "",
        rows,
        source_of("stock", register, views),
        part.place("name"),
        part.key("name"),
    )


def _scales(house: House) -> str:
    return f"{', '.join(one.name for one in house.scales)}, in a clean dry cup."


def _tools(house: House, role: str) -> str:
    wanted = _TOOLS_FOR[role]
    own = [tool.name for tool in house.measuring_tools if wanted & set(tool.for_)]
    return f"{', '.join(own)}: for this group only." if own else ASK

"""Labels of what is not in its maker's bottle: made batches and decanted stock.

Source: 29 CFR 1910.1200(f)(6) asks for identity and hazards on a container a chemical is moved into; what is added
(time made, strength, protection, first aid) is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from macros.amounts import Register
from macros.amounts.sanitizer.batches import Task
from macros.amounts.sanitizer.sanitizing import tasks_of
from macros.house import House
from macros.house.records.chemicals import Chemical
from macros.manual.house_facts.chemicals_in_hand import made_handling, stock_handling
from macros.page_model.page import PageView
from macros.paper.labels.hazard_words import first_aid_rows, hazard_rows, never_with_row, wear_row
from macros.paper.labels.label import ASK, READ, Blank, LabelRow, LabelView, known, printed, source_of
from macros.published.safety.substances import Handling

_VESSELS = {
    "batch_spray": ("spray bottle", "fill_sprayer"),
    "batch_soak": ("tub", "label"),
    "batch_tool_dip": ("tall jar", "label"),
    "loop_volume": ("tank", "label"),
}
"""Where a batch stands, and the action whose cautions its label shows: a sprayer is shut, the others stand open."""


def batch_labels(register: Register, views: Sequence[PageView]) -> Iterator[LabelView]:
    """One for each sanitizing task of each system."""
    for task in tasks_of(register):
        yield _batch(register, views, task)


def decanted_labels(register: Register, views: Sequence[PageView]) -> Iterator[LabelView]:
    """One for each chemical, for the bottle or jug it is moved into as bought."""
    for chemical in register.house.chemicals:
        yield _decanted(register, views, chemical)


def _batch(register: Register, views: Sequence[PageView], task: Task) -> LabelView:
    house, system = register.house, task.system.id
    chemical = house.chemical(task.data.chemical)
    vessel, action = _VESSELS[task.volume_id]
    item = made_handling(register, chemical, task.name, system)
    strength = printed(register, "strength_made", **task.keys)
    life = printed(register, "batch_life_end", **task.keys)
    where = f"tank {system}" if vessel == "tank" else _as_labelled(house, vessel)
    rows = (
        LabelRow(text=f"{strength} {chemical.active}", large=True)
        if strength
        else LabelRow(blanks=(Blank("Strength made", 24, f"{chemical.active}: {ASK}"),)),
        LabelRow(blanks=(Blank("Made on", 24), Blank("at", 14), Blank("by", 14))),
        LabelRow(blanks=(Blank("Dead at", 24, f"{life} after made" if life else ASK),)),
        *hazard_rows(item, register, action, as_bought=False),
        wear_row(item, register),
        *_last_rows(item, chemical, house),
    )
    return LabelView(
        "batch",
        f"{where}, {task.label} of system {system}",
        f"{chemical.name}, diluted",
        f"{where}: for {task.label}",
        system,
        rows,
        source_of("batch", register, views, system),
        task.data.place("chemical"),
        task.data.key("chemical"),
    )


def _decanted(register: Register, views: Sequence[PageView], chemical: Chemical) -> LabelView:
    house, item = register.house, stock_handling(chemical)
    rows = (
        LabelRow(text=f"{chemical.strength.written} {chemical.active}", large=True),
        LabelRow(blanks=(Blank("Filled on", 24), Blank("by", 14))),
        LabelRow("Use up by", printed(register, "discard_date", READ, chemical=chemical.id)),
        *hazard_rows(item, register, "store", as_bought=True),
        wear_row(item, register, chemical.ppe),
        *_last_rows(item, chemical, house),
    )
    return LabelView(
        "decanted",
        f"decanted {chemical.name}",
        chemical.name,
        "decanted, undiluted: never a drink or food bottle",
        "",
        rows,
        source_of("decanted", register, views),
        chemical.place("name"),
        chemical.key("name"),
    )


def _last_rows(item: Handling | None, chemical: Chemical, house: House) -> tuple[LabelRow, ...]:
    return (
        *first_aid_rows(item, house),
        never_with_row(item, house, "Never mix with"),
        LabelRow("Safety data sheet:", known(chemical.sds_page)),
    )


def _as_labelled(house: House, thing: str) -> str:
    """The thing with the words on its own label in the room, where they are others."""
    own = next((one.label for one in house.inventory if one.thing == thing and one.label), None)
    return f"{thing} ({own})" if own and own != thing else thing

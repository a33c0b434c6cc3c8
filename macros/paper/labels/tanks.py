"""Labels of the tanks: marks with their levels and volumes, feed stage and bands, when it was changed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from macros.amounts import NotFound, Register
from macros.house.records.systems import System
from macros.manual.house_facts.frequencies import frequencies
from macros.page_model.page import PageView
from macros.paper.labels.label import ASK, Blank, LabelRow, LabelView, printed, source_of


def tank_labels(register: Register, views: Sequence[PageView]) -> Iterator[LabelView]:
    """One for each system."""
    for system in register.house.systems:
        yield _tank(register, views, system)


def _tank(register: Register, views: Sequence[PageView], system: System) -> LabelView:
    of = {"system": system.id}
    full = printed(register, "res_fill", **of)
    every = frequencies(register.house)["tank_change"].text
    dose = f"Dose for the fill mark{f', {full}' if full else ''}: not for the tank's catalogue size."
    rows = (
        LabelRow("Fill mark:", _mark(register, "res_fill", system), large=True),
        LabelRow("Low mark:", f"{_mark(register, 'res_refill', system)}. Trays drained: top up."),
        LabelRow("Pump minimum:", f"{_mark(register, 'res_dead', system)}. Below it the pump sucks air."),
        LabelRow(
            "Feed stage:",
            f"{system.fill_stage.replace('_', ' ')}. EC {printed(register, 'ec_band', ASK, **of)}. "
            f"pH {printed(register, 'ph_band', ASK, **of)}.",
        ),
        LabelRow("Volume:", dose),
        LabelRow("Change:", f"{every}."),
        LabelRow(blanks=(Blank("Last change", 20), Blank("Next change", 20))),
        LabelRow(blanks=(Blank("Last change", 20), Blank("Next change", 20)), rank=3),
    )
    return LabelView(
        "tank",
        f"tank {system.id}",
        f"Tank {system.id}",
        system.name,
        system.id,
        rows,
        source_of("tank", register, views, system.id),
        system.reservoir.place("shape"),
        system.reservoir.key("shape"),
    )


def _mark(register: Register, id_: str, system: System) -> str:
    """Volume and reading of a mark, both as the pages print them."""
    try:
        amount = register.get(id_, system=system.id)
    except NotFound:
        return ASK
    return f"{amount.printed}, {amount.tool}" if amount.tool else amount.printed

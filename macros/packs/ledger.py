"""The ledger of a cleanout day: stock taken and water let go."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from macros.amounts.sanitizer.sanitizing import tasks_of
from macros.manual.house_facts.fact_text import fact_text
from macros.packs.pack import PackContext
from macros.published.paper.packs import WaterLine, packs


@dataclass(frozen=True)
class StockRow:
    """Stock of one task; how much was taken is written by hand, for only one sheet says how much to pour."""

    task: str
    stock: str


@dataclass(frozen=True)
class WaterRow:
    """One water that is let go, as planned: how much, the water that makes it safe before, whether the total has it."""

    what: str
    planned: str
    first: str
    in_total: bool


def stock_rows(pack: PackContext) -> Iterator[StockRow]:
    """The stock of each task of the pack's system."""
    for task in tasks_of(pack.register):
        if task.system.id == pack.system and pack.register.of_id("stock_for_batch", **task.keys):
            yield StockRow(task.label.capitalize(), pack.house.chemical(task.data.chemical).name)


_BESIDE = ("quench_water", "neutralizer_dose", "neutralizer_loop")
"""What makes a used batch fit for the drain."""


def water_rows(pack: PackContext) -> Iterator[WaterRow]:
    """The tank, each batch with the water that makes it safe, the rinses."""
    lines = packs().ledger
    yield from _lines(pack, lines.before)
    for task in tasks_of(pack.register):
        if task.system.id != pack.system:
            continue
        for batch in pack.register.of_id(task.volume_id, **task.keys):
            beside = next(
                (a.printed for id_ in _BESIDE for a in pack.register.of_id(id_, **task.keys)),
                "not in the house file",
            )
            sprayed = task.volume_id == "batch_spray"
            yield WaterRow(
                f"{task.label.capitalize()}{', only what is left of it' if sprayed else ', whole batch'}",
                batch.printed,
                beside,
                not sprayed,
            )
    yield from _lines(pack, lines.after)


def _lines(pack: PackContext, lines: Iterable[WaterLine]) -> Iterator[WaterRow]:
    for line in lines:
        for amount in pack.register.of_id(line.amount, system=pack.system):
            each = pack.register.of_id(line.each, system=pack.system) if line.each else []
            of = f" of {each[0].printed}" if each else ""
            yield WaterRow(line.what, f"{amount.printed}{of}", "", True)


def where_to(pack: PackContext) -> Iterator[tuple[str, str]]:
    """Where waste may go in this house; what it does not say is told."""
    disposal = pack.house.policies.disposal if pack.house.policies else None
    unknown = "not in the house file: ask before you start"
    solution = disposal.spent_solution_to if disposal else None
    plants = disposal.plant_waste_to if disposal else None
    yield "Water", fact_text(solution, pack.house.us) if solution else unknown
    yield "Drain", pack.house.house.places.drain_for_waste or unknown
    yield "Plants", fact_text(plants, pack.house.us) if plants else unknown
    nitrogen = pack.register.of_id("load_nitrogen", system=pack.system)
    if nitrogen:
        yield "Nitrogen in the tank", nitrogen[0].printed

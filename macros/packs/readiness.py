"""What must be there for the day of a pack, written some days ahead so that there is time to buy."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from macros.amounts import Amount
from macros.calculations.rounding import whole_steps
from macros.house.records.chemicals import Chemical
from macros.house.records.feeding import NutrientPart
from macros.manual.pages.supplies import GROUPS
from macros.packs.pack import PackContext
from macros.page_model.page import PageView
from macros.published.paper.packs import packs

NOT_TOLD = "count it"
"""The house does not say how many there are: somebody looks."""


@dataclass(frozen=True)
class NeedRow:
    """One thing: how much the day takes, in packages, what the house file says is there, what to buy."""

    name: str
    needed: str
    packages: str
    shelf: str
    buy: str


@dataclass(frozen=True)
class ThingRow:
    """One thing to lay ready: what it is, where it lives, for which sheets."""

    group: str
    name: str
    kept: str
    sheets: str


def stock_needs(pack: PackContext) -> Iterator[NeedRow]:
    """What is poured on the day, as printed elsewhere, against the containers on the shelf."""
    for id_ in packs().readiness.stocks:
        keys = {"system": pack.system} if pack.system else {}
        for amount in pack.register.of_id(id_, **keys):
            stock = _stock_of(pack, amount)
            if stock is not None:
                yield _stock_row(amount, stock)


def _stock_of(pack: PackContext, amount: Amount) -> Chemical | NutrientPart | None:
    of = dict(amount.of)
    if "part" in of:
        return next((part for part in pack.house.nutrients.parts if part.id == of["part"]), None)
    return pack.house.chemical(of["chemical"]) if "chemical" in of else None


def _stock_row(amount: Amount, stock: Chemical | NutrientPart) -> NeedRow:
    if stock.container is None:
        return NeedRow(stock.name, amount.printed, "", NOT_TOLD, "")
    size = stock.container.written
    try:
        each = stock.container.to(amount.unit)
        needed = whole_steps(amount.rounded / each, 1, "up")
    except ValueError:  # sold by weight, poured by volume: a person looks
        return NeedRow(stock.name, amount.printed, "", _count(stock.containers_in_stock, f"× {size}"), "")
    if stock.containers_in_stock is None:
        return NeedRow(stock.name, amount.printed, f"{needed} × {size}", NOT_TOLD, "")
    buy = max(0, needed - stock.containers_in_stock)
    return NeedRow(
        stock.name,
        amount.printed,
        f"{needed} × {size}",
        f"{stock.containers_in_stock} × {size}",
        f"{buy} × {size}" if buy else "none",
    )


def _count(count: int | None, words: str) -> str:
    return f"{count} {words}" if count is not None else NOT_TOLD


def small_needs(pack: PackContext) -> Iterator[NeedRow]:
    """Strips, what protects, and spares."""
    pages = pack.all_pages()
    yield from _strips(pack, pages)
    yield from _protection(pack, pages)
    for name in packs().readiness.spares:
        yield NeedRow(name, "1", "", _on_shelf(pack, name), "")


def _strips(pack: PackContext, pages: list[PageView]) -> Iterator[NeedRow]:
    """A strip for each step that reads one. A failed reading takes another."""
    for strip in pack.house.test_strips:
        uses = sum(
            strip.name in step.tools or any(view.tool == strip.name for view in step.amounts)
            for page in pages
            for step in page.steps
        )
        if uses:
            yield NeedRow(strip.name, f"{uses} at least", "1 tube", NOT_TOLD, "")


def _protection(pack: PackContext, pages: list[PageView]) -> Iterator[NeedRow]:
    """What protects, for everybody who works."""
    people = str(pack.people) if pack.people else "1 each"
    for name in dict.fromkeys(item.name for page in pages for item in page.ppe):
        yield NeedRow(name, people, "", _on_shelf(pack, name), "")


def _on_shelf(pack: PackContext, name: str) -> str:
    thing = next((one for one in pack.house.inventory if one.thing == name), None)
    if thing is None:
        return NOT_TOLD
    return f"{thing.count}, {thing.kept_at}" if thing.kept_at else str(thing.count)


def things(pack: PackContext) -> Iterator[ThingRow]:
    """Every other thing of the pack's pages once; what is poured or worn stands above."""
    pages = pack.all_pages()
    above = {row.name for row in (*_strips(pack, pages), *_protection(pack, pages))}
    found: dict[tuple[str, str], list[str]] = {}
    for page in pages:
        for item in page.supplies:
            if item.group not in ("Protection", "Chemicals and feed") and item.name not in above:
                found.setdefault((item.group, item.name), []).append(page.document)
    for group in GROUPS:
        for (own, name), documents in found.items():
            if own == group:
                short = sorted({document.removeprefix("SOP-") for document in documents})
                yield ThingRow(group, _label(pack, name), _kept(pack, name), ", ".join(short))


def _label(pack: PackContext, name: str) -> str:
    thing = next((one for one in pack.house.inventory if one.thing == name), None)
    return f"{name} ({thing.label})" if thing is not None and thing.label else name


def _kept(pack: PackContext, name: str) -> str:
    if any(tool.name == name for tool in pack.house.measuring_tools) or any(
        meter.name == name for meter in pack.house.meters
    ):
        return "marked with this name"
    known = any(one.thing == name for one in pack.house.inventory)
    return _on_shelf(pack, name) if known else ""

"""The reckoner pages: for each system the fields a person fills in, the printed tables beside them, and links there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from macros.amounts import Register
from macros.amounts.reckoners import collect, offered, sentence, span
from macros.house.records.systems import System
from macros.manual.pages.figures import amount_table
from macros.page_model.figure import TableView
from macros.page_model.page import LinkView, PageView

_TABLES = {
    "level": (
        ("level_table", "Level read: water that is short"),
        ("topup_table", "Top-up: feed for the water added"),
    ),
    "ec": (
        ("ec_raise", "EC too low in the full tank: add"),
        ("ec_dilute", "EC too high: water to add, as far as there is room"),
        ("ec_swap", "EC too high and no room: drain and refill"),
    ),
    "ph": (("ph_next_dose", "pH too high: pH-down to add"),),
    "missed_flood": (
        ("missed_flood_clock", "Hours from the last good flood, lamps on"),
        ("stand_hours", "How long the rack may stand, lamps on and off"),
    ),
}
"""The printed tables each reckoner answers for."""


@dataclass(frozen=True)
class Field:
    """One field: what to write, its unit, what is allowed in words; a choice lists (id, words)."""

    name: str
    label: str
    kind: Literal["number", "count", "clock", "choice", "day"]
    unit: str = ""
    hint: str = ""
    options: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class ReckonerView:
    """One reckoner of a page, with the tables it stands for and the pages that send people to it."""

    name: str
    title: str
    fields: tuple[Field, ...]
    tables: tuple[TableView, ...]
    asked_by: tuple[LinkView, ...]


@dataclass(frozen=True)
class ReckonerPage:
    """The reckoners of one system."""

    address: str
    title: str
    system: str
    system_name: str
    day: str
    reckoners: tuple[ReckonerView, ...]
    facts: dict[str, Any]
    missing: tuple[str, ...]


def reckoner_address(system: str) -> str:
    """`reckon/reckoner-a.html`."""
    return f"reckon/reckoner-{system.lower()}.html"


def anchor(name: str) -> str:
    """The place of a reckoner on its page."""
    return f"reckon-{name.replace('_', '-')}"


def reckoner_links(register: Register, names: Sequence[str], system: str) -> tuple[LinkView, ...]:
    """Links from a procedure to the reckoners it asks for: of its own system, or of every system of the room."""
    systems = [system] if system else [one.id for one in register.house.systems]
    links = []
    for id_ in systems if names else ():
        there = offered(register, id_)
        links += [
            LinkView(
                sentence("page.link", system=id_, name=sentence(f"names.{name}")),
                f"{reckoner_address(id_)}#{anchor(name)}",
            )
            for name in names
            if name in there
        ]
    return tuple(links)


def reckoner_pages(register: Register, pages: Sequence[PageView]) -> Iterator[ReckonerPage]:
    """A page for each system that has a reckoner at all."""
    asked = _asked_by(pages)
    for system in register.house.systems:
        there = offered(register, system.id)
        if there:
            yield _page(register, system, there, asked)


def _page(
    register: Register, system: System, there: Sequence[str], asked: Mapping[str, Sequence[LinkView]]
) -> ReckonerPage:
    facts = collect(register, system)
    missing = () if "missed_flood" in there else (sentence("page.no_flood", system=system.id),)
    return ReckonerPage(
        address=reckoner_address(system.id),
        title=sentence("page.title", system=system.id),
        system=system.id,
        system_name=system.name,
        day=register.built_for.isoformat(),
        reckoners=tuple(
            ReckonerView(
                name,
                sentence(f"titles.{name}"),
                _fields(name, facts),
                tuple(_tables(name, register, system, facts)),
                tuple(asked.get(f"{reckoner_address(system.id)}#{anchor(name)}", ())),
            )
            for name in there
        ),
        facts=facts,
        missing=missing,
    )


def _asked_by(pages: Sequence[PageView]) -> dict[str, list[LinkView]]:
    """The pages that lead to a reckoner, by its place."""
    asked: dict[str, list[LinkView]] = {}
    for page in pages:
        for place in dict.fromkeys(link.address for link in page.reckoners):
            asked.setdefault(place, []).append(LinkView(f"{page.document} {page.title}", page.page_address))
    return asked


def _fields(name: str, facts: dict[str, Any]) -> tuple[Field, ...]:
    """In the order in which the reckoner takes them."""
    if name in ("level", "ec"):
        tank = facts["tank"]
        marks = span(tank["pump_minimum_text"], tank["fill_text"], tank["level_shown"])
        hint = f"{marks}, {sentence('page.marks')}"
        if name == "level":
            return (Field("level", "Level read", "number", tank["level_shown"], hint),)
        rules = facts["ec"]
        ends = span(rules["least_text"], rules["most_text"], "mS/cm")
        return (
            Field("ec", "EC read", "number", "mS/cm", ends),
            Field("level", "Level the tank stands at", "number", tank["level_shown"], hint),
        )
    if name == "ph":
        rules = facts["ph"]
        ends = span(rules["least_text"], rules["most_text"], "")
        return (
            Field("ph", "pH read", "number", "", ends),
            Field(
                "doses",
                "Doses given in the last 24 h",
                "count",
                "",
                sentence("page.count_doses", most=rules["most_doses"]),
            ),
        )
    if name == "missed_flood":
        hint = sentence("page.clock")
        return (
            Field("last", "Start of the last good flood", "clock", "", hint),
            Field("now", "Time now", "clock", "", hint),
        )
    if name == "strip":
        chosen = tuple(
            (id_, sentence("page.residue") if id_ == "residue" else rule["label"])
            for id_, rule in facts["strip"].items()
        )
        return (
            Field("task", "What was tested", "choice", options=chosen),
            Field("reading", "Strip read", "number", "mg/L", sentence("page.pads")),
            Field("failed", "Earlier ones that failed today", "count", "", sentence("page.count_failed")),
        )
    return _order_fields(facts) if name == "order" else _batch_fields(facts)


def _order_fields(facts: dict[str, Any]) -> tuple[Field, ...]:
    crops, sets = facts["order"]["crops"], facts["order"].get("in_sets")
    units = "; ".join(sentence("page.units", crop=one["name"], unit=one["unit"]) for one in crops.values())
    if sets:
        units = f"{units}. {sentence('page.in_sets', crop=sets)}"
    options = tuple((id_, f"{one['name']}, in {one['unit']}") for id_, one in crops.items())
    return (
        Field("crop", "Crop", "choice", options=options),
        Field("wanted", "Amount wanted", "number", "", units),
        Field("day", "Wanted on", "day", "", sentence("reading.day")),
    )


def _batch_fields(facts: dict[str, Any]) -> tuple[Field, ...]:
    rules = facts["batch"]
    sizes = "; ".join(
        sentence(
            "page.sizes",
            task=rule["label"],
            least=rule["least_text"],
            most=rule["most_text"],
            unit=rule["shown"],
        )
        for rule in rules.values()
    )
    units = " or ".join(dict.fromkeys(rule["shown"] for rule in rules.values()))
    tasks = tuple((id_, f"{rule['label']}, in {rule['shown']}") for id_, rule in rules.items())
    return (
        Field("task", "Batch", "choice", options=tasks),
        Field("wanted", "Amount wanted", "number", units, sizes),
    )


def _tables(name: str, register: Register, system: System, facts: dict[str, Any]) -> Iterator[TableView]:
    for id_, title in _TABLES.get(name, ()):
        for amount in register.of_id(id_, system=system.id):
            yield amount_table(amount, f"{title}, system {system.id}")
    if name == "ph":
        doses = [
            (amount.label, amount.printed, amount.tool)
            for id_ in ("ph_first_dose", "ph_up_first_dose")
            for amount in register.of_id(id_, system=system.id)
        ]
        yield TableView(
            f"First doses at most, system {system.id}", ("Dose", "Amount", "Measured with"), tuple(doses)
        )
    if name == "strip":
        rows = tuple(
            (rule["label"], rule["strip"], f"1 part in {rule['dilution']}", _from_to(rule["low_text"], rule["high_text"]))
            if id_ != "residue"
            else (rule["label"], rule["strip"], "undiluted", f"{rule['allowed_text']} mg/L or less")
            for id_, rule in facts["strip"].items()
        )  # fmt: skip
        yield TableView(
            f"Strips that pass, system {system.id}", ("What", "Strip", "Dilution", "Passes"), rows
        )
    if name == "order":
        for amount in register.of_id("promise_weeks"):
            yield amount_table(amount, "What may be promised in which week, of the plan as it stands")
    if name == "batch":
        yield _batch_table(register, system, facts)


def _batch_table(register: Register, system: System, facts: dict[str, Any]) -> TableView:
    rows = []
    for id_, rule in facts["batch"].items():
        keys = {"system": system.id, "task": id_}
        stock, water, made = (
            register.get(name, **keys) for name in ("stock_for_batch", "water_for_batch", "strength_made")
        )
        batch = f"{rule['printed_text']} {rule['shown']}"
        rows.append((rule["label"], batch, water.printed, stock.printed, made.printed))
    heads = ("Batch", "Amount", "Water first", "Stock", "Strength made")
    return TableView(f"Printed batches, system {system.id}", heads, tuple(rows))


def _from_to(low: str, high: str) -> str:
    return f"{low} mg/L" if low == high else f"{low} to {high} mg/L"

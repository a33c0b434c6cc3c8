"""How often things are due: one figure each, from the house where it says so, else as published."""

from __future__ import annotations

from dataclasses import dataclass

from macros.ground.records import Record
from macros.house import House
from macros.manual.house_facts.fact_text import fact_of, fact_text
from macros.published.pages.frequencies import PublishedRhythm, published_rhythms


@dataclass(frozen=True)
class Frequency:
    """What is due, how often, and who says so."""

    task: str
    text: str
    said_by: str


def frequencies(house: House) -> dict[str, Frequency]:
    """Every rhythm of the manual by its name, in the order of the published list."""
    return {name: _of(house, name, entry) for name, entry in published_rhythms().items()}


def _of(house: House, name: str, entry: PublishedRhythm) -> Frequency:
    if name in house.frequencies:
        return Frequency(entry.task, house.frequencies[name], f"this house, frequencies.{name}")
    record, field = _own_field(house, entry)
    value = getattr(record, field) if record is not None else None
    if record is not None and value is not None:
        place = record.place(field)
        return Frequency(entry.task, f"every {fact_text(value, house.us)}", f"this house, {place}")
    return Frequency(entry.task, entry.text, "assumed, as no fact of the house says it")


def _own_field(house: House, entry: PublishedRhythm) -> tuple[Record | None, str]:
    """The record and field in which the house says it."""
    if entry.meter:
        meter = next((one for one in house.meters if one.measures == entry.meter), None)
        return meter, "calibrate_every"
    if entry.fact:
        path, _, field = entry.fact.rpartition(".")
        record = fact_of(house, path)
        return (record if isinstance(record, Record) else None), field
    return None, ""

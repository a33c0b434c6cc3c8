"""How often things are due: one figure each, from the house where it says so, else as published."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from macros.ground.records import Record
from macros.ground.units import Quantity
from macros.house import House
from macros.manual.house_facts.fact_text import fact_of, fact_text
from macros.manual.house_facts.recurrence import Rhythm, parse_rhythm, rhythm_every
from macros.published.pages.frequencies import PublishedRhythm, published_rhythms


@dataclass(frozen=True)
class Frequency:
    """What is due, how often in words, and who says so; `every` where a fact of the house says it as a time."""

    task: str
    text: str
    said_by: str = ""
    every: Quantity | None = None

    @cached_property
    def rhythm(self) -> Rhythm:
        """The same as days: of the fact, else of the words as they were typed."""
        return rhythm_every(self.every.value, self.every.unit) if self.every else parse_rhythm(self.text)


def frequencies(house: House) -> dict[str, Frequency]:
    """Every rhythm of the manual by its name: those of the house alone, then in the order of the published list."""
    own = {
        name: Frequency(name.replace("_", " "), text, f"this house, own_frequencies.{name}")
        for name, text in house.own_frequencies.items()
    }
    return {**own, **{name: _of(house, name, entry) for name, entry in published_rhythms().items()}}


def frequency_of(task: str, every: Quantity, us: bool, said_by: str = "") -> Frequency:
    """What comes back each time such a time has passed."""
    return Frequency(task, f"every {fact_text(every, us)}", said_by, every)


def _of(house: House, name: str, entry: PublishedRhythm) -> Frequency:
    if name in house.frequencies:
        return Frequency(entry.task, house.frequencies[name], f"this house, frequencies.{name}")
    record, field = _own_field(house, entry)
    value = getattr(record, field) if record is not None else None
    if record is not None and value is not None:
        return frequency_of(entry.task, value, house.us, f"this house, {record.place(field)}")
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

"""What the text of a procedure may ask for: amounts, facts, places and tools of the house at hand.

The text is a sandboxed template; these functions are all it can reach. Every answer is plain text.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from macros.amounts import NotFound, Register, printing
from macros.amounts.record import Amount
from macros.house.base import Record
from macros.units import Money, Quantity, Strength, convert

_DURATION_WORDS = {"day": "days", "week": "weeks", "month": "months", "year": "years"}


class WordMistake(ValueError):  # noqa: N818 - one mistake in one text
    """A text asks for something the house does not have; the message says what there is."""


@dataclass
class Words:
    """The words of one page: bound to the register, the page's system and, in a repeated step, its item."""

    register: Register
    keys: dict[str, str] = field(default_factory=dict)
    item: Mapping[str, Any] | None = None
    used: list[Amount] = field(default_factory=list)

    def names(self) -> dict[str, Any]:
        """Everything a text may name, for the template's context."""
        functions: dict[str, Callable[..., str]] = {
            "amount": self.amount,
            "number": self.number,
            "unit_of": self.unit_of,
            "low": self.low,
            "high": self.high,
            "fact": self.fact,
            "place": self.place,
            "meter": self.meter,
            "scale": self.scale,
            "responsible": self.responsible,
        }
        names: dict[str, Any] = dict(functions)
        if "system" in self.keys:
            names["system"] = _system_words(self.register, self.keys["system"])
        if self.item is not None:
            names.update(self.item)
        return names

    # ------------------------------------------------------------- amounts

    def find(self, id_: str, **of: str) -> Amount:
        """The amount meant here: the keys given, then the page's own. What is found counts as used."""
        try:
            found = self.register.find(id_, self.keys, **of)
        except NotFound as missing:
            raise WordMistake(str(missing)) from missing
        self.used.append(found)
        return found

    def amount(self, id_: str, **of: str) -> str:
        """Number and unit as printed."""
        return self.find(id_, **of).printed

    def number(self, id_: str, **of: str) -> str:
        """The printed number without its unit, for a form that prints the unit in its heading."""
        found = self.find(id_, **of)
        unit = printing.shown_unit(found.unit)
        return found.printed.removesuffix(f" {unit}") if unit else found.printed

    def unit_of(self, id_: str, **of: str) -> str:
        """The unit an amount is printed in."""
        return printing.shown_unit(self.find(id_, **of).unit)

    def low(self, id_: str, **of: str) -> str:
        """Lower end of a band."""
        return self.number(id_, **of).split(" to ")[0]

    def high(self, id_: str, **of: str) -> str:
        """Upper end of a band."""
        return self.number(id_, **of).split(" to ")[-1]

    # ------------------------------------------------------------- facts

    def fact(self, path: str) -> str:
        """A fact of the house by its path, as `policies.reservoir_change_every`, in the house's unit."""
        value: Any = self.register.house
        for name in path.split("."):
            if isinstance(value, Mapping):
                value = value.get(name)
            else:
                value = (
                    getattr(value, name, None)
                    if isinstance(value, Record) and name in _fields(value)
                    else None
                )
            if value is None:
                raise WordMistake(f'fact("{path}") is not given by this house')
        return fact_text(value, self.register.house.us)

    def place(self, name: str) -> str:
        """Where something is in this house, as `eyewash` or `drain_for_waste`."""
        places = self.register.house.house.places
        value = getattr(places, name, None) if name in _fields(places) else None
        if value is None:
            raise WordMistake(f'place("{name}") is not given under house.places')
        return str(value)

    def meter(self, measures: str) -> str:
        """The house's own name for the meter that reads `ph` or `ec`."""
        for meter in self.register.house.meters:
            if (measures == "ph" and meter.buffers) or (measures == "ec" and meter.standard):
                return str(meter.name)
        raise WordMistake(f'meter("{measures}"): the house lists no such meter under meters')

    def scale(self) -> str:
        """The house's own name for the scale that reads the level in a tank."""
        for tool in self.register.house.measuring_tools:
            if "level" in tool.for_:
                return str(tool.name)
        raise WordMistake("scale(): no measuring tool of this house is for level")

    def responsible(self) -> str:
        """Who decides in this house."""
        person = self.register.house.house.responsible_person
        return "the owner" if person in (None, "owner") else f"the {person}"


def fact_text(value: Any, us: bool) -> str:
    """A fact as a reader would write it, in the house's unit."""
    if isinstance(value, Quantity):
        unit = printing.house_unit(value.unit, us) if us else value.unit
        number = value.value if unit == value.unit else convert(value.value, value.unit, unit)
        shown = printing.shown_unit(unit)
        return f"{printing.brief(number)} {_DURATION_WORDS.get(shown, shown) if number != 1 else shown}"
    if isinstance(value, Strength | Money):
        return value.written
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return printing.brief(value)
    return re.sub(r"_", " ", str(value)) if isinstance(value, str) and " " not in value else str(value)


def _fields(record: Record) -> Mapping[str, Any]:
    return type(record).model_fields


def _system_words(register: Register, system_id: str) -> dict[str, Any]:
    system = register.house.system(system_id)
    return {
        "id": system.id,
        "name": system.name,
        "drain_valve": bool(system.reservoir.drain_valve),
        "tray_count": system.trays.count,
    }

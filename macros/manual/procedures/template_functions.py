"""What the text of a procedure may ask for: amounts, facts, places and tools of the house at hand.

The text is a sandboxed template; these functions are all it can reach. Every answer is plain text; where it is a time,
its number goes with it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from macros.amounts import NotFound, Register
from macros.amounts.engine import number_format as printing
from macros.amounts.engine.amount import Amount
from macros.amounts.engine.register import UnknownAmount
from macros.amounts.missing_fact import missing_amount, missing_fact
from macros.amounts.sanitizer.batches import as_on_label
from macros.amounts.sanitizer.rinsing import rinse_strip
from macros.amounts.sanitizer.waste import strong_waste
from macros.ground.problems import Problem
from macros.ground.units import Quantity, Strength
from macros.manual.house_facts.chemicals_in_hand import stock_handling
from macros.manual.house_facts.fact_text import fact_of, fact_text, fields_of
from macros.manual.house_facts.frequencies import frequencies
from macros.manual.procedures.expand_steps import system_words
from macros.page_model.clock_times import Answer, minutes_in, typed_minutes, typed_number
from macros.published.safety.substances import substances

FUNCTIONS = (
    "amount", "number", "unit_of", "low", "high", "fact", "place", "phone", "every", "meter", "pen_note", "scale", "keeps",
    "responsible", "rinse_strip", "strong_waste", "in_units",
)  # fmt: skip
"""The words with brackets: methods of `Words`."""


_STRENGTH_OF_TASK = r"sanitizing\.tasks\.(\w+)\.(target|ceiling)"


class WordMistake(ValueError):  # noqa: N818 - one mistake in one text
    """A text asks for something the house does not have; the message says what there is.

    `in_house` tells where the house would have to say it; None where the text itself is at fault.
    """

    def __init__(self, message: str, in_house: Callable[[], Problem | None] = lambda: None) -> None:
        super().__init__(message)
        self.in_house = in_house


class NotHere(WordMistake):
    """The house at hand has no such amount."""


def _typed(
    otherwise: str | None, mistake: str, in_house: Callable[[], Problem | None] = lambda: None
) -> Answer:
    """What an author typed for houses without what was asked for; without it, it is a mistake."""
    if otherwise is None:
        raise WordMistake(mistake, in_house)
    return Answer(otherwise, typed_minutes(otherwise))


@dataclass
class Words:
    """The words of one page: bound to the register, the page's system and, in a repeated step, its item."""

    register: Register
    keys: dict[str, str] = field(default_factory=dict)
    item: Mapping[str, Any] | None = None
    used: list[Amount] = field(default_factory=list)

    def names(self) -> dict[str, Any]:
        """Everything a text may name, for the template's context. The same for all texts of a step."""
        return self._names

    @cached_property
    def _names(self) -> dict[str, Any]:
        names: dict[str, Any] = {name: getattr(self, name) for name in FUNCTIONS}
        if "system" in self.keys:
            names["system"] = system_words(self.register, self.keys["system"])
        if self.item is not None:
            names.update(self.item)
        return names

    # ------------------------------------------------------------- amounts

    def find(self, id_: str, **of: str) -> Amount:
        """The amount meant here: the keys given, then the page's own. What is found counts as used."""
        try:
            found = self.register.find(id_, self.keys, **of)
        except UnknownAmount as unknown:
            raise WordMistake(unknown.what) from unknown
        except NotFound as missing:
            keys = {**self.keys, **of}
            raise NotHere(str(missing), lambda: missing_amount(self.register, id_, keys)) from missing
        self.used.append(found)
        return found

    def amount(self, id_: str, otherwise: str | None = None, **of: str) -> str:
        """Number and unit as printed; `otherwise` where this house has no such amount."""
        try:
            found = self.find(id_, **of)
        except NotHere as missing:
            return _typed(otherwise, str(missing), missing.in_house)
        return Answer(found.printed, minutes_in(found.rounded, found.unit))

    def number(self, id_: str, otherwise: str | None = None, **of: str) -> str:
        """The printed number without its unit, for a form that prints the unit in its heading."""
        try:
            return " to ".join(self._figures(id_, of))
        except NotHere as missing:
            return _typed(otherwise, str(missing), missing.in_house)

    def unit_of(self, id_: str, otherwise: str | None = None, **of: str) -> str:
        """The unit an amount is printed in; `otherwise` where this house has no such amount."""
        try:
            return printing.shown_unit(self.find(id_, **of).unit)
        except NotHere as missing:
            return _typed(otherwise, str(missing), missing.in_house)

    def in_units(self, metric: str, us: str) -> str:
        """What is typed on the page for a metric house, or for one with US units, with its number where it is one."""
        text = us if self.register.house.us else metric
        return Answer(text, number=typed_number(text))

    def low(self, id_: str, **of: str) -> str:
        """Lower end of a band, with its number."""
        return Answer(self._figures(id_, of)[0], number=self._ends(id_, of)[0])

    def high(self, id_: str, **of: str) -> str:
        """Upper end of a band, with its number."""
        return Answer(self._figures(id_, of)[-1], number=self._ends(id_, of)[1])

    def _figures(self, id_: str, of: dict[str, str]) -> tuple[str, ...]:
        found = self.find(id_, **of)
        return found.figures or (found.printed,)

    def _ends(self, id_: str, of: dict[str, str]) -> tuple[float | None, float | None]:
        return self.register.find(id_, self.keys, **of).ends

    # ------------------------------------------------------------- facts

    def fact(self, path: str, otherwise: str | None = None) -> str:
        """A fact of the house by its path, as `policies.reservoir_change_every`, in the house's unit.

        `otherwise` is printed where the house does not give it; without it a missing fact is a mistake.
        """
        house = self.register.house
        value = fact_of(house, path)
        if (
            isinstance(value, Strength)
            and (named := re.fullmatch(_STRENGTH_OF_TASK, path))
            and house.sanitizing
        ):
            return as_on_label(house, house.sanitizing.tasks[named[1]], named[2])
        if value is None:
            return _typed(
                otherwise,
                f'fact("{path}") is not given by this house',
                lambda: missing_fact(self.register.house, path),
            )
        minutes = minutes_in(value.value, value.unit) if isinstance(value, Quantity) else None
        return Answer(fact_text(value, house.us), minutes)

    def place(self, name: str, otherwise: str | None = None) -> str:
        """Where something is in this house, as `eyewash` or `drain_for_waste`."""
        value = fact_of(self.register.house.house.places, name)
        if value is None:
            return _typed(
                otherwise,
                f'place("{name}") is not given under house.places',
                lambda: missing_fact(self.register.house, f"house.places.{name}"),
            )
        return str(value)

    def phone(self, whose: str) -> str:
        """A number to ring: `ambulance_fire`, `poison_line` or `owner_phone`."""
        emergency = self.register.house.house.emergency
        if whose not in fields_of(emergency):
            raise WordMistake(f'phone("{whose}"): there are {", ".join(fields_of(emergency))}')
        return str(getattr(emergency, whose))

    def every(self, name: str) -> str:
        """How often something is due, as "every 14 days": one figure for the whole manual."""
        known = frequencies(self.register.house)
        if name not in known:
            raise WordMistake(f'every("{name}"): there are {", ".join(sorted(known))}')
        return known[name].text

    def meter(self, measures: str) -> str:
        """The house's own name for the meter that reads `ph` or `ec`."""
        for meter in self.register.house.meters:
            if (measures == "ph" and meter.buffers) or (measures == "ec" and meter.standard):
                return str(meter.name)
        raise WordMistake(f'meter("{measures}"): the house lists no such meter under meters')

    def pen_note(self) -> str:
        """What to do to a reading of the EC pen before it is EC, as ", ppm shown / 500"; empty where nothing."""
        if self.register.of_id("ec_divisor"):
            self.find("ec_divisor")
            return ", reading divided by the table at the temperature of the cup"
        if self.register.of_id("ec_scale"):
            return f", ppm shown / {self.number('ec_scale')}"
        return ""

    def scale(self) -> str:
        """The house's own name for the scale that reads the level in a tank; a house without one is refused as a whole."""
        for tool in self.register.house.measuring_tools:
            if "level" in tool.for_:
                return str(tool.name)
        return "tank scale"

    def keeps(self, substance: str) -> str:
        """The name of a substance, as `nitric acid` for `nitric_acid`, where the house keeps a chemical of it; else empty."""
        held = (stock_handling(one) for one in self.register.house.chemicals)
        there = any(one is not None and one.substance == substance for one in held)
        return substances()[substance].name if there else ""

    def rinse_strip(self, task: str) -> str:
        """The strip that reads what a task leaves behind: the one the house names, else its finest for that sanitizer."""
        return rinse_strip(self.register.house, task)

    def strong_waste(self) -> str:
        """Where strong waste of each kind of sanitizer of the house goes, beyond what every label is read for; a blank before it."""
        return strong_waste(self.register.house)

    def responsible(self) -> str:
        """Who decides in this house."""
        return self.register.house.house.who_decides

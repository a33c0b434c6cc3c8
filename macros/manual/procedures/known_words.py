"""Every word a procedure page may name in one house: what is published for all houses, and the ids of this one."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from functools import cached_property

from macros.amounts import Register
from macros.amounts.engine.amount import OF_KEYS
from macros.house import House
from macros.house.records.room import Emergency, Places
from macros.manual.house_facts.fact_paths import PathEnd, path_end
from macros.manual.house_facts.fact_text import fact_of
from macros.published.amounts.amount_ids import known_amount_ids
from macros.published.names import declared
from macros.published.pages.page_words import page_words

METERS = ("ph", "ec")
THINGS = "A measuring tool, meter or strip of the house, or a thing of macros/published/pages/things.yml, letter for letter"
_KEY_OF_MAPPING = {"sanitizing.tasks": "task", "nutrients.stages": "feed_stage"}
"""Mappings of the house whose names are values of a key of amounts."""


@dataclass(frozen=True)
class KnownWords:
    """The known words of one kind each. `documents` are the ids of all procedures."""

    register: Register
    documents: tuple[str, ...]

    @property
    def house(self) -> House:
        """The house the pages are for."""
        return self.register.house

    @cached_property
    def amounts(self) -> Collection[str]:
        """Ids of amounts, whether or not this house has them."""
        return known_amount_ids()

    @cached_property
    def of(self) -> dict[str, Collection[str]]:
        """Values of each key of amounts: the published ones, and those this house has."""
        house, sanitizing = self.house, self.house.sanitizing
        found = {key: set(page_words().of.get(key, ())) for key in OF_KEYS}
        for amount in self.register.all():
            for key, value in amount.of:
                found[key].add(value)
        found["system"] |= {one.id for one in house.systems}
        found["task"] |= set(sanitizing.tasks if sanitizing is not None else ())
        found["chemical"] |= {one.id for one in house.chemicals}
        found["part"] |= {one.id for one in house.nutrients.parts}
        found["feed_stage"] |= set(house.nutrients.stages)
        found["variety"] |= {one.id for one in house.varieties}
        return {key: frozenset(values) for key, values in found.items()}

    @cached_property
    def kinds(self) -> Mapping[str, Collection[str]]:
        """The names of each kind that the types of a page's fields ask for and no published file declares."""
        house, tools = self.house, self.house.measuring_tools
        places = {str(value) for name in Places.model_fields if (value := getattr(house.house.places, name))}
        return {
            "procedure": self.documents,
            "thing of the inventory": frozenset(known_things(house)),
            "place of the work": {
                *page_words().where,
                *places,
                *(one.kept_at for one in house.inventory if one.kept_at),
            },
            "load this house knows": {
                *page_words().lifted,
                *(one.name for one in tools),
                *(one.id for one in tools if one.id),
            },
            "source of sources.yml": {
                *declared("sources"),
                *self.house.own_sources,
            },
            "key of rows": {*OF_KEYS, "seed_lot"},
        }

    @cached_property
    def of_words(self) -> dict[str, tuple[str, Collection[str]]]:
        """What the first text in the brackets of a word may be, for the words that take one of a list."""
        amounts = ("amount of checked_by.yml", self.amounts)
        return {
            **dict.fromkeys(("amount", "number", "unit_of", "low", "high"), amounts),
            "place": ("place of emergency things", tuple(Places.model_fields)),
            "phone": ("telephone number", tuple(Emergency.model_fields)),
            "every": (
                "rhythm of frequencies.yml",
                (*declared("frequencies", "frequencies"), *self.house.own_frequencies),
            ),
            "meter": ("meter", METERS),
            "keeps": ("substance of substances.yml", tuple(declared("substances", "substances"))),
        }

    def path(self, model: type, path: str) -> PathEnd:
        """Where a path of facts leads, from the house or from a record of it."""
        return path_end(model, path, self._names_below if model is House else lambda _: ())

    def _names_below(self, path: str) -> Collection[str]:
        here = fact_of(self.house, path)
        own = tuple(here) if isinstance(here, dict) else ()
        if path.endswith(".rates"):
            return (*own, *self.of["part"])
        if path == "frequencies":
            return tuple(declared("frequencies", "frequencies"))
        return (*own, *self.of.get(_KEY_OF_MAPPING.get(path, ""), ()))


def known_things(house: House) -> list[str]:
    """Every name of a thing a step may use in this house."""
    rinse = house.sanitizing.rinse if house.sanitizing is not None else None
    proof = rinse.verify_with if rinse is not None else None
    return [
        *(tool.name for tool in house.measuring_tools),
        *(meter.name for meter in house.meters),
        *(strip.name for strip in house.test_strips),
        *([proof] if proof is not None else []),
        *declared("things", "things"),
        *(thing.thing for thing in house.inventory),
    ]

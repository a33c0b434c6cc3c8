"""What a house must have, or must lack, for a step to be for it: `only_with` read into a tagged choice."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any, Literal, get_args

from pydantic import BeforeValidator

from macros.amounts import NotFound, Register
from macros.ground.records import mistake
from macros.house import House
from macros.house.records.chemicals import Chemical
from macros.manual.house_facts.fact_text import fact_of

ROLES: tuple[str, ...] = get_args(Chemical.model_fields["role"].annotation)
"""Roles of chemicals a page may name instead of a house's own id, so that it fits any house."""

Kind = Literal["role", "strip", "amount", "fact", "system", "rinse", "grows", "part"]
TAGS = ("amount", "fact", "system", "rinse", "grows", "part")
ONE_NAME: dict[Kind, str] = {"rinse": "last", "part": "weighed"}
"""Kinds that ask one thing of what the step is repeated for."""
FORMS = (
    *ROLES,
    "strip",
    "amount:<id>",
    "fact:<path of the house>",
    "system:<path of the page's own system>",
    "rinse:last",
    "grows:<botanical name>",
    "part:weighed",
)


@dataclass(frozen=True)
class OnlyWith:
    """`lacking` is for houses without it. `name` is a role, the id of an amount, the path of a fact, the last rinse, the
    botanical name of a plant, or `weighed`, that the part is dry feed; else empty. A house that lists no varieties may grow any.
    """

    kind: Kind
    name: str
    lacking: bool = False

    def met_by(self, register: Register, system: str, keys: dict[str, str]) -> bool:
        """Whether the house, at this system and repeat, is one the step is for."""
        return self._given(register, {**({"system": system} if system else {}), **keys}) is not self.lacking

    def _given(self, register: Register, own: dict[str, str]) -> bool:
        house = register.house
        if self.kind == "role":
            return bool(house.chemicals_with_role(self.name))
        if self.kind in ("fact", "system"):
            of_system = house.system(own["system"]) if "system" in own else None
            return _said(fact_of(house if self.kind == "fact" else of_system, self.name))
        if self.kind == "grows":
            return _may_grow(house, self.name)
        if self.kind == "part":
            return house.nutrients.weighs(own.get("part", ""))
        if self.kind == "rinse":
            return own.get("rinse") == self.name
        if self.kind == "strip":
            return has_amount(register, "strip_band", own)
        found = register.on_page(self.name, own["system"]) if "system" in own else register.of_id(self.name)
        return any(all(own.get(k, v) == v for k, v in amount.of) for amount in found)


def _said(value: Any) -> bool:
    """Whether a fact is given, and no empty list or no."""
    return value is not None and value != () and value is not False


def _may_grow(house: House, botanical: str) -> bool:
    """Whether a plant is among the varieties; a house that lists none may grow any."""
    return not house.varieties or any(own.botanical == botanical for own in house.varieties)


def has_amount(register: Register, id_: str, keys: dict[str, str]) -> bool:
    """Whether one amount of this id answers to the keys of a page."""
    try:
        register.find(id_, keys)
    except NotFound:
        return False
    return True


def _read(text: Any) -> OnlyWith:
    if isinstance(text, OnlyWith):
        return text
    if not isinstance(text, str):
        raise mistake("a list or mapping stands here", ", ".join(FORMS), "Write one value")
    what = text.removeprefix("no ")
    tag, colon, name = what.partition(":")
    if colon and tag in TAGS:
        return OnlyWith(tag, name, what != text)  # type: ignore[arg-type]
    return OnlyWith("strip" if what == "strip" else "role", what, what != text)


OnlyWithField = Annotated[OnlyWith, BeforeValidator(_read)]

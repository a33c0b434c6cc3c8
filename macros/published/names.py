"""Words of published files that lead somewhere: each is one of the names another place declares, told where it is none."""

from __future__ import annotations

import re
import string
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Annotated, Any, TypeVar, cast

from pydantic import AfterValidator, GetCoreSchemaHandler
from pydantic_core import CoreSchema, core_schema

from macros.ground.field_types import reader
from macros.ground.records import mistake, nearest
from macros.published import source_of


@dataclass(frozen=True)
class NameOf:
    """Note on a text field: it is one of the names that stand in a section of a published file, or one of `also`.

    The names are read from the file as it stands, so that two files may name each other.
    """

    topic: str
    section: str
    also: tuple[str, ...] = ()

    def names(self) -> Mapping[str, None]:
        """Every name allowed, in file order."""
        return _names(self)

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        read = cast(Any, reader(self._read).func)
        return core_schema.with_info_before_validator_function(read, handler(source))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: Any) -> dict[str, Any]:
        return {"enum": [*self.names()]}

    def _read(self, text: str, us: bool) -> str:
        names = self.names()
        if text not in names:
            raise mistake(
                f'"{text}" is none of the names under {self.section} in {source_of(self.topic).file}',
                "" if len(names) > 12 else f"Allowed: {', '.join(names)}",
                nearest(text, names) or "Choose one of them, or add it there",
            )
        return text


@cache
def _names(note: NameOf) -> Mapping[str, None]:
    """The names of a mapping, or the ids of a list."""
    data = source_of(note.topic).data
    held = data.get(note.section) if isinstance(data, dict) else None
    if isinstance(held, list):
        held = [row["id"] for row in held if isinstance(row, dict) and isinstance(row.get("id"), str)]
    return MappingProxyType(dict.fromkeys((*(held or ()), *note.also)))


R = TypeVar("R", bound=Any)


def distinct(rows: tuple[R, ...]) -> tuple[R, ...]:
    """Check of rows with an id: each stands once."""
    ids = [row.id for row in rows]
    twice = sorted({one for one in ids if ids.count(one) > 1})
    if twice:
        raise mistake(f"{', '.join(twice)} stands here twice", "Each id once", "Rename one")
    return rows


def complete(names: Callable[[], Iterable[str]]) -> AfterValidator:
    """Note on a mapping: every one of these names stands in it."""

    def check(held: Mapping[str, Any]) -> Mapping[str, Any]:
        lacking = [name for name in names() if name not in held]
        if lacking:
            raise mistake(f"{', '.join(lacking)} is missing here", "", "Write a line for each")
        return held

    return AfterValidator(check)


def with_slots(names: Callable[[], Iterable[str]]) -> AfterValidator:
    """Note on a text: each name in {braces} is one of these."""

    def check(text: str) -> str:
        for slot in slots_in(text):
            if slot not in (known := [*names()]):
                raise mistake(
                    f"nothing fills {{{slot}}}",
                    f"Slots: {', '.join(known)}",
                    nearest(slot, known) or "Choose one",
                )
        return text

    return AfterValidator(check)


def slots_in(text: str) -> tuple[str, ...]:
    """The names in {braces}, each once, in order."""
    try:
        return tuple(dict.fromkeys(name for _, name, _, _ in string.Formatter().parse(text) if name))
    except ValueError as error:
        raise mistake("a brace stands alone in the text", "{name}", "Close it or take it away") from error


def shaped(pattern: str, what: str, example: str) -> Any:
    """Note on a text: it has the form of `what`."""

    def read(text: str, us: bool) -> str:
        if re.fullmatch(pattern, text) is None:
            raise mistake(f'"{text}" is not {what}', f"As {example}", "Write it so")
        return text

    return reader(read)


Action = Annotated[str, NameOf("actions", "actions")]
Substance = Annotated[str, NameOf("substances", "substances")]
Equipment = Annotated[str, NameOf("ppe", "items")]
FirstAidKind = Annotated[str, NameOf("first_aid", "items")]
CautionId = Annotated[str, NameOf("cautions", "cautions")]
PairId = Annotated[str, NameOf("pairs", "pairs")]
HazardCode = Annotated[str, NameOf("bands", "h_text")]

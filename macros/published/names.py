"""The kinds of names in published files, one type each: what names something is looked up by the mark in its type.

A kind without names here is declared in a higher room, which hands its names to the walk (`all_published_problems`).
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from functools import cache, partial
from types import MappingProxyType
from typing import Annotated, Any, TypeVar

from pydantic import AfterValidator

from macros.ground.field_types import Name, reader
from macros.ground.names import NameOf, NameOrText
from macros.ground.records import mistake
from macros.published import source_of


@cache
def declared(topic: str, section: str = "", wanted: tuple[str, str] | None = None) -> Mapping[str, None]:
    """The names that a published file declares: of a mapping, or the ids of a list; a field may have to say `wanted`.

    They are read from the file as it stands, so that two files may name each other.
    """
    data = source_of(topic).data
    held = data.get(section) if section and isinstance(data, dict) else data
    if isinstance(held, list):
        rows = [row for row in held if isinstance(row, dict)]
        held = [
            row.get("id", row.get("function"))
            for row in rows
            if wanted is None or row.get(wanted[0]) == wanted[1]
        ]
    return MappingProxyType(dict.fromkeys(one for one in held or () if isinstance(one, str)))


@cache
def verbs() -> Mapping[str, None]:
    """Every verb of the list of actions, in lower case."""
    actions = source_of("actions").data["actions"]
    return MappingProxyType(dict.fromkeys(verb.lower() for one in actions.values() for verb in one["verbs"]))


Action = Annotated[str, NameOf("action of actions.yml", partial(declared, "actions", "actions"))]
Verb = Annotated[str, NameOf("verb of actions.yml", verbs)]
Substance = Annotated[
    str, NameOf("substance of substances.yml", partial(declared, "substances", "substances"))
]
SubstanceGroup = Annotated[str, NameOf("group of substances.yml", partial(declared, "substances", "groups"))]
Equipment = Annotated[str, NameOf("item of ppe.yml", partial(declared, "ppe", "items"))]
FirstAidKind = Annotated[str, NameOf("item of first_aid.yml", partial(declared, "first_aid", "items"))]
CautionId = Annotated[str, NameOf("caution of cautions.yml", partial(declared, "cautions", "cautions"))]
PairId = Annotated[str, NameOf("pair of pairs.yml", lambda: (*declared("pairs", "pairs"), "HOUSE"))]
HazardCode = Annotated[str, NameOf("code under h_text in bands.yml", partial(declared, "bands", "h_text"))]
PrecautionCode = Annotated[
    str, NameOf("code under p_text in bands.yml", partial(declared, "bands", "p_text"))
]
PrecautionSet = Annotated[str, NameOf("set under p_sets in bands.yml", partial(declared, "bands", "p_sets"))]
AmountId = Annotated[str, NameOf("amount of checked_by.yml", partial(declared, "checked_by"))]
CheckedFunction = Annotated[str, NameOf("calculation of checks.yml", partial(declared, "checks"))]
SourceKey = Annotated[str, NameOf("source of sources.yml", partial(declared, "sources"))]
Thing = Annotated[str, NameOf("thing of things.yml", partial(declared, "things", "things"))]
Rhythm = Annotated[str, NameOf("rhythm of frequencies.yml", partial(declared, "frequencies", "frequencies"))]
Unit = Annotated[str, NameOf("training unit", partial(declared, "training_units", "units"))]
JobId = Annotated[str, NameOf("job of jobs.yml", partial(declared, "jobs", "jobs"))]
Waivable = Annotated[
    str,
    NameOf(
        "requirement a page can waive", partial(declared, "requirements", "requirements", ("judged", "page"))
    ),
]
TASKS = ("tray_spray", "parts_soak", "tool_dip", "loop_circulate")
SanitizingTask = Annotated[str, NameOf("sanitizing task", lambda: TASKS)]
"""The uses of a sanitizer that have pages; a house may name others."""

DocumentId = Annotated[str, NameOf("procedure")]
DocumentToPrint = Annotated[str, NameOf("procedure to print")]
StepName = Annotated[str, NameOf("step")]
"""`SOP-05/lower`, or `SOP-03/label:tray_spray` for the one of a sanitizing task."""
Tested = Annotated[str, NameOf("step or caution")]
"""`SOP-09 level`, `SOP-08 add_part*`, `SOP-03 stock-parts_soak` or `caution LIFT-WATER`."""
Place = Annotated[Name, NameOf("place or thing")]
FactPath = Annotated[str, NameOf("fact of a house")]
"""A fact by its path, as `sanitizing.rinse`."""
RhythmText = Annotated[Name, NameOf("rhythm in words")]
CardName = Annotated[str, NameOf("wall card")]
LabelName = Annotated[str, NameOf("kind of label")]
Maker = Annotated[str, NameOf("maker of sheets")]
DifferenceName = Annotated[str, NameOf("kind of difference")]
Calculation = Annotated[str, NameOf("calculation")]

PageThing = Annotated[str, NameOrText("thing of the inventory")]
PagePlace = Annotated[str, NameOrText("place of the work")]
PageLoad = Annotated[str, NameOf("load this house knows")]
RowKey = Annotated[str, NameOf("key of rows")]

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


def shaped(pattern: str, what: str, example: str) -> Any:
    """Note on a text: it has the form of `what`."""

    def read(text: str, us: bool) -> str:
        if re.fullmatch(pattern, text) is None:
            raise mistake(f'"{text}" is not {what}', f"As {example}", "Write it so")
        return text

    return reader(read)

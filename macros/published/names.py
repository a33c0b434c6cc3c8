"""The kinds of names in published files, one type each: what names something is looked up by the mark in its type.

A kind without names here is declared in a higher room, which hands its names to the walk (`all_published_problems`).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from functools import cache, partial
from types import MappingProxyType
from typing import Annotated, Any, TypeVar

from pydantic import AfterValidator

from macros.ground.field_types import Name, Text
from macros.ground.names import NameOf, NameOrText
from macros.ground.records import mistake
from macros.published import source_of


@cache
def declared(topic: str, section: str = "") -> Mapping[str, None]:
    """The names that a published file declares: of a mapping, or the ids of a list (calculations by `function`).

    They are read from the file as it stands, so that two files may name each other.
    """
    held = _section(topic, section)
    if isinstance(held, list):
        held = [row.get("id", row.get("function")) for row in _rows(topic, section)]
    return MappingProxyType(dict.fromkeys(one for one in held or () if isinstance(one, str)))


def _section(topic: str, section: str) -> Any:
    data = source_of(topic).data
    return data.get(section) if section and isinstance(data, dict) else data


def _rows(topic: str, section: str) -> list[dict[str, Any]]:
    held = _section(topic, section)
    rows = held.values() if isinstance(held, dict) else held or ()
    return [row for row in rows if isinstance(row, dict)]


@cache
def verbs() -> Mapping[str, None]:
    """Every verb of the list of actions, in lower case."""
    written = [verb for action in _rows("actions", "actions") for verb in action.get("verbs") or ()]
    return MappingProxyType(dict.fromkeys(str(verb).lower() for verb in written))


def _waivable() -> list[str]:
    rows = _rows("requirements", "requirements")
    return [str(row.get("id")) for row in rows if row.get("judged") == "page"]


def _name(kind: str, topic: str, section: str = "") -> NameOf:
    return NameOf(kind, partial(declared, topic, section))


Action = Annotated[str, _name("action of actions.yml", "actions", "actions")]
Verb = Annotated[str, NameOf("verb of actions.yml", verbs)]
Substance = Annotated[str, _name("substance of substances.yml", "substances", "substances")]
SubstanceGroup = Annotated[str, _name("group of substances.yml", "substances", "groups")]
Equipment = Annotated[str, _name("item of ppe.yml", "ppe", "items")]
FirstAidKind = Annotated[str, _name("item of first_aid.yml", "first_aid", "items")]
CautionId = Annotated[str, _name("caution of cautions.yml", "cautions", "cautions")]
PairId = Annotated[str, NameOf("pair of pairs.yml", lambda: (*declared("pairs", "pairs"), "HOUSE"))]
HazardCode = Annotated[str, _name("code under h_text in bands.yml", "bands", "h_text")]
PrecautionCode = Annotated[str, _name("code under p_text in bands.yml", "bands", "p_text")]
PrecautionSet = Annotated[str, _name("set under p_sets in bands.yml", "bands", "p_sets")]
AmountId = Annotated[str, _name("amount of checked_by.yml", "checked_by")]
CheckedFunction = Annotated[str, _name("calculation of checks.yml", "checks")]
PoisonTable = Annotated[str, _name("table of poisonous.yml", "poisonous", "tables")]
EdibleReference = Annotated[str, _name("reference of edible.yml", "edible", "references")]
SourceKey = Annotated[str, _name("source of sources.yml", "sources")]
Way = Annotated[str, _name("way of documents.yml", "documents", "ways")]
Thing = Annotated[str, _name("thing of things.yml", "things", "things")]
Rhythm = Annotated[str, _name("rhythm of frequencies.yml", "frequencies", "frequencies")]
Unit = Annotated[str, _name("training unit", "training_units", "units")]
JobId = Annotated[str, _name("job of jobs.yml", "jobs", "jobs")]
Waivable = Annotated[str, NameOf("requirement a page can waive", _waivable)]
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

PageThing = Annotated[Text, NameOrText("thing of the inventory")]
PagePlace = Annotated[Text, NameOrText("place of the work")]
PageLoad = Annotated[str, NameOf("load this house knows")]
PageSource = Annotated[str, NameOf("source of sources.yml")]
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

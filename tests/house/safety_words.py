"""Every word of a house misspelt, taken out and exchanged, and what its pages then say of safety: the matrix of words and changes."""

from __future__ import annotations

import copy
import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from functools import cache
from typing import Any, Literal, get_args

from macros.amounts import compute_amounts
from macros.ground.problems import Problem
from macros.ground.record_shape import record_at
from macros.ground.records import build_record
from macros.ground.yaml_source import Path_, Source
from macros.house.records.house import House
from macros.house.rules import check_house
from macros.manual.pages.build_page import build_pages
from macros.manual.procedures.load_files import load_procedures
from macros.manual.procedures.write_text import TextWriter
from macros.published.safety.signal_words import worst_first
from tests.facts import leaves, source_of
from tests.making import PROCEDURES

HOUSES = ("fourth", "fifth", "second")
_NO_WORD = re.compile(r"[-+]?\d[\d.,:]*( \S.*)?|\d{4}-\d\d-\d\d.*|")
_TOLD = ("error", "warning")
MOST_OF_A_KIND, MOST_EXCHANGES = 2, 4
"""Words of one field that are tried, as of the first two varieties; other words each is exchanged for."""

Seen = dict[tuple[str, str, str], int]
"""Page, step and caution with the rank of its word, 0 the worst; of protection, first aid and pages that are there, 0."""


@dataclass(frozen=True)
class Case:
    """One change of one word; `new` is None where it is taken out."""

    house: str
    path: Path_
    change: Literal["misspelt", "removed", "exchanged"]
    old: str
    new: str | None

    @property
    def field(self) -> str:
        """Where it stands, whichever entry it is of."""
        return field_of(self.path)


def field_of(path: Path_) -> str:
    """`chemicals[].active`, whichever bottle it is of."""
    return ".".join("[]" if isinstance(step, int) else step for step in path).replace(".[]", "[]")


def cases(name: str) -> Iterator[Case]:
    """Every case of a house."""
    count: dict[str, int] = {}
    for path, text in leaves(source_of(name).data):
        field = field_of(path)
        if _NO_WORD.fullmatch(text) or count.get(field, 0) >= MOST_OF_A_KIND:
            continue
        count[field] = count.get(field, 0) + 1
        yield Case(name, path, "removed", text, None)
        middle = len(text) // 2
        for slip in dict.fromkeys((text[:middle] + text[middle + 1 :], text + text[-1])):
            yield Case(name, path, "misspelt", text, slip)
        for other in [one for one in _others(path, field) if one != text][:MOST_EXCHANGES]:
            yield Case(name, path, "exchanged", text, other)


def _others(path: Path_, field: str) -> list[str]:
    """The words the field may have by its type, and those that stand there in other entries and houses."""
    *above, last = path[:-1] if isinstance(path[-1], int) else path
    record = record_at(House, tuple(above))
    info = record.model_fields.get(str(last)) if record is not None else None
    choices = [str(word) for word in _literals(info.annotation)] if info is not None else []
    flags = ["yes", "no"] if info is not None and "bool" in str(info.annotation) else []
    return list(dict.fromkeys([*flags, *choices, *_in_houses().get(field, ())]))


def _literals(annotation: Any) -> Iterator[Any]:
    for part in get_args(annotation):
        if isinstance(part, str):
            yield part
        yield from _literals(part)


@cache
def _in_houses() -> dict[str, dict[str, None]]:
    found: dict[str, dict[str, None]] = {}
    for name in ("first", *HOUSES, "third"):
        for path, text in leaves(source_of(name).data):
            found.setdefault(field_of(path), {})[text] = None
    return found


def changed(case: Case) -> Source:
    """The house with the change."""
    source = source_of(case.house)
    data = copy.deepcopy(source.data)
    holder = data
    for step in case.path[:-1]:
        holder = holder[step]
    if case.new is None:
        del holder[case.path[-1]]
    else:
        holder[case.path[-1]] = case.new
    return Source(data=data, places=source.places, file=source.file)


@cache
def _procedures() -> list[Any]:
    return load_procedures(PROCEDURES)[0]


def said(source: Source) -> tuple[Seen | None, set[tuple[str, str]]]:
    """What the pages say of safety, None where there are none; and every error and warning, without its line."""
    facts = source.data.get("house")
    us = isinstance(facts, dict) and facts.get("unit_style") == "us"
    house, problems = build_record(House, source, us_gallons=us)
    if house is not None:
        problems = [*problems, *check_house(house, None)]
    seen: Seen | None = None
    if house is not None and not _refused(problems):
        day = house.house.as_of or date(2031, 5, 1)
        register = compute_amounts(house, day, house.house.place("as_of"))
        built, more = build_pages(_procedures(), register, TextWriter())
        problems += [*register.problems, *more]
        seen = _seen(built) if not _refused(problems) else None
    return seen, {(one.key, one.what) for one in problems if one.severity in _TOLD}


def _refused(problems: list[Problem]) -> bool:
    return any(one.severity == "error" for one in problems)


def _seen(built: Any) -> Seen:
    found: Seen = {}
    for page, planned in ((one.content, one.planned) for one in built):
        # The rinses of a loop are as many as the sum asks for: the last of three may be the last of four.
        rinses = {step.id: step.data.id for step in planned if step.data.repeat == "rinse"}
        found[page.key, "", "page"] = 0
        for step in page.steps:
            key = rinses.get(step.id, step.id)
            for caution in step.cautions:
                found[page.key, key, caution.entry.id] = worst_first(caution.word)
            if step.hold or step.critical:
                found[page.key, key, "critical"] = 0
        for worn in page.ppe:
            found[page.key, "", f"wear {worn.name}"] = 0
        for aid in page.first_aid:
            found[page.key, "", f"first aid {aid[0]}"] = 0
    return found


@cache
def before(name: str) -> tuple[Seen, set[tuple[str, str]]]:
    """What the house says as it stands."""
    seen, told = said(source_of(name))
    assert seen is not None, told
    return seen, told


def lost_in_silence(case: Case) -> list[str]:
    """What a page says no more, or more weakly, where no error or warning came with the change."""
    was, told_before = before(case.house)
    now, told = said(changed(case))
    if now is None or told - told_before:
        return []
    return [" ".join(key) for key, rank in was.items() if now.get(key, 99) > rank]

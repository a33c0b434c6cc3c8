"""The measuring sheet: what the questions ask, in their order, with blanks to fill in on a walk round the room."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Literal, get_args, get_origin

from markupsafe import Markup

from macros.amounts import Register
from macros.amounts.engine.number_format import shown_unit as shown
from macros.ground.record_shape import plain_type
from macros.house.records.sanitizing import SanitizingTask
from macros.house.records.systems import CupPlate
from macros.house.records.tools import MeasuringTool, Meter
from macros.html.environment import fragment
from macros.manual.pages.build_page import BuiltPage
from macros.measuring.answers import shown_unit
from macros.measuring.facts import Fact, facts_of
from macros.measuring.open_facts import open_facts
from macros.measuring.order import Item, names_a_thing, ordered
from macros.measuring.rests_on import rests_on
from macros.measuring.tape_drawing import tape_drawing
from macros.published.paper.measuring import MeasuringPlace

MOST_ROWS = 116
"""Lines on one walk: four pages; the questions go on with the rest. A tool with its marks is one line."""
_ON_ONE_LINE = (MeasuringTool, Meter, SanitizingTask, CupPlate)


@dataclass(frozen=True)
class Row:
    """One blank: what is measured, its unit, the words to choose from, pages that rest on it and the reason."""

    words: str
    unit: str
    choices: tuple[str, ...]
    long: bool
    pages: int
    reason: str


@dataclass(frozen=True)
class Block:
    """The facts of one thing, under its name; those of a tool stand on one line."""

    name: str
    rows: tuple[Row, ...]
    on_one_line: bool


@dataclass(frozen=True)
class Stop:
    """One place of the walk."""

    place: MeasuringPlace
    blocks: tuple[Block, ...]


@dataclass(frozen=True)
class MeasuringSheet:
    """All of the sheet: what comes first, then the rest; pages that are the owner's own after the first, and of how many."""

    first: tuple[Stop, ...]
    rest: tuple[Stop, ...]
    facts_first: int
    own_after: int
    pages: int
    more: int
    with_tape: bool

    @property
    def is_empty(self) -> bool:
        """Whether everything is measured."""
        return not self.first and not self.rest


def items_of(register: Register, built: Iterable[BuiltPage]) -> tuple[list[Item], int, int]:
    """The facts of the questions in their order; the pages that are own once the first are given, and all pages."""
    source = register.house.read_from
    open_ = list(open_facts(facts_of(source), source, register))
    rests = rests_on(built, register)
    items = [item for item in ordered(open_, rests) if isinstance(item.what, Fact)]
    first = {item.what.name for item in items if item.tier == "first"}
    own = rests.own(one.what.name for one in open_ if one.what.name not in first)
    return items, len(own), len(rests.pages)


def measuring_sheet(register: Register, built: Iterable[BuiltPage]) -> MeasuringSheet:
    """What is not measured yet in this house, as a sheet."""
    items, own, pages = items_of(register, built)
    counted = _on_the_walk([item for item in items if item.tier != "last" and not _is_chosen_later(item)])
    us = register.house.us
    first = [item for item in counted if item.tier == "first"]
    return MeasuringSheet(
        first=_stops(first, us),
        rest=_stops([item for item in counted if item.tier != "first"], us),
        facts_first=len(first),
        own_after=own,
        pages=pages,
        more=len(items) - len(counted),
        with_tape=any(_is_length(item) for item in counted),
    )


def sheet_html(sheet: MeasuringSheet, meta: Sequence[tuple[str, str]]) -> Markup:
    """The sheet as a fragment of a pack."""
    return fragment(
        "measuring.html.j2",
        s=sheet,
        drawing=tape_drawing("where-the-tape-goes") if sheet.with_tape else "",
        meta=meta,
    )


def _stops(items: Sequence[Item], us: bool) -> tuple[Stop, ...]:
    return tuple(
        Stop(place, tuple(_blocks(list(there), us)))
        for place, there in groupby(items, key=lambda item: item.place)
    )


def _blocks(items: Sequence[Item], us: bool) -> Iterable[Block]:
    for name, group in groupby(items, key=_of):
        rows = list(group)
        one_line = _on_one_line(rows[0])
        name = name.rpartition(", ")[2] if one_line else name
        yield Block(name, tuple(_row(item, us) for item in rows), one_line)


def _on_the_walk(items: Sequence[Item]) -> list[Item]:
    """As many facts, from the first, as the sheet has lines for."""
    lines: list[str] = []
    counted = []
    for item in items:
        line = _of(item) if _on_one_line(item) else item.what.name
        if line not in lines:
            lines.append(line)
        if len(lines) > MOST_ROWS:
            break
        counted.append(item)
    return counted


def _is_chosen_later(item: Item) -> bool:
    """Whether a fact is the short name of something there: nobody reads it off, it is chosen while typing."""
    return names_a_thing(item.what) and item.what.path[-1] == "id"


def _is_length(item: Item) -> bool:
    """Whether a fact is read off a tape: a length of a tank, a tray, a plate, a tub or a lamp."""
    return isinstance(item.what, Fact) and shown_unit(item.what, us=False) in ("m", "cm", "mm", "in", "ft")


def _of(item: Item) -> str:
    return item.what.of if isinstance(item.what, Fact) else ""


def _on_one_line(item: Item) -> bool:
    return isinstance(item.what, Fact) and item.what.record in _ON_ONE_LINE


def _row(item: Item, us: bool) -> Row:
    fact = item.what
    assert isinstance(fact, Fact)
    unit, choices = shown_unit(fact, us), _choices(fact)
    is_text = not unit and not choices and (fact.value is None or not str(fact.value)[:1].isdigit())
    return Row(fact.words, shown(unit), choices, is_text or fact.is_list, item.pages, item.reason)


def _choices(fact: Fact) -> tuple[str, ...]:
    plain = plain_type(fact.annotation)
    if plain is bool:
        return "yes", "no"
    words = (
        tuple(str(one).replace("_", " ") for one in get_args(plain)) if get_origin(plain) is Literal else ()
    )
    return words[:-1] if fact.field == "basis" else words

"""Judges a change of an issued item: nothing that counts, wording alone, or something that asks for a new revision.

After requirement D-05: a printed number, unit or limit; a step added, removed or put elsewhere; a caution, its level or
trigger, what to wear; a strength, product, vessel or tool; a formula, constant or rounding rule, also where the page prints
the same; a source; a review that is due. After D-06 none of it: a typing error, styling, an input that prints the same.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from difflib import SequenceMatcher
from functools import cache
from itertools import zip_longest
from math import isclose
from typing import Any, Literal

from macros.amounts.engine.number_format import shown_unit
from macros.control.documents.issued_copies import AmountTaken, Snapshot
from macros.ground.units import kinds
from macros.manual.pages.printed_lines import CELL, STEP_ORDER, LineKind, PrintedLine, in_words, line_group
from macros.published.paper.judgement import judgement_words

Verdict = Literal["none", "wording", "re-issue"]
DifferenceKind = LineKind | Literal["step", "turned", "formula", "review"]
"""What differs: a kind of line, or the set of steps, a word that turns the meaning, how a number is worked out, the review."""

_SAME = 1e-9
"""Relative difference under which two unrounded values are one: the noise of the arithmetic lies far below."""


@dataclass(frozen=True)
class Difference:
    """One line that differs. `old` or `new` is empty where the line was added or is gone."""

    place: str
    kind: DifferenceKind
    old: str
    new: str

    @property
    def why(self) -> str:
        """What a difference of its kind is, in words."""
        return judgement_words().kinds[self.kind].why

    @property
    def retrain(self) -> bool:
        """Whether people are briefed anew after it before they work alone."""
        return judgement_words().kinds[self.kind].retrain

    def __str__(self) -> str:
        return f"{in_words(self.place)}: {self.old or 'nothing'} -> {self.new or 'nothing'} ({self.why})"


def shown_first(differences: Sequence[Difference], most: int, of_group: int = 2) -> list[Difference]:
    """The first few to tell; of the rows of one table or the lines of one list no more than `of_group`."""
    told: dict[str, int] = {}
    found = []
    for one in differences:
        group = line_group(one.place)
        told[group] = told.get(group, 0) + 1
        if told[group] <= of_group:
            found.append(one)
    return found[:most]


@dataclass(frozen=True)
class Judgement:
    """What a change asks for, and the differences it rests on, the weightiest first."""

    verdict: Verdict
    retrain: bool
    differences: tuple[Difference, ...]

    @property
    def counting(self) -> tuple[Difference, ...]:
        """The differences that ask for a new revision."""
        return tuple(one for one in self.differences if one.kind != "text")


def judge_change(issued: Snapshot, now: Snapshot, review: tuple[date, date] | None = None) -> Judgement:
    """Compare an item with its last issue.

    Parameters
    ----------
    issued, now : what it printed then and prints now
    review : the day its review fell due and the day the manual is built for, where the first has passed
    """
    found = [
        *line_differences(issued.lines, now.lines),
        *formula_differences(issued.formulas, now.formulas),
        *value_differences(issued, now.amounts, now.inputs),
    ]
    if review is not None:
        due, today = review
        found.append(Difference("review", "review", f"due {due}", f"built for {today}"))
    found.sort(key=lambda one: one.kind == "text")
    verdict: Verdict = "none" if not found else "wording" if found[0].kind == "text" else "re-issue"
    return Judgement(verdict, any(one.retrain for one in found), tuple(found))


def line_differences(old: Sequence[PrintedLine], new: Sequence[PrintedLine]) -> list[Difference]:
    """Every line that differs, in the order of the new paper; lines of a list are compared as a list."""
    before, after = _grouped(old), _grouped(new)
    titles = _titles(old), _titles(new)
    found: list[Difference] = []
    for group in dict.fromkeys((*after, *before)):
        found += _in_group(before.get(group, []), after.get(group, []), titles)
    if not found and tuple(old) != tuple(new):  # the same texts, one of them at another place
        moved = next(line for line, other in zip(new, old, strict=True) if line != other)
        found.append(Difference(moved.place, "order", "stood elsewhere", moved.text))
    return found


def formula_differences(old: Mapping[str, str], new: Mapping[str, str]) -> list[Difference]:
    """Triggers of cautions, and formulas and rules of amounts, whose shape differs."""
    found = []
    for name in sorted(old.keys() | new.keys()):
        was, now = old.get(name, ""), new.get(name, "")
        if was != now and not name.startswith("caution "):
            found.append(Difference(f"working of {name}", "formula", was, now))
        elif was and now and was != now:  # a caution that came or went is a line of its own
            found.append(Difference(f"trigger of {name}", "caution", was, now))
    return found


def value_differences(
    old: Snapshot, amounts: Mapping[str, AmountTaken], inputs: Mapping[str, str]
) -> list[Difference]:
    """Amounts worked out from the same facts to another unrounded value: a constant or a formula changed.

    The page may print the same; so only the copy of the last issue can show it.
    """
    found = []
    for key in sorted(old.amounts.keys() & amounts.keys()):
        was, now = old.amounts[key], amounts[key]
        same_facts = was.inputs == now.inputs and all(
            old.inputs.get(name) == inputs.get(name) for name in now.inputs
        )
        if same_facts and not _same_value(was.exact, now.exact):
            found.append(Difference(f"unrounded value of {key}", "formula", str(was.exact), str(now.exact)))
    return found


# ------------------------------------------------------------------ lines


def _grouped(lines: Iterable[PrintedLine]) -> dict[str, list[PrintedLine]]:
    """Lines of one list together, under their place without its number."""
    groups: dict[str, list[PrintedLine]] = {}
    for line in lines:
        groups.setdefault(line_group(line.place), []).append(line)
    return groups


def _in_group(
    old: Sequence[PrintedLine], new: Sequence[PrintedLine], titles: tuple[dict[str, str], dict[str, str]]
) -> Iterator[Difference]:
    texts = [line.text for line in old], [line.text for line in new]
    for _, a, b, c, d in SequenceMatcher(None, *texts, autojunk=False).get_opcodes():
        for was, now in _paired(old[a:b], new[c:d], titles):
            if was is None or now is None or (was.kind, was.text) != (now.kind, now.text):
                yield _difference(was, now)


def _paired(
    old: Sequence[PrintedLine], new: Sequence[PrintedLine], titles: tuple[dict[str, str], dict[str, str]]
) -> Iterator[tuple[PrintedLine | None, PrintedLine | None]]:
    """What was beside what is: rows of a table by table and first cell, other lines one after another.

    Of several rows with one heading those that share most cells belong together; a row without its like came or went.
    """
    rows = [line for line in old if _heading(line, titles[0])]
    for now in new:
        if heading := _heading(now, titles[1]):
            alike = [was for was in rows if _heading(was, titles[0]) == heading]
            was = max(alike, key=lambda one: _shared(one.text, now.text), default=None)
            if was is not None:
                rows.remove(was)
            yield was, now
    yield from ((was, None) for was in rows)
    plain = [
        [line for line in lines if not _heading(line, own)]
        for lines, own in zip((old, new), titles, strict=True)
    ]
    yield from zip_longest(*plain)


def _titles(lines: Iterable[PrintedLine]) -> dict[str, str]:
    """The title of each table, by the place its rows begin with."""
    return {line.place.removesuffix(": title"): line.text for line in lines if line.place.endswith(": title")}


def _heading(line: PrintedLine, titles: Mapping[str, str]) -> tuple[str, ...]:
    """What a row is about: title of its table and first cell, group and name of a supply; nothing for any other line."""
    if line.kind in ("supply", "ppe"):
        return tuple(line.text.split(CELL)[:2])
    table, _, row = line.place.rpartition(": ")
    is_row = row.startswith(("row ", "tick "))
    return (titles.get(table, ""), line.text.partition(CELL)[0]) if is_row else ()


def _shared(old: str, new: str) -> int:
    """How many cells of two rows are alike."""
    return sum(map(str.__eq__, old.split(CELL), new.split(CELL)))


def _difference(was: PrintedLine | None, now: PrintedLine | None) -> Difference:
    line = now or was
    assert line is not None
    old, new = was.text if was else "", now.text if now else ""
    return Difference(line.place, _kind(line, old, new), old, new)


def _kind(line: PrintedLine, old: str, new: str) -> DifferenceKind:
    """What differs: the kind of the line, or what weighs more in its text."""
    if line.place == STEP_ORDER and set(old.split(", ")) != set(new.split(", ")):
        return "step"
    if line.kind == "text" and _numbers(old) != _numbers(new):
        return "amount"
    if line.kind == "text" and old and new and _turning(old) != _turning(new):
        return "turned"
    return line.kind


def _numbers(text: str) -> list[str]:
    """The numbers of a text, each with its unit."""
    return [" ".join(one.split()).lower() for one in _number().findall(text)]


@cache
def _number() -> re.Pattern[str]:
    units = {name for _, names in kinds().values() for unit in names for name in (unit, shown_unit(unit))}
    inside = "|".join(re.escape(unit) for unit in sorted(units, key=len, reverse=True))
    words = "|".join(judgement_words().number_words)
    number = r"(?<!\w)(?<![A-Za-z]-)\d+(?:[.,]\d+)*"  # not those of a name, as in SOP-08
    return re.compile(rf"{number}(?:\s*(?:{inside})(?![A-Za-z]))?|\b(?:{words})\b", re.IGNORECASE)


def _turning(text: str) -> list[str]:
    words = judgement_words().turning_words
    return [word for word in re.findall(r"[a-z]+", text.lower()) if word in words]


def _same_value(old: Any, new: Any) -> bool:
    """Whether two unrounded values are one, whatever they are made of."""
    if isinstance(old, bool) or isinstance(new, bool):
        return old is new
    if isinstance(old, int | float) and isinstance(new, int | float):
        return isclose(old, new, rel_tol=_SAME, abs_tol=_SAME)
    if isinstance(old, Mapping) and isinstance(new, Mapping):
        return old.keys() == new.keys() and all(_same_value(old[key], new[key]) for key in old)
    if isinstance(old, list | tuple) and isinstance(new, list | tuple):
        return len(old) == len(new) and all(map(_same_value, old, new))
    return bool(old == new)

"""Why a line prints otherwise: which fact, which procedure, which published list, or the program.

An amount knows its inputs, so for a line with an amount the answer is sure. For other texts the fact whose old or new
text stands in the line is named; else the procedure of the page, where its file changed; else all that changed.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

from macros.amounts import Amount, Register
from macros.control.changes.baseline import PROCEDURE, PROGRAM, Inputs
from macros.control.documents.judge_change import Difference
from macros.house.files.facts_as_written import LOG, WrittenFact

CATALOGUE = "macros/published/cautions.yml"
LEAST_TEXT = 2
"""Characters: a shorter text stands in too many lines to say anything."""
_AMOUNT = re.compile(r"\bamount (\w+)")


@dataclass(frozen=True, order=True)
class Cause:
    """One input that changed: its name, where it stands now, its old and its new text; a file has no texts."""

    name: str
    where: str = ""
    old: str = ""
    new: str = ""

    @cached_property
    def text(self) -> str:
        """`systems[A].reservoir.inside_width (site_data/house.yml:54): 50 cm -> 55 cm`."""
        where = f" ({self.where})" if self.where else ""
        if not self.old and not self.new:
            return f"{self.name}{where} changed"
        return f"{self.name}{where}: {self.old or 'not given'} -> {self.new or 'not given'}"


@dataclass(frozen=True)
class Reasons:
    """The causes of one difference; where it is not `sure`, one of them or several are.

    None means that no fact and no file changed: what is left is the history of issues, reviews and sign-offs.
    """

    causes: tuple[Cause, ...]
    sure: bool = True

    @property
    def text(self) -> str:
        """The causes in one line."""
        if not self.causes:
            return "what was issued, reviewed or signed since"
        told = "; ".join(cause.text for cause in self.causes[:3])
        more = f"; and {len(self.causes) - 3} more" if len(self.causes) > 3 else ""
        return f"{'' if self.sure else 'one of '}{told}{more}"


class Causes:
    """All that changed between the inputs of an earlier print and those of now."""

    def __init__(
        self,
        register: Register,
        facts: Mapping[str, WrittenFact],
        files: Mapping[str, str],
        old: Inputs,
        now: Inputs,
    ) -> None:
        """`facts` are those of now with their places, `files` the path of each procedure by its id."""
        changed = sorted(
            n for n in old.facts.keys() | now.facts.keys() if old.facts.get(n) != now.facts.get(n)
        )
        self.facts = {name: _fact(name, facts, old, now) for name in changed}
        if old.day != now.day:
            self.facts["day of use"] = Cause("the day", "", old.day, now.day)
        self._was, self._is = _forms_of(self.facts)
        self.files = {
            name: _file(name, files)
            for name in sorted(old.files.keys() | now.files.keys())
            if old.files.get(name) != now.files.get(name)
        }
        self._moved = [amount for amount in register.all() if self._inputs_of(amount)] if self.facts else []

    @property
    def all(self) -> tuple[Cause, ...]:
        """Everything that changed."""
        return (*self.facts.values(), *self.files.values())

    def of(self, difference: Difference, documents: Iterable[str]) -> Reasons:
        """Why a line differs that stands on these documents (`SOP-08`)."""
        sure = self._of_its_amount(difference) or self._of_its_text(difference)
        own = [self.files[name] for name in (PROCEDURE + one for one in documents) if name in self.files]
        if not (sure or own) and difference.kind == "caution" and CATALOGUE in self.files and not self.facts:
            own = [self.files[CATALOGUE]]
        found = sure or tuple(own)
        return Reasons(found) if found else Reasons(self.all, sure=len(self.all) == 1)

    def _of_its_amount(self, difference: Difference) -> tuple[Cause, ...]:
        """What moved the amount that the place of the line names."""
        named = set(_AMOUNT.findall(difference.place))
        return self._of_amounts(amount for amount in self._moved if amount.id in named)

    def _of_its_text(self, difference: Difference) -> tuple[Cause, ...]:
        """The facts whose texts stand in the line, and those behind each amount that came to stand in it."""
        named = _standing(self._was, difference.old) | _standing(self._is, difference.new)
        facts = [cause for name, cause in self.facts.items() if name in named]
        amounts = (
            amount
            for amount in self._moved
            if len(amount.printed) >= LEAST_TEXT
            and _stands(amount.printed, difference.new)
            and not _stands(amount.printed, difference.old)
        )
        return tuple(dict.fromkeys((*facts, *self._of_amounts(amounts))))

    def _of_amounts(self, amounts: Iterable[Amount]) -> tuple[Cause, ...]:
        names = dict.fromkeys(name for amount in amounts for name in self._inputs_of(amount))
        return tuple(self.facts[name] for name in names)

    def _inputs_of(self, amount: Amount) -> list[str]:
        names = (LOG if one.name.startswith(f"{LOG}[") else one.name for one in amount.inputs)
        return [name for name in names if name in self.facts]


def _fact(name: str, facts: Mapping[str, WrittenFact], old: Inputs, now: Inputs) -> Cause:
    where = facts[name].where if name in facts else ""
    return Cause(name, where, old.facts.get(name, ""), now.facts.get(name, ""))


def _file(name: str, files: Mapping[str, str]) -> Cause:
    if name.startswith(PROCEDURE):
        return Cause(name, files.get(name.removeprefix(PROCEDURE), "no longer there"))
    return Cause("the caution catalogue", name) if name == CATALOGUE else Cause(name)


def _forms(text: str) -> tuple[str, ...]:
    """A fact's text as a line may hold it: as written, and with spaces for the strokes of an id."""
    return tuple(dict.fromkeys((text, text.replace("_", " ")))) if len(text) >= LEAST_TEXT else ()


def _forms_of(facts: Mapping[str, Cause]) -> tuple[list[tuple[str, str]], list[tuple[str, str]]]:
    """Of each fact its forms of then, and those of now."""
    was = [(name, form) for name, cause in facts.items() for form in _forms(cause.old)]
    now = [(name, form) for name, cause in facts.items() for form in _forms(cause.new)]
    return was, now


def _standing(forms: Iterable[tuple[str, str]], line: str) -> set[str]:
    """The facts of which a form stands in a line; nearly none does, so what takes no time is asked first."""
    return {name for name, form in forms if form in line and _stands(form, line)}


def _stands(text: str, line: str) -> bool:
    """Whether a text stands in a line as words of its own, so that `5 mL` is not found in `15 mL`."""
    start = line.find(text)
    while start >= 0:
        end = start + len(text)
        before, after = line[start - 1 : start], line[end : end + 1]
        if not (before.isalnum() or before == ".") and not after.isalnum():
            return True
        start = line.find(text, start + 1)
    return False


__all__ = ["PROGRAM", "Cause", "Causes", "Reasons"]

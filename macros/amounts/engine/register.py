"""The register: every amount of one house, each computed once, asked for by id and keys."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from datetime import date
from difflib import get_close_matches
from itertools import islice

from macros.amounts.engine.amount import OF_KEYS, Amount, Input, Of, key_of, of_tuple
from macros.amounts.engine.us_units import us_message
from macros.ground.problems import Place, Problem, RangeProblem, Severity
from macros.ground.records import Record
from macros.house import House
from macros.house.rules.report import problem_at
from macros.published.amounts.amount_ids import known_amount_ids


@dataclass(frozen=True)
class Reason:
    """Why an amount is not given: in words; the fact that is missing, where it would stand; the amount it rests on."""

    text: str
    fact: str = ""
    where: str = ""
    rests_on: tuple[str, Of] | None = None


class Withheld(Exception):  # noqa: N818 - a reason, not a fault
    """An amount cannot be given: the house lacks a fact for it, or something it rests on was refused."""

    def __init__(
        self, text: str, fact: str = "", where: str = "", rests_on: tuple[str, Of] | None = None
    ) -> None:
        super().__init__(text)
        self.reason = Reason(text, fact, where, rests_on)


class UnknownAmount(LookupError):  # noqa: N818 - named as NotFound is
    """An id that no amount has, in any house: our own fault, and never a reason to withhold."""

    def __init__(self, id_: str) -> None:
        near = get_close_matches(id_, known_amount_ids(), n=1)
        self.what = f'"{id_}" is no amount id' + (f"; did you mean {near[0]}?" if near else ".")
        super().__init__(
            f"{self.what} A new amount gets its row in macros/published/amounts/checked_by.yml first."
        )


class NotFound(KeyError):  # noqa: N818 - told to whoever asked
    """No amount, or several, answer to what was asked; the message lists what is there."""

    def __str__(self) -> str:
        return str(self.args[0])


@dataclass
class Register:
    """All amounts of one house on one day, the problems met on the way, and what was withheld and why.

    `day` is the day of use, at which ages and strengths are taken; `built_for` the day the manual is built for.
    `facts` are those read so far, by the number of their record, which is kept so that no other gets it, and field.
    """

    house: House
    day: date
    day_place: Place
    built_for: date
    problems: list[Problem] = field(default_factory=list)
    withheld: dict[tuple[str, Of], Reason] = field(default_factory=dict)
    facts: dict[tuple[int, str], tuple[Record, Input]] = field(default_factory=dict)
    _amounts: dict[tuple[str, Of], Amount] = field(default_factory=dict)
    _by_id: dict[str, list[Amount]] = field(default_factory=dict)
    _by_system: dict[tuple[str, str], list[Amount]] = field(default_factory=dict)
    _by_anchor: dict[str, Amount] = field(default_factory=dict)
    _by_key: dict[str, Amount] = field(default_factory=dict)
    _in_order: list[Amount] = field(default_factory=list)

    def add(self, amount: Amount) -> Amount:
        """Enter an amount. The same id and keys twice, or an id that is not listed, is our own fault."""
        key = (amount.id, amount.of)
        self._known(amount.id)
        if key in self._amounts:
            raise ValueError(f"{amount.key} is entered twice")
        self._amounts[key] = amount
        self._by_id.setdefault(amount.id, []).append(amount)
        self._by_system.setdefault((amount.id, dict(amount.of).get("system", "")), []).append(amount)
        self._by_anchor.setdefault(amount.anchor, amount)
        self._by_key[amount.key] = amount
        self._in_order = []
        return amount

    def get(self, id_: str, **of: str) -> Amount:
        """The one amount with this id whose keys agree with those given.

        Keys that are not given may be anything, as long as one amount is left.

        Raises
        ------
        NotFound
            none or several are left; the message lists them, and why one was withheld.
        UnknownAmount
            no house has such an amount.
        """
        wanted = of_tuple(of)
        exact = self._amounts.get((id_, wanted))
        if exact is not None:
            return exact
        found = [a for a in self._near(id_, of) if set(wanted) <= set(a.of)]
        if len(found) == 1:
            return found[0]
        raise NotFound(self._explain(id_, wanted, found))

    def find(self, id_: str, page_keys: dict[str, str], **of: str) -> Amount:
        """As `get`, with the page's own keys (its system, the part of a repeated step) filled in where they help.

        Several that print the same text, as a dip of the same jar for each system, are one on paper.
        """
        near, wanted = self._near(id_, {**page_keys, **of}), set(of_tuple(of))
        if "system" not in of and page_keys.get("system"):
            near = [*near, *self._near(id_, {"system": ""})]
        keys = {**page_keys, **of}
        fitting = [a for a in near if wanted <= set(a.of) and all(keys.get(k, v) == v for k, v in a.of)]
        if len({(a.printed, a.tool, a.pours) for a in fitting}) == 1:
            return fitting[0]
        candidates = [a for a in self._by_id.get(id_, ()) if wanted <= set(a.of)]
        raise NotFound(self._explain(id_, of_tuple(keys), fitting or candidates))

    def all(self) -> list[Amount]:
        """Every amount, sorted by id and keys."""
        if not self._in_order:
            self._in_order = [self._amounts[key] for key in sorted(self._amounts)]
        return list(self._in_order)

    def of_id(self, id_: str, **of: str) -> list[Amount]:
        """Every amount with this id and these keys, sorted by its keys; none is no fault."""
        wanted = set(of_tuple(of))
        return sorted((a for a in self._near(id_, of) if wanted <= set(a.of)), key=lambda a: a.of)

    def on_page(self, id_: str, system: str) -> list[Amount]:
        """Every amount with this id that a page of the system may show: the system's own and those of the whole house."""
        self._known(id_)
        both = (*self._by_system.get((id_, system), ()), *self._by_system.get((id_, ""), ()))
        return sorted(both, key=lambda a: a.of)

    def at_anchor(self, anchor: str) -> Amount | None:
        """The amount whose place on the workings page is `anchor`."""
        return self._by_anchor.get(anchor)

    def of_key(self, key: str) -> Amount | None:
        """The amount of this key, as `dose_full[part=part_1,system=A]`."""
        return self._by_key.get(key)

    def ids(self) -> list[str]:
        """The ids that have at least one amount."""
        return sorted(self._by_id)

    @contextmanager
    def attempt(self, id_: str, record: Record, field_name: str, code: str = "", **of: str) -> Iterator[None]:
        """Compute one amount. A value out of range becomes a problem at `field_name` of `record`.

        What cannot be given is withheld with its reason; whatever rests on it is withheld in turn, so that one
        mistake is told once.
        """
        self._known(id_)
        try:
            yield
        except RangeProblem as error:
            self.report_problem(record, field_name, str(error), code=code)
            self.withhold(id_, of, Reason(self.told(str(error))))
        except Withheld as withheld:
            self.withhold(id_, of, replace(withheld.reason, text=self.told(withheld.reason.text)))

    def withhold(self, id_: str, of: Mapping[str, str], reason: Reason) -> None:
        """Note why an amount is not given."""
        self._known(id_)
        self.withheld[id_, of_tuple(of)] = reason

    def has_tried(self, id_: str, **of: str) -> bool:
        """Whether the amount is there or was withheld: something of the house asks for it."""
        return bool(self.of_id(id_, **of)) or (id_, of_tuple(of)) in self.withheld

    def report_problem(
        self,
        record: Record,
        field_name: str,
        what: str,
        allowed: str = "",
        remedy: str = "",
        code: str = "",
        severity: Severity = "error",
    ) -> None:
        """Note a problem that only the computed amounts show, at a field of a record."""
        what, allowed, remedy = map(self.told, (what, allowed, remedy))
        self.problems.append(problem_at(record, field_name, what, allowed, remedy, code, severity))

    def told(self, text: str) -> str:
        """A message in the units of the house."""
        if not self.house.us:
            return text
        things = (
            self.house.measuring_tools,
            self.house.scales,
            self.house.chemicals,
            self.house.nutrients.parts,
        )
        return us_message(text, (one.name for group in things for one in group))

    def _near(self, id_: str, of: Mapping[str, str]) -> list[Amount]:
        """Amounts of the id that may have these keys: those of the system, where one is named.

        A look-up that went through the amounts of all systems would make a house of 200 systems 200 times slower for
        each of them.
        """
        self._known(id_)
        if "system" in of:
            return self._by_system.get((id_, of["system"]), [])
        return self._by_id.get(id_, [])

    def _known(self, id_: str) -> None:
        if id_ not in self._by_id and id_ not in known_amount_ids():
            raise UnknownAmount(id_)

    def _explain(self, id_: str, wanted: Of, found: list[Amount]) -> str:
        asked = ", ".join(f"{key}={value}" for key, value in wanted)
        asked = f'amount("{id_}"{", " + asked if asked else ""})'
        if found:
            return f"{asked} fits several: {', '.join(a.key for a in found[:6])}"
        exact = self.withheld.get((id_, wanted))
        reasons = (f"{key_of(*key)}: {why.text}" for key, why in self.withheld.items() if key[0] == id_)
        # no more are read than are told: this is asked for every system
        told = [exact.text] if exact is not None else list(islice(reasons, 3))
        if told:
            return f"{asked} is withheld for this house ({'; '.join(told)})"
        there = self._by_id.get(id_, [])[:6]
        if there:
            return f"{asked} fits none of {', '.join(a.key for a in there)}"
        return f"{asked} is not an amount of this house"


__all__ = ["OF_KEYS", "NotFound", "Reason", "Register", "UnknownAmount", "Withheld"]

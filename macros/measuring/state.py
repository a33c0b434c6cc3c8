"""A house as it stands, or would stand after an answer: its problems, its amounts, what of it is open."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from pathlib import Path

from macros.amounts import Register, compute_amounts
from macros.ground.problems import Problem, errors_in
from macros.ground.yaml_source import Path_, Source
from macros.house.files.load_house import load_house, sections_of
from macros.house.records.day import resolve_day
from macros.measuring.facts import Addition, Fact, facts_of
from macros.measuring.open_facts import Open, open_facts


@dataclass
class State:
    """One set of texts, judged by the rules of the house and its amounts."""

    source: Source
    problems: list[Problem]
    register: Register | None = None
    found: tuple[Fact | Addition, ...] = field(default=())

    @cached_property
    def facts(self) -> dict[str, Fact]:
        """Every fact the house has or may have, by name."""
        return {one.name: one for one in self.found if isinstance(one, Fact)}

    @cached_property
    def facts_at(self) -> dict[Path_, Fact]:
        """The same by place, which stays where something gets another name."""
        return {one.path: one for one in self.facts.values()}

    @cached_property
    def additions_at(self) -> dict[Path_, Addition]:
        """Everything that may be added, by place."""
        return {one.path: one for one in self.found if isinstance(one, Addition)}

    @cached_property
    def open(self) -> dict[str, Open]:
        """What is open, by name; nothing where the house has errors."""
        if self.register is None:
            return {}
        found = open_facts(self.found, self.source, self.register)
        return {one.what.name: one for one in found}

    def new_problems(self, before: State) -> list[Problem]:
        """The problems that were not there before, errors first; what still waits to be measured is none."""
        known = {(one.key, one.what) for one in before.problems}
        fresh = [one for one in self.problems if (one.key, one.what) not in known]
        return [one for one in fresh if one.severity in ("error", "warning")]

    def new_errors(self, before: State) -> list[Problem]:
        """Of the new problems those that stop a build."""
        return errors_in(self.new_problems(before))


def state_of(folder: Path, texts: Mapping[str, str], day: str | None = None) -> State:
    """The house of a folder with these texts in place of its files."""
    source, _ = sections_of(folder, texts)
    house, problems = load_house(folder, instead=texts)
    state = State(source or Source(), problems)
    if isinstance(state.source.data, dict):
        state.found = tuple(facts_of(state.source))
    resolved = resolve_day(day, {}, house) if house is not None else None
    if house is not None and isinstance(resolved, tuple) and isinstance(resolved[0], date):
        state.register = compute_amounts(house, *resolved)
        state.problems = [*problems, *state.register.problems]
    return state

"""What a command says of itself and of mistakes: how it was started, from where files are named, how many there are."""

from __future__ import annotations

import shlex
import shutil
import sys
from collections.abc import Sequence
from pathlib import Path

import click

from macros.doors.terminal import say
from macros.ground.problems import DataProblems, Problem, errors_in

HOUSE_GIVEN = "trayside.house"
"""Under this name a command keeps the folder it was given."""


class Commands(click.Group):
    """Says with the mistakes of a house that is not the folder one stands in from where its files are named."""

    def invoke(self, context: click.Context) -> object:
        try:
            return super().invoke(context)
        except DataProblems:
            house = context.meta.get(HOUSE_GIVEN)
            if house is not None and house.resolve() != Path.cwd():
                say(f"In {house}:", err=True)
            raise


def as_started() -> str:
    """The words that start this program here: a shell need not know its name."""
    program = Path(sys.argv[0])
    if not program.name.startswith("trayside") or shutil.which(program.name) == str(program.absolute()):
        return "trayside"
    return shlex.quote(str(program.absolute()))


def counted(problems: Sequence[Problem]) -> str:
    """`8 problems, 2 warnings, 5 to measure or fill in`: the first are what stops the build."""
    errors = len(errors_in(problems))
    warnings = sum(problem.severity == "warning" for problem in problems)
    waiting = len(problems) - errors - warnings
    counts = [f"{errors} {'problem' if errors == 1 else 'problems'}"]
    counts += [f"{warnings} {'warning' if warnings == 1 else 'warnings'}"] if warnings else []
    counts += [f"{waiting} to measure or fill in"] if waiting else []
    return ", ".join(counts)

"""Measures a house by questions: reads it, hands the questions to whoever answers, checks the whole manual at the end."""

from __future__ import annotations

import os
import signal
from collections.abc import Callable, Mapping
from pathlib import Path

import click

from macros.ground.disk.signals import Stopped
from macros.ground.problems import DataProblems
from macros.ground.record_shape import field_names
from macros.house import House
from macros.manual.pages.build_page import build_pages
from macros.manual.procedures.shipped_folder import shipped_procedures
from macros.manual.procedures.write_text import TextWriter
from macros.measuring.agenda import Asked
from macros.measuring.dialogue import Dialogue
from macros.measuring.facts import NOT_TYPED
from macros.measuring.house_files import HouseFiles
from macros.measuring.rests_on import rests_on
from macros.measuring.talk import Talk
from macros.site.site import prepare_site, read_house


def measure(
    house: Path,
    day: str | None,
    section: str,
    every: bool,
    say: Callable[[str], None] = click.echo,
    environment: Mapping[str, str] = os.environ,
) -> None:
    """Put the questions of a house on the terminal and save each answer at once.

    Parameters
    ----------
    section : only facts with a name that begins so; empty for all
    every : also what is known already
    say : tells something

    Raises
    ------
    DataProblems
        the house has mistakes already: they are mended in its files first.
    """
    procedures = shipped_procedures(house)
    register, files, _ = read_house(house, procedures, day, environment)
    built, _ = build_pages(files, register, TextWriter())
    rests, talk = rests_on(built, register), Talk(_asked, say)
    sitting = Dialogue(HouseFiles(house), rests, talk, Asked(section, every), day)
    if not sitting.queue:
        say(_nothing(section))
        return
    try:
        sitting.run()
    except (KeyboardInterrupt, click.exceptions.Abort, Stopped) as stopped:
        if isinstance(stopped, Stopped) and stopped.number != signal.SIGINT:
            raise
        say("\nStopped. Every answer is saved; the next run goes on from here.")
        say(sitting.progress())
    if sitting.saved:
        _tell_manual(house, procedures, day, say, environment)


def _asked(question: str) -> str:
    typed: str = click.prompt(question, default="", show_default=False, prompt_suffix=" ")
    return typed


def _nothing(section: str) -> str:
    if not section:
        return "Nothing of this house is open. With --all every fact is asked, also those that are known."
    known = ", ".join(name for name in field_names(House) if name not in NOT_TYPED)
    return f'No fact has a name that begins with "{section}". Sections: {known}; or a part of one, as trays.'


def _tell_manual(
    house: Path, procedures: Path, day: str | None, say: Callable[[str], None], environment: Mapping[str, str]
) -> None:
    try:
        prepare_site(house, procedures, day, environment)
    except DataProblems as found:
        say("The answers are saved, and the manual as a whole still has to be mended:")
        for problem in found.problems:
            say(str(problem))

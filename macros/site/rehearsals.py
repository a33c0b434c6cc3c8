"""One page or job of a house run on the room, for whoever writes pages: also while it is still refused something."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from macros.amounts import Register
from macros.ground.problems import DataProblems, errors_in
from macros.manual.pages.build_page import BuiltPage, build_pages
from macros.manual.procedures.write_text import TextWriter
from macros.published.labour.jobs import day_facts
from macros.rehearsal.jobs import rehearse_job
from macros.rehearsal.pages import Rehearsal, rehearse, systems_of
from macros.site.site import read_house


class NoSuchPage(LookupError):  # noqa: N818 - named for what it tells
    """The house has no such page, job or system; the message says what there is."""


def rehearsals(
    what: str,
    system: str | None,
    house_folder: Path,
    procedures: Path,
    day: str | None,
    environment: Mapping[str, str],
) -> list[Rehearsal]:
    """Runs of a page (`SOP-06`) or a job (`cleanout`), for one system or for each that has it.

    Raises
    ------
    NoSuchPage
        of a page, job or system that the house has not.
    DataProblems
        every mistake in facts and pages.
    """
    register, files, problems = read_house(house_folder, procedures, day, environment)
    built, found = build_pages(files, register, TextWriter())
    if errors_in(problems + found):
        raise DataProblems(problems + found)
    systems = [one.id for one in register.house.systems]
    if system is not None and system not in systems:
        raise NoSuchPage(f"{system} is no system of this house. Systems: {', '.join(systems)}.")
    wanted = [one for one in systems if system in (None, one)]
    ran = [one for one in _runs(what, built, register, wanted) if one is not None]
    if not ran:
        reason = (
            "tank, trays or tubes of the system are not known well enough. See `trayside amounts --withheld`"
        )
        raise NoSuchPage(f"{what} cannot be run: {reason}.")
    return ran


def _runs(
    what: str, built: Sequence[BuiltPage], register: Register, systems: Sequence[str]
) -> list[Rehearsal | None]:
    jobs = day_facts().jobs
    if what in jobs:
        return [rehearse_job(jobs[what], built, register, one) for one in systems]
    pages = [page for page in built if page.content.document == what]
    if not pages:
        known = ", ".join(sorted({page.content.document for page in built}))
        raise NoSuchPage(f"{what} is no page of this house. Pages: {known}. Jobs: {', '.join(jobs)}.")
    return [
        rehearse(page, register, one)
        for page in pages
        for one in systems
        if one in systems_of(page, register)
    ]

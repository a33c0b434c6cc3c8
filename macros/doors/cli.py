"""The command line door: each command calls one function of a room below and prints what it returns."""

from __future__ import annotations

import os
import sys
from contextlib import nullcontext
from datetime import date
from pathlib import Path
from typing import NoReturn

import click

from macros.amounts import amounts_json
from macros.amounts.engine.explain import explain
from macros.amounts.not_given import not_given_json, not_given_lines
from macros.control.changes.terminal import change_lines, changes_json
from macros.control.documents.plan_issue import IssueRequest, NotIssued
from macros.doors import issue as issuing
from macros.doors import measure as measuring
from macros.doors import print_pack as packing
from macros.doors import publish as publishing
from macros.doors.last_build import changes_since_last_build
from macros.doors.mkdocs_plugin import keep_what_is_made
from macros.doors.preview import Preview, server_of
from macros.doors.said import HOUSE_GIVEN, Commands, as_started, counted
from macros.doors.terminal import prepare_output, progress, say
from macros.ground.days import read_day
from macros.ground.disk.safe_write import NotWritten, describe_os_error
from macros.ground.disk.signals import Stopped, stoppable
from macros.ground.problems import DataProblems, first_lines, in_order
from macros.ground.units import QuantityMistake
from macros.ground.version import VERSION
from macros.house.files import new_house as starting
from macros.house.files.add_readings import add_readings
from macros.house.files.new_since import not_given
from macros.house.files.writing import house_lock
from macros.html.content_policy import HEADERS
from macros.manual.procedures.shipped_folder import shipped_procedures
from macros.packs.pack import PackRequest
from macros.published.amounts.amount_ids import known_amount_ids
from macros.rehearsal.table import table_json, table_lines
from macros.site.changes_of_site import site_changes
from macros.site.rehearsals import NoSuchPage, rehearsals
from macros.site.site import Site, prepare_site


def _with_its_site(context: click.Context, parameter: click.Parameter, house: Path) -> Path:
    """Every command that names a house puts back a site that a killed build left under its other name."""
    for line in publishing.put_sites_back(house):
        say(line, err=True)
    context.meta[HOUSE_GIVEN] = house
    return house


MOST_WARNINGS = 200
"""Warnings told in one run: a house that is being filled in has half of it."""

HOUSE = click.option(
    "--house",
    "house",
    default=".",
    type=click.Path(path_type=Path),
    callback=_with_its_site,
    help="Folder with site_data/.",
)
DATE = click.option("--date", "day", default=None, help="Day to build for, as 2026-03-10.")


@click.group(cls=Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(VERSION, prog_name="trayside")
def commands() -> None:
    """Build and check the house manual of a flood-and-drain grow room."""


@commands.command()
@HOUSE
@DATE
def check(house: Path, day: str | None) -> None:
    """Check facts, pages and links; list what changed. The change is since the last build."""
    site = _prepare(house, day)
    for line in first_lines(in_order(site.warnings), MOST_WARNINGS):
        say(line)
    warnings = sum(problem.severity == "warning" for problem in site.warnings)
    waiting = len(site.warnings) - warnings
    say(
        f"{len(site.pages)} pages, {site.amount_count} amounts: no error, {warnings} warnings"
        + (f", {waiting} to measure or fill in." if waiting else ".")
    )
    for line in (
        *not_given(site.register.house),
        *changes_since_last_build(house, site, publishing.SITES[0]),
    ):
        say(line)


@commands.command()
@click.argument("folder", type=click.Path(path_type=Path))
@click.option("--us", is_flag=True, help="US units: inches, gallons, degrees Fahrenheit; Letter paper.")
def new(folder: Path, us: bool) -> None:
    """Start a house: a folder with every fact explained. It builds at once."""
    made = starting.start_house(folder, us)
    say(f"A new house stands in {made}. Its values are invented: README.md there says what to fill in first.")
    trayside = as_started()
    say(f"Then, in that folder: {trayside} measure, {trayside} check, and {trayside} build.")


@commands.command()
@HOUSE
@DATE
@click.option("--section", default="", help="Only what has a name that begins so, as water or trays.")
@click.option("--all", "every", is_flag=True, help="Also what is known already, and what nothing waits for.")
def measure(house: Path, day: str | None, section: str, every: bool) -> None:
    """Type in what was measured, each fact saved at once. The sheet to walk with: trayside pack measure."""
    measuring.measure(house, day, section, every)


@commands.command()
@HOUSE
@DATE
@click.option("-f", "--config-file", default=None, type=click.Path(path_type=Path), help="mkdocs.yml to use.")
@click.option(
    "--served", is_flag=True, help="For a web server, into site-served; without it for opening from disk."
)
@click.option("--one-file", is_flag=True, help="The manual as one file to send to a helper: manual.html.")
def build(house: Path, day: str | None, config_file: Path | None, served: bool, one_file: bool) -> None:
    """Build the site. A failed build leaves the old site as it was."""
    if one_file and (served or config_file):
        raise click.UsageError(
            "--one-file goes with neither --served nor -f: it is made by the program's own mkdocs.yml."
        )
    unused = publishing.unused_config(house, config_file)
    if unused:
        say(unused, err=True)
    site = _prepare(house, day).published()
    if one_file:
        for line in publishing.one_file_lines(*publishing.write_one_file(house, day, site)):
            say(line)
        return
    # A config of the owner may name procedures or a day of its own: its manual is worked out from them.
    given = None if config_file else site
    destination = publishing.build_and_swap(house, day, config_file, served=served, site=given, tell=say)
    if not served:
        say(f"The manual stands in {destination}. Open index.html there.")
        return
    say(f"The manual stands in {destination}, ready for any web server. Headers it may add:")
    for name, value in HEADERS.items():
        say(f"  {name}: {value}")


@commands.command()
@HOUSE
@DATE
@click.option(
    "--port", default=8000, type=click.IntRange(0, 65535), help="Port on this machine; 0 takes a free one."
)
def preview(house: Path, day: str | None, port: int) -> None:
    """Show the manual while its facts are edited. Without search, on this machine alone."""
    shown = Preview(house, publishing.own_config(), day)
    server = server_of(shown, port)
    say(f"The manual stands at http://127.0.0.1:{server.server_port}/. Ctrl-C ends it.")
    try:
        server.serve_forever()
    except KeyboardInterrupt:
        say("Ended.")
    finally:
        server.server_close()
        shown.close()


@commands.command()
@HOUSE
@DATE
@click.option("--json", "as_json", is_flag=True, help="The list as JSON.")
@click.option("--seen", is_flag=True, help="What waits for no issue was printed: take it off the list.")
def changes(house: Path, day: str | None, as_json: bool, seen: bool) -> None:
    """List what prints otherwise than as issued. Pages, sheets, cards, labels, questions, sign-offs."""
    with house_lock(house) if seen else nullcontext():
        site = _prepare(house, day, approving=True)
        found = site_changes(site, issuing.keep_baseline(house, site, None) if seen else None)
    if as_json:
        say(changes_json(found), nl=False)
        return
    folder = "" if house == Path() else str(house)
    for line in change_lines(found, site.register.house, folder):
        say(line)


@commands.command()
@click.argument("amount_id", required=False)
@HOUSE
@DATE
@click.option("--json", "as_json", is_flag=True, help="The list as JSON.")
@click.option(
    "--withheld", is_flag=True, help="What is not worked out for this house, and the fact it waits for."
)
def amounts(amount_id: str | None, house: Path, day: str | None, as_json: bool, withheld: bool) -> None:
    """List the amounts, or show the working of one."""
    site = _prepare(house, day)
    if withheld:
        told = not_given_json(site.register) if as_json else "\n".join([*not_given_lines(site.register), ""])
        say(told, nl=False)
        return
    if as_json:
        say(amounts_json(site.register), nl=False)
        return
    chosen = [a for a in site.register.all() if amount_id in (None, a.id, a.key)]
    if not chosen:
        if amount_id in known_amount_ids():
            raise click.ClickException(
                f"{amount_id} is not worked out for this house. `trayside amounts --withheld` says why."
            )
        raise click.ClickException(
            f"{amount_id} is not an amount of this house. Ids: {', '.join(site.register.ids())}."
        )
    for amount in chosen:
        say(explain(amount) if amount_id else f"{amount.key}: {amount.printed}")


@commands.command()
@click.argument("page")
@HOUSE
@DATE
@click.option("--system", default=None, help="One system alone, by its letter.")
@click.option("--json", "as_json", is_flag=True, help="Every moment as JSON.")
def rehearse(page: str, house: Path, day: str | None, system: str | None, as_json: bool) -> None:
    """Run a page or job on a model of the room. As SOP-06 or cleanout: one line a step, and what is refused."""
    try:
        found = rehearsals(page, system, house, shipped_procedures(house), day, os.environ)
    except NoSuchPage as missing:
        raise click.ClickException(str(missing)) from missing
    for one in found:
        lines = [table_json(one)] if as_json else [f"{line}\n" for line in table_lines(one)]
        say("".join(lines), nl=False)
    if any(one.findings for one in found):
        raise SystemExit(1)


@commands.command()
@click.argument("pages", nargs=-1)
@HOUSE
@DATE
@click.option("--by", default=None, help="Role that approves, of level 4 under people.")
@click.option("--why", default=None, help="Why, in a sentence; it stands in the history.")
@click.option(
    "--effective", default=None, help="Day it is in force from, as 2026-03-10; else the day built for."
)
@click.option("--all", "every_draft", is_flag=True, help="Everything that is not issued as it is.")
@click.option("--same-meaning", is_flag=True, help="A correction of words alone: the revision stays.")
@click.option("--no-retrain", is_flag=True, help="Nobody is briefed anew; --why says the reason.")
@click.option("--reviewed", is_flag=True, help="Read again, nothing to change: the review is dated.")
def issue(
    pages: tuple[str, ...],
    house: Path,
    day: str | None,
    by: str | None,
    why: str | None,
    effective: str | None,
    every_draft: bool,
    same_meaning: bool,
    no_retrain: bool,
    reviewed: bool,
) -> None:
    """Issue pages, checklists or cards as they are. SOP-08-A, or SOP-08 for all its systems."""
    request = IssueRequest(pages, by, why, effective, every_draft, same_meaning, no_retrain, reviewed)
    for line in issuing.issue(house, request, day, os.environ):
        say(line)


@commands.command()
@click.argument(
    "files", nargs=-1, required=True, type=click.Path(path_type=Path, exists=True, dir_okay=False)
)
@HOUSE
@click.option("--date", "day", default=None, help="Today, as 2026-03-10; no reading lies after it.")
def log(files: tuple[Path, ...], house: Path, day: str | None) -> None:
    """Add files of readings from a phone to the house. To site_data/log/ and site_data/records/."""
    try:
        today = read_day(day) if day is not None else date.today()
    except QuantityMistake as wrong:
        raise click.ClickException(f"--date: {wrong.what}. {wrong.allowed}.") from wrong
    for line in add_readings(house, files, today):
        say(line)


@commands.command()
@click.argument("folder", type=click.Path(path_type=Path))
@HOUSE
@DATE
def export(folder: Path, house: Path, day: str | None) -> None:
    """Write the finished pages as Markdown. With sheets and data: the way to another generator."""
    count = publishing.export_and_swap(_prepare(house, day), folder)
    say(f"{count} files written to {folder}.")


@commands.command()
@click.argument("name")
@click.argument("page", required=False)
@HOUSE
@DATE
@click.option("--system", default=None, help="Letter of the system.")
@click.option("--people", default=None, help="1 or 2: for how many the day is planned.")
@click.option("--start", default=None, help="When the day begins, as 08:30.")
@click.option("--paper", default=None, help="A4 or Letter.")
@click.option("--large", is_flag=True, help="Bench sheets and checklists in 16 pt and more.")
@click.option("--kind", "kinds", multiple=True, help="Labels: only these kinds; may be given again.")
@click.option("--stock", default="single", help="Labels: the label sheet, as 2x5; single is plain paper.")
@click.option("--first", default=1, help="Labels: place of the first label on a sheet already begun.")
@click.option("--module", default=None, help="Training: the unit, as M8.")
@click.option("--with-copies", is_flag=True, help="Control: the sheets to hang as well.")
@click.option("-o", "--output", default=None, type=click.Path(path_type=Path), help="The PDF to write.")
def pack(
    name: str,
    page: str | None,
    house: Path,
    day: str | None,
    system: str | None,
    people: str | None,
    start: str | None,
    paper: str | None,
    large: bool,
    kinds: tuple[str, ...],
    stock: str,
    first: int,
    module: str | None,
    with_copies: bool,
    output: Path | None,
) -> None:
    """Print a pack as one PDF. Packs: cleanout --system A, week, cards, labels, measure, page SOP-08 [--system A].

    Around a cleanout: readiness --system A some days before, planting --system A the day after.

    For training: training --module M8, key --module M8 (for the trainer alone), naming, roster.

    For document control: control, with master list, swap list, a form for a handwritten note and one for a
    complaint and a traced lot.

    Without a Chromium the pack is written as HTML beside the name of the PDF, and the status is 1.
    """
    asked = PackRequest(
        name, page, system, people, start, paper, large, kinds, stock, first, module, with_copies
    )
    with progress("Printing", len(packing.STAGES)) as tell:
        printed = packing.print_pack(house, asked, day, output, tell)
    for warning in printed.warnings:
        say(warning, err=True)
    say(f"{printed.pages} pages in {printed.file}.")


def _prepare(house: Path, day: str | None, *, approving: bool = False) -> Site:
    return prepare_site(house, shipped_procedures(house), day, os.environ, approving=approving)


def main() -> None:
    """Run the command line. Ends with status 1 and the list of a mistake in the data, never with a traceback.

    A signal that asks to end gives 128 and its number; a disk that refuses is told in words, with status 1.
    """
    os.environ.setdefault("NO_MKDOCS_2_WARNING", "1")
    keep_what_is_made()
    prepare_output()
    try:
        with stoppable():
            commands(standalone_mode=False)
            sys.stdout.flush()
    except BrokenPipeError:
        # Whoever read the output has seen enough; what is left in the buffer must not be tried again at the end.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(1)
    except Stopped as stopped:
        _end(stopped, str(stopped), stopped.status)
    except click.exceptions.Abort:
        sys.exit(130)
    except (packing.NotPrinted, NotWritten, NotIssued, starting.NotStarted) as reason:
        _end(reason, str(reason), 1)
    except click.ClickException as error:
        error.show()
        _end(error, "", error.exit_code)
    except OSError as error:
        _end(error, describe_os_error(error), 1)
    except DataProblems as found:
        stands = getattr(found, "__notes__", None) or ["Nothing was written."]
        _end(Exception(), f"{found}\n{counted(found.problems)}. {' '.join(stands)}", 1)


def _end(error: BaseException, message: str, status: int) -> NoReturn:
    """Tell what happened and how things stand now, which the notes of the exception say."""
    for line in filter(None, (message, *getattr(error, "__notes__", ()))):
        say(line, err=True)
    sys.exit(status)

"""The command line door: each command calls one function of a room below and prints what it returns."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import click

from macros import publishing
from macros.amounts import amounts_json
from macros.amounts.explain import explain
from macros.manual.shipped import shipped_procedures
from macros.problems import DataProblems
from macros.rendering.content_policy import HEADERS
from macros.rendering.site import Site, export_site, prepare_site

HOUSE = click.option(
    "--house", "house", default=".", type=click.Path(path_type=Path), help="Folder with site_data/."
)
DATE = click.option("--date", "day", default=None, help="Day to build for, as 2026-03-10.")


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="trayside")
def commands() -> None:
    """Build and check the house manual of a flood-and-drain grow room."""


@commands.command()
@HOUSE
@DATE
def check(house: Path, day: str | None) -> None:
    """Check every fact, page and link; list what changed since the last build."""
    site = _prepare(house, day)
    for warning in site.warnings:
        click.echo(warning)
    click.echo(
        f"{len(site.pages)} pages, {site.amount_count} amounts: no error, {len(site.warnings)} warnings."
    )
    for line in publishing.changes_since_last_build(house, site):
        click.echo(line)


@commands.command()
@HOUSE
@DATE
@click.option("-f", "--config-file", default=None, type=click.Path(path_type=Path), help="mkdocs.yml to use.")
@click.option(
    "--served", is_flag=True, help="For a web server, into site-served; without it for opening from disk."
)
def build(house: Path, day: str | None, config_file: Path | None, served: bool) -> None:
    """Build the site beside the old one, then swap; a failed build leaves the old site as it was."""
    _prepare(house, day)
    destination = publishing.build_and_swap(house, day, config_file, served=served)
    if not served:
        click.echo(f"The manual stands in {destination}. Open index.html there.")
        return
    click.echo(f"The manual stands in {destination}, ready for any web server. Headers it may add:")
    for name, value in HEADERS.items():
        click.echo(f"  {name}: {value}")


@commands.command()
@click.argument("amount_id", required=False)
@HOUSE
@DATE
@click.option("--json", "as_json", is_flag=True, help="Every amount as JSON.")
def amounts(amount_id: str | None, house: Path, day: str | None, as_json: bool) -> None:
    """List the amounts of the house, or show the whole working of one."""
    site = _prepare(house, day)
    if as_json:
        click.echo(amounts_json(site.register), nl=False)
        return
    chosen = [a for a in site.register.all() if amount_id in (None, a.id, a.key)]
    if not chosen:
        raise click.ClickException(
            f"{amount_id} is not an amount of this house. Ids: {', '.join(site.register.ids())}."
        )
    for amount in chosen:
        click.echo(explain(amount) if amount_id else f"{amount.key}: {amount.printed}")


@commands.command()
@click.argument("folder", type=click.Path(path_type=Path))
@HOUSE
@DATE
def export(folder: Path, house: Path, day: str | None) -> None:
    """Write the finished pages as Markdown, with sheets and data: the way to another generator."""
    count = export_site(_prepare(house, day), folder)
    click.echo(f"{count} files written to {folder}.")


def _prepare(house: Path, day: str | None) -> Site:
    return prepare_site(house, shipped_procedures(house), day, os.environ)


def main() -> None:
    """Run the command line; a mistake in the data ends with its list and status 1, never with a traceback."""
    os.environ.setdefault("NO_MKDOCS_2_WARNING", "1")
    try:
        commands(standalone_mode=False)
    except click.exceptions.Abort:
        sys.exit(130)
    except click.ClickException as error:
        error.show()
        sys.exit(error.exit_code)
    except DataProblems as found:
        click.echo(str(found), err=True)
        count = len(found.problems)
        click.echo(f"{count} {'problem' if count == 1 else 'problems'}. Nothing was written.", err=True)
        sys.exit(1)

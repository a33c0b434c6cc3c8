"""Builds beside the old site and swaps whole; tells what changed in printed values since the last build."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from macros.doors.last_build import LEDGER
from macros.doors.mkdocs_plugin import ThemedSite, build_site, site_folder
from macros.ground.disk.own_files import LIST, own_files
from macros.ground.disk.safe_write import NotWritten, clear_begun, exclusive_lock, write_whole
from macros.ground.disk.swap_folder import put_back_left, replaced
from macros.ground.house_files import read_bytes
from macros.ground.package import shipped
from macros.site.one_file import MOST_BYTES, Made, manual_as_one_file
from macros.site.site import Site, export_site

SITES = ("site", "site-served")
"""What a build makes in the folder of a house: for opening from disk, and for a web server."""

ONE_FILE = "manual.html"
"""The manual as one file, in the folder of a house."""

_OURS = b'<meta name="manual" content="one file">'


def own_config() -> Path:
    """The mkdocs.yml of the program: inside an installed package, else beside it in a checkout."""
    return shipped("mkdocs.yml")


def unused_config(house: Path, config_file: Path | None) -> str:
    """One line on a mkdocs.yml of the house that is not used, or nothing.

    Such a file can name code to run (`hooks`, plugins, tags of Python), so it is taken only where the owner names it.
    """
    found = house / "mkdocs.yml"
    if config_file is not None or not found.is_file() or found.resolve() == own_config():
        return ""
    content, _ = read_bytes(found, found.name, house)
    if content == own_config().read_bytes():
        return ""  # a checkout beside its installed program: the same file twice
    return f"{found} is not used: such a file can run code. Where it is yours, build with -f {found}."


def build_and_swap(
    house: Path,
    day: str | None,
    config_file: Path | None,
    destination: Path | None = None,
    served: bool = False,
    site: Site | None = None,
    tell: Callable[[str], None] = lambda line: None,
) -> Path:
    """Build the site in a folder beside the old one, then put it in the old one's place.

    `config_file` is a mkdocs.yml the owner trusts; without one the program's own is used and the site goes into the
    house. `served` builds for a web server, beside the site for opening from disk: `site-served` next to `site`.
    `site` is the manual where it is worked out already; `tell` is called with a line for what of others was kept.

    Returns
    -------
    Path
        the folder the site stands in.

    Raises
    ------
    DataProblems, MkDocsException, NotWritten, OSError
        the old site is as it was; a note of the exception says so.
    """
    config = config_file.resolve() if config_file is not None else own_config()
    target = destination or (site_folder(config) if config_file is not None else house / SITES[0])
    target = target.absolute()  # and not resolved: a link is seen and refused
    if served and destination is None:
        target = target.with_name(f"{target.name}-served")
    with replaced(target, "site", _only_a_site, tell) as new:
        options = {"house": str(house.resolve()), "served": served, **({"date": day} if day else {})}
        build_site(config, new, options, site)
    return target


def write_one_file(house: Path, day: str | None, site: Site) -> tuple[Path, Made]:
    """Write the manual as one file beside the sites; killed or refused at any moment, the last good one is there.

    Raises
    ------
    NotWritten
        another run writes it, or something else has its name.
    """
    target = (house / ONE_FILE).absolute()
    with exclusive_lock(target):
        if target.exists() and not (target.is_file() and _OURS in target.read_bytes()[:4000]):
            raise NotWritten(
                f"{target} does not look like a manual of this program. Nothing in it was touched. "
                "If you need nothing of it, delete it, then build again."
            )
        themed = ThemedSite(own_config(), {"house": str(house.resolve()), **({"date": day} if day else {})})
        themed.show(site)
        made = manual_as_one_file(site, themed.bare_pages(), themed.styles, themed.scripts)
        clear_begun(target)
        write_whole(target, made.text.encode())
    return target, made


def one_file_lines(file: Path, made: Made) -> list[str]:
    """What is told of a manual as one file: where it is, how large, and the pictures it has no room for."""
    size = len(made.text.encode()) / 1e6
    lines = [f"The manual stands in {file}, one file of {size:.1f} MB. Workings and sheets are not in it."]
    if made.without:
        count = "1 picture" if len(made.without) == 1 else f"{len(made.without)} pictures"
        lines.append(f"{count} had no room below {MOST_BYTES / 1e6:.0f} MB: {', '.join(made.without)}.")
    return lines


def export_and_swap(site: Site, folder: Path) -> int:
    """Export the finished pages into a folder of their own; the number of files is returned.

    Raises
    ------
    NotWritten, OSError
        what stood in `folder` is as it was; a note of the exception says so.
    """
    made = {Path(address) for address in (*site.pages, *site.files, *site.pictures)}

    def only_exported(target: Path) -> None:
        mine = made | {Path(name) for name in (own_files(target) or ())} | {Path(LIST)}
        for path in sorted(target.rglob("*")):
            if not path.is_dir() and path.relative_to(target) not in mine:
                raise NotWritten(
                    f"{path} is no part of this export, and an export replaces the whole folder. "
                    "Move it away, or name a new folder."
                )

    with replaced(folder.absolute(), "export", only_exported) as new:
        return export_site(site, new)


def put_sites_back(house: Path) -> list[str]:
    """Put sites back that a build, killed between its two renames, left under their other name; a line for each."""
    return [
        f"The last build was stopped before the new site stood. The old one is back in {house / name}."
        for name in SITES
        if put_back_left((house / name).absolute())
    ]


def _only_a_site(target: Path) -> None:
    """Refuse to replace a folder that holds something else than a site of this program."""
    seen = [path for path in target.iterdir() if not path.name.startswith(".")]
    if seen and not ((target / LEDGER).is_file() and (target / "index.html").is_file()):
        raise NotWritten(
            f"{target} does not look like a site of this program: it holds {seen[0].name}, but not both index.html and "
            f"{LEDGER}. Nothing in it was touched. If you need nothing of it, delete it, then build again."
        )

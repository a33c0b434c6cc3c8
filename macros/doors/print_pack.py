"""Prints a pack: works the house out, lays the sheets in order, prints twice so that the contents know their pages.

The first print finds the page of every sheet, the second carries those numbers. Nothing takes the place of an older
file before it is whole and checked.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from macros.ground.disk.safe_write import replace_file
from macros.ground.disk.swap_folder import scratch_folder
from macros.ground.pdf import PAPER_SIZES, NoBrowser, Printed, Printer, PrintFailed, printer
from macros.ground.problems import DataProblems, Place, Problem
from macros.html.paper import Part
from macros.manual.procedures.shipped_folder import shipped_procedures
from macros.manual.records.record_form import forms_of
from macros.packs.makers import on_fronts, pack_document, pack_parts
from macros.packs.pack import PackContext, PackRequest, PagesOfHouse, pack_context, plan_named
from macros.site.site import Site, prepare_site

STAGES = (
    "Working the house out",
    "Laying the sheets",
    "First print: which page is what",
    "Second print: with the contents",
    "Checking",
)
"""What `tell` is called with, in order."""

SUPPOSED = 88
"""A page number as wide as the real ones, until they are known."""

MOST_PRINTS = 2
"""A cover whose numbers move the sheets behind it is printed once more."""

_WITHIN = 0.5
"""Millimetres a page box may be off its paper."""


class NotPrinted(Exception):  # noqa: N818 - told to whoever prints
    """No PDF was made; the message says why and what there is instead. Any older PDF is as it was."""


@dataclass(frozen=True)
class Pack:
    """A printed pack: the file, its pages, the warnings of the build."""

    file: Path
    pages: int
    warnings: tuple[Problem, ...]


def print_pack(
    house_folder: Path,
    asked: PackRequest,
    day: str | None,
    output: Path | None,
    tell: Callable[[str], None],
    environment: Mapping[str, str] = os.environ,
) -> Pack:
    """Print a pack of a house to PDF.

    Parameters
    ----------
    house_folder : holds `site_data/`
    day : the day asked for, ISO; None takes the planned day, or the day the manual is built for
    output : the PDF; None names it after pack, system and day, in the current folder
    tell : called with each of `STAGES` as it begins

    Raises
    ------
    DataProblems
        mistakes in what was asked, in the house or its pages, and sheets that do not fit their paper.
    NotPrinted
        there is no browser (the pack then lies beside the PDF's name as HTML), it failed, or the file cannot be written.
    """
    plan_named(asked.pack)
    _refuse_no_file(output)
    tell(STAGES[0])
    site = prepare_site(house_folder, shipped_procedures(house_folder), day, environment)
    pack = pack_of(site, asked, day_given=day is not None)
    target = output if output is not None else Path(f"{pack.file_stem}.pdf")
    _refuse_no_file(target)
    tell(STAGES[1])
    parts = pack_parts(pack)
    if not parts:
        raise DataProblems([_nothing(pack)])
    try:
        return _print(pack, parts, target, tell, environment)
    except OSError as error:
        raise NotPrinted(f"{target} cannot be written: {error.strerror or error}.") from error


def _refuse_no_file(target: Path | None) -> None:
    """A device, a folder or a link in the place of the PDF would be replaced, and with it what it is for."""
    if target is not None and os.path.lexists(target) and (target.is_symlink() or not target.is_file()):
        raise NotPrinted(
            f"{target} is no plain file, and only a plain file is replaced. Name another with -o."
        )


def pack_of(site: Site, asked: PackRequest, *, day_given: bool) -> PackContext:
    """The pack asked for, of a manual that is worked out. Raises as `pack_context`."""
    forms = forms_of(site.views, site.register.house)
    pages = PagesOfHouse(tuple(site.views), tuple(site.checklists), forms, site.built, site.photographs)
    return pack_context(asked, site.register, pages, site.warnings, day_given=day_given)


def _print(
    pack: PackContext,
    parts: Sequence[Part],
    target: Path,
    tell: Callable[[str], None],
    environment: Mapping[str, str],
) -> Pack:
    with scratch_folder(target) as beside:
        html, pdf = beside / "pack.html", beside / "pack.pdf"
        try:
            with printer(environment) as press:
                tell(STAGES[2])
                supposed = dict.fromkeys((part.key for part in parts), SUPPOSED)
                sheets = _lay(pack, parts, html, supposed, SUPPOSED)
                first = press.print(html, rough=True)
                fronts = on_fronts(pack, parts, _pages_of(sheets, first), first.pages)
                if len(fronts) > len(parts):
                    parts = fronts
                    sheets = _lay(pack, parts, html, supposed, SUPPOSED)
                    first = press.print(html, rough=True)
                parts = with_pictures(pack, parts, html, _pages_taken(sheets, first), press)
                tell(STAGES[3])
                for _ in range(MOST_PRINTS):
                    told = _pages_of(sheets, first)
                    sheets = _lay(pack, parts, html, told, first.pages)
                    second = press.print(html)
                    if _pages_of(sheets, second) == told:
                        break
                    first = second
        except NoBrowser as error:
            instead = target.with_suffix(".html")
            _lay(pack, parts, html, {}, 0)
            replace_file(html, instead)
            raise NotPrinted(_no_browser(str(error), target, instead)) from error
        except PrintFailed as error:
            raise NotPrinted(f"The browser could not print: {error}. Nothing was written.") from error
        tell(STAGES[4])
        problems = check_print(pack, sheets, told, second)
        if problems:
            raise DataProblems(problems)
        pdf.write_bytes(second.data)
        replace_file(pdf, target)
    return Pack(target, second.pages, pack.warnings)


def with_pictures(
    pack: PackContext, parts: Sequence[Part], html: Path, takes: Mapping[str, int], press: Printer
) -> list[Part]:
    """The sheets with each picture that adds no page to its sheet; only a print tells."""
    laid = {part.key: part for part in parts}
    kept: dict[str, tuple[str, ...]] = {}
    for number in range(max(len(part.pictures) for part in parts)):
        tried = [one for part in parts if (one := _with_one_more(part, kept.get(part.key, ()), number))]
        supposed = dict.fromkeys((part.key for part in tried), SUPPOSED)
        now = _pages_taken(_lay(pack, tried, html, supposed, SUPPOSED), press.print(html, rough=True))
        for new in tried:
            if now[new.key] <= takes[new.key]:
                kept[new.key] = (*kept.get(new.key, ()), laid[new.key].pictures[number])
                laid[new.key] = replace(new, pictures=laid[new.key].pictures)
    return list(laid.values())


def _with_one_more(part: Part, kept: tuple[str, ...], number: int) -> Part | None:
    """The sheet with the pictures kept so far and one more; None where it has no more."""
    if part.drawn_with is None or number >= len(part.pictures):
        return None
    return part.drawn_with((*kept, part.pictures[number]))


def _lay(
    pack: PackContext, parts: Sequence[Part], html: Path, pages: Mapping[str, int], total: int
) -> list[Part]:
    text, sheets = pack_document(pack, parts, pages, total)
    html.write_text(text, encoding="utf-8")
    return sheets


def check_print(
    pack: PackContext, sheets: Sequence[Part], told: Mapping[str, int], printed: Printed
) -> list[Problem]:
    """What is wrong with a print: sheets that outgrow their page, wrong paper, contents that lead elsewhere.

    `told` is the page of each sheet as its contents say.
    """
    pages = _pages_of(sheets, printed)
    problems = []
    if pages != told:
        problems.append(
            _of_sheet(
                pack,
                sheets[0],
                "its contents moved the sheets behind it",
                "Page numbers stand only where they are right",
            )
        )
    for part, takes in zip(sheets, _pages_taken(sheets, printed).values(), strict=True):
        end = pages[part.key] + takes
        if part.one_page and takes != 1:
            problems.append(
                _of_sheet(
                    pack,
                    part,
                    f"{part.key} takes {takes} pages on {pack.paper}",
                    "It is meant for one, and type is never made smaller",
                    "Shorten its steps, or say `sheet: pages` in its procedure",
                )
            )
        width, height = PAPER_SIZES[pack.paper]
        wanted = (height, width) if part.landscape else (width, height)
        for number in range(pages[part.key], end):
            size = printed.sizes[number - 1]
            if any(abs(is_ - want) > _WITHIN for is_, want in zip(size, wanted, strict=True)):
                problems.append(
                    _of_sheet(
                        pack,
                        part,
                        f"page {number} is {size[0]:.1f} x {size[1]:.1f} mm",
                        f"{pack.paper} is {wanted[0]} x {wanted[1]} mm here",
                    )
                )
    return problems


def _pages_of(sheets: Sequence[Part], printed: Printed) -> dict[str, int]:
    """Key of a sheet -> its first page. A sheet that is not found is our own fault and keeps its traceback."""
    return {part.key: printed.places[part.page] for part in sheets}


def _pages_taken(sheets: Sequence[Part], printed: Printed) -> dict[str, int]:
    """Key of a sheet -> how many pages it takes."""
    starts = _pages_of(sheets, printed)
    ends = [*list(starts.values())[1:], printed.pages + 1]
    return {key: end - start for (key, start), end in zip(starts.items(), ends, strict=True)}


def _of_sheet(pack: PackContext, part: Part, what: str, allowed: str, remedy: str = "") -> Problem:
    return Problem(
        Place(f"trayside pack {pack.plan.name}, sheet {part.key}", 1), "print", what, allowed, remedy
    )


def _nothing(pack: PackContext) -> Problem:
    return Problem(
        Place(f"trayside pack {pack.plan.name}", 1),
        "pack",
        f"{pack.name} holds no sheet in this house",
        "A pack needs pages the house has",
        "See the list of pages by `trayside check`",
    )


def _no_browser(why: str, target: Path, instead: Path) -> str:
    older = f" The older {target} is as it was." if target.exists() else ""
    return (
        f"{target} was not made: {why}.\n"
        f"{instead} holds the same pack: open it in any browser and print it on the paper it names, 100 % size, "
        f"headers and footers of the browser off; its contents have no page numbers.{older}\n"
        "For the PDF, in the folder of the program: .venv/bin/pip install -q -c constraints.txt '.[pdf]', and a Chromium of the "
        "system (Debian, Ubuntu: apt install chromium), "
        "or name one in TRAYSIDE_CHROMIUM."
    )

"""One procedure page of a house worked out by itself, for whoever edits facts and looks at that page."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from markupsafe import escape

from macros.control.documents.issued_copies import Archive
from macros.control.documents.revision_history import published_page
from macros.ground.problems import DataProblems, errors_in
from macros.manual.checklists.checklists import checklists_of
from macros.manual.house_facts.emergency import phones
from macros.manual.pages.build_page import build_pages
from macros.manual.pages.check_rendered import caution_mistakes
from macros.manual.pages.page_markdown import procedure_page
from macros.manual.pages.photographs import with_photographs
from macros.manual.procedures.write_text import TextWriter
from macros.page_model.addresses import source_address
from macros.photographs import photographs_of
from macros.rehearsal.looks import with_looks
from macros.site.site import Site, read_house


def one_page(
    address: str, house_folder: Path, procedures: Path, day: str | None, environment: Mapping[str, str]
) -> Site | None:
    """The page at `address` (`p/sop-08-a.html`) as the whole manual has it, but for links that need the other pages.

    All facts are read and all amounts are worked out, so every value on the page is that of the whole manual. Mistakes on other
    pages are not looked for. None where the house has no such page. Parameters as in `prepare_site`.

    Raises
    ------
    DataProblems
        every mistake in the facts, the amounts and this page.
    """
    register, files, problems = read_house(house_folder, procedures, day, environment)
    built, found = build_pages(files, register, TextWriter(), address)
    problems += found
    if errors_in(problems):
        raise DataProblems(problems)
    if not built:
        return None
    house = register.house
    photographs, unused = photographs_of(house.photos, house_folder)
    problems += unused
    page = with_photographs(with_looks(built[0], register), photographs, house)
    view = published_page(page.content, register, Archive(house_folder))
    checklists = [one for one in checklists_of([view], house) if view.key in one.pages]
    source = source_address(address)
    site = Site(
        name=escape(house.house.name),
        pages={source: procedure_page(view, {view.page_address: view}, checklists, phones=phones(house))},
        pictures=photographs.files,
        navigation=[{str(escape(f"{view.document} {view.title}")): source}],
        views=[view],
    )
    problems += caution_mistakes(site.pages, built)
    if errors_in(problems):
        raise DataProblems(problems)
    return site

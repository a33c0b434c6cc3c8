"""Withdrawn revisions as pages: every line as it was, reached from the history and from records, from no menu."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from macros.control.documents.revision_history import WITHDRAWN, WithdrawnView, withdrawn_list
from macros.html.environment import render
from macros.page_model.addresses import source_address
from macros.page_model.page import LinkView
from macros.page_model.table import TablePage


def withdrawn_pages(withdrawn: Sequence[WithdrawnView]) -> dict[str, str]:
    """Address -> text of each withdrawn revision, and of the list of them; nothing where none was withdrawn."""
    if not withdrawn:
        return {}
    pages = {source_address(one.address): render("withdrawn.md.j2", w=one) for one in withdrawn}
    return pages | {source_address(WITHDRAWN): render("reference.md.j2", page=withdrawn_list(withdrawn))}


def with_link_to_withdrawn(page: TablePage, withdrawn: Sequence[WithdrawnView]) -> TablePage:
    """The master list with the way to what it no longer lists."""
    link = (LinkView("Withdrawn revisions", WITHDRAWN),) if withdrawn else ()
    return replace(page, see=(*page.see, *link))

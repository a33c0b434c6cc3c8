"""What document control gives to the site: the master list, withdrawn revisions, what changes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from macros.control.changes.changes import Comparison
from macros.control.changes.markdown import changes_page
from macros.control.changes.uncontrolled_things import PrintedThing
from macros.control.documents.controlled_documents import ControlledDocument
from macros.control.documents.master_list import master_list_page
from macros.control.documents.revision_history import WithdrawnView
from macros.control.documents.withdrawn_markdown import with_link_to_withdrawn, withdrawn_pages
from macros.html.site_text import SiteText, table_text


def control_texts(
    compared: Comparison,
    items: Sequence[ControlledDocument],
    withdrawn: Sequence[WithdrawnView],
    things: Iterable[PrintedThing],
) -> Iterator[SiteText]:
    """Every page of it. `things` are what the house prints beside the controlled `items`."""
    for address, text in withdrawn_pages(withdrawn).items():
        yield SiteText(address, text)
    listed = with_link_to_withdrawn(master_list_page(compared.register, items), withdrawn)
    yield table_text("reference/master-list", listed, "Reference", "Master list")
    yield SiteText("reference/changes.md", changes_page(compared, items, things), ("Reference", "Changes"))

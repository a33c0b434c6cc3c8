"""What the procedures give to the site: their pages and checklists."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from macros.house import House
from macros.html.site_text import SiteText
from macros.manual.house_facts.emergency import phones
from macros.manual.pages.bench_sheet import checklist
from macros.manual.pages.page_markdown import procedure_page
from macros.manual.procedures.file_format import SECTIONS
from macros.manual.records.readings_page import readings_text
from macros.page_model.addresses import source_address
from macros.page_model.checklist import ChecklistView
from macros.page_model.page import PageView


def procedure_texts(
    house: House,
    views: Sequence[PageView],
    checklists: Sequence[ChecklistView],
    reviews: Mapping[str, str],
) -> Iterator[SiteText]:
    """Every procedure, section by section, the page of readings, then the checklists. `reviews` says by the key of a page that one is due."""
    numbers = phones(house)
    places = {view.page_address: view for view in views}
    for view in sorted(views, key=lambda one: SECTIONS.index(one.section)):
        own = [one for one in checklists if view.key in one.pages]
        text = procedure_page(view, places, own, reviews.get(view.key, ""), numbers)
        name = f"{view.document} {view.title}"
        title = f"{name}, {view.system}" if view.system else name
        yield SiteText(source_address(view.page_address), text, (view.section, title), name)
    yield readings_text(views)
    for one in checklists:
        yield SiteText(one.address, checklist(one, house.house.language))

"""What the reference section gives to the site: pages made of the house, the published lists and the procedures."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from macros.amounts import Register
from macros.html.site_text import SiteText, table_text
from macros.manual.pages.build_page import BuiltPage
from macros.manual.pages.page_markdown import cautions_page
from macros.page_model.page import PageView
from macros.photographs import Photographs
from macros.reference.checks import checks_text
from macros.reference.crop_plan import plan_page
from macros.reference.findings import TITLE as FINDINGS
from macros.reference.findings import findings_page
from macros.reference.house_log import log_text
from macros.reference.hurt import hurt_text
from macros.reference.requirements import requirements_page
from macros.reference.room_symbols import TITLE, room_symbols_text
from macros.reference.shots import shots_page
from macros.reference.tables import (
    facts_page,
    frequencies_page,
    glossary_page,
    inventory_page,
    roles_page,
    sources_page,
)
from macros.reference.workings import workings_text

HEAD = "Reference"


def reference_texts(
    register: Register, built: Sequence[BuiltPage], views: Sequence[PageView], photographs: Photographs
) -> Iterator[SiteText]:
    """Every page of the section, in the order of the menu; a house without a log has no page of it."""
    house = register.house
    yield hurt_text(house, HEAD)
    yield table_text("reference/glossary", glossary_page(), HEAD, "Glossary")
    yield table_text("reference/findings", findings_page(house, views, photographs), HEAD, FINDINGS)
    shots = shots_page(house, views, photographs)
    yield table_text("reference/photographs", shots, HEAD, shots.title)
    yield table_text("reference/facts", facts_page(register), HEAD, "House facts")
    yield table_text("reference/inventory", inventory_page(house, views, photographs), HEAD, "Inventory")
    plan = plan_page(register)
    if plan is not None:
        yield table_text("reference/plan", plan, HEAD, plan.title)
    yield table_text("reference/frequencies", frequencies_page(house), HEAD, "How often")
    yield table_text("reference/roles", roles_page(house, views), HEAD, "Who may do what")
    yield SiteText("reference/drawings.md", room_symbols_text(), (HEAD, TITLE))
    yield SiteText("reference/cautions.md", cautions_page(views, us=house.us), (HEAD, "Cautions"))
    yield SiteText("reference/workings.md", workings_text(register), (HEAD, "Workings"))
    yield SiteText("reference/checks.md", checks_text(register), (HEAD, "Checks"))
    log = log_text(register)
    if log is not None:
        yield SiteText("reference/log.md", log, (HEAD, "House log"))
    yield table_text("reference/sources", sources_page(house, views), HEAD, "Sources")
    yield table_text("reference/requirements", requirements_page(built), HEAD, "Requirements")

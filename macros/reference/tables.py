"""The reference section as plain tables: words, facts, things, rhythms, people, sources."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence

from macros.amounts import Register
from macros.amounts.engine.amount import Input
from macros.amounts.engine.number_format import brief, shown_unit
from macros.ground.units import Quantity
from macros.house import House
from macros.house.records.tools import InventoryThing
from macros.manual.house_facts.frequencies import frequencies
from macros.manual.house_facts.sign_off_levels import LEVELS
from macros.manual.pages.photographs import as_named, named_view
from macros.page_model.page import LinkView, PageView
from macros.page_model.photo import PhotoView
from macros.page_model.table import Table, TablePage
from macros.photographs import NO_PHOTOGRAPHS, Photographs
from macros.published.pages.documents import Document, documents, ways
from macros.published.pages.sources import sources
from macros.published.pages.words import glossary, things
from macros.reference.findings import TITLE as GUIDE
from macros.reference.findings import cited_by_findings


def glossary_page() -> TablePage:
    """One word for one thing."""
    terms = sorted(glossary().items(), key=lambda item: item[0].lower())
    rows = tuple((term, entry.means, ", ".join(entry.not_)) for term, entry in terms)
    return TablePage(
        "Glossary",
        "One word for one thing: pages use the word on the left, none on the right.",
        (Table("Words", ("Word", "What it is", "Not called"), rows),),
    )


def _measure(measure: Quantity) -> str:
    """A measure of a tool in the unit of its marks."""
    return f"{brief(measure.value)} {shown_unit(measure.unit)}"


def facts_page(register: Register) -> TablePage:
    """What the amounts rest on: first what was assumed, then each fact with its place."""
    assumed: dict[str, list[str]] = {}
    feeds: dict[Input, set[str]] = {}
    for amount in register.all():
        for text in amount.assumed:
            assumed.setdefault(text, []).append(amount.label)
        for entry in amount.inputs:
            if entry.where:
                feeds.setdefault(entry, set()).add(amount.id)
    facts: dict[tuple[str, str, str], set[str]] = {}
    for entry, ids in feeds.items():
        facts.setdefault(
            (entry.name, f"{entry.value} {shown_unit(entry.unit)}".strip(), entry.where), set()
        ).update(ids)
    return TablePage(
        "House facts",
        "Every number rests on these. Assumed ones come first: measure, enter, build again.",
        (
            Table(
                "Measure this: assumed until the house says it",
                ("Assumed", "Amounts that rest on it", "For example"),
                tuple((text, str(len(labels)), labels[0]) for text, labels in sorted(assumed.items())),
            ),
            Table(
                "Facts as entered",
                ("Fact", "Value", "Stands in", "Feeds"),
                tuple(
                    (name, value, where, f"{len(ids)} kinds of amount")
                    for (name, value, where), ids in sorted(facts.items())
                ),
            ),
        ),
    )


def inventory_page(
    house: House, views: Sequence[PageView], photographs: Photographs = NO_PHOTOGRAPHS
) -> TablePage:
    """Every thing the pages use, with its label and place, and the measuring tools and pens."""
    used = _documents(views, lambda view: (tool for step in view.steps for tool in step.tools))
    known = things()
    own = {thing.thing: thing for thing in house.inventory}
    names = sorted({*(name for name in used if name in known), *own}, key=str.lower)
    rows = tuple(
        (name, str(known.get(name, "")), *_kept(name, own.get(name)), used.get(name, "no page"))
        for name in names
    )
    tools = tuple(
        (t.name, f"{_measure(t.capacity)}, marks of {_measure(t.mark)}", ", ".join(t.for_).replace("_", " "))
        for t in house.measuring_tools
    )
    pens = tuple((m.name, m.resolution, str(m.last or "never noted")) for m in house.meters)
    places = _places(views)
    return TablePage(
        "Inventory",
        "Things by the names of the pages; labels in the room read the same, letter for letter.",
        (
            Table(
                "Things",
                ("Thing", "What for", "Label", "Kept at", "Count", "Used on"),
                rows,
            ),
            Table(
                "Measuring tools",
                ("Tool", "Capacity", "For"),
                tools,
                "A tool serves its own group of liquids.",
            ),
            Table("Pens", ("Pen", "Reads to", "Last calibrated"), pens),
            Table(
                "Places",
                ("Place", "Steps done there"),
                tuple((place, str(steps)) for place, steps in places.items()),
            ),
            Table("How places look", (), (), photos=_shown("places", places, photographs)),
            Table("How things look", (), (), photos=_shown("things", names, photographs)),
        ),
    )


def _places(views: Sequence[PageView]) -> dict[str, int]:
    """Where steps are done, with how many: most first."""
    counts = Counter(step.where for view in views for step in view.steps if step.where)
    return dict(sorted(counts.items(), key=lambda one: (-one[1], one[0])))


def _shown(folder: str, names: Iterable[str], photographs: Photographs) -> tuple[PhotoView, ...]:
    """The photographs of these things or places, each with its name."""
    found = ((name, photographs.of(folder, as_named(name))) for name in names)
    return tuple(named_view(one, name) for name, one in found if one is not None)


def frequencies_page(house: House) -> TablePage:
    """How often what is due, and who says so."""
    rows = tuple((one.task, one.text, one.said_by) for one in frequencies(house).values())
    return TablePage(
        "How often",
        "One figure for each rhythm; every page takes it from here.",
        (Table("Rhythms", ("What", "How often", "Who says so"), rows),),
    )


def roles_page(house: House, views: Sequence[PageView]) -> TablePage:
    """Who may do which page."""
    documents: dict[str, PageView] = {}
    for view in views:
        documents.setdefault(view.document, view)
    rows = tuple(
        (
            f"{name} {view.title}",
            LEVELS[view.level],
            ", ".join(person.role for person in house.people if person.level >= view.level)
            or ("nobody named" if house.people else "the house names no people"),
            "; ".join(view.units) or "none",
        )
        for name, view in sorted(documents.items())
    )
    people = tuple(
        (p.role, LEVELS[min(p.level, 4)], ", ".join(p.may).replace("_", " ") or "nothing")
        for p in house.people
    )
    return TablePage(
        "Who may do what",
        "A page is done alone from the level it names upwards; below it, beside somebody who has it.",
        (
            Table("Pages", ("Page", "Least level", "Who has it", "Trained in"), rows),
            Table("People", ("Role", "Level", "May"), people),
        ),
        see=(LinkView("Roster: who is signed off for which page", "training/roster.html"),),
    )


def sources_page(house: House, views: Sequence[PageView]) -> TablePage:
    """Every source, how it was obtained, and the pages that cite it."""
    cited = _documents(views, lambda view: view.references)
    found = dict.fromkeys(cited_by_findings(), GUIDE)
    rows = [
        (key, entry.text, str(entry.obtained), cited.get(entry.reference) or found.get(key, "no page"))
        for key, entry in sources().items()
    ]
    rows += [
        (key, text, "this house's own", cited.get(f"{text} (obtained: this house's own)", "no page"))
        for key, text in house.own_sources.items()
    ]
    practice = tuple(row for row in rows if row[2] in ("common practice", "our own"))
    outside = tuple(row for row in rows if row not in practice)
    heads = ("Key", "Source", "Obtained", "Cited on")
    return TablePage(
        "Sources",
        "Where figures come from that are not this house's own. The label and local rules beat a figure here.",
        (
            Table("Published", heads, outside),
            Table(
                "Common practice and our own defaults",
                heads,
                practice,
                "Nobody publishes these; a house that knows better enters its own.",
            ),
            Table(
                "Documents",
                ("Named as", "Title, issuer, year", "Where", "Obtained"),
                tuple(
                    (name, f"{d.title}; {d.issuer}, {_year(d)}", d.where, d.obtained)
                    for name, d in documents().items()
                ),
            ),
            Table("How each was obtained", ("Obtained", "It means"), tuple(ways().items())),
        ),
    )


def _year(document: Document) -> str:
    return "year not given" if document.year == "not given" else document.year


def _documents(views: Sequence[PageView], named: Callable[[PageView], Iterable[str]]) -> dict[str, str]:
    """By each name a page uses, the documents that do, in their order."""
    found: dict[str, dict[str, None]] = {}
    for view in views:
        for name in named(view):
            found.setdefault(name, {})[view.document] = None
    return {name: ", ".join(documents) for name, documents in found.items()}


def _kept(name: str, entry: InventoryThing | None) -> tuple[str, str, str]:
    """Label, place and count of a thing as the house notes them."""
    if entry is None:
        return "same", "not given", "not given"
    return entry.label or name, entry.kept_at or "not given", str(entry.count)

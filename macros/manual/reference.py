"""The reference section as plain tables: words, facts, things, rhythms, people, sources."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from macros.amounts import Register
from macros.amounts.record import Input
from macros.house import House
from macros.manual.frequencies import frequencies
from macros.manual.levels import LEVELS
from macros.manual.views import LinkView, PageView
from macros.published import load


@dataclass(frozen=True)
class ReferenceTable:
    """A table: title, column heads, rows; a matrix has narrow cells. A cell but the first may be a link."""

    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str | LinkView, ...], ...]
    note: str = ""
    matrix: bool = False


@dataclass(frozen=True)
class ReferencePage:
    """One page of the section. `link` is a file to take along, `see` other pages, `example` lines for a house file."""

    title: str
    intro: str
    tables: tuple[ReferenceTable, ...]
    link: LinkView | None = None
    see: tuple[LinkView, ...] = ()
    example: str = ""


def glossary_page() -> ReferencePage:
    """One word for one thing."""
    terms = sorted(load("glossary")["terms"].items(), key=lambda item: item[0].lower())
    rows = tuple((term, entry["means"], ", ".join(entry["not"])) for term, entry in terms)
    return ReferencePage(
        "Glossary",
        "One word for one thing: the pages use the word on the left and none of those on the right.",
        (ReferenceTable("Words", ("Word", "What it is", "Not called"), rows),),
    )


def facts_page(register: Register) -> ReferencePage:
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
        facts.setdefault((entry.name, f"{entry.value} {entry.unit}".strip(), entry.where), set()).update(ids)
    return ReferencePage(
        "House facts",
        "Every number of this manual rests on these. What was assumed comes first: measure it, enter it, build again.",
        (
            ReferenceTable(
                "Measure this: assumed until the house says it",
                ("Assumed", "Amounts that rest on it", "For example"),
                tuple((text, str(len(labels)), labels[0]) for text, labels in sorted(assumed.items())),
            ),
            ReferenceTable(
                "Facts as entered",
                ("Fact", "Value", "Stands in", "Feeds"),
                tuple(
                    (name, value, where, f"{len(ids)} kinds of amount")
                    for (name, value, where), ids in sorted(facts.items())
                ),
            ),
        ),
    )


def inventory_page(house: House, views: Sequence[PageView]) -> ReferencePage:
    """Every thing the pages use, with its label and place, and the measuring tools and pens."""
    used: dict[str, list[str]] = {}
    for view in views:
        for step in view.steps:
            for tool in step.tools:
                pages = used.setdefault(tool, [])
                if view.document not in pages:
                    pages.append(view.document)
    known = load("things")["things"]
    own = {thing.thing: thing for thing in house.inventory}
    things = []
    for name in sorted({*(name for name in used if name in known), *own}, key=str.lower):
        entry = own.get(name)
        things.append(
            (
                name,
                str(known.get(name, "")),
                (entry.label or name) if entry else "same",
                (entry.kept_at or "not given") if entry else "not given",
                str(entry.count) if entry else "not given",
                ", ".join(used.get(name, [])) or "no page",
            )
        )
    tools = tuple(
        (t.name, f"{t.capacity.written}, marks of {t.mark.written}", ", ".join(t.for_).replace("_", " "))
        for t in house.measuring_tools
    )
    pens = tuple((m.name, m.resolution, str(m.last or "never noted")) for m in house.meters)
    return ReferencePage(
        "Inventory",
        "Things by the names the pages use. A label in the room reads the same, letter for letter.",
        (
            ReferenceTable(
                "Things", ("Thing", "What for", "Label", "Kept at", "Count", "Used on"), tuple(things)
            ),
            ReferenceTable(
                "Measuring tools",
                ("Tool", "Capacity", "For"),
                tools,
                "A tool serves its own group of liquids.",
            ),
            ReferenceTable("Pens", ("Pen", "Reads to", "Last calibrated"), pens),
        ),
    )


def frequencies_page(house: House) -> ReferencePage:
    """How often what is due, and who says so."""
    rows = tuple((one.task, one.text, one.said_by) for one in frequencies(house).values())
    return ReferencePage(
        "How often",
        "One figure for each rhythm; every page takes it from here.",
        (ReferenceTable("Rhythms", ("What", "How often", "Who says so"), rows),),
    )


def roles_page(house: House, views: Sequence[PageView]) -> ReferencePage:
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
    return ReferencePage(
        "Who may do what",
        "A page is done alone from the level it names upwards; below it, beside somebody who has it.",
        (
            ReferenceTable("Pages", ("Page", "Least level", "Who has it", "Trained in"), rows),
            ReferenceTable("People", ("Role", "Level", "May"), people),
        ),
        see=(LinkView("Roster: who is signed off for which page", "training/roster.html"),),
    )


def sources_page(views: Sequence[PageView]) -> ReferencePage:
    """Every source, how it was obtained, and the pages that cite it."""
    cited: dict[str, list[str]] = {}
    for view in views:
        for text in view.references:
            pages = cited.setdefault(text, [])
            if view.document not in pages:
                pages.append(view.document)
    rows = []
    for key, entry in load("sources").items():
        text = f"{entry['text']} (obtained: {entry['obtained']})"
        rows.append((key, entry["text"], entry["obtained"], ", ".join(cited.get(text, [])) or "no page"))
    practice = tuple(row for row in rows if "practice" in row[2] or "default" in row[2])
    outside = tuple(row for row in rows if row not in practice)
    heads = ("Key", "Source", "Obtained", "Cited on")
    return ReferencePage(
        "Sources",
        "Where the figures come from that are not this house's own. The label and local rules always beat a figure here.",
        (
            ReferenceTable("Published", heads, outside),
            ReferenceTable(
                "Common practice and our own defaults",
                heads,
                practice,
                "Nobody publishes these; a house that knows better enters its own.",
            ),
        ),
    )

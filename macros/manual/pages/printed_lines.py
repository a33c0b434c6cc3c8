"""All that a controlled item prints, as lines in the order of the paper: what its values code is made of.

Each line has a place that stays the same when its text changes, and a kind, by which a change is judged. What a view
holds and no page, sheet or checklist prints is no line: addresses, the control block, what only a day's plan needs.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import astuple, dataclass
from html import unescape
from typing import Literal

from macros.page_model.card import CardContent, CardTable, CardView, Facts, Frames, Sentences
from macros.page_model.checklist import ChecklistContent, ChecklistItem, ChecklistView
from macros.page_model.figure import FigureView, MapView, MeasureView, PadsView, StickView, TableView
from macros.page_model.page import PageContent, PageView, PlacedCaution, RecordView, StepView, SupplyView
from macros.page_model.photo import PhotoView
from macros.page_model.room_view import RoomView

LineKind = Literal[
    "amount", "limit", "caution", "ppe", "order", "mark", "wait",
    "tool", "supply", "figure", "photo", "who", "source", "text",
]  # fmt: skip
"""What a line is: an amount, a limit, a caution, what to wear, the order of the steps, a step's marks (critical, hold),
a least or greatest wait, a tool, a supply, a row of a table or drawing, a photograph, who does it, a source. All else is text."""

CELL = " | "
"""What stands between the cells of a row."""

STEP_ORDER = "step order"
"""Place of the line that holds the ids of all steps as they follow one another."""


@dataclass(frozen=True)
class PrintedLine:
    """One text as printed: where it stands, what kind it is, and itself. Places of one item are told apart."""

    place: str
    kind: LineKind
    text: str


def printed_lines(view: PageView | ChecklistView | CardView) -> tuple[PrintedLine, ...]:
    """The lines of any item that is issued."""
    if isinstance(view, PageView):
        return page_lines(view)
    return checklist_lines(view) if isinstance(view, ChecklistView) else card_lines(view)


def in_words(place: str) -> str:
    """A place as people read it: `step fill_tank: tool` is `step fill tank: tool`."""
    return place.replace("_", " ")


def line_group(place: str) -> str:
    """The place without the numbers of its list: rows of one table, lines of one list are of one group."""
    return re.sub(r" \(?\d+\)?(?=$|:)", "", place)


def page_lines(view: PageContent) -> tuple[PrintedLine, ...]:
    """Every text of a page and of its bench sheet, from the head to the last paragraph."""
    return _told_apart(
        (*_page_head(view), *_page_steps(view), *_page_end(view), *_paragraphs(view.body_markdown))
    )


def checklist_lines(view: ChecklistContent) -> tuple[PrintedLine, ...]:
    """Every text of a checklist; the revisions it was made from say which copy it is and are no line."""
    return _told_apart(_checklist(view))


def card_lines(view: CardContent) -> tuple[PrintedLine, ...]:
    """Every text of a wall card; its sources and the day it was built for say which copy it is and are no lines."""
    return _told_apart(_card(view))


# ------------------------------------------------------------------ page


def _page_head(view: PageContent) -> Iterator[PrintedLine]:
    for place, text in (
        ("document", view.key),
        ("number", view.document),
        ("title", view.title),
        ("system", view.system),
        ("name of the system", view.system_name),
        ("house", view.house_name),
        ("scope", view.scope_line),
        ("emergency", view.emergency),
        ("emergency line", view.emergency_line),
    ):
        yield PrintedLine(place, "text", text)
    yield from _each("first line", "text", view.first_lines)
    yield from _pairs("urgent", "text", view.urgent)
    yield PrintedLine("purpose", "text", view.purpose)
    yield PrintedLine("not for", "text", view.not_for)
    yield PrintedLine("when", "text", view.when)
    yield PrintedLine("who", "who", view.who)
    yield from _each("trained in", "text", view.units)
    for caution in view.cautions:
        yield from _caution(f"caution {caution.id} in the summary", caution)
    yield from _supplies("to wear", "ppe", view.ppe)
    yield from _pairs("first aid", "caution", view.first_aid)
    yield PrintedLine("flushing water", "caution", view.flush_point)
    yield from _supplies("supply", "supply", view.supplies)
    for amount in view.amounts:  # its value and its tool are lines of the step
        yield PrintedLine(f"amount {amount.amount_id}: name", "text", amount.label)
    yield from _each("before you start", "text", view.before)
    yield from room_lines("drawing before you start", view.looks_at_start)
    yield from _pairs("apart and clean", "text", view.cleaning)


def _page_steps(view: PageContent) -> Iterator[PrintedLine]:
    # The number of a step, and where to go on, follow from the order.
    yield PrintedLine(STEP_ORDER, "order", ", ".join(step.id for step in view.steps))
    for step in view.steps:
        yield from _step(step, view.system)


def _step(step: StepView, system: str) -> Iterator[PrintedLine]:
    name = f"step {step.id}"
    yield PrintedLine(f"{name}: phase", "text", step.phase)
    for caution in step.cautions:
        yield from _caution(f"caution {caution.id} before {step.id}", caution)
    marks = [word for word, on in (("CRITICAL", step.critical), ("HOLD", step.hold)) if on]
    yield PrintedLine(f"{name}: mark", "mark", ", ".join(marks))
    yield PrintedLine(f"{name}: what to do", "text", step.do)
    yield PrintedLine(f"{name}: on the sheet", "text", step.short)
    yield from _each(f"{name}: one of", "text", step.one_of)
    yield PrintedLine(f"{name}: where", "text", step.new_place)
    yield PrintedLine(f"{name}: who", "who", step.doer)
    yield from _each(f"{name}: stock", "supply", step.stocks)
    yield PrintedLine(f"{name}: until", "text", step.until)
    yield PrintedLine(f"{name}: what is seen", "text", step.expect)
    if step.wait is not None:
        yield PrintedLine(f"{name}: wait at least", "wait", step.wait.least)
        yield PrintedLine(f"{name}: wait at most", "wait", step.wait.greatest)
        yield PrintedLine(f"{name}: after the wait", "text", step.wait.then)
        yield PrintedLine(f"{name}: wait missed", "text", step.wait.missed)
    if step.record is not None:
        yield from _record(name, step.record)
    yield PrintedLine(f"{name}: why", "text", step.reason)
    for amount in step.amounts:
        place = f"{name}: amount {amount.amount_id}"
        yield PrintedLine(place, "amount", ", ".join(filter(None, (amount.printed, amount.means))))
        yield PrintedLine(f"{place}, measured with", "tool", amount.tool)
        yield PrintedLine(f"{place}, system", "text", _other(amount.system, system))
        for filling in amount.fillings:
            yield from _drawn(
                f"{place}, tool as drawn", filling, "tool"
            )  # what is poured is the amount's own line
    yield from _each(f"{name}: tool", "tool", step.tools)
    yield from _drawn(f"{name}: drawing of the strip", step.pads)
    yield from room_lines(f"{name}: drawing behind it", step.looks)
    for photo in step.photos:
        yield photo_line(f"{name}: photograph", photo)
    if step.safe_to_leave is not None:
        yield PrintedLine(f"{name}: safe to leave for", "wait", step.safe_to_leave.up_to)
        yield PrintedLine(f"{name}: safe to leave as", "text", step.safe_to_leave.state)


def photo_line(place: str, photo: PhotoView) -> PrintedLine:
    """All that a photograph shows: its words, what points into it, the code of the picture itself."""
    points = (str(one) for one in (*photo.arrows, *photo.circles))
    return PrintedLine(place, "photo", _cells((photo.name, photo.alt, photo.caption, *points, photo.code)))


def _drawn(
    place: str, view: FigureView | MeasureView | PadsView | None, kind: LineKind = "figure"
) -> Iterator[PrintedLine]:
    """All that a drawing is made of, as one line; none where nothing is drawn."""
    if view is not None:
        yield PrintedLine(place, kind, _cells(str(one) for one in astuple(view)))


def room_lines(place: str, view: RoomView | None) -> Iterator[PrintedLine]:
    """All that a drawing of the room shows; none where nothing is drawn."""
    if view is None:
        return
    rack = view.rack
    yield PrintedLine(place, "text", _cells((view.title, view.said)))
    sizes = (rack.trays, rack.tray_width, rack.tank_width, rack.tank_height, view.level, view.fill_mark)
    things = (
        view.water,
        view.up,
        view.pump,
        view.air,
        view.lamps,
        view.power,
        view.timer,
        view.valve,
        view.lid,
        view.stones,
        view.crop,
    )
    yield PrintedLine(f"{place}: as drawn", "text", _cells(str(one) for one in (*sizes, *things)))


def _caution(place: str, caution: PlacedCaution) -> Iterator[PrintedLine]:
    for part, text in (
        ("signal word", caution.word),
        ("title", caution.entry.title),
        ("hazard", caution.hazard),
        ("consequence", caution.consequence),
        ("avoidance", caution.avoidance),
        ("short hazard", caution.entry.short_hazard),
        ("short avoidance", caution.entry.short_avoidance),
        ("label", caution.label_line),
    ):
        yield PrintedLine(f"{place}: {part}", "caution", text)
    yield from _each(f"{place}: not known", "caution", caution.not_known_lines)


def _record(name: str, record: RecordView) -> Iterator[PrintedLine]:
    yield PrintedLine(f"{name}: value to write", "limit", record.label)
    yield PrintedLine(f"limit of record {name}", "limit", record.limits)
    if record.outside:
        yield PrintedLine(f"outside the limit of record {name}", "text", record.outside)


def _page_end(view: PageContent) -> Iterator[PrintedLine]:
    for number, figure in enumerate(view.figures, start=1):
        yield from _figure(f"figure {number}", figure)
    yield from _each("done when", "text", view.done_when)
    yield from _each("clean-up", "text", view.clean_up)
    for number, entry in enumerate(view.if_wrong, start=1):
        place = f"if wrong {number}"
        yield PrintedLine(f"{place}: sign", "text", entry.sign)
        yield PrintedLine(f"{place}: act", "text", entry.act)
        yield PrintedLine(f"{place}: who decides", "who", entry.who_decides)
        yield PrintedLine(f"{place}: write down", "text", entry.record)
    yield from _each("reference", "source", view.references)
    yield from _each("see also", "text", (link.text for link in view.see_also))
    yield from _pairs("left out", "text", view.drops)


def _figure(place: str, figure: FigureView) -> Iterator[PrintedLine]:
    yield PrintedLine(f"{place}: title", "text", figure.title)
    if isinstance(figure, TableView):
        yield from _table(place, figure.columns, figure.rows)
    elif isinstance(figure, MapView):
        yield from _map(place, figure)
    elif isinstance(figure, StickView):
        yield from _stick(place, figure)
    else:
        yield from _drawn(place, figure)


def _table(place: str, columns: Iterable[str], rows: Iterable[tuple[str, ...]]) -> Iterator[PrintedLine]:
    yield PrintedLine(f"{place}: heads", "figure", _cells(columns))
    yield from _each(f"{place}: row", "figure", (_cells(row) for row in rows))


def _map(place: str, figure: MapView) -> Iterator[PrintedLine]:
    yield PrintedLine(f"{place}: size", "figure", f"{figure.rows} x {figure.columns}, {figure.length_text}")
    yield from _each(f"{place}: plate", "figure", figure.plates)
    for variety in figure.varieties:
        text = f"{variety.name}: {variety.count}, {variety.apart} apart"
        yield PrintedLine(f"{place}: variety {variety.letters}", "figure", text)
    letters = {-1: "-", **{number: one.letters for number, one in enumerate(figure.varieties)}}
    rows: dict[int, list[str]] = {}
    for row, _, number in figure.holes:
        rows.setdefault(row, []).append(letters[number])
    yield from _each(f"{place}: row", "figure", (" ".join(row) for row in rows.values()))


def _stick(place: str, figure: StickView) -> Iterator[PrintedLine]:
    yield PrintedLine(f"{place}: units", "figure", f"{figure.unit}, {figure.volume_unit}")
    for mark in figure.marks:
        yield PrintedLine(
            f"{place}: mark {mark.label}", "figure", _cells((mark.level, mark.volume, mark.note))
        )
    yield from _each(f"{place}: tick", "figure", (_cells(tick[1:]) for tick in figure.scale))


def _paragraphs(markdown: str) -> Iterator[PrintedLine]:
    """The prose as it is read: its marks of Markdown stand as entities."""
    yield from _each(
        "why it is done this way", "text", (unescape(one.strip()) for one in markdown.split("\n\n"))
    )


# ------------------------------------------------------------------ checklist and card


def _checklist(view: ChecklistContent) -> Iterator[PrintedLine]:
    for place, text in (
        ("document", view.key),
        ("title", view.title),
        ("system", view.system),
        ("house", view.house_name),
        ("how it is read", view.mode),
        ("emergency", view.emergency),
        ("pages of paper", "one" if view.one_page else ""),
    ):
        yield PrintedLine(place, "text", text)
    items = [item for block in view.blocks for item in block.items]
    yield PrintedLine(STEP_ORDER, "order", ", ".join(f"{item.page}/{item.step_id}" for item in items))
    for block in view.blocks:
        yield PrintedLine(f"{block.name}: when", "text", block.trigger)
        yield PrintedLine(f"{block.name}: items", "order", str(len(block.items)))
        yield PrintedLine(f"{block.name}: columns", "order", ", ".join(block.columns))
        yield PrintedLine(f"{block.name}: place", "order", "beside another" if block.beside else "")
        for item in block.items:
            yield from _item(item)
    for one in view.rest:
        steps = ", ".join(f"{number} {id_}" for number, id_ in one.steps)
        yield PrintedLine(f"on its own sheet {one.page}", "order", f"{one.procedure}: {steps}")


def _item(item: ChecklistItem) -> Iterator[PrintedLine]:
    name = f"item {item.page}/{item.step_id}"
    yield PrintedLine(f"{name}: number", "order", f"{item.number}, {item.procedure} step {item.step}")
    yield PrintedLine(f"{name}: phase", "text", item.phase)
    yield PrintedLine(f"{name}: column and boxes", "order", f"{item.column}, {item.boxes}")
    marks = [word for word, on in (("HOLD", item.hold), ("n/a", item.conditional)) if on]
    yield PrintedLine(f"{name}: mark", "mark", ", ".join(marks))
    yield PrintedLine(f"{name}: what is read", "text", item.text)
    yield PrintedLine(f"{name}: what is seen", "text", item.response)
    yield PrintedLine(f"{name}: measured with", "tool", item.tool)
    if item.record is not None:
        yield from _record(name, item.record)


def _card(view: CardContent) -> Iterator[PrintedLine]:
    for place, text in (
        ("document", view.key),
        ("number", str(view.number)),
        ("title", view.title),
        ("system", view.system),
        ("name of the system", view.system_name),
        ("house", view.house_name),
        ("part", view.part),
        ("lead", view.lead),
    ):
        yield PrintedLine(place, "text", text)
    for number, block in enumerate(view.blocks, start=1):
        place = f"block {number}"
        if isinstance(block, Facts):
            yield PrintedLine(f"{place}: title", "text", block.title)
            for name, value, note in block.lines:
                yield PrintedLine(f"{place}: {name}", "amount", value)
                yield PrintedLine(f"{place}: {name}: note", "text", note)
        elif isinstance(block, CardTable):
            yield PrintedLine(f"{place}: title", "text", block.title)
            yield from _table(place, block.columns, block.rows)
            for row, words in block.marks:
                yield PrintedLine(f"{place}: mark of row {row + 1}", "mark", words)
        elif isinstance(block, Sentences):
            yield PrintedLine(f"{place}: title", "text", block.title)
            yield from _each(f"{place}: line", "text", block.lines)
        elif isinstance(block, Frames):
            for frame in block.frames:
                yield PrintedLine(f"{place}: {frame.name}", "text", _cells(frame.words))


# ------------------------------------------------------------------ parts


def _each(place: str, kind: LineKind, texts: Iterable[str]) -> Iterator[PrintedLine]:
    for number, text in enumerate(texts, start=1):
        yield PrintedLine(f"{place} {number}", kind, text)


def _pairs(place: str, kind: LineKind, pairs: Iterable[tuple[str, str]]) -> Iterator[PrintedLine]:
    for name, text in pairs:
        yield PrintedLine(f"{place}: {name}", kind, text)


def _supplies(place: str, kind: LineKind, supplies: Iterable[SupplyView]) -> Iterator[PrintedLine]:
    for number, one in enumerate(supplies, start=1):
        yield PrintedLine(f"{place} {number}", kind, _cells((one.group, one.name, one.detail)))


def _cells(texts: Iterable[str]) -> str:
    return CELL.join(texts)


def _other(system: str, of_page: str) -> str:
    """The system of an amount, where it is not the page's and so is printed beside it."""
    return "" if system == of_page else system


def _told_apart(lines: Iterable[PrintedLine]) -> tuple[PrintedLine, ...]:
    """The lines that hold a text; of several with one place, the later ones are numbered."""
    found: list[PrintedLine] = []
    seen: dict[str, int] = {}
    for line in lines:
        if line.text:
            times = seen[line.place] = seen.get(line.place, 0) + 1
            found.append(line if times == 1 else PrintedLine(f"{line.place} ({times})", line.kind, line.text))
    return tuple(found)

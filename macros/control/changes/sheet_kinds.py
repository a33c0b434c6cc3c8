"""Every kind of paper that follows from controlled items, in one table: site, packs and the list of changes read it.

A new kind is one entry here, and what there is of it in a house: the sheet of a page by its `address` and `make`, all
else by what `printed_things` gives under its name.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from macros.control.changes.uncontrolled_things import PrintedThing
from macros.house import House
from macros.html.site_text import SiteText
from macros.manual.pages.bench_sheet import bench_sheet, record_form
from macros.manual.records.record_form import form_of
from macros.page_model.page import PageView

Pack = Callable[[str, Sequence[str]], Sequence[str]]
"""What `trayside pack` is told, from the key of a sheet and the keys of the items it waits for."""


@dataclass(frozen=True)
class SheetKind:
    """One kind: its name, several of it, the head over it in the list of changes, and the packs that print it.

    A sheet of a page is a file of the site: `code` begins its key, `address` says where it stands (empty for none) and
    `make` makes it. `on_site` tells that a kind is read there.
    """

    name: str
    several: str
    head: str
    packs: Pack = lambda key, pages: ()
    code: str = ""
    address: Callable[[PageView], str] | None = None
    make: Callable[[PageView, House], str] | None = None
    on_site: bool = False


def _of_page(key: str, pages: Sequence[str]) -> Sequence[str]:
    return [f"page {'-'.join(page.split('-')[:2])}" for page in pages]


def _module_first(key: str, pages: Sequence[str]) -> Sequence[str]:
    return [f"training --module {key.partition('-')[0]}"]


def _record(page: PageView, house: House) -> str:
    form = form_of(page, house)
    assert form is not None, f"{page.key} has the address of a record and no step that writes a value"
    return record_form(form, house.house.language)


_KINDS = (
    SheetKind(
        "bench sheet",
        "bench sheets",
        "Bench sheets to print again",
        _of_page,
        "SHEET",
        lambda page: page.sheet_address,
        lambda page, house: bench_sheet(page, house.house.language),
        on_site=True,
    ),
    SheetKind(
        "record form",
        "record forms",
        "Record forms to print again",
        _of_page,
        "RECORD",
        lambda page: page.form_address,
        _record,
        on_site=True,
    ),
    SheetKind(
        "label",
        "labels",
        "Labels to print again",
        lambda key, pages: [f"labels --kind {key.split()[1].rstrip(':')}"],
    ),
    SheetKind(
        "trace form",
        "trace forms",
        "Trace forms to print again",
        lambda key, pages: ["control"],
        on_site=True,
    ),
    SheetKind("questions", "self-checks", "Questions that changed", on_site=True),
    SheetKind(
        "question sheet",
        "question sheets",
        "Question sheets to print again",
        lambda key, pages: [f"training --module {key.removeprefix('ASK-')}"],
    ),
    SheetKind(
        "trainer's key",
        "trainer's keys",
        "Trainer's keys to print again",
        lambda key, pages: [f"key --module {key.removeprefix('KEY-')}"],
    ),
    SheetKind("trainer's sheet", "trainer's sheets", "Trainer's sheets to print again", _module_first),
    SheetKind("breakdown sheet", "breakdown sheets", "Breakdown sheets to print again"),
    SheetKind("training record", "training records", "Training records to print again", _module_first),
    SheetKind("plant cards", "sets of plant cards", "Plant cards to print again", lambda key, pages: ["naming"]),
)  # fmt: skip
SHEET_KINDS = {kind.name: kind for kind in _KINDS}
"""By their names, in the order in which they are told."""


def page_sheets(view: PageView) -> Iterator[tuple[SheetKind, str]]:
    """The kinds of sheet a page has, each with the address of its own."""
    for kind in _KINDS:
        if kind.address is not None and (address := kind.address(view)):
            yield kind, address


def sheet_texts(house: House, views: Sequence[PageView]) -> Iterator[SiteText]:
    """The sheets of all pages, as files of the site."""
    for view in views:
        for kind, address in page_sheets(view):
            assert kind.make is not None
            yield SiteText(address, kind.make(view, house))


def listed(things: Iterator[PrintedThing]) -> Iterator[PrintedThing]:
    """The things, each of a kind of the table: one of another kind would stand on no list of changes."""
    for thing in things:
        if thing.kind not in SHEET_KINDS:
            raise ValueError(f"{thing.kind} is no kind of sheet: enter it in sheet_kinds.py")
        yield thing

"""Paper of document control: the master list, the swap list, a blank for a handwritten note, the sheets to hang."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from markupsafe import Markup

from macros.amounts import Register
from macros.control.documents.controlled_documents import ControlledDocument
from macros.control.documents.master_list import KINDS, MasterList, hang_words, master_list
from macros.control.documents.trace_form import trace_part
from macros.control.documents.wall_copies import DRAFT_ON_WALL
from macros.house import House
from macros.html.environment import fragment
from macros.html.paper import Part
from macros.manual.pages.bench_sheet import bench_part, checklist_part
from macros.page_model.card import CardView
from macros.page_model.checklist import ChecklistView
from macros.paper.cards.sheet import card_part
from macros.published.paper.control import control_words

NOTES = 2
"""Blanks on one page."""


def control_parts(register: Register, items: Sequence[ControlledDocument]) -> list[Part]:
    """The swap list first, for it is worked off; then the master list, then blanks for notes, and for a lot that is traced."""
    listed = master_list(register, items)
    return [
        _swap_part(register.house, listed),
        _master_part(register.house, listed),
        _note_part(register.house, listed),
        trace_part(register.house),
    ]


def copy_parts(register: Register, items: Sequence[ControlledDocument]) -> list[Part]:
    """The sheets to hang, as many as the swap list says; those that wait for their issue are left out."""
    known = {item.key: item for item in items}
    parts: list[Part] = []
    for number, swap in enumerate(master_list(register, items).swaps, start=1):
        if swap.hang and not swap.wait:
            sheet = _sheet(known[swap.key])
            parts += [replace(sheet, key=f"{swap.key}-hang-{number}-{n}") for n in range(1, swap.count + 1)]
    return parts


def _sheet(item: ControlledDocument) -> Part:
    if isinstance(item.view, CardView):
        return card_part(item.view)
    if isinstance(item.view, ChecklistView):
        return checklist_part(item.view)
    return bench_part(item.view)


def _master_part(house: House, listed: MasterList) -> Part:
    html = fragment(
        "master_list.html.j2",
        house=house.house.name,
        listed=listed,
        groups=[(title, listed.of_kind(kind)) for kind, title in KINDS],
        mechanisms=control_words().mechanisms,
    )
    return _own(house, listed, "MASTER-LIST", "Master list", html, landscape=True)


def _swap_part(house: House, listed: MasterList) -> Part:
    html = fragment(
        "swap_list.html.j2",
        house=house.house.name,
        listed=listed,
        rows=[(swap, hang_words(swap)) for swap in listed.swaps],
        sheets=sum(swap.count for swap in listed.swaps),
        draft=DRAFT_ON_WALL,
        later=any(swap.from_day > listed.as_of for swap in listed.swaps if swap.from_day),
    )
    return _own(house, listed, "SWAP-LIST", "Swap list", html, landscape=True)


def _note_part(house: House, listed: MasterList) -> Part:
    note = control_words().note
    html = fragment(
        "temporary_note.html.j2",
        house=house.house.name,
        who=house.house.who_decides,
        note=note,
        never=note.never.replace("{who}", house.house.who_decides),
        blanks=range(1, NOTES + 1),
    )
    return _own(house, listed, "NOTE", "Handwritten note on a wall copy", html, one_page=True)


def _own(
    house: House,
    listed: MasterList,
    key: str,
    title: str,
    html: Markup,
    *,
    landscape: bool = False,
    one_page: bool = False,
) -> Part:
    return Part(
        key=key,
        title=title,
        html=html,
        styles=("control",),
        top_left=f"{house.house.name} · {title}",
        top_right=key,
        bottom_left=f"As of {listed.as_of}",
        bottom_right="Void once the house file changes",
        landscape=landscape,
        one_page=one_page,
    )

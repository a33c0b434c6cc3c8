"""Copies on the walls: which hang in which revision, and what has to be swapped after a re-issue."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from macros.control.documents.controlled_documents import ControlledDocument, unknown_item
from macros.ground.problems import Problem
from macros.house import House
from macros.house.records.document_control import WallCopy
from macros.manual.pages.values_code import last_issue

DRAFT_ON_WALL = "The manual says something else by now. Look at the page before use; issue it, then swap."


@dataclass(frozen=True)
class Swap:
    """Copies to take down at one place, and what takes their place.

    `hang` is empty where the item is no longer in the manual; `from_day` is the day the new sheet is in force from.
    `wait` says why it cannot hang yet.
    """

    key: str
    title: str
    where: str
    count: int
    down: str
    hang: str
    from_day: date | None = None
    wait: str = ""


def copies_of(house: House, key: str) -> tuple[WallCopy, ...]:
    """The wall copies of an item, in the order of the file."""
    return tuple(copy for copy in house.wall_copies if copy.item == key)


def is_old(house: House, copy: WallCopy) -> bool:
    """Whether a later revision than the one that hangs was issued."""
    last = last_issue(house, copy.item)
    return last is not None and copy.printed < last.revision


def swaps(house: House, items: Sequence[ControlledDocument]) -> tuple[Swap, ...]:
    """Every copy to take down, place by place, so that one walk round the room does it."""
    known = {item.key: item for item in items}
    found = []
    for copy in house.wall_copies:
        item = known.get(copy.item)
        if item is not None and not is_old(house, copy):
            continue
        last = last_issue(house, copy.item)
        draft = item is not None and bool(item.control.draft_reasons)
        found.append(
            Swap(
                key=copy.item,
                title=item.title if item is not None else "no longer in the manual",
                where=copy.where,
                count=copy.count,
                down=f"revision {copy.printed}",
                hang=f"revision {last.revision}, effective {last.effective}" if item and last else "",
                from_day=last.effective if item and last else None,
                wait="DRAFT: issue it first" if draft else "",
            )
        )
    return tuple(sorted(found, key=lambda swap: swap.where.casefold()))


def drafts_on_walls(house: House, items: Sequence[ControlledDocument]) -> tuple[tuple[str, WallCopy], ...]:
    """Title and copy where the last issue hangs, but the manual says something else by now."""
    return tuple(
        (item.title, copy)
        for item in items
        if item.control.draft_reasons
        for copy in copies_of(house, item.key)
        if not is_old(house, copy)
    )


OWN_WORDS = (
    *("at ", "on ", "in ", "inside ", "outside ", "by ", "beside ", "near ", "next to "),
    *("above ", "over ", "below ", "under ", "behind ", "between "),
)


def hanging(house: House, copy: WallCopy) -> str:
    """One entry in words: `2 at the sink, revision 1`; an old revision says so. A place may bring its own preposition."""
    old = ": swap" if is_old(house, copy) else ""
    at = "" if copy.where.lower().startswith(OWN_WORDS) else "at "
    return f"{copy.count} {at}{copy.where}, revision {copy.printed}{old}"


def copy_problems(house: House, items: Sequence[ControlledDocument]) -> list[Problem]:
    """Entries about what the manual does not hold, or what was never issued."""
    return [
        problem
        for copy in house.wall_copies
        for problem in unknown_item(house, copy, "item", copy.item, items)
    ]

"""Checklists: of all steps of a job the few that hurt when missed, in blocks a pair can read aloud."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from string import ascii_uppercase

from macros.house import House
from macros.manual.control import control_block, fingerprint
from macros.manual.views import ChecklistBlock, ChecklistItem, ChecklistView, ControlView, PageView, StepView

LEAST, MOST = 5, 9
"""Items in one block (Gawande, A Checklist for Checklists: fewer than ten)."""


def split_evenly(count: int) -> list[int]:
    """Sizes of blocks for so many items: as few blocks as nine a block allow, sizes at most one apart.

    Every size lies in 5 to 9, but for a whole list of fewer than five.
    """
    if count == 0:
        return []
    blocks = -(-count // MOST)
    small, extra = divmod(count, blocks)
    return [small + 1] * extra + [small] * (blocks - extra)


def cleanout_checklist(pages: Sequence[PageView], house: House, system: str) -> ChecklistView | None:
    """The checklist of a system's cleanout from its finished pages, in the order of their numbers; None without items."""
    own = [page for page in pages if page.system == system]
    found = [
        (page, step)
        for page in own
        for step in page.steps
        if step.critical or step.hold or step.easily_missed
    ]
    if not found:
        return None
    items = [_item(number, page, step) for number, (page, step) in enumerate(found, start=1)]
    blocks, start = [], 0
    for number, size in enumerate(split_evenly(len(items))):
        chunk = tuple(items[start : start + size])
        first = chunk[0]
        trigger = f"before step {first.step} of {first.procedure}"
        blocks.append(ChecklistBlock(f"Block {ascii_uppercase[number % 26]}", trigger, chunk))
        start += size
    key = f"CHECK-{system}"
    address = f"sheets/{key.lower()}.html"
    base = house.house.site_address
    view = ChecklistView(
        key=key,
        title="Cleanout checklist",
        system=system,
        house_name=house.house.name,
        blocks=tuple(blocks),
        procedures=tuple(dict.fromkeys(page.document for page, _ in found)),
        control=ControlView(key, "", "", "", ""),
        address=address,
        public_address=f"{str(base).rstrip('/')}/{address}" if base else address,
    )
    return replace(view, control=control_block(house, key, key, fingerprint(view)))


def _item(number: int, page: PageView, step: StepView) -> ChecklistItem:
    return ChecklistItem(
        number, step.short or step.do, _response(step), page.document, step.number, step.hold
    )


def _response(step: StepView) -> str:
    """What must be seen or read: never "done" or "OK"."""
    if step.record is not None and step.record.limits:
        return f"{step.record.label}: ____ ({step.record.limits})"
    if step.expect:
        return step.expect
    if step.amounts:
        return step.amounts[0].printed
    return f"seen by a second person at step {step.number}"

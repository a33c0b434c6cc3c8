"""Checklists: of all steps the few that hurt when missed, in blocks a pair can read aloud."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import accumulate, pairwise
from string import ascii_uppercase

from macros.house import House
from macros.manual.checklists.day_list import day_list
from macros.manual.checklists.must_not_be_missed import must_not_be_missed
from macros.manual.pages.printed_lines import checklist_lines
from macros.manual.pages.values_code import control_block, public_address
from macros.page_model.checklist import ChecklistBlock, ChecklistContent, ChecklistItem, ChecklistView
from macros.page_model.page import PageView, RecordView, StepView

LEAST, MOST = 5, 9
"""Items in one block (Gawande, A Checklist for Checklists: fewer than ten)."""

MOST_REPEATED = 6
"""Words of what is seen that may be a mere repeat of the limits."""

Place = tuple[PageView, StepView, str]
"""A step that must not be missed: its page, itself, and the phase it stands in."""


def checklists_of(pages: Sequence[PageView], house: House) -> list[ChecklistView]:
    """Every checklist of the manual: the day of each system, then each procedure that asks for one."""
    found = [day_list(pages, house, system.id) for system in house.systems]
    found += [procedure_checklist(page, house) for page in pages if page.checklist]
    return [view for view in found if view is not None]


def procedure_checklist(page: PageView, house: House) -> ChecklistView | None:
    """The checklist of one procedure in the mode it asks for; None without items."""
    key, mode, places = f"CHECK-{page.key}", page.checklist, _places(page)
    if not places:
        return None
    sizes = cut_into_blocks([(page.key, phase) for page, _, phase in places])
    ends = list(accumulate(sizes))
    chunks = [_most_critical_first(places[end - size : end]) for size, end in zip(sizes, ends, strict=True)]
    blocks, number = [], 1
    for index, chunk in enumerate(chunks):
        name = f"Block {ascii_uppercase[index % 26]}"
        heads = _phase_heads(chunk, mode)
        items = tuple(_item(number + n, owner, step, heads[n]) for n, (owner, step, _) in enumerate(chunk))
        blocks.append(ChecklistBlock(name, _trigger(chunk, mode), items))
        number += len(chunk)
    address = f"sheets/{key.lower()}.html"
    content = ChecklistContent(
        key=key,
        title=page.title,
        mode=mode,
        system=page.system,
        house_name=house.house.name,
        blocks=tuple(blocks),
        pages=(page.key,),
        worked_to=(f"{page.key} rev {page.control.revision}",),
        address=address,
        public_address=public_address(house, address),
    )
    return ChecklistView(**vars(content), control=control_block(house, key, key, checklist_lines(content)))


def _places(page: PageView) -> list[Place]:
    """The page's steps that must not be missed, each with its phase; a phase is named at its first step only."""
    wanted = {step.id for step in must_not_be_missed(page)}
    found, phase = [], ""
    for step in page.steps:
        phase = step.phase or phase
        if step.id in wanted:
            found.append((page, step, phase))
    return found


def cut_into_blocks(phases: Sequence[tuple[str, str]]) -> list[int]:
    """Sizes of the blocks over items, each told by its page and phase; 5 to 9 a block, fewer only for a short list.

    Of all cuts the one whose blocks mix the fewest pages, then the fewest phases, then part the fewest phases, and
    then are of the most even size.
    """
    count = len(phases)
    if count <= MOST:
        return [count] if count else []
    best: dict[int, tuple[tuple[int, int, int, int], list[int]]] = {0: ((0, 0, 0, 0), [])}
    for end in range(LEAST, count + 1):
        found = []
        for size in range(LEAST, MOST + 1):
            start = end - size
            if start not in best:
                continue
            cost, sizes = best[start]
            inside = list(pairwise(phases[start:end]))
            mixed_pages = sum(one[0] != two[0] for one, two in inside)
            mixed_phases = sum(one != two for one, two in inside)
            parted = int(start > 0 and phases[start] == phases[start - 1])
            more = (mixed_pages, mixed_phases, parted, size * size)
            total = (cost[0] + more[0], cost[1] + more[1], cost[2] + more[2], cost[3] + more[3])
            found.append((total, [*sizes, size]))
        if found:
            best[end] = min(found)
    return best[count][1]


# ----------------------------------------------------------------- order inside a block


def severity(step: StepView) -> int:
    """0 for the worst: critical with a hold, critical, hold, easily missed."""
    if step.critical:
        return 0 if step.hold else 1
    return 2 if step.hold else 3


def _most_critical_first(places: Sequence[Place]) -> list[Place]:
    """The block in the order of the work; where that is free, one place after the other and the worst first.

    Order on paper is order of work. It is free only between neighbours of one phase that each name what they come
    after, and none of which comes after another of them.
    """
    ordered: list[Place] = []
    run: list[Place] = []
    for place in places:
        if run and not _free(run, place):
            ordered += _by_place(run)
            run = []
        run.append(place)
    return ordered + _by_place(run)


def _free(run: Sequence[Place], place: Place) -> bool:
    page, step, phase = place
    if not step.after or not all(one.after for _, one, _ in run):
        return False
    earlier = _all_before(page, step)
    return all(p is page and ph == phase and one.id not in earlier for p, one, ph in run)


def _all_before(page: PageView, step: StepView) -> set[str]:
    """Ids of every step this one waits for, directly or through others."""
    by_id = {one.id: one for one in page.steps}
    found: set[str] = set()
    waiting = list(step.after)
    while waiting:
        id_ = waiting.pop()
        if id_ not in found:
            found.add(id_)
            waiting += by_id[id_].after
    return found


def _by_place(run: Sequence[Place]) -> list[Place]:
    """Place by place, so that nobody walks back; first the place with the worst item, and in each the worst first."""
    where = list(dict.fromkeys(step.where for _, step, _ in run))
    worst = {name: min(severity(step) for _, step, _ in run if step.where == name) for name in where}
    return sorted(run, key=lambda one: (worst[one[1].where], where.index(one[1].where), severity(one[1])))


# ----------------------------------------------------------------- words


def _trigger(chunk: Sequence[Place], mode: str) -> str:
    """When the block is read: before its first step, or after its last."""
    first, last = (choose(chunk, key=lambda one: one[1].number) for choose in (min, max))
    _, step, phase = first if mode == "read_do" else last
    about = f", {phase}" if phase else ""
    return f"{'before' if mode == 'read_do' else 'after'} step {step.number}{about}"


def _phase_heads(chunk: Sequence[Place], mode: str) -> list[str]:
    """The phase over each item that begins one, where the block holds several; the one the trigger names stands there."""
    phases = [(page.key, phase) for page, _, phase in chunk]
    if len(set(phases)) == 1:
        return [""] * len(chunk)
    heads = [phase if n == 0 or phases[n] != phases[n - 1] else "" for n, (_, phase) in enumerate(phases)]
    return ["", *heads[1:]] if mode == "read_do" else heads


def _item(number: int, page: PageView, step: StepView, phase: str) -> ChecklistItem:
    return ChecklistItem(
        number=number,
        text=step.short or step.do,
        response=seen(step) if step.record is None else _beside(step.expect, step.record),
        tool=", ".join(a.tool for a in step.amounts if a.tool) if step.record is None else "",
        record=step.record,
        page=page.key,
        procedure=page.document,
        step=step.number,
        step_id=step.id,
        hold=step.hold,
        phase=phase,
        conditional=bool(step.condition),
    )


def seen(step: StepView) -> str:
    """The amounts and the state to see, without a value to write: never "done" or "OK"."""
    return "; ".join([*(amount.printed for amount in step.amounts), *([step.expect] if step.expect else [])])


def _beside(expect: str, record: RecordView) -> str:
    """What is seen, where it says more than the limits beside the blank: "5 mg/L or less" does not say it again."""
    figures = re.findall(r"\d[\d.]*", expect)
    again = figures == re.findall(r"\d[\d.]*", record.limits) if figures else expect in record.limits
    return "" if again and len(expect.split()) <= MOST_REPEATED else expect

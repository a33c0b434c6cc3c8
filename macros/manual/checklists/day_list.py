"""The one page of a job's day: the few items of its pages that `jobs.yml` names, in the order of the work."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from string import ascii_uppercase

from macros.house import House
from macros.manual.checklists.must_not_be_missed import critical
from macros.manual.house_facts.emergency import emergency_line
from macros.manual.pages.printed_lines import checklist_lines
from macros.manual.pages.values_code import control_block, public_address
from macros.manual.procedures.expand_steps import planned_varieties
from macros.page_model.checklist import (
    ChecklistBlock,
    ChecklistContent,
    ChecklistItem,
    ChecklistRest,
    ChecklistView,
)
from macros.page_model.page import AmountView, PageView, RecordView, StepView
from macros.published.labour.jobs import Job, ListBlock, ListRow, job, step_parts


def day_list(pages: Sequence[PageView], house: House, system: str) -> ChecklistView | None:
    """The one page of a system's cleanout; None where no page of its own is part of one."""
    if not any(page.job == "cleanout" and page.system == system for page in pages):
        return None
    done = job("cleanout")
    own = pages_of_day(done, pages, system)
    blocks = _blocks(done, own, house, system)
    if not blocks:
        return None
    rest = _rest(done, own, blocks)
    named = tuple(page for page in own if any(one.page == page.key for one in rest))
    key = f"CHECK-{system}"
    address = f"sheets/{key.lower()}.html"
    content = ChecklistContent(
        key=key,
        title=done.title,
        mode="read_do",
        system=system,
        house_name=house.house.name,
        blocks=blocks,
        pages=tuple(page.key for page in named),
        worked_to=tuple(f"{page.key} rev {page.control.revision}" for page in named),
        address=address,
        public_address=public_address(house, address),
        one_page=True,
        rest=rest,
        emergency=" · ".join(emergency_line(house).split(" · ")[:2]),
    )
    return ChecklistView(**vars(content), control=control_block(house, key, key, checklist_lines(content)))


def pages_of_day(done: Job, pages: Sequence[PageView], system: str) -> list[PageView]:
    """The pages of a job for one system that are done on its own day, in the order of the job."""
    own = {page.document: page for page in pages if page.system in ("", system)}
    return [own[one.document] for one in done.pages if not one.next_day and one.document in own]


def _blocks(done: Job, pages: Sequence[PageView], house: House, system: str) -> tuple[ChecklistBlock, ...]:
    found: list[ChecklistBlock] = []
    number = 1
    varieties = max(1, len(planned_varieties(house, system)))
    for block in done.checklist:
        items: list[ChecklistItem] = []
        for row in block.rows:
            own = _row(block, row, number, pages, varieties if row.each else 1)
            number += bool(own and not block.columns)
            items += own
        if items:
            columns = tuple(name for name in block.columns if any(item.column == name for item in items))
            letter = ascii_uppercase[len(found)]
            trigger = f"{block.name}, {block.trigger}"
            found.append(ChecklistBlock(f"Block {letter}", trigger, tuple(items), columns, block.beside))
    return tuple(found)


def _row(
    block: ListBlock, row: ListRow, number: int, pages: Sequence[PageView], boxes: int
) -> list[ChecklistItem]:
    found = [
        (_item(row, number, column, page, step, boxes), step)
        for column, page, step in _steps_of(block, row, pages)
    ]
    items = [item for item, _ in found]
    if block.columns or row.answer != "amount" or len(items) < 2:
        return items
    amounts = [step.amounts[-1] for _, step in found if step.amounts]
    return _unit_once(items, amounts) if len(amounts) == len(items) and _one_unit(amounts) else items


def _steps_of(
    block: ListBlock, row: ListRow, pages: Sequence[PageView]
) -> Iterator[tuple[str, PageView, StepView]]:
    """The steps a row names, each with its page and the column it stands in."""
    columns = block.columns or ("",) * len(row.steps)
    for column, wanted in zip(columns, row.steps, strict=True):
        for page in pages:
            yield from ((column, page, step) for step in page.steps if is_named(page, step, wanted))


def _one_unit(amounts: Sequence[AmountView]) -> bool:
    """Whether all are told in the same unit."""
    return bool(amounts[0].unit) and len({amount.unit for amount in amounts}) == 1


def _unit_once(items: Sequence[ChecklistItem], amounts: Sequence[AmountView]) -> list[ChecklistItem]:
    """The amounts of one row under their one unit, which is said with the row."""
    return [
        replace(item, text=f"{item.text}, {amount.unit}", response=amount.number)
        for item, amount in zip(items, amounts, strict=True)
    ]


def _item(
    row: ListRow, number: int, column: str, page: PageView, step: StepView, boxes: int
) -> ChecklistItem:
    record = _blank(row, step.record) if row.answer == "value" else None
    return ChecklistItem(
        number=0 if column else number,
        text=row.say,
        response="" if record else _answer(row, step) or row.see or first_clause(step.expect),
        tool="",
        record=record,
        page=page.key,
        procedure=page.document,
        step=step.number,
        step_id=step.id,
        hold=step.hold,
        conditional=bool(step.condition),
        column=column,
        boxes=boxes,
    )


def _blank(row: ListRow, record: RecordView | None) -> RecordView | None:
    """The blank under the name of the row; a unit the row says already is not said again beside it."""
    if record is None:
        return None
    unit = row.say.rpartition(", ")[2]
    return RecordView(row.say, first_clause(record.limits).replace(f" {unit}", ""))


def _answer(row: ListRow, step: StepView) -> str:
    """What the step itself gives as the answer; empty where it gives nothing of the kind asked for."""
    if row.answer == "amount":
        return step.amounts[-1].printed if step.amounts else ""
    limits = first_clause(step.record.limits) if step.record else ""
    if row.answer == "hold":
        return step.wait.least if step.wait else limits.split(" at least")[0]
    return limits if row.answer in ("limits", "value") else ""


def first_clause(text: str) -> str:
    """Up to the first semicolon."""
    return text.split(";")[0].strip()


def _written(step: StepView) -> str:
    """Its id as the page has it, before repeats."""
    return step.timing.step if step.timing else step.id


def _rest(
    done: Job, pages: Sequence[PageView], blocks: Sequence[ChecklistBlock]
) -> tuple[ChecklistRest, ...]:
    """What must not be missed and is on the bench sheets alone; steps the job leaves out are nobody's."""
    listed = {(item.page, item.step_id) for block in blocks for item in block.items}
    left_out = {(one.document, step) for one in done.pages for step in one.left_out}
    found = []
    for page in pages:
        steps = tuple(
            (step.number, step.id)
            for step in critical(page)
            if (page.key, step.id) not in listed and (page.document, _written(step)) not in left_out
        )
        if steps or any(page.key == key for key, _ in listed):
            found.append(ChecklistRest(page.key, page.document, page.control.revision, steps))
    return tuple(found)


def is_named(page: PageView, step: StepView, wanted: str) -> bool:
    """Whether a step is the one `jobs.yml` names, as `SOP-05/lower` or `SOP-03/label:tray_spray`."""
    document, name, task = step_parts(wanted)
    timing = step.timing
    return (
        timing is not None
        and page.document == document
        and timing.step == name
        and (not task or ("task", task) in timing.keys)
    )

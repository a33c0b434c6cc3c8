"""The one page of the cleanout day: its items, their order against the plans, its room on paper."""

from __future__ import annotations

import re

import pytest

from macros.day_plan.day_plan import plan_days
from macros.day_plan.rows import done
from macros.day_plan.step_times import step_times
from macros.manual.checklists.check_rendered import checklist_mistakes
from macros.manual.pages.bench_sheet import checklist_part
from macros.page_model.checklist import ChecklistBlock, ChecklistView
from macros.paper.labels.fit import text_width
from macros.published.labour.jobs import job
from tests.making import manual_of

HOUSES = ("second", "third", "fourth", "fifth")


def days_of(name: str) -> list[ChecklistView]:
    found = [view for view in manual_of(name).checklists if view.one_page]
    assert found
    return found


@pytest.mark.parametrize("name", HOUSES)
def test_each_critical_step_of_the_day_is_an_item_or_named_at_the_foot(name: str) -> None:
    """Counted from the pages themselves: steps the job leaves out are done by another page."""
    for view in days_of(name):
        pages = {page.document: page for page in manual_of(name).views if page.system in ("", view.system)}
        own = [
            (pages[one.document], one)
            for one in job("cleanout").pages
            if one.document in pages and not one.next_day
        ]
        wanted = {
            (page.key, step.id)
            for page, entry in own
            for step in page.steps
            if (step.critical or step.hold) and step.timing and step.timing.step not in entry.left_out
        }
        items = [(item.page, item.step_id) for block in view.blocks for item in block.items]
        foot = [(one.page, id_) for one in view.rest for _, id_ in one.steps]
        assert len(items) == len(set(items))
        assert not set(items) & set(foot)
        assert wanted <= {*items, *foot}
        marked = {
            (page.key, step.id)
            for page, _ in own
            for step in page.steps
            if step.critical or step.hold or step.easily_missed
        }
        assert {*items, *foot} <= marked
        assert {one.page for one in view.rest} == {page.key for page, _ in own} == set(view.pages)
        for block in view.blocks:
            assert 5 <= len(block.rows) <= 9


@pytest.mark.parametrize("name", HOUSES)
def test_no_item_is_out_of_the_order_of_the_plan(name: str) -> None:
    """Of one person every item, and of two what each of them does; a batch goes down its own column."""
    site = manual_of(name)
    for view in days_of(name)[:1]:
        days, problems = plan_days(job("cleanout"), site.views, site.register, view.system)
        assert problems == []
        rows = [item for block in view.blocks if not block.columns for item in block.items]
        columns = [
            [item for item in block.items if item.column == column]
            for block in view.blocks
            for column in block.columns
        ]
        for day in days:
            at: dict[str, tuple[int, int, tuple[int, ...]]] = {}
            for one in done(day):
                for number, step in enumerate(one.activity.steps):
                    at.setdefault(f"{one.activity.page.key}/{step.id}", (one.start, number, one.people))
            for chain in (rows, *columns):
                when = [at[f"{item.page}/{item.step_id}"] for item in chain]
                for person in range(day.people):
                    own = [(start, number) for start, number, people in when if person in people]
                    assert own == sorted(own), (view.key, day.people, person)


def test_times_stand_in_the_pack_and_nowhere_under_control() -> None:
    site, (view, *_) = manual_of("fifth"), days_of("fifth")
    days, _ = plan_days(job("cleanout"), site.views, site.register, view.system, "07:10", (1,))
    times = step_times(days[0])
    blank, timed = str(checklist_part(view).html), str(checklist_part(view, times=times).html)
    assert re.findall(r'class="at">([^<]+)<', blank) == []
    printed = re.findall(r'class="at">([^<]+)<', timed)
    assert printed[0][:2] == "07"
    first_of_columns = sum(len(block.columns) for block in view.blocks)
    assert (
        len(printed) == sum(len(block.rows) for block in view.blocks if not block.columns) + first_of_columns
    )
    assert re.sub(r'(class="at">)[^<]+', r"\1", timed) == blank
    assert checklist_part(view).one_page
    assert not checklist_part(view, large=True).one_page


def test_the_check_finds_what_is_missing_strange_or_double_on_the_one_page() -> None:
    site, (view, *_) = manual_of("fifth"), days_of("fifth")
    whole = site.files[view.address]
    item = next(one for block in view.blocks for one in block.items)
    other = next(one for one in view.rest if one.steps)
    item_key, other_key = f"{item.page}/{item.step_id}", f"{other.page}/{other.steps[0][1]}"
    for changed, told in (
        (whole.replace(f'data-item="{item_key}"', ""), f"the step {item_key} is missing"),
        (whole.replace(f'data-also="{other_key}"', ""), f"the step {other_key} is missing"),
        (whole.replace(f'data-also="{other_key}"', f'data-also="{item_key}"'), f"{item_key} is no step"),
        (whole.replace(f'data-item="{item_key}"', f'data-item="{other_key}"'), f"{other_key} is no step"),
        (
            whole.replace("</footer>", f'<i data-item="{item_key}"></i></footer>'),
            f"{item_key} stands there twice",
        ),
    ):
        found = checklist_mistakes({**site.files, view.address: changed}, site.checklists, site.views)
        assert any(told in str(one) for one in found), told


# ----------------------------------------------------------------- room on paper, measures of day-list.css [mm]

SAY, ANSWER = 14, 16
PAPERS = {"A4": (210 - 30, 297 - 30), "Letter": (215.9 - 30, 279.4 - 30)}
BLANK = 25.4 + 1.2


def lines(text: str, points: float, width: float, *, bold: bool) -> int:
    """Lines of a text, filled word by word."""
    count, used = 1, 0.0
    for word in text.split():
        taken = text_width(word + " ", points, bold=bold)
        if used and used + taken > width + text_width(" ", points, bold=bold):
            count, used = count + 1, 0.0
        used += taken
    return count


def height(block: ChecklistBlock, width: float) -> float:
    """Head, rows and completion line."""
    if block.columns:  # heads, two rows with blanks of which one is three lines high, three with boxes
        return 6.0 + 5.5 + 17.1 + 11.4 + (6.5 + 2 * 6.7) + 8.2 + 0.8
    half = (width - 3) / 2 - 6 - 6.6 - 14 - 4 * 1.2
    total = 6.0 + 8.2 + 0.8
    for row in block.rows:
        item = row[0]
        answer = item.record.limits if item.record else item.response
        room = half - (BLANK if item.record else 0)
        if block.beside:
            count = lines(answer, ANSWER, room, bold=True) if len(row) == 1 else 1
            total += max(11.4, lines(item.text, SAY, room, bold=False) * 5.4 + count * 5.7 + 0.3)
        else:
            total += max(6.5, lines(answer, ANSWER, 60, bold=True) * 5.7 + 0.3)
            assert lines(item.text, SAY, width - 6 - 6.6 - 60 - 25 - 4 * 1.6, bold=False) == 1, item.text
    return total


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", HOUSES)
def test_one_page_holds_it(name: str, paper: str) -> None:
    """Margins of 15 mm; head 19.4 mm, foot of 12 pt as many lines as it has."""
    width, room = PAPERS[paper]
    for view in days_of(name):
        foot = view.emergency + " ".join(
            f"{one.procedure}, {one.procedure[4:]} " + ", ".join(str(n) for n, _ in one.steps)
            for one in view.rest
        )
        told = "Made from rev of. Also critical, on their sheets: "
        total = 19.4 + sum(max(height(block, width) for block in band) for band in view.bands)
        total += 5 + 4.7 * lines(told + foot, 12, width, bold=False)
        assert total <= room, (view.key, total)

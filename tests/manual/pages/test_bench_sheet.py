"""The bench sheet against its page: no word of a step is lost, repeats are folded only where they say the same."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from html import unescape

from macros.html.environment import spaced
from macros.manual.pages.bench_sheet import MOST_PICTURES, ON_RECORD, bench_part
from macros.manual.pages.photographs import photo_view
from macros.manual.pages.sheet_rows import sheet_rows
from macros.page_model.page import PageView, StepView
from tests.making import manual_of
from tests.photographs.test_on_pages import photographs

HOUSES = ("second", "fourth")


def plain(html: str) -> str:
    """The text as it is read."""
    return " ".join(unescape(re.sub(r"<[^>]+>", "", html)).split())


def words(text: str) -> str:
    return " ".join(text.split())


def sheets() -> list[tuple[PageView, str]]:
    return [
        (view, str(bench_part(view).html))
        for name in HOUSES
        for view in manual_of(name).views
        if view.sheet_address
    ]


def rows(html: str) -> Iterator[tuple[list[str], str]]:
    """The ids of the steps of each row, and all that stands from the row before to its end."""
    for found in re.finditer(
        r'<tr class="step" data-step="([^"]+)">(.*?)</tr>(\s*<tr class="safe">.*?</tr>)?', html, re.S
    ):
        yield found[1].split(), plain(found[2] + (found[3] or ""))


def told(step: StepView) -> Iterator[str]:
    """All that somebody who does the step must read."""
    yield from (str(step.number), step.do, step.expect, step.doer, step.until, *step.one_of, *step.stocks)
    for amount in step.amounts:
        yield from (amount.printed, amount.tool)
    if step.wait:
        yield from (step.wait.least, step.wait.greatest, step.wait.then, step.wait.missed, "startdue")
    if step.record:
        yield from (step.record.label, step.record.limits)
    if step.hold:
        yield from ("HOLD", "initials")
    if step.safe_to_leave:
        yield from ("SAFE TO LEAVE", step.safe_to_leave.up_to, step.safe_to_leave.state)


def test_no_word_of_a_step_is_lost_between_page_and_sheet() -> None:
    seen = 0
    for view, html in sheets():
        found = {one: text for ids, text in rows(html) for one in ids}
        assert found.keys() == {step.id for step in view.steps}, view.key
        for step in view.steps:
            lost = [text for text in told(step) if words(text) not in found[step.id]]
            assert lost == [], f"{view.key} step {step.number}"
            seen += 1
    assert seen > 500


def test_the_place_stands_where_it_changes() -> None:
    for view, html in sheets():
        at = ""
        for ids, _ in rows(html):
            row = re.search(rf'data-step="{re.escape(" ".join(ids))}">(.*?)</tr>', html, re.S)
            assert row
            place = re.search(r'<span class="at">(.*?)</span> ', row[1])
            at = plain(place[1]) if place else at
            step = next(step for step in view.steps if step.id == ids[0])
            assert at == words(step.where), f"{view.key} step {step.number}"


def test_the_head_says_what_must_be_so_whom_to_ring_and_who_approved() -> None:
    for view, html in sheets():
        head = plain(html.partition('<table class="steps">')[0])
        wanted = (*view.before, view.emergency_line, view.control.approved_by, view.control.effective)
        lost = [text for text in (*wanted, view.control.values_code, view.key) if words(text) not in head]
        assert lost == [], view.key
        boxes = html.partition('<table class="steps">')[0].count('class="box"')
        assert boxes == len(view.before), view.key
        tools = {tool for step in view.steps for tool in step.tools}
        assert all(words(tool) in head for tool in tools), view.key


def test_each_time_a_step_is_done_has_its_box_and_each_value_its_blank() -> None:
    for view, html in sheets():
        steps = html.partition('<table class="steps">')[2]
        assert steps.count('class="box"') == len(view.steps), view.key
        assert steps.count('class="init"') == sum(step.hold for step in view.steps), view.key
        blanks = sum(bool(step.record) + 2 * bool(step.wait) for step in view.steps)
        assert steps.count('class="blank"') == blanks, view.key
        due_only = str(bench_part(view, values_on=ON_RECORD).html)
        assert due_only.count('class="blank"') == sum(2 * bool(step.wait) for step in view.steps), view.key
        assert due_only.count("On the record:") == html.count("Write:"), view.key


def test_rinses_that_say_the_same_stand_once_with_all_their_numbers() -> None:
    view = next(view for view in manual_of("fourth").views if view.document == "SOP-06")
    folded = [row for row in sheet_rows(view.steps) if len(row.steps) > 1]
    rinses = sum(step.phase.startswith("Rinse ") and " of " in step.phase for step in view.steps)
    assert rinses > 1
    first = folded[0]
    assert first.rounds == rinses == len(first.steps)
    assert first.phase == " · ".join(f"Rinse {n} of {rinses}" for n in range(1, rinses + 1))
    last = next(row for row in sheet_rows(view.steps) if row.only)
    assert last.only == f"Rinse {rinses} of {rinses}"
    assert len(last.steps) == 1
    assert last.step.hold
    together = [step.number for row in sheet_rows(view.steps) for step in row.steps]
    assert sorted(together) == [step.number for step in view.steps]
    for row in folded:
        assert len({(step.do, step.expect, step.amounts, step.where) for step in row.steps}) == 1


def test_batches_of_other_amounts_stay_apart() -> None:
    for name in HOUSES:
        for view in (view for view in manual_of(name).views if view.document == "SOP-03"):
            assert all(len(row.steps) == 1 for row in sheet_rows(view.steps)), view.key


def test_a_sheet_carries_the_tables_its_steps_speak_of() -> None:
    carried = 0
    for view, html in sheets():
        texts = " ".join(f"{step.do} {step.expect} {step.until}" for step in view.steps)
        if not re.search(r"\btables?\b", texts):
            continue
        for figure in (figure for figure in view.figures if figure.kind == "table"):
            assert words(figure.title) in plain(html), view.key
            carried += 1
    assert carried > 10


def test_a_sum_may_end_its_line_after_a_sign_and_never_inside_a_number() -> None:
    assert spaced("10.0 + 10.0 + 7.8 mL") == "10.0\u00a0+ 10.0\u00a0+ 7.8\u00a0mL"
    assert spaced("2 x 10.0") == "2\u00a0x\u00a010.0"


def test_a_sheet_could_carry_a_picture_of_each_step_where_an_error_hurts() -> None:
    """Its photograph, else the pads of its strip; critical steps first, a few alone, and none unless asked for."""
    view = next(one for one in manual_of("fourth").views if one.key == "SOP-06-K")
    shown = photo_view(next(iter(photographs("sop-06/run", alt="level falls").by_subject.values())))
    steps = tuple(replace(step, photos=(shown,)) if step.id == "run" else step for step in view.steps)
    part = bench_part(replace(view, steps=steps))
    hurt = {step.id: step for step in steps if step.critical or step.hold}
    assert set(part.pictures) == {id_ for id_, step in hurt.items() if step.photos or step.pads}
    assert "run" in part.pictures
    assert len(part.pictures) > 1
    assert part.drawn_with is not None
    with_all = str(part.drawn_with(part.pictures).html)
    assert with_all.count('<div class="see">') == len(part.pictures)
    assert f'<img src="{shown.paper}"' in with_all
    assert 'class="see"' not in part.html
    assert str(part.drawn_with(()).html) == str(part.html)
    everywhere = tuple(replace(step, photos=(shown,)) for step in view.steps)
    many = bench_part(replace(view, steps=everywhere)).pictures
    assert len(many) == MOST_PICTURES
    assert all(hurt[id_].critical for id_ in many)

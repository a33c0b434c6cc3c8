"""A page for each person, who may do what, the first lines, and the rows that must stand on one page."""

from __future__ import annotations

import re
from copy import copy
from datetime import timedelta

import pytest

from macros.day_plan.activities_of_steps import work_of
from macros.day_plan.day_lines import leaves, slow_end, spare_minutes
from macros.day_plan.day_plan import views_of
from macros.day_plan.fit import HALF_LETTERS, HALF_ROW, fitted, height, in_columns
from macros.day_plan.limits import flood_starts
from macros.day_plan.sheet import person_pages, plan_part, room_for_rows
from macros.day_plan.times import from_midnight
from macros.day_plan.who import kept_from_b
from macros.page_model.day_plan import PersonRow, PlanPiece, PlanView
from macros.published.labour import jobs
from tests.day_plan.test_day_plan import numbers_in
from tests.day_plans import SYSTEMS, cleanout, days_of, view_of
from tests.making import manual_of

CASES = [(house, system, people) for house, system in SYSTEMS for people in (1, 2)]


def view(house: str, system: str, people: int) -> PlanView:
    return view_of(house, cleanout(house, system)[people - 1])


@pytest.mark.parametrize(("house", "system", "people"), CASES)
class TestEveryPage:
    def test_it_holds_exactly_the_steps_of_its_person(self, house: str, system: str, people: int) -> None:
        day = cleanout(house, system)[people - 1]
        for number, page in enumerate(person_pages(view(house, system, people))):
            told = sorted(
                (piece.page, step)
                for column in page.columns
                for row in column
                if row.kind in ("work", "again")
                for piece in row.pieces
                if not piece.words.startswith("again") and ", again at" not in piece.words
                for step in numbers_in(piece.steps)
            )
            planned = sorted(
                (activity.page.document, at)
                for activity in day.work.activities
                if activity.kind == "work" and number in day.plan.placed[activity.id].people
                for step in activity.steps
                for at in (step.number, *day.work.instead.get(step.id, ()))
            )
            assert sorted(set(told)) == sorted(set(planned))

    def test_its_rows_stand_in_the_room_it_leaves(self, house: str, system: str, people: int) -> None:
        own = view(house, system, people)
        for page, plan in zip(person_pages(own), own.persons, strict=True):
            letters = [HALF_LETTERS] if len(page.columns) == 2 else []
            for column in page.columns:
                assert sum(height(row, *letters) for row in column) <= room_for_rows(own, plan)

    def test_it_reads_down_by_the_clock(self, house: str, system: str, people: int) -> None:
        for page in person_pages(view(house, system, people)):
            rows = [
                row
                for column in page.columns
                for row in column
                if row.kind != "later" and "next day" not in row.start
            ]
            starts = [from_midnight(row.start) for row in rows]
            assert starts == sorted(starts)
            for row in (row for column in page.columns for row in column):
                clocks = [piece.start for piece in row.pieces if "next day" not in piece.start]
                assert clocks == sorted(clocks)

    def test_slow_work_ends_no_earlier_and_a_flood_swallows_what_it_can(
        self, house: str, system: str, people: int
    ) -> None:
        day = cleanout(house, system)[people - 1]
        end = slow_end(day, manual_of(house).register)
        assert end >= day.plan.finish
        last = day.plan.placed["SOP-15/watch_flood"].start
        if spare_minutes(day) <= day.plan.spare:  # it fits before the flood: what follows the flood stays
            others = [one.finish for one in day.plan.plan.placed if one.people and one.start < last]
            assert end == max(day.plan.finish, max(others) + spare_minutes(day))


def test_rows_are_joined_and_never_lost() -> None:
    rows = [
        PersonRow(f"{8 + n:02d}:00", f"{9 + n:02d}:00", (PlanPiece(f"{8 + n:02d}:00", f"SOP-0{n}", f"step {n}", "Words of it"),), minutes=60 - n)
        for n in range(1, 8)
    ]  # fmt: skip
    joined = fitted(rows, 30.0)
    assert sum(map(height, joined)) <= 30.0
    assert [piece.page for row in joined for piece in row.pieces] == [row.pieces[0].page for row in rows]
    assert fitted(rows, 500.0) == tuple(rows)


def test_rows_stand_in_two_columns_before_any_is_joined() -> None:
    rows = [
        PersonRow(f"{8 + n:02d}:00", f"{9 + n:02d}:00", (PlanPiece(f"{8 + n:02d}:00", f"SOP-0{n}", f"step {n}", "Words of it"),))
        for n in range(1, 8)
    ]  # fmt: skip
    assert in_columns(rows, 500.0) == (tuple(rows),)
    left, right = in_columns(rows, 4 * HALF_ROW)
    assert [row.start for row in (*left, *right)] == [row.start for row in rows]
    assert {piece.words for row in (*left, *right) for piece in row.pieces} == {""}  # the sheets have them
    assert len(left) == 4  # seven rows: four on the left, for it is read first
    (joined,) = in_columns(rows, 3 * HALF_ROW)
    assert len(joined) < 7


def test_a_break_is_never_joined() -> None:
    rest = PersonRow("10:00", "10:30", (PlanPiece("10:00", "", "", "Break."),), kind="rest", minutes=30)
    work = PersonRow("08:00", "10:00", (PlanPiece("08:00", "SOP-04", "step 1", "Brush"),), minutes=120)
    assert [row.kind for row in fitted([work, rest, work], 5.0)] == ["work", "rest", "work"]


# ------------------------------------------------------------------ who


def test_a_trainee_gets_no_page_of_level_3() -> None:
    """The fourth house has an owner and a helper of level 1: B does what is below level 3."""
    day = cleanout("fourth", "K")[1]
    level = jobs.day_facts().day.signed_from
    skilled = [one for one in day.work.activities if one.page.level >= level and one.hands == 1]
    assert skilled
    assert all(day.plan.placed[one.id].people == (0,) for one in skilled)
    assert any(1 in one.people for one in day.plan.plan.placed if not one.id.startswith("rest"))
    (line,) = [text for text in view("fourth", "K", 2).day_lines if "signed off" in text]
    assert re.fullmatch(r"A is the one signed off for SOP-03, .* and SOP-15; B does none of them\.", line)


def test_in_a_plan_for_one_a_is_signed_off_for_all() -> None:
    (line,) = [text for text in view("fourth", "K", 1).day_lines if "signed off" in text]
    assert line.endswith("A must be signed off at level 3 or higher.")


def test_a_house_that_names_nobody_keeps_nothing_from_b() -> None:
    site = manual_of("fourth")
    register = copy(site.register)
    assert kept_from_b(site.views, register)
    object.__setattr__(register, "house", register.house.model_copy(update={"people": ()}))
    assert kept_from_b(site.views, register) == frozenset()


# ------------------------------------------------------------------ pens


@pytest.mark.parametrize("days", [0, 400])
def test_a_pen_out_of_calibration_is_part_of_the_day(days: int) -> None:
    """In date there is no SOP-10 in the day; out of date SOP-10 ends before feed is poured and read."""
    site = manual_of("fourth")
    register = copy(site.register)
    house, last = register.house, register.day - timedelta(days=days)
    assert house.meters
    meters = tuple(meter.model_copy(update={"last": last}) for meter in house.meters)
    object.__setattr__(register, "house", house.model_copy(update={"meters": meters}))
    work = work_of(jobs.job("cleanout"), site.views, register, "K")
    pens = [one for one in work.activities if one.page.document == "SOP-10"]
    assert bool(pens) == (days > 0)
    refill = next(one for one in work.activities if one.part.id == "refill")
    waited = {link.activity for link in work.links[refill.id]}
    assert {one.id for one in pens} <= waited


# ------------------------------------------------------------------ first lines


def test_the_first_line_says_whether_a_shift_holds_the_day() -> None:
    site = manual_of("fourth")
    day = cleanout("fourth", "K")[1]
    labour = site.register.house.labour
    (first, *_rest) = view("fourth", "K", 2).day_lines
    if labour is None or labour.longest_shift is None:
        assert first.startswith("The day takes ")
    elif labour.longest_shift.to("min") < day.plan.finish:
        assert first.startswith("NOT in one shift (")
    else:
        assert first.startswith("Can be done in one shift: ")


def test_a_day_that_may_be_left_says_after_which_step() -> None:
    day = cleanout("fourth", "K")[1]
    assert leaves(day)
    for leave in leaves(day):
        running = [one.id for one in day.plan.plan.placed if one.start < leave.minute < one.finish]
        assert running == []


def test_a_day_that_would_end_tomorrow_is_begun_earlier() -> None:
    """An hour after the last start that reaches the evening's flood, the day begun earlier is told, or taken where nobody chose."""
    site = manual_of("second")
    floods = flood_starts(site.register, "N")
    base = days_of("second", "N", jobs.job("cleanout"), "08:00")[1]
    ready = base.plan.placed["SOP-15/watch_flood"].start - base.plan.spare
    start = floods[-1] - ready + 20
    late = days_of("second", "N", jobs.job("cleanout"), f"{start // 60:02d}:{start % 60:02d}")[1]
    assert late.start == start
    assert late.earlier is not None
    assert start - 60 <= late.earlier.start < start
    assert late.earlier.start + late.earlier.plan.finish < 24 * 60
    told = views_of([late], site.register, assumed=False)[0].day_lines[1]
    assert told.startswith(f"Begin by {late.earlier.clock(0)} to end at ")


def test_each_person_has_a_page() -> None:
    for people in (1, 2):
        html = str(plan_part(view("fourth", "K", people)).html)
        assert html.count('<section class="person"') == people

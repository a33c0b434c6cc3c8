"""The day's plan against the requirements on plans, PLAN-01 to PLAN-12, for houses of three kinds, one person and two.

Times of the steps are read from the finished pages; whether a plan keeps them is looked at from outside.
"""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import combinations, pairwise

import pytest

from macros.day_plan.day_plan import plan_days, plan_views, views_of
from macros.day_plan.limits import flood_starts
from macros.day_plan.schedule import PlannedDay, stretches
from macros.day_plan.times import from_midnight
from macros.page_model.page import PageView, StepView
from macros.published.labour import jobs
from tests.day_plans import SYSTEMS, broken, cleanout, days_of, pages_day, view_of
from tests.making import manual_of

CASES = [(house, system, people) for house, system in SYSTEMS for people in (1, 2)]
HELD = {"SOP-24": {"water_first": (15, None)}}
"""Waits a page words for people: at least, at most [min]."""


def day_of(house: str, system: str, people: int) -> PlannedDay:
    return cleanout(house, system)[people - 1]


def plain(text: str) -> int:
    """`1 h` or `15 min` as minutes, read apart from the program."""
    number, unit = re.fullmatch(r"([\d.]+)\s(min|h|day|days)", text).groups()  # type: ignore[union-attr]
    return round(float(number) * {"min": 1, "h": 60, "day": 1440, "days": 1440}[unit])


@pytest.mark.parametrize(("house", "system", "people"), CASES)
class TestEveryPlan:
    def test_r01_each_activity_has_its_fields(self, house: str, system: str, people: int) -> None:
        day = day_of(house, system, people)
        activities = day.plan.network
        names = [one.id for one in activities]
        assert len(names) == len(set(names)) > 40
        for one in activities:
            assert one.hands in (0, 1, 2)
            assert one.minutes >= 0
            assert {link.activity for link in one.after} <= set(names)
        for activity in day.work.activities:
            if activity.kind == "work":
                assert set(activity.needs) >= {step.where for step in activity.steps if step.where}
                assert (
                    activity.minutes >= sum(step.minutes for step in activity.steps)
                    or activity.id + "+runs" in names
                )

    def test_r02_the_critical_chain_ends_the_day(self, house: str, system: str, people: int) -> None:
        day = day_of(house, system, people)
        ends = {one.id for one in day.plan.plan.placed if one.finish == day.plan.finish}
        assert ends & day.plan.critical

    def test_r03_waits_hold_nobody(self, house: str, system: str, people: int) -> None:
        day = day_of(house, system, people)
        waits = [activity for activity in day.work.activities if activity.kind in ("wait", "runs")]
        assert {"SOP-05", "SOP-06", "SOP-24"} <= {activity.page.document for activity in waits}
        assert all(day.plan.placed[activity.id].people == () for activity in waits)

    def test_r04_the_plan_can_be_done(self, house: str, system: str, people: int) -> None:
        day = day_of(house, system, people)
        assert broken(day.plan.network, day.plan.plan.placed, people, jobs.day_facts().capacity) == []

    def test_r05_waits_are_kept_at_least_and_at_most(self, house: str, system: str, people: int) -> None:
        """From the end of a step to the start of the next on its page, as the page prints it."""
        day = day_of(house, system, people)
        seen = 0
        for page in {activity.page.key: activity.page for activity in day.work.activities}.values():
            for step in page.steps:
                after = next_on_page(day, page, step)
                if step.wait is None or after is None or not starts_of(day, step):
                    continue
                assert step.timing is not None
                least, greatest = HELD.get(page.document, {}).get(step.timing.step, (None, None))
                if least is None:
                    least, greatest = plain(step.wait.least), plain(step.wait.greatest)
                for end, start in zip(ends_of(day, step), starts_of(day, after), strict=True):
                    seen += 1
                    assert start - end >= least, (page.key, step.id)
                    assert greatest is None or start - end <= greatest, (page.key, step.id)
        assert seen >= 4

    def test_r06_every_row_has_clock_times(self, house: str, system: str, people: int) -> None:
        view = view_of(house, day_of(house, system, people))
        assert len(view.rows) > 25
        for row in view.rows:
            start, end = (from_midnight(text[:5]) for text in (row.start, row.end))
            assert start < end or "next day" in row.end
        assert [row.start for row in view.rows if row.kind != "later"] == sorted(
            row.start for row in view.rows if row.kind != "later"
        )

    def test_r06_rows_and_pieces_tell_the_same_steps(self, house: str, system: str, people: int) -> None:
        """No step of the day is lost when rows are put together."""
        day = day_of(house, system, people)
        told = [
            (row.page, number)
            for row in view_of(house, day).rows
            if row.kind == "work"
            for number in numbers_in(row.steps)
        ]
        planned = [
            (activity.page.document, number)
            for activity in day.work.activities
            if activity.kind == "work"
            for step in activity.steps
            for number in (step.number, *day.work.instead.get(step.id, ()))
        ]
        assert sorted(told) == sorted(planned)

    def test_r07_the_bound_is_never_over_the_finish(self, house: str, system: str, people: int) -> None:
        day = day_of(house, system, people)
        assert 0 < day.plan.bound <= day.plan.finish
        text = view_of(house, day).finish_text
        if day.plan.bound == day.plan.finish:
            assert text.startswith(f"Finish {day.clock(day.plan.finish)}. Proved best")
        else:
            assert text.startswith(f"A plan: finish {day.clock(day.plan.finish)}. No plan can beat")
            assert re.search(r"\(gap \d+ % at most\)", text)

    def test_r08_long_waits_are_filled(self, house: str, system: str, people: int) -> None:
        """Of the minutes in which a soak, a rest or a batch runs by itself, hands fill at least a quarter.

        The loop floods again every 15 min for 10 min of hands, so its wait counts as filled by that too.
        """
        day = day_of(house, system, people)
        timed = day.plan.placed["SOP-15/watch_flood"].start
        waits = [
            day.plan.placed[activity.id]
            for activity in day.work.activities
            if activity.kind == "wait" and activity.minutes > 5
        ]
        minutes = {
            minute for wait in waits if wait.start < timed for minute in range(wait.start, wait.finish)
        }
        busy = {
            minute
            for one in day.plan.plan.placed
            if one.people and not one.id.startswith("rest")
            for minute in range(one.start, one.finish)
        }
        assert minutes
        assert len(minutes & busy) >= len(minutes) / 4

    def test_r10_nobody_works_too_long_without_a_break(self, house: str, system: str, people: int) -> None:
        # Directive 2003/88/EC, article 4 (from memory): a break where the working day is over six hours.
        day = day_of(house, system, people)
        assert day.plan.finish > 360
        assert all(one.finish - one.start == 30 and len(one.people) == people for one in day.plan.rests)
        for person in range(people):
            assert max(end - begin for begin, end in stretches(day.plan.plan, person)) <= 270

    def test_r10_what_is_done_around_the_steps_shows(self, house: str, system: str, people: int) -> None:
        view = view_of(house, day_of(house, system, people))
        notes = [row.note for row in view.rows if row.note]
        assert any("PPE on 3 min" in note for note in notes)
        assert any("way to the kitchen 4 min" in note for note in notes)
        told = r"Ends at \d\d:\d\d( next day)?; 10 % slower \((\d+ min|\d+ h.*)\) it ends by \d\d:\d\d( next day)?"
        assert any(re.match(told, line) for line in view.day_lines)

    def test_r12_critical_rows_say_so_in_words(self, house: str, system: str, people: int) -> None:
        view = view_of(house, day_of(house, system, people))
        assert any(row.critical for row in view.rows)
        assert any(bar.critical for bar in view.bars)

    def test_batches_are_used_before_they_are_dead(self, house: str, system: str, people: int) -> None:
        """From the stock in the water to the end of the last use, against the life the house prints."""
        day = day_of(house, system, people)
        register = manual_of(house).register
        seen = 0
        for task, document, step in (("tray_spray", "SOP-04", "rewet"), ("parts_soak", "SOP-05", "lift")):
            life = register.get("batch_life_end", system=system, task=task)
            poured = starts_of(day, step_named(day, "SOP-03", f"stock-{task}"))
            used = ends_of(day, step_named(day, document, step))
            assert max(used) - poured[0] <= plain(life.printed), task
            seen += 1
        assert seen == 2

    def test_the_loop_is_flooded_again_every_quarter_of_an_hour(
        self, house: str, system: str, people: int
    ) -> None:
        """The page says: again every 15 min, plug-in to plug-in, so never later."""
        day = day_of(house, system, people)
        first = next(
            one.minutes
            for activity in day.work.activities
            for one in activity.steps
            if one.id == "walls" and activity.kind == "work"
        )
        walls = day.plan.placed["SOP-06/walls"]
        assert first == walls.finish - walls.start
        starts = [walls.finish - 10] + [one.start for one in day.plan.plan.placed if "+again" in one.id]
        wait = day.plan.placed["SOP-06/walls+wait"]
        assert len(starts) == -(-(wait.finish - wait.start) // 15)
        assert {b - a for a, b in pairwise(starts)} == {15}

    def test_the_flood_watched_is_one_of_the_timers(self, house: str, system: str, people: int) -> None:
        day = day_of(house, system, people)
        start = day.start + day.plan.placed["SOP-15/watch_flood"].start
        assert start % 1440 in flood_starts(manual_of(house).register, system)


def numbers_in(text: str) -> list[int]:
    """`steps 1 to 3, 13` as numbers."""
    found: list[int] = []
    for activity in re.sub(r"^steps? ", "", text).split(", "):
        first, _, last = activity.partition(" to ")
        found += range(int(first), int(last or first) + 1)
    return found


def step_named(day: PlannedDay, document: str, id_: str) -> StepView:
    return next(
        step
        for activity in day.work.activities
        if activity.page.document == document and activity.kind == "work"
        for step in activity.steps
        if step.id == id_
    )


def starts_of(day: PlannedDay, step: StepView) -> list[int]:
    """When a step starts, for each time it is done."""
    found = []
    for activity in day.work.activities:
        if activity.kind == "work" and step in activity.steps:
            before = sum(one.minutes for one in activity.steps[: activity.steps.index(step)])
            found.append(int(day.plan.placed[activity.id].start + activity.extra + before))
    return found


def ends_of(day: PlannedDay, step: StepView) -> list[int]:
    return [round(start + step.minutes + 0.49) for start in starts_of(day, step)]


def next_on_page(day: PlannedDay, page: PageView, step: StepView) -> StepView | None:
    """The next step of a page that is part of the day and not done inside the wait."""
    inside = {jobs.step_parts(name)[1] for name in jobs.rules().during}
    for later in page.steps[page.steps.index(step) + 1 :]:
        assert later.timing is not None
        if starts_of(day, later) and later.timing.step not in inside:
            return later
    return None


# ------------------------------------------------------------------


def test_r09_what_needs_two_is_never_planned_for_one_alone() -> None:
    """SOP-13 has a second reader: with one person it is an appointment, with two both do it."""
    one, two = pages_day("fourth", "K", ("SOP-13",))
    row = next(row for row in view_of("fourth", one).rows if row.second)
    assert row.second == "two people"
    lines = view_of("fourth", one).second
    assert [line.text for line in lines] == [
        "needs a second person for 8 min: SOP-13 step 7, never alone"
    ] or any(
        re.fullmatch(r"needs a second person for 8 min: SOP-13 step \d+, never alone", line.text)
        for line in lines
    )
    assert lines[0].clock == row.start
    both = next(o for o in two.plan.plan.placed if "second_reader" in o.id)
    assert both.people == (0, 1)
    assert not any(row.second for row in view_of("fourth", two).rows)


def test_r09_a_second_person_is_within_call_while_stock_is_open() -> None:
    one, two = cleanout("fourth", "K")
    stretches = view_of("fourth", one).within_call
    assert stretches
    assert all(re.fullmatch(r"\d\d:\d\d( next day)?", text) for text in stretches)
    assert any(row.second == "within call" for row in view_of("fourth", one).rows)
    assert view_of("fourth", two).within_call == ()
    assert view_of("fourth", two).second == ()
    assert "While one of the two has stock open, the other stays within call." in view_of("fourth", two).rules


@pytest.mark.parametrize("people", [1, 2])
def test_r11_the_crop_is_out_before_it_is_dry(people: int) -> None:
    """From the pump unplugged to the plants out, against the dry hours less the longest time between two floods."""
    day = cleanout("fourth", "K")[people - 1]
    register = manual_of("fourth").register
    planned = {block.variety for block in register.house.crop_plan.blocks}  # type: ignore[union-attr]
    own = [v.id for v in register.house.varieties if v.system == "K" and v.id in planned]
    dry = min(register.get("dry_hours", variety=v, growth_stage="full").rounded for v in own) * 60
    floods = flood_starts(register, "K")
    gap = max(b - a for a, b in pairwise(floods))
    unplugged = ends_of(day, step_named(day, "SOP-24", "unplug"))[0]
    out = ends_of(day, step_named(day, "SOP-24", "plants"))[0]
    assert out - unplugged <= dry - gap
    alarm = next(line for line in view_of("fourth", day).alarms if "crop limit" in line.text)
    assert from_midnight(alarm.clock) == day.start + unplugged + dry - gap
    assert alarm.text.startswith("the plants are out of ")


def test_r11_where_the_last_flood_may_be_too_old_one_is_asked_for() -> None:
    """A change of solution before the first flood of the day: it is flooded first, and water stands there again in time."""
    day = pages_day("fourth", "K", ("SOP-08",), "06:00")[0]
    alarms = view_of("fourth", day).alarms
    assert [line.text.split(" (")[0] for line in alarms][-1].endswith("stands on Rack K again")
    assert any(
        line.text.startswith("flood Rack K once by hand, right before SOP-08 step 1") for line in alarms
    )


# ------------------------------------------------------------------ start, order, pages of any kind


def test_the_start_moves_every_clock_and_an_assumed_one_says_so() -> None:
    site = manual_of("second")
    early, _ = plan_views(jobs.job_of(["SOP-04"], "Trays"), site.views, site.register, "N", "06:30")
    assumed, _ = plan_views(jobs.job_of(["SOP-04"], "Trays"), site.views, site.register, "N")
    assert [view.start for view in early] == ["06:30", "06:30"]
    assert [view.start for view in assumed] == ["08:00", "08:00"]
    assert "The start at 08:00 is assumed; no other was given." in assumed[0].rules
    assert not any("assumed" in line for line in early[0].rules)
    shifted = [
        from_midnight(b.start) - from_midnight(a.start)
        for a, b in zip(early[0].rows, assumed[0].rows, strict=True)
    ]
    assert set(shifted) == {90}


def test_a_minute_more_at_one_step_leaves_the_order_nearly_as_it_is() -> None:
    """The share of pairs of activities that change places; people learn a day by heart."""
    site = manual_of("fifth")
    views = [longer(view, "SOP-04", "brush") for view in site.views]
    days, problems = plan_days(jobs.job("cleanout"), views, site.register, "K", "08:00", [2])
    assert problems == []
    first, second = order(cleanout("fifth", "K")[1]), order(days[0])
    assert set(first) == set(second)
    place = {name: number for number, name in enumerate(second)}
    pairs = list(combinations(first, 2))
    assert sum(place[a] > place[b] for a, b in pairs) / len(pairs) <= 0.06


def longer(view: PageView, document: str, name: str) -> PageView:
    if view.document != document:
        return view
    steps = tuple(replace(step, minutes=step.minutes + 1) if step.id == name else step for step in view.steps)
    return replace(view, steps=steps)


def order(day: PlannedDay) -> list[str]:
    return [
        one.id
        for one in sorted(day.plan.plan.placed, key=lambda one: (one.start, one.id))
        if one.people and not one.id.startswith("rest")
    ]


def test_the_same_input_gives_the_same_plan() -> None:
    site = manual_of("second")
    work = jobs.job_of(["SOP-04", "SOP-05"], "Two pages")
    first, second = (plan_days(work, site.views, site.register, "N", "08:00")[0] for _ in range(2))
    assert [day.plan.plan for day in first] == [day.plan.plan for day in second]


def test_what_is_done_once_is_counted_once() -> None:
    """The tank is drained by SOP-24 and mopped by SOP-06; SOP-08 leaves its own draining and mopping out, and says why."""
    view = view_of("fourth", cleanout("fourth", "K")[0])
    told = [number for row in view.rows if row.page == "SOP-08" for number in numbers_in(row.steps)]
    assert sorted(told) == [1, *range(4, max(told) + 1)]
    assert (
        "SOP-08 step 2 is left out: the tank is empty and clean: SOP-24 let the solution go, SOP-06 the last rinse."
        in view.notes
    )


def test_a_stretch_no_plan_could_shorten_is_told() -> None:
    day = cleanout("fourth", "K")[0]
    long = replace(day, plan=replace(day.plan, unrested=284))
    (view,) = views_of([long], manual_of("fourth").register, assumed=False)
    assert (
        "No plan was found without a stretch of 4 h 44 min: whoever works it takes a break at a wait."
        in view.rules
    )
    assert not any("No plan was found" in line for line in view_of("fourth", day).rules)


def test_what_can_wait_does_not_make_the_day_miss_a_flood() -> None:
    """Other work after the last steps before the flood may wait: at 08:30 the flood of 17:00 is reached alone as by two."""
    for day in days_of("second", "N", jobs.job("cleanout"), "08:30"):
        assert day.start + day.plan.placed["SOP-15/watch_flood"].start == 17 * 60
        assert "next day" not in day.clock(day.plan.finish)


def test_work_after_the_flood_is_not_told_as_before_it() -> None:
    """Alone, packing goes on after the flood of 17:00; by two everything else is done before it."""
    site = manual_of("second")
    (one, two), _ = plan_views(jobs.job("cleanout"), site.views, site.register, "N", "08:30")
    assert one.finish > "17:15" == two.finish
    for view in (one, two):
        assert "the last of the other steps" in view.people_text

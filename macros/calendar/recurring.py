"""Entries that come back: changes, top-ups, calibrations, tests, rounds, training and reviews."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from macros.amounts import Register
from macros.calculations.crop.sowing import WEEKDAYS
from macros.calendar.event import Event, Pages, kinds, late_event, new_event
from macros.calendar.one_day import dome_checks
from macros.control.documents.reviews import ReviewStanding, review_standings
from macros.ground.problems import Problem
from macros.house import House
from macros.house.records.systems import System
from macros.house.records.tools import Meter
from macros.manual.house_facts.frequencies import Frequency, frequencies, frequency_of
from macros.manual.house_facts.recurrence import (
    Repeat,
    Rhythm,
    first_weekday_from,
    parse_rhythm,
    weekday_from,
)
from macros.published.labour.calendar import calendar


class Rounds:
    """The rhythms of one house, counted from the day it is built for."""

    def __init__(self, register: Register, pages: Pages, keys: tuple[str, ...]) -> None:
        self.register, self.pages, self.item_keys = register, pages, keys
        self.house: House = register.house
        self.today = register.built_for
        self.frequencies = frequencies(self.house)
        plan = self.house.crop_plan
        self.work_weekday = self.today.weekday()
        if plan is not None and plan.sow_weekday is not None:
            self.work_weekday = WEEKDAYS.index(plan.sow_weekday)

    def events(self) -> Iterator[Event]:
        """Every entry that comes back, from its next day on."""
        for name, kind in calendar().rhythms.items():
            if kind not in ("tank_change", "calibration", "dome_check", "review", "rcd_test", "water_test"):
                yield from self._chore(kind, self.frequencies[name])
        yield from dome_checks(self.register, self.pages, self.frequencies["dome_check"].text)
        for system in self.house.systems:
            yield from self._tank(system)
        yield from self._calibrations()
        electricity = self.house.electricity
        yield from self._test(
            "rcd_test", self.frequencies["rcd_test"], electricity.rcd_tested if electricity else None
        )
        yield from self._test("water_test", self.frequencies["water_test"], self.house.water_source.tested)
        yield from self._reviews()

    # ------------------------------------------------------------- when

    def _first(self, rhythm: Rhythm) -> tuple[date, Repeat]:
        """The first day of something whose last time nobody wrote down: on the day the house works."""
        weekday = self.work_weekday if rhythm.weekday is None else rhythm.weekday
        repeat = rhythm.repeat
        if repeat.daily:
            return self.today, repeat
        if repeat.unit == "month":
            return first_weekday_from(self.today, weekday), Repeat("month", repeat.every, "first_weekday")
        return weekday_from(self.today, weekday), repeat

    def _next(self, rhythm: Rhythm, last: date | None) -> tuple[date, Repeat]:
        """The next day of something last done on `last`; it may lie in the past."""
        if last is None:
            return self._first(rhythm)
        due = rhythm.repeat.nth(last, 1)
        if rhythm.weekday is not None:
            due = weekday_from(last + timedelta(days=1), rhythm.weekday)
        return due, rhythm.repeat

    def _now(self, event: Event) -> list[Event]:
        """The entry; where its day has passed, once today as overdue, and its next round counted from today."""
        if event.day >= self.today or not kinds()[event.kind].late:
            return [event]
        late = [late_event(event, self.today)]
        return [*late, event.on(event.repeat.nth(self.today, 1))] if event.repeat is not None else late

    # ------------------------------------------------------------- what

    def _chore(self, kind: str, frequency: Frequency) -> Iterator[Event]:
        """A chore of the room, or of each system; none where this house lacks its page."""
        day, repeat = self._first(frequency.rhythm)
        for system in self.pages.systems(kinds()[kind].document) if kind == "succession" else [""]:
            page = self.pages.key(kinds()[kind].document, system)
            if page:
                thing = f"{frequency.task}, {system}" if system else frequency.task
                yield new_event(
                    self.pages, kind, day, thing, frequency.text, system=system, page_key=page, repeat=repeat
                )

    def _test(self, kind: str, frequency: Frequency, last: date | None) -> list[Event]:
        day, repeat = self._next(frequency.rhythm, last)
        said = _since(frequency, last)
        return self._now(new_event(self.pages, kind, day, frequency.task, said, repeat=repeat))

    def _tank(self, system: System) -> Iterator[Event]:
        """Changes from the last one in the log; anew from the cleanout, after which the tank is filled fresh."""
        frequency = self.frequencies["tank_change"]
        last = _last_change(self.house, system.id, self.today)
        plan = self.house.crop_plan
        fresh = None
        cleaned = plan.cleanout_of(system.id) if plan is not None else None
        if cleaned is not None:
            fresh = cleaned if cleaned >= self.today else None
        yield from self._changes(system, frequency, last, fresh)
        if fresh is not None:
            yield from self._changes(system, frequency, fresh, None)

    def _changes(
        self, system: System, frequency: Frequency, last: date | None, before: date | None
    ) -> Iterator[Event]:
        """The changes counted from the last one, and the top-ups between them, all before the day `before`."""
        day, repeat = self._next(frequency.rhythm, last)
        if repeat.on == "first_weekday":
            repeat = Repeat("month", repeat.every)
        until = before - timedelta(days=1) if before is not None else None
        change = new_event(
            self.pages, "tank_change", day, system.id, _since(frequency, last), system=system.id, repeat=repeat, until=until
        )  # fmt: skip
        changes = self._now(change)
        following = changes[0].day
        for one in (*changes, *self._topups(system, last or following, following, repeat, until)):
            if until is None or one.day <= until:
                yield one

    def _topups(
        self, system: System, since: date, following: date, repeat: Repeat, until: date | None
    ) -> Iterator[Event]:
        """The top-ups after the change of the day `since`; one that has passed stands after the following change."""
        for amount in self.register.of_id("days_to_topup", system=system.id, growth_stage="full"):
            every = int(amount.value)
            for after in range(every, (repeat.nth(since, 1) - since).days, every):
                first = since + timedelta(days=after)
                if first < self.today:
                    first = following + timedelta(days=after)
                detail = (
                    f"{after} days after a change full-grown plants have drunk tank {system.id} down to its refill mark; "
                    "younger ones drink less: read the level first."
                )
                yield new_event(
                    self.pages, "topup", first, system.id, detail, system=system.id, repeat=repeat, until=until
                )  # fmt: skip

    def _calibrations(self) -> Iterator[Event]:
        for meter in self.house.meters:
            frequency = self._calibrated(meter)
            day, repeat = self._next(frequency.rhythm, meter.last)
            said = _since(frequency, meter.last)
            yield from self._now(new_event(self.pages, "calibration", day, meter.name, said, repeat=repeat))

    def _calibrated(self, meter: Meter) -> Frequency:
        """How often, as the pages say it: the house's own rhythm goes before that of the pen."""
        name = f"{meter.measures}_pen"
        if name in self.house.frequencies:
            return self.frequencies[name]
        return frequency_of(meter.name, meter.calibrate_every, self.house.us)

    def _reviews(self) -> Iterator[Event]:
        """What was issued or reviewed on one day is reviewed on one day; what a review found wrong, from that day on."""
        frequency = self.frequencies["page_review"]
        together: dict[tuple[date, str], list[ReviewStanding]] = {}
        for standing in review_standings(self.house, self.item_keys).values():
            said = (
                "to be changed, reviewed" if standing.found else "reviewed" if standing.reviewed else "issued"
            )
            together.setdefault((standing.last, said), []).append(standing)
        for (last, said), standings in sorted(together.items()):
            keys = [standing.key for standing in standings]
            detail = f"{frequency.text}; {len(keys)} in all: {', '.join(keys)}"
            page = keys[0] if len(keys) == 1 else ""
            day, repeat = standings[0].due, standings[0].repeat
            yield from self._now(
                new_event(
                    self.pages, "review", day, f"pages {said} {last}", detail, page_key=page, repeat=repeat
                )
            )


def _since(frequency: Frequency, last: date | None) -> str:
    """How often something is done, and what it is counted from."""
    if last is not None:
        return f"{frequency.text}; last on {last}"
    return f"{frequency.text}. No day of the last one is written, so it is counted from the day this was built for."


def rhythm_warnings(house: House) -> list[Problem]:
    """A rhythm of the house that no calendar can count: it stands on every day, and its owner is told."""
    return [
        Problem(
            house.place(f"{field}.{name}"),
            house.key(f"{field}.{name}"),
            f'"{text}" names no count of days, so the calendar shows it every day',
            'For example "every 7 days", "every month", "every Monday", "twice a day"',
            "Write it so, or leave it daily",
            "",
            "warning",
        )
        for field in ("frequencies", "own_frequencies")
        for name, text in getattr(house, field).items()
        if not parse_rhythm(text).known
    ]


def _last_change(house: House, system: str, today: date) -> date | None:
    """The last day on which the log notes a change of the solution."""
    notes = calendar().change_notes
    days = [
        row.date
        for row in house.log
        if row.system == system and row.date <= today and (row.note or "").strip().lower() in notes
    ]
    return max(days, default=None)

"""The page of the house log: what it changed, and each series of readings as a drawing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import time

from macros.amounts import NotFound, Register
from macros.amounts.engine.number_format import brief, house_unit, in_house_unit, shown_unit
from macros.amounts.water.logbook import rows_of
from macros.ground.units import Quantity
from macros.house.records.log import LogRow, RecordRow
from macros.house.records.systems import System
from macros.html.environment import render

_LEFT, _RIGHT, _TOP, _BOTTOM = 60.0, 620.0, 20.0, 160.0
_SERIES = (
    ("EC", "ec", "mS/cm"),
    ("pH before acid", "ph", ""),
    ("Level", "level", "cm"),
    ("Water temperature", "temperature", "degC"),
    ("Strip reading", "strip_reading", "mg/L"),
)

SHOWN = 50
"""Values outside their limits that the page shows: our own figure."""


@dataclass(frozen=True)
class Change:
    """An amount the log moved."""

    label: str
    without: str
    by_log: str


@dataclass(frozen=True)
class Limit:
    """A limit of the house as a line across the drawing: its height in drawing units, and what it says."""

    height: float
    text: str


@dataclass(frozen=True)
class Series:
    """Readings of one kind, in drawing units, with the ends of both axes as text."""

    label: str
    unit: str
    points: tuple[tuple[float, float], ...]
    low: str
    high: str
    first: str
    last: str
    limit: Limit | None = None


@dataclass(frozen=True)
class OutsideValue:
    """A value of a page that was outside its limits: when, where, what was asked, what was written, by whom."""

    when: str
    where: str
    what: str
    value: str
    limits: str
    by: str


@dataclass(frozen=True)
class Tank:
    """The log of one tank."""

    system: str
    changed: tuple[Change, ...]
    trends: tuple[tuple[str, ...], ...]
    series: tuple[Series, ...]


def log_text(register: Register) -> str | None:
    """The page as Markdown; None for a house without a log and without records."""
    tanks = [
        Tank(
            system.id,
            _changes(register, system),
            tuple(_trends(register, system)),
            tuple(_all_series(register, system)),
        )
        for system in register.house.systems
        if rows_of(register, system)
    ]
    records = [row for row in register.house.records if row.date <= register.built_for]
    if not tanks and not records:
        return None
    return render("log.md.j2", tanks=tanks, records=len(records), outside=_outside(records), shown=SHOWN)


def _outside(records: Sequence[RecordRow]) -> list[OutsideValue]:
    """The last values outside their limits, the newest first; those without a time stand at the start of their day."""
    out = [row for row in records if row.outside]
    out.sort(key=lambda row: (row.date, row.time or time()), reverse=True)
    return [
        OutsideValue(
            f"{row.date} {row.time:%H:%M}" if row.time else str(row.date),
            f"{row.page}, step {row.step}" + (f", {row.system}" if row.system else ""),
            row.what,
            f"{row.value} {row.unit}" if row.unit and row.unit not in row.what else row.value,
            row.limits or "",
            row.by or "",
        )
        for row in out[:SHOWN]
    ]


def _trends(register: Register, system: System) -> Iterator[tuple[str, ...]]:
    """Each reading that tells a trend: which, way with its rate, when it leaves its band, what it means, what comes next."""
    for id_ in ("trend_ec", "trend_ph"):
        for amount in register.of_id(id_, system=system.id):
            name, way, a_day, first, last, leaves, means, then = amount.value["rows"][0]
            unit = amount.value["columns"][2]["unit"]
            yield (
                name,
                f"{way}, {a_day:+g} {unit}".strip() + " a day",
                f"{first} to {last}",
                leaves,
                means,
                then,
            )


def _changes(register: Register, system: System) -> tuple[Change, ...]:
    """The assumption beside what the log says, for the amounts the log feeds."""
    changes = []
    for acid in register.house.chemicals_with_role("acid")[:1]:
        try:
            slope = register.get("ph_log_response", system=system.id, chemical=acid.id)
            demand = register.get("acid_demand", system=system.id, chemical=acid.id).exact
            normality = register.get("acid_normality", system=system.id, chemical=acid.id).exact
        except NotFound:
            continue
        stage = register.house.nutrients.stages[system.fill_stage]
        span = register.house.water_source.ph - stage.ph_target
        if "log" in slope.working and span > 0:
            each, unit = in_house_unit(demand / normality / span, "mL/L", register.house.us)
            without = f"{each:.2f} {shown_unit(unit)}, from the water"
            changes.append(Change(slope.label, without, slope.printed))
    try:
        logged = register.get("water_use_logged", system=system.id)
    except NotFound:
        return tuple(changes)
    try:
        planned = register.get("water_use_day", system=system.id, growth_stage="full").printed
    except NotFound:
        planned = "not planned"
    return (*changes, Change("Water a day, full-grown plants", planned, logged.printed))


def _all_series(register: Register, system: System) -> list[Series]:
    rows = rows_of(register, system)
    limits = {"strip_reading": _residue_allowed(register)}
    found = [_series(rows, *kind, register.house.us, limits.get(kind[1])) for kind in _SERIES]
    return [series for series in found if series is not None]


def _residue_allowed(register: Register) -> float | None:
    """What a strip may show after the last rinse [mg/L]; None where the house sets no limit."""
    sanitizing = register.house.sanitizing
    allowed = sanitizing.rinse.residue_allowed if sanitizing and sanitizing.rinse else None
    return allowed.to("mg/L") if allowed is not None else None


def _series(
    rows: list[LogRow], label: str, field: str, unit: str, us: bool, limit: float | None = None
) -> Series | None:
    """A series of at least two readings; the drawing reaches up or down to the limit, so that its line is seen."""
    read = [row for row in rows if getattr(row, field) is not None]
    if len(read) < 2:
        return None
    values = [_in_house_unit(getattr(row, field), unit, us) for row in read]
    limits = [] if limit is None else [limit]
    low, high = min(values + limits), max(values + limits)
    days = [(row.date - read[0].date).days for row in read]
    across, up = max(days[-1], 1), (high - low) or 1.0

    def height(value: float) -> float:
        return round(_BOTTOM - (value - low) / up * (_BOTTOM - _TOP), 1)

    points = tuple(
        (round(_LEFT + day / across * (_RIGHT - _LEFT), 1), height(value))
        for day, value in zip(days, values, strict=True)
    )
    shown = shown_unit(house_unit(unit, us)) if unit else ""
    return Series(
        label,
        shown,
        points,
        brief(low, 4),
        brief(high, 4),
        read[0].date.isoformat(),
        read[-1].date.isoformat(),
        None
        if limit is None
        else Limit(height(limit), f"{brief(limit)} {shown} allowed after the last rinse"),
    )


def _in_house_unit(value: Quantity | float, unit: str, us: bool) -> float:
    return in_house_unit(value.to(unit), unit, us)[0] if isinstance(value, Quantity) else value

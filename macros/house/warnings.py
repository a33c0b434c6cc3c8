"""What a build goes through with, but tells: W02, W04, W06, W10, and what is assumed."""

from __future__ import annotations

from datetime import date, timedelta

from macros.house.house import House
from macros.house.telling import told
from macros.problems import Problem
from macros.records import Record, records_of


def check_warnings(house: House, day: date | None) -> list[Problem]:
    """Warnings on the day given; those that need a day are left out without one."""
    day = day or house.house.as_of
    problems: list[Problem] = []
    water = house.water_source
    if day is not None and water.tested is not None and (day - water.tested).days > 365:
        problems.append(
            told(
                water,
                "tested",
                f"the tap water was tested on {water.tested}, over 12 months before {day}",
                "Once a year",
                "Have it tested again",
                "W02",
                "warning",
            )
        )
    if day is not None:
        for meter in house.meters:
            due = meter.last + timedelta(days=meter.calibrate_every.to("day")) if meter.last else None
            if due is not None and due < day:
                problems.append(
                    told(
                        meter,
                        "last",
                        f"{meter.name} was due for calibration on {due}",
                        f"Every {meter.calibrate_every.written}",
                        "Calibrate it and write the date",
                        "W04",
                        "warning",
                    )
                )
    if water.alkalinity_as_caco3.to("mg/L") > 150:
        problems.append(
            told(
                water,
                "alkalinity_as_caco3",
                f"the alkalinity is {water.alkalinity_as_caco3.written}",
                "Over 150 mg/L the acid needed brings too much with it",
                "Blend in rain or low-mineral water",
                "W06",
                "warning",
            )
        )
    problems += [
        told(
            record,
            name,
            f'{name} still reads "{getattr(record, name)}"',
            "Every sheet and the emergency pages say DRAFT until it is real",
            "Write the number" if record is house.house.emergency else "Write what is true in this house",
            "W10",
            "fill this in",
        )
        for record, name in house.unfilled()
    ]
    return problems + [_assumed(record) for record in records_of(house) if _is_assumed(record)]


def _is_assumed(record: Record) -> bool:
    return getattr(record, "basis", None) == "assumption"


def _assumed(record: Record) -> Problem:
    return told(
        record,
        "basis",
        "these values are assumed",
        "Amounts rest on them",
        "Measure them, or copy them from the label, and write basis: measured or basis: label",
        severity="measure this",
    )

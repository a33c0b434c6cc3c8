"""The pens on the day of a pack: when each was calibrated, and whether its readings count."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from macros.house.records.tools import Meter
from macros.published.paper.packs import packs


@dataclass(frozen=True)
class MeterView:
    """One pen on the day of the pack."""

    name: str
    last: str
    due: str
    state: str
    out: bool


def meter_on(meter: Meter, day: date) -> MeterView:
    """Whether a pen can be trusted on a day."""
    first = f"calibrate before the first reading, {packs().calibration}"
    if meter.last is None:
        return MeterView(meter.name, "not known", "", f"NOT KNOWN: {first}", True)
    due = meter.last + timedelta(days=meter.calibrate_every.to("day"))
    state = ""
    if meter.last > day:
        state = "calibrated after this day: see the date"
    elif due < day:
        state = f"OUT OF CALIBRATION: {first}"
    said = state or "in date on this day"
    return MeterView(meter.name, meter.last.isoformat(), due.isoformat(), said, bool(state))

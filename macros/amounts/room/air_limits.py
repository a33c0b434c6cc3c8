"""The air table of the daily round: for each air temperature the humidity that is too dry, too wet, or wets the wall."""

from __future__ import annotations

import math

from macros.amounts.engine import number_format as printing
from macros.amounts.engine.number_format import brief
from macros.amounts.engine.register import Register
from macros.amounts.engine.working import Working
from macros.calculations.room import air
from macros.ground.units import convert
from macros.house.records.room import Room

TOPIC = "Air"
NEAR_THE_WALL = 3.5
"""[K] Closer than this the air at the wall stands over about 80 %: BS EN ISO 13788:2002 as summarised in a British
code of practice asks for no more than 80 % over several days."""
LOW, HIGH = 0.4, 1.4
"""[kPa] Comfortable vapour pressure deficit: common practice, no source."""
FAO = "Allen et al., FAO Irrigation and Drainage Paper 56, 1998, eq. 11"
COLDEST, WARMEST = 16, 30
"""[degC] First and last row."""


def enter(register: Register, room: Room | None) -> None:
    """A row each half degree Celsius or degree Fahrenheit, humidity to the whole percent a meter shows.

    A limit holds for the warmest air that is read as its row, so that rounding hides no wet wall.
    """
    w = Working(register, "air_limits", "Air table", TOPIC)
    unit = printing.house_unit("degC", register.house.us)
    step = 1.0 if unit == "degF" else 0.5
    w.source(FAO)
    w.add_line(f"humidity of a deficit: 1 - deficit / saturation; {LOW:g} to {HIGH:g} kPa suits leaves")
    dew_points = _dew_points(w, room)
    rows: list[list[float | str]] = []
    first, last = (round(convert(end, "degC", unit)) for end in (COLDEST, WARMEST))
    for number in range(round((last - first) / step) + 1):
        shown = first + number * step
        here, warmest = (convert(value, unit, "degC") for value in (shown, shown + step / 2))
        rows.append([f"{shown:g}", *_for_leaves(here), *(_under(warmest, point) for _, point in dew_points)])
    columns = [("air", unit), ("humidity at least", "%"), ("at most for the leaves", "%")]
    columns += [(name, "%") for name, _ in dew_points]
    w.table(columns, rows, "whole percents, to the safe side", 1.0)


def _dew_points(w: Working, room: Room | None) -> list[tuple[str, float]]:
    """Columns of the wall and the dew point [degC] each stands for; none where the house does not tell its wall."""
    if room is None or room.coldest_surface_temperature is None:
        return []
    wall = w.fact(room, "coldest_surface_temperature", "degC")
    w.add_line(
        f"the coldest surface has {brief(wall)} degC; it is wetted from the humidity saturation at the surface / "
        "saturation of the air on, taken for the warmest air of each row"
    )
    found = [("wall stays dry under", wall)]
    if _meets_aim(w, room, wall):
        found.append(("aim, against mould: under", wall - NEAR_THE_WALL))
    return found


def _for_leaves(temperature: float) -> tuple[int, int]:
    least, most = (air.humidity_for_deficit(temperature, deficit) * 100 for deficit in (HIGH, LOW))
    return math.ceil(max(0.0, least) - 1e-9), math.floor(most + 1e-9)


def _under(temperature: float, point: float) -> int:
    return math.floor(min(air.humidity_for_dew_point(temperature, point), 1.0) * 100 + 1e-9)


def _meets_aim(w: Working, room: Room, wall: float) -> bool:
    """Whether the room as it is run keeps the aim. Where it does not, the house is warned (W05), not each day anew."""
    if wall - NEAR_THE_WALL < 0:
        return False
    for time in ("lights_on", "lights_off"):
        state = [getattr(room, f"{name}_{time}") for name in ("air_temperature", "relative_humidity")]
        if None in state:
            continue
        temperature = w.fact(room, f"air_temperature_{time}", "degC")
        point = air.dew_point(temperature, w.fact(room, f"relative_humidity_{time}"))
        if wall - point < NEAR_THE_WALL:
            w.assume(
                f"W05: the air of this room stands nearer than {NEAR_THE_WALL:g} K to its coldest surface, so no aim is set"
            )
            return False
    return True

"""What stays wet after a thing is drained: the heel of the tank, what a tray and a part keep. It carries its contents on."""

from __future__ import annotations

from collections.abc import Iterable

from macros.amounts.engine.number_format import brief
from macros.amounts.engine.working import Working
from macros.amounts.water.reservoir import shape_of
from macros.calculations.water import volumes
from macros.house.records.sanitizing import SoakedPart
from macros.house.records.systems import System

HEEL_HEIGHT = 0.01
"""[m] Water left on the floor of a tank nobody measured."""
TRAY_HEIGHT = 0.001
"""[m] Water left on the floor of a tray nobody measured."""
FILM = 0.1
"""[L/m2] Water that clings to a drained face."""
ON_ONE_PART = 0.002
"""[L] Water that clings to one small part shaken out.

All four: common practice, no source; each is said as an assumption."""
_SAID = "(common practice, no source)"


def heel(w: Working, system: System) -> float:
    """Water that stays in the drained tank [L]."""
    tank = system.reservoir
    if tank.left_after_draining is not None:
        return w.fact(tank, "left_after_draining", "L")
    litres = volumes.volume_to_height(shape_of(tank, w), HEEL_HEIGHT)
    w.assume(
        f"{brief(litres)} L stay in the drained tank, {HEEL_HEIGHT * 100:g} cm deep {_SAID}; measure "
        "reservoir.left_after_draining"
    )
    return litres


def in_one_tray(w: Working, system: System) -> float:
    """Water that stays on the floor of one drained tray [L]."""
    trays = system.trays
    if trays.left_in_tray_after_drain is not None:
        return w.fact(trays, "left_in_tray_after_drain", "L")
    litres = w.fact(trays, "inside_length", "m") * w.fact(trays, "inside_width", "m") * TRAY_HEIGHT * 1000
    w.assume(
        f"{brief(litres)} L stay in a drained tray, {TRAY_HEIGHT * 1000:g} mm deep {_SAID}; measure "
        "trays.left_in_tray_after_drain"
    )
    return litres


def film(w: Working, system: System) -> float:
    """Water that clings to drained faces of trays and plates [L/m2]."""
    assumed = f"{FILM:g} L/m2 cling to drained faces {_SAID}; set trays.film_left"
    return w.fact_or(system.trays, "film_left", "L/m^2", FILM, assumed)


def on_parts(w: Working, parts: Iterable[SoakedPart]) -> float:
    """Water that clings to all small parts of a cleanout once they are shaken out [L]."""
    assumed = f"{ON_ONE_PART * 1000:g} mL cling to a part {_SAID}; set parts_to_soak.left_on_each"
    return sum(
        w.fact(part, "count_per_system") * w.fact_or(part, "left_on_each", "L", ON_ONE_PART, assumed)
        for part in parts
    )

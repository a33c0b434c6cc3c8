"""Conductivity as a pen shows it: turned to 25 degC, and from another scale."""

from __future__ import annotations

from macros.ground.problems import RangeProblem

PER_DEGREE = 0.0191
"""Share [1/degC] by which conductivity rises: Standard Methods for the Examination of Water and Wastewater, 2510 B."""
COLDEST, WARMEST = 5.0, 35.0


def shown_per_ec(temperature: float, scale: float = 1.0) -> float:
    """What a pen that does not compensate shows for each 1 mS/cm at 25 degC [its own unit a mS/cm].

    temperature [degC] 5 to 35, of the water; scale [ppm a mS/cm] of the pen, 1 for one in mS/cm. Raises RangeProblem
    outside these. Source: Standard Methods for the Examination of Water and Wastewater, method 2510 B.
    """
    if not COLDEST <= temperature <= WARMEST:
        raise RangeProblem(f"{temperature:g} degC is outside {COLDEST:g} to {WARMEST:g} degC")
    if scale <= 0:
        raise RangeProblem("a pen shows more in stronger water")
    return scale * (1 + PER_DEGREE * (temperature - 25))


def ec_at_25(reading: float, temperature: float, scale: float = 1.0) -> float:
    """Conductivity at 25 degC from a reading of a pen that does not compensate [mS/cm].

    reading [unit of the pen] 0 or more; temperature [degC] 5 to 35; scale [ppm a mS/cm], 1 for a pen in mS/cm. Raises
    RangeProblem outside these. Source: as `shown_per_ec`.
    """
    if reading < 0:
        raise RangeProblem("a reading is 0 or more")
    return reading / shown_per_ec(temperature, scale)

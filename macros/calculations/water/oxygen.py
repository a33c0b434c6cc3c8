"""Oxygen that water can hold."""

from __future__ import annotations

import math

from macros.calculations.room.air import SEA_LEVEL, pressure_at
from macros.ground.problems import RangeProblem


def oxygen_saturation(temperature: float, altitude: float = 0.0) -> float:
    """Oxygen in water at balance with air [mg/L], pressure form with the vapour of the water taken off.

    temperature [degC] 0 to 40; altitude [m] -500 to 5000. Raises RangeProblem outside these. Source: Standard Methods
    4500-O (Benson and Krause).
    """
    if not 0 <= temperature <= 40:
        raise RangeProblem(f"{temperature:g} degC is outside 0 to 40 degC")
    kelvin = temperature + 273.15
    at_sea_level = math.exp(
        -139.34411
        + 1.575701e5 / kelvin
        - 6.642308e7 / kelvin**2
        + 1.2438e10 / kelvin**3
        - 8.621949e11 / kelvin**4
    )
    pressure = pressure_at(altitude) / SEA_LEVEL
    vapour = math.exp(11.8571 - 3840.70 / kelvin - 216961 / kelvin**2)
    theta = 0.000975 - 1.426e-5 * temperature + 6.436e-8 * temperature**2
    return (
        at_sea_level
        * pressure
        * ((1 - vapour / pressure) * (1 - theta * pressure))
        / ((1 - vapour) * (1 - theta))
    )

"""Moist air: vapour pressure, dew point, humidity ratio, and the air a room needs to stay dry."""

from __future__ import annotations

import math

from macros.ground.problems import RangeProblem

SEA_LEVEL = 101.325
"""[kPa] Standard atmosphere."""
GAS_CONSTANT_DRY_AIR = 0.287042
"""[kJ/kg/K] ASHRAE Fundamentals, psychrometrics."""


def saturation_vapour_pressure(temperature: float) -> float:
    """Pressure of water vapour over water [kPa].

    temperature [degC] 0 to 45. Raises RangeProblem outside that. Source: FAO Irrigation and Drainage Paper 56, 1998,
    eq. 11.
    """
    if not 0 <= temperature <= 45:
        raise RangeProblem(f"{temperature:g} degC is outside 0 to 45 degC")
    return 0.6108 * math.exp(17.27 * temperature / (temperature + 237.3))


def vapour_pressure(temperature: float, humidity: float) -> float:
    """Pressure of the vapour that is there [kPa].

    temperature [degC] 0 to 45; humidity [1] above 0, up to 1. Raises RangeProblem outside these. Source: definition
    of relative humidity.
    """
    if not 0 < humidity <= 1:
        raise RangeProblem("relative humidity is a share above 0, up to 1")
    return saturation_vapour_pressure(temperature) * humidity


def vapour_pressure_deficit(temperature: float, humidity: float) -> float:
    """How much more vapour the air could take [kPa].

    temperature [degC] 0 to 45; humidity [1] above 0, up to 1. Raises RangeProblem outside these. Source: FAO
    Irrigation and Drainage Paper 56, 1998, eq. 11 and 17-19.
    """
    return saturation_vapour_pressure(temperature) - vapour_pressure(temperature, humidity)


def dew_point(temperature: float, humidity: float) -> float:
    """Temperature at which this air begins to wet a surface [degC].

    temperature [degC] 0 to 45; humidity [1] above 0, up to 1. Raises RangeProblem outside these. Source: FAO
    Irrigation and Drainage Paper 56, 1998, eq. 11, inverted.
    """
    x = math.log(vapour_pressure(temperature, humidity) / 0.6108)
    return 237.3 * x / (17.27 - x)


def humidity_for_deficit(temperature: float, deficit: float) -> float:
    """Relative humidity at which the vapour pressure deficit is this [1]; below 0 no air is so dry.

    temperature [degC] 0 to 45; deficit [kPa] 0 or more. Raises RangeProblem outside these. Source: FAO Irrigation and
    Drainage Paper 56, 1998, eq. 11 and 17-19, inverted.
    """
    if deficit < 0:
        raise RangeProblem("a deficit is 0 or more")
    return 1 - deficit / saturation_vapour_pressure(temperature)


def humidity_for_dew_point(temperature: float, point: float) -> float:
    """Relative humidity at which this air begins to wet a surface of that temperature [1]; over 1 none does.

    temperature, point [degC] 0 to 45. Raises RangeProblem outside these. Source: FAO Irrigation and Drainage Paper 56,
    1998, eq. 11.
    """
    return saturation_vapour_pressure(point) / saturation_vapour_pressure(temperature)


def humidity_at_surface(temperature: float, humidity: float, surface: float) -> float:
    """Relative humidity of the room's air where it touches a surface [1]; over 1 it is wet.

    temperature, surface [degC] 0 to 45; humidity [1] above 0, up to 1. Raises RangeProblem outside these. Source:
    definition of relative humidity.
    """
    return vapour_pressure(temperature, humidity) / saturation_vapour_pressure(surface)


def pressure_at(altitude: float) -> float:
    """Air pressure of the standard atmosphere [kPa].

    altitude [m] -500 to 5000. Raises RangeProblem outside that. Source: standard atmosphere, from memory.
    """
    if not -500 <= altitude <= 5000:
        raise RangeProblem(f"altitude {altitude:g} m is outside -500 to 5000 m")
    return float(SEA_LEVEL * (1 - 2.25577e-5 * altitude) ** 5.25588)


def humidity_ratio(temperature: float, humidity: float, pressure: float = SEA_LEVEL) -> float:
    """Water in the air [kg/kg dry air].

    temperature [degC] 0 to 45; humidity [1] above 0, up to 1; pressure [kPa] of the air, not judged. Raises
    RangeProblem outside these. Source: ASHRAE Fundamentals, psychrometrics, humidity ratio.
    """
    vapour = vapour_pressure(temperature, humidity)
    return 0.621945 * vapour / (pressure - vapour)


def specific_volume(temperature: float, humidity: float, pressure: float = SEA_LEVEL) -> float:
    """Volume of moist air [m3/kg dry air].

    temperature [degC] 0 to 45; humidity [1] above 0, up to 1; pressure [kPa] of the air, not judged. Raises
    RangeProblem outside these. Source: ASHRAE Fundamentals, psychrometrics.
    """
    ratio = humidity_ratio(temperature, humidity, pressure)
    return GAS_CONSTANT_DRY_AIR * (temperature + 273.15) * (1 + 1.607858 * ratio) / pressure


def ventilation_needed(
    load: float,
    room: tuple[float, float],
    supply: tuple[float, float],
    pressure: float = SEA_LEVEL,
) -> float:
    """Room air to blow out so that it carries a moisture load away [m3/h].

    load [g/h], none or less needs no air; room, supply: (temperature [degC] 0 to 45, relative humidity [1] above 0,
    up to 1) of the room and of the air drawn in; pressure [kPa]. Raises RangeProblem outside these, and where the air
    drawn in is as wet as the room. Source: mass balance of water in air.
    """
    difference = humidity_ratio(*room, pressure) - humidity_ratio(*supply, pressure)
    if difference <= 0:
        raise RangeProblem("the air drawn in is as wet as the room: a fan cannot dry it")
    return max(load, 0.0) / 1000 / difference * specific_volume(*room, pressure)


def air_changes(flow: float, volume: float) -> float:
    """Room volumes a fan blows out in an hour [1/h].

    flow [m3/h] 0 or more; volume [m3] above 0. Raises RangeProblem outside these. Source: definition.
    """
    if flow < 0 or volume <= 0:
        raise RangeProblem("a fan's flow is not negative and a room has a volume")
    return flow / volume


def dilution_minutes(changes_per_hour: float, left: float = 0.05) -> float:
    """Time until only a share `left` of what was in the air is there [min], well mixed.

    changes_per_hour [1/h] above 0; left [1] above 0, under 1. Raises RangeProblem outside these. Source: well-mixed
    dilution, exponential decay.
    """
    if changes_per_hour <= 0 or not 0 < left < 1:
        raise RangeProblem("no air is changed: what was sprayed stays in the room")
    return math.log(1 / left) * 60 / changes_per_hour

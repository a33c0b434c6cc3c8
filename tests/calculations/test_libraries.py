"""Our formulas against independent libraries, in the ranges a grow room knows. Each test names the library it asks.

scipy (binomial distribution), psychrolib (ASHRAE psychrometrics), iapws (steam tables of IAPWS-IF97), fluids (Darcy
friction), phreeqpython (PHREEQC).
"""

from __future__ import annotations

import itertools
import math
import random

import fluids
import psychrolib
import pytest
from iapws import iapws97
from phreeqpython import PhreeqPython
from scipy import optimize, stats

from macros.calculations.crop import sowing
from macros.calculations.feed.acid_dose import acid_needed
from macros.calculations.room import air
from macros.calculations.water import hydraulics

psychrolib.SetUnitSystem(psychrolib.SI)
AIR = list(itertools.product(range(15, 33), (0.40, 0.55, 0.70, 0.85, 0.95)))


@pytest.mark.parametrize(("temperature", "humidity"), AIR)
def test_vapour_pressure_deficit_within_a_thousandth(temperature: float, humidity: float) -> None:
    """Source: psychrolib, ASHRAE formulation. The deficit is judged against the pressure of saturated air."""
    saturated = psychrolib.GetSatVapPres(temperature) / 1000
    wanted = saturated * (1 - humidity)
    assert air.vapour_pressure_deficit(temperature, humidity) == pytest.approx(wanted, rel=0.001)


@pytest.mark.parametrize("temperature", range(5, 41))
def test_vapour_pressure_of_saturation_against_the_steam_tables(temperature: int) -> None:
    """Source: iapws, saturation line of IAPWS-IF97 [MPa, K]; the air above the water is left out, so 0.2 %."""
    wanted = iapws97._PSat_T(temperature + 273.15) * 1000
    assert air.saturation_vapour_pressure(temperature) == pytest.approx(wanted, rel=0.002)


@pytest.mark.parametrize(("temperature", "humidity"), AIR)
def test_dew_point_within_a_tenth_kelvin(temperature: float, humidity: float) -> None:
    """Source: psychrolib, ASHRAE formulation."""
    wanted = psychrolib.GetTDewPointFromRelHum(temperature, humidity)
    assert air.dew_point(temperature, humidity) == pytest.approx(wanted, abs=0.1)


@pytest.mark.parametrize("altitude", [0, 120, 500, 1600])
@pytest.mark.parametrize(("temperature", "humidity"), AIR[::7])
def test_moist_air_within_three_thousandths(temperature: float, humidity: float, altitude: float) -> None:
    """Source: psychrolib: humidity ratio, volume of moist air, pressure of the standard atmosphere."""
    pressure = psychrolib.GetStandardAtmPressure(altitude)
    assert air.pressure_at(altitude) * 1000 == pytest.approx(pressure, rel=0.0005)
    assert air.humidity_ratio(temperature, humidity, pressure / 1000) == pytest.approx(
        psychrolib.GetHumRatioFromRelHum(temperature, humidity, pressure), rel=0.003
    )
    ratio = psychrolib.GetHumRatioFromRelHum(temperature, humidity, pressure)
    assert air.specific_volume(temperature, humidity, pressure / 1000) == pytest.approx(
        psychrolib.GetMoistAirVolume(temperature, ratio, pressure), rel=0.001
    )


@pytest.mark.parametrize("wanted", [1, 4, 9, 18, 36, 72])
@pytest.mark.parametrize(
    ("came_up", "tested"), [(3, 4), (4, 4), (5, 10), (8, 10), (30, 40), (99, 100), (950, 1000)]
)
@pytest.mark.parametrize("certainty", [0.8, 0.95, 0.99])
def test_plugs_to_sow_are_the_fewest(wanted: int, came_up: int, tested: int, certainty: float) -> None:
    """Source: scipy's beta-binomial distribution."""
    count = sowing.plugs_to_sow(wanted, certainty, came_up, tested)
    chance = stats.betabinom(count, came_up + 1, tested - came_up + 1).sf(wanted - 1)
    fewer = stats.betabinom(count - 1, came_up + 1, tested - came_up + 1).sf(wanted - 1)
    assert chance >= certainty - 1e-5
    assert count == wanted or fewer < certainty + 1e-5
    assert sowing.chance_after_test(count, wanted, came_up, tested) == pytest.approx(chance, abs=1e-5)


@pytest.mark.parametrize("wanted", [1, 4, 36])
@pytest.mark.parametrize("chance", [0.35, 0.69, 0.99])
def test_chance_of_enough_where_the_share_is_certain(wanted: int, chance: float) -> None:
    """Source: scipy's binomial distribution."""
    plugs = wanted + wanted // 2
    assert sowing.chance_of_enough(plugs, wanted, chance) == pytest.approx(
        stats.binom.sf(wanted - 1, plugs, chance), abs=1e-9
    )


def pumps() -> list[tuple[float, ...]]:
    """Small pumps over racks: free flow [L/h], head [m], lift [m], bore [m], tube [m], fittings."""
    random.seed(4)
    return [
        (
            random.uniform(400, 4000),
            random.uniform(1.2, 4.0),
            random.uniform(0.2, 1.0),
            random.choice((0.013, 0.016, 0.019, 0.025)),
            random.uniform(0.5, 4.0),
            random.uniform(0, 8),
        )
        for _ in range(60)
    ]


@pytest.mark.parametrize("curve", [1, 2])
@pytest.mark.parametrize("pump", pumps())
def test_flood_flow_within_a_twentieth(pump: tuple[float, ...], curve: int) -> None:
    """Source: fluids for friction, scipy for the crossing of the two curves."""
    free, most, lift, bore, length, fittings = pump
    free /= 3.6e6

    def gap(flow: float) -> float:
        velocity = flow / (math.pi / 4 * bore**2)
        reynolds = fluids.Reynolds(V=velocity, D=bore, rho=998.2, mu=1.0016e-3)
        factor = fluids.friction_factor(Re=reynolds, eD=1.5e-6 / bore)
        lost = (factor * length / bore + fittings) * velocity**2 / (2 * 9.80665)
        return float(most * (1 - (flow / free) ** curve) - lift - lost)

    wanted = optimize.brentq(gap, free * 1e-9, free)
    found = hydraulics.operating_flow(free, most, lift, bore, length, fittings, curve)
    assert found == pytest.approx(wanted, rel=0.05)


def waters() -> list[tuple[float, float, float, float, str]]:
    """Two hundred tap waters: alkalinity [mg/L CaCO3], pH, target, temperature [degC], acid."""
    random.seed(49)
    return [
        (
            random.uniform(20, 300),
            random.uniform(7.0, 8.4),
            random.uniform(5.6, 6.5),
            random.uniform(10, 26),
            random.choice(("nitric", "sulfuric", "phosphoric")),
        )
        for _ in range(200)
    ]


@pytest.fixture(scope="module")
def phreeqc() -> PhreeqPython:
    return PhreeqPython(database="phreeqc.dat")


FORMULA = {"nitric": "HNO3", "sulfuric": "H2SO4", "phosphoric": "H3PO4"}


def test_acid_dose_within_a_fiftieth_of_phreeqc(phreeqc: PhreeqPython) -> None:
    """Source: PHREEQC, sodium as counter-ion, closed to air, over 200 waters."""
    for alkalinity, ph, target, temperature, acid in waters():
        meq = alkalinity / 50.0435
        found = acid_needed(alkalinity, ph, target, temperature, acid, 0.0)
        # The dose that PHREEQC needs lies within a fiftieth where a fiftieth less is too little and one more too much.
        little, much = (_ph_after(phreeqc, meq, ph, temperature, acid, found / of) for of in (1.02, 0.98))
        assert little > target > much, (alkalinity, ph, target, temperature, acid)


def _ph_after(
    phreeqc: PhreeqPython, meq: float, ph: float, temperature: float, acid: str, dose: float
) -> float:
    solution = phreeqc.add_solution(
        {"units": "mmol/kgw", "temp": temperature, "pH": ph, "Na": f"{meq} charge", "Alkalinity": f"{meq}"}
    )
    if dose:
        solution.add(FORMULA[acid], dose)
    found = float(solution.pH)
    solution.forget()
    return found

"""Pump, overflow and drain: what the pump lifts, what the standpipe passes, how long a tray takes to empty."""

from __future__ import annotations

import math

from macros.ground.problems import RangeProblem

GRAVITY = 9.80665
"""[m/s2] Standard acceleration of free fall."""
DENSITY = 998.2
"""[kg/m3] Water at 20 degC."""
VISCOSITY = 1.0016e-3
"""[Pa s] Water at 20 degC."""
ROUGHNESS = 1.5e-6
"""[m] Smooth hose."""
ORIFICE = 0.6
"""Discharge coefficient of a plain hole: N. Midoux, Mecanique et rheologie des fluides en genie chimique, p. 51."""
WEIR = 1.7
"""[m^0.5/s] Coefficient of a broad weir, from memory."""


def flow_against_head(flow_at_zero_head: float, head_at_zero_flow: float, head: float) -> float:
    """Flow of a pump against a height of water [unit of the flow], by the straight line between its two label points.

    The line is the cautious form: a real curve bulges above it. flow_at_zero_head [any unit of flow] above 0;
    head_at_zero_flow [m] above 0; head [m] under that, below 0 counts as 0. Raises RangeProblem outside these.
    Source: common practice, no source.
    """
    if min(flow_at_zero_head, head_at_zero_flow) <= 0:
        raise RangeProblem("a pump's flow and head must be above 0")
    if head >= head_at_zero_flow:
        raise RangeProblem(f"head {head:.2f} m is at or over the pump's {head_at_zero_flow:g} m: no flow")
    return flow_at_zero_head * (1 - max(head, 0.0) / head_at_zero_flow)


def friction_head(flow: float, diameter: float, length: float, fittings: float) -> float:
    """Height of water lost in a hose [m].

    flow [m3/s] 0 or more; diameter, length [m] inside, above 0; fittings [1] sum of the loss coefficients of bends
    and fittings, 0 or more. Raises RangeProblem outside these. Source: Darcy-Weisbach.
    """
    if min(diameter, length) <= 0 or flow < 0 or fittings < 0:
        raise RangeProblem("a hose has a diameter and a length above 0, and no negative flow")
    if flow == 0:
        return 0.0
    velocity = flow / (math.pi / 4 * diameter**2)
    friction = friction_factor(DENSITY * velocity * diameter / VISCOSITY, ROUGHNESS / diameter)
    return (friction * length / diameter + fittings) * velocity**2 / (2 * GRAVITY)


def friction_factor(reynolds: float, relative_roughness: float) -> float:
    """Darcy friction factor [1]: 64/Re in laminar flow, else Colebrook-White by fixed-point steps.

    Between 2040 and 4000 flow may be laminar or turbulent: the larger of the two factors is taken, so the larger head
    loss (common practice, no source). reynolds [1] above 0; relative_roughness [1] 0 to 0.05, not judged. Raises
    RangeProblem for no flow. Source: Colebrook-White; 64/Re from memory.
    """
    if reynolds <= 0:
        raise RangeProblem("a Reynolds number is above 0")
    if reynolds < 2040:
        return 64 / reynolds
    inverse_root = 7.0
    for _ in range(40):
        inverse_root = -2 * math.log10(relative_roughness / 3.7 + 2.51 * inverse_root / reynolds)
    return max(64 / reynolds, inverse_root**-2)


def operating_flow(
    flow_at_zero_head: float,
    head_at_zero_flow: float,
    head: float,
    diameter: float,
    length: float,
    fittings: float,
    curve: int = 1,
) -> float:
    """Flow where the pump's curve meets lift plus friction [m3/s].

    flow_at_zero_head [m3/s] above 0; head_at_zero_flow [m] above 0; head [m] under that; diameter, length [m] inside,
    of the hose, above 0; fittings [1] 0 or more; curve [1]: 1 is the line, 2 the parabola. Raises RangeProblem
    outside these. Source: pump curve against Darcy-Weisbach with Colebrook-White.
    """
    flow_against_head(flow_at_zero_head, head_at_zero_flow, head)
    low, high = 0.0, flow_at_zero_head
    for _ in range(80):
        middle = (low + high) / 2
        given = head_at_zero_flow * (1 - (middle / flow_at_zero_head) ** curve)
        if given > head + friction_head(middle, diameter, length, fittings):
            low = middle
        else:
            high = middle
    return low


def weir_flow(diameter: float, head: float) -> float:
    """What runs over the lip of a standpipe [m3/s]. Right under a quarter of the diameter only.

    diameter, head [m] above 0, the head over the lip. Raises RangeProblem outside that. Source: circular weir 1.7 pi
    D H^1.5, textbook coefficient, from memory.
    """
    _pipe(diameter, head)
    return float(WEIR * math.pi * diameter * head**1.5)


def orifice_flow(diameter: float, head: float) -> float:
    """What a drowned mouth or a hole passes [m3/s].

    diameter, head [m] above 0, the head above it. Raises RangeProblem outside that. Source: Torricelli; Cd 0.6 as at
    `ORIFICE`.
    """
    _pipe(diameter, head)
    return ORIFICE * math.pi / 4 * diameter**2 * math.sqrt(2 * GRAVITY * head)


def overflow_capacity(diameter: float, head: float) -> float:
    """What a standpipe surely passes [m3/s]: the smaller of lip and drowned mouth.

    diameter, head [m] above 0. Raises RangeProblem outside that. Source: `weir_flow` and `orifice_flow`; the smaller
    of the two is the safe side.
    """
    return min(weir_flow(diameter, head), orifice_flow(diameter, head))


def drain_time(
    area: float, depth: float, hole: float, coefficient: float = ORIFICE, left: float = 0.0
) -> float:
    """Time for a straight-sided tray to empty through one hole [s].

    area [m2] of the tray, depth [m] of the water, hole [m] its diameter, coefficient [1] of discharge, all above 0;
    left [m] of water at the end, 0 to under the depth. Raises RangeProblem outside these. Source: Torricelli's law
    integrated; R. K. Bansal, Fluid Mechanics (time of emptying a tank).
    """
    if min(area, depth, hole, coefficient) <= 0 or not 0 <= left < depth:
        raise RangeProblem("a tray that drains has an area, a depth and a hole above 0")
    opening = math.pi / 4 * hole**2
    return 2 * area * (math.sqrt(depth) - math.sqrt(left)) / (coefficient * opening * math.sqrt(2 * GRAVITY))


def _pipe(diameter: float, head: float) -> None:
    if min(diameter, head) <= 0:
        raise RangeProblem("a standpipe has a diameter and a head above 0")

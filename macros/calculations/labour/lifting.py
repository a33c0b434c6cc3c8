"""The revised NIOSH lifting equation, metric form."""

from __future__ import annotations

from macros.ground.problems import RangeProblem

LOAD_CONSTANT = 23.0
"""[kg] The most for an ideal lift: Waters, Putz-Anderson, Garg, DHHS (NIOSH) 94-110, rev. 9/2021."""


def recommended_weight(
    reach: float, height: float, travel: float, turn: float = 0.0, frequency: float = 1.0, grip: float = 1.0
) -> float:
    """Recommended weight limit at one end of a lift [kg].

    reach [cm] hands in front of the ankles, under 25 counts as 25, over 63 the limit is 0; height [cm] hands above
    the floor, 0 to 175; travel [cm] up or down, under 25 counts as 25, at most 175; turn [degrees] of the trunk, 0 to
    135; frequency, grip [1] multipliers of the manual's tables 5 and 7, not judged. Raises RangeProblem outside
    these. Source: revised lifting equation, DHHS (NIOSH) 94-110, rev. 9/2021.
    """
    if not 0 <= height <= 175 or not 0 <= travel <= 175 or not 0 <= turn <= 135 or reach < 0:
        raise RangeProblem(
            "the lifting equation holds for hands 0 to 175 cm high, 175 cm of travel, 135 degrees of turn"
        )
    if reach > 63:
        return 0.0
    horizontal = 25 / max(reach, 25)
    vertical = 1 - 0.003 * abs(height - 75)
    distance = 0.82 + 4.5 / max(travel, 25)
    return LOAD_CONSTANT * horizontal * vertical * distance * (1 - 0.0032 * turn) * frequency * grip


def limit_of_lift(
    reach: float, start: float, end: float, grip_start: float = 1.0, grip_end: float = 1.0
) -> float:
    """The lower of the limits at both ends of a rare lift [kg].

    reach [cm]; start, end [cm] heights of the hands; grip_start, grip_end [1] multipliers, all as for
    `recommended_weight`. Raises RangeProblem as that does. Source: revised lifting equation, DHHS (NIOSH) 94-110.
    """
    travel = abs(end - start)
    return min(
        recommended_weight(reach, start, travel, grip=grip_start),
        recommended_weight(reach, end, travel, grip=grip_end),
    )

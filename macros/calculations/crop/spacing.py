"""Planting sites on a grid of holes: as many as the distance between plants allows, on one of five patterns."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from macros.ground.problems import RangeProblem

PlantingHole = tuple[int, int]
_TOLERANCE = 1e-9


@dataclass(frozen=True)
class Pattern:
    """A regular choice of holes: least distance in pitches, and which holes belong to it."""

    name: str
    distance: float
    holds: Callable[[int, int], bool]


PATTERNS = (
    Pattern("every hole", 1.0, lambda r, c: True),
    Pattern("every second hole, rows offset", math.sqrt(2), lambda r, c: (r + c) % 2 == 0),
    Pattern("every second hole of every second row", 2.0, lambda r, c: r % 2 == 0 and c % 2 == 0),
    Pattern(
        "every fourth hole, rows offset",
        2 * math.sqrt(2),
        lambda r, c: r % 2 == 0 and c % 2 == 0 and (r + c) % 4 == 0,
    ),
    Pattern("every third hole of every third row", 3.0, lambda r, c: r % 3 == 0 and c % 3 == 0),
)
"""From the densest to the widest; each is laid over the whole grid, the seam between plates counted."""


def best_pattern(rows: int, columns: int, pitch: float, spacing: float) -> Pattern:
    """The pattern with the most plants that stand at least `spacing` apart; a tie goes to the denser.

    On a small grid a wider pattern can hold more plants than a denser one. rows, columns [holes] 1 or more; pitch,
    spacing [mm] above 0, spacing at most three pitches. Raises RangeProblem outside these: a wider plant gets a tray
    of its own. Source: geometry of the grid.
    """
    if pitch <= 0 or spacing <= 0:
        raise RangeProblem("spacing and hole pitch must be above 0")
    wide = [pattern for pattern in PATTERNS if pattern.distance * pitch >= spacing * (1 - _TOLERANCE)]
    if not wide:
        raise RangeProblem(
            f"a spacing of {spacing:g} mm is more than three times the hole pitch of {pitch:g} mm; give the plant its own tray"
        )
    return max(wide, key=lambda pattern: len(_holes(pattern, rows, columns)))


def sites(rows: int, columns: int, pitch: float, spacing: float) -> tuple[PlantingHole, ...]:
    """The holes to plant over the whole grid, (row, column) counted from 0.

    rows, columns [holes] 1 or more; pitch, spacing [mm] as for `best_pattern`. Raises RangeProblem as that does.
    Source: geometry of the grid.
    """
    return _holes(best_pattern(rows, columns, pitch, spacing), rows, columns)


def _holes(pattern: Pattern, rows: int, columns: int) -> tuple[PlantingHole, ...]:
    return tuple((r, c) for r in range(rows) for c in range(columns) if pattern.holds(r, c))

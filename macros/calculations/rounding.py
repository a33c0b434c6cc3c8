"""Rounding to steps without the dust of binary fractions: 149.60000000000002 stands on the step 149.6."""

from __future__ import annotations

import math
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal
from typing import Literal

_MODES = {"up": ROUND_CEILING, "down": ROUND_FLOOR, "nearest": ROUND_HALF_EVEN}
_ON_A_STEP = Decimal("1e-9")
"""Within this share of a step a value counts as standing on it, or half-way between two."""


def whole_steps(value: float, step: float, direction: Literal["up", "down", "nearest"]) -> int:
    """Number of whole steps in a value, rounded in the direction given [steps].

    value [unit of the step] any; step [any unit] above 0, not judged; direction: up, down or nearest. Raises nothing.
    Source: arithmetic.
    """
    steps = Decimal(repr(value)) / Decimal(repr(step))
    whole = steps.to_integral_value(ROUND_HALF_EVEN)
    if abs(steps - whole) <= _ON_A_STEP * max(abs(whole), Decimal(1)):
        return int(whole)
    half = steps.to_integral_value(ROUND_FLOOR) + Decimal("0.5")
    if abs(steps - half) <= _ON_A_STEP * max(abs(half), Decimal(1)):
        steps = half  # dust must not decide which way a half goes
    return int(steps.to_integral_value(_MODES[direction]))


def on_step(value: float, step: float) -> float:
    """The value as the nearest multiple of the step, exactly as it would be typed [unit of the step].

    value [unit of the step] any; step [any unit] above 0, not judged. Raises nothing. Source: arithmetic.
    """
    return float(whole_steps(value, step, "nearest") * Decimal(repr(step)))


def round_to(value: float, step: float, direction: Literal["up", "down", "nearest"]) -> float:
    """The value as a whole number of steps in the direction given [unit of the step].

    value [unit of the step] any; step [any unit] above 0, not judged; direction: up, down or nearest. Raises nothing.
    Source: arithmetic.
    """
    return float(whole_steps(value, step, direction) * Decimal(repr(step)))


def decimals_of(step: float) -> int:
    """Digits after the point that a step of this size shows [digits]: 0.2 shows 1, 0.25 shows 2, 20 shows none.

    step [any unit] above 0, not judged. Raises nothing. Source: arithmetic.
    """
    exponent = Decimal(repr(step)).normalize().as_tuple().exponent
    return max(0, -int(exponent))


def in_figures(value: float, figures: int, direction: Literal["up", "down", "nearest"] = "nearest") -> str:
    """The value in so many figures, rounded in the direction given, written without an exponent [unit of the value].

    value [any unit] any; figures [1] 1 or more, not judged; direction: up, down or nearest. Raises nothing. Source: arithmetic.
    """
    if value == 0:
        return "0"
    step = float(f"1e{math.floor(math.log10(abs(value))) - figures + 1}")
    return f"{round_to(value, step, direction):.12g}"

"""Times as pages print them, read as whole minutes."""

from __future__ import annotations

import math

from macros.ground.units import QuantityMistake, parse_quantity


def minutes_of(text: str, up: bool) -> int | None:
    """`60 min` or `1.5 h` as whole minutes, rounded up or down; None where the text is not one plain time."""
    try:
        exact = parse_quantity(text.replace("\u00a0", " "), "duration").to("min")
    except QuantityMistake:
        return None
    if exact < 0:
        return None
    return math.ceil(exact - 1e-9) if up else math.floor(exact + 1e-9)

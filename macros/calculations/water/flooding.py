"""Flooding: what trays take from the tank, together or one after another, and what is left on the lowest day."""

from __future__ import annotations

from macros.ground.problems import RangeProblem


def tray_flood_volume(length: float, width: float, depth: float) -> float:
    """Water on one flooded tray [L]. Cups are not subtracted: the safe side for the tank.

    length, width, depth [m] above 0. Raises RangeProblem outside that. Source: geometry.
    """
    if min(length, width, depth) <= 0:
        raise RangeProblem("a tray's length, width and flood depth must be above 0")
    return length * width * depth * 1000


def draw(trays_together: int, tray_volume: float, tube_volume: float) -> float:
    """Water away from the tank while trays are flooded [L].

    trays_together [trays] 1 or more; tray_volume, tube_volume [L] 0 or more, not judged. Raises RangeProblem for no
    tray. Source: arithmetic, checked by hand.
    """
    if trays_together < 1:
        raise RangeProblem("at least one tray floods")
    return trays_together * tray_volume + tube_volume


def margin_at_refill(at_refill_mark: float, drawn: float, dead: float) -> float:
    """What is left above the pump minimum on the lowest day [L]; below 0 the pump runs dry.

    at_refill_mark, drawn, dead [L] 0 or more, not judged. Raises nothing. Source: arithmetic, checked by hand.
    """
    return at_refill_mark - drawn - dead

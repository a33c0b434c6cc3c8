"""Volume of water in a tank of any of five shapes, and the level a volume stands at.

Source: elementary solid geometry; a box with sloping walls by the prismoidal rule, which is exact for it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from macros.ground.problems import RangeProblem

LITRES_PER_CUBIC_METRE = 1000.0


@dataclass(frozen=True)
class Box:
    """A tank with upright walls. length, width, height [m]"""

    length: float
    width: float
    height: float


@dataclass(frozen=True)
class Cylinder:
    """An upright round tank. diameter, height [m]"""

    diameter: float
    height: float


@dataclass(frozen=True)
class HorizontalCylinder:
    """A round tank lying on its side, ends flat. diameter, length [m]"""

    diameter: float
    length: float


@dataclass(frozen=True)
class ConeFrustum:
    """A round tank that widens or narrows upward. diameters, height [m]"""

    diameter_bottom: float
    diameter_top: float
    height: float


@dataclass(frozen=True)
class TaperedBox:
    """A tote with sloping walls. lengths, widths, height [m]"""

    length_bottom: float
    length_top: float
    width_bottom: float
    width_top: float
    height: float


Shape = Box | Cylinder | HorizontalCylinder | ConeFrustum | TaperedBox
SHAPES: dict[str, type[Shape]] = {
    "box": Box,
    "cylinder": Cylinder,
    "horizontal_cylinder": HorizontalCylinder,
    "cone_frustum": ConeFrustum,
    "tapered_box": TaperedBox,
}


def solid(shape: str, sizes: Sequence[float]) -> Shape:
    """The solid of that name in `SHAPES`.

    shape: a name there; sizes [m] in the order of its fields, judged where a volume is asked. Raises nothing. Source:
    definition.
    """
    return SHAPES[shape](*sizes)


def full_height(shape: Shape) -> float:
    """Height of the inside, floor to rim [m].

    shape: its sizes in metres. Raises nothing. Source: geometry.
    """
    return shape.diameter if isinstance(shape, HorizontalCylinder) else shape.height


def volume_to_height(shape: Shape, height: float) -> float:
    """Water in the tank when it stands some height above the floor [L].

    shape: its sizes above 0; height [m] 0 to the rim. Raises RangeProblem outside these. Source: elementary solid
    geometry.
    """
    _refuse_bad_sizes(shape)
    if not 0 <= height <= full_height(shape) * (1 + 1e-12):
        raise RangeProblem(
            f"a level of {height:g} m is outside the tank, which is {full_height(shape):g} m high inside"
        )
    return LITRES_PER_CUBIC_METRE * _cubic_metres(shape, height)


def height_for_volume(shape: Shape, volume: float) -> float:
    """Level a volume stands at [m]: the inverse of `volume_to_height`, by halving the interval.

    shape: its sizes above 0; volume [L] 0 to the full tank. Raises RangeProblem outside these. Source:
    `volume_to_height`, inverted.
    """
    top = full_height(shape)
    full = volume_to_height(shape, top)
    if not 0 <= volume <= full * (1 + 1e-9):
        raise RangeProblem(f"{volume:g} L do not fit in the tank, which holds {full:g} L to the rim")
    low, high = 0.0, top
    for _ in range(100):
        middle = (low + high) / 2
        low, high = (middle, high) if volume_to_height(shape, middle) < volume else (low, middle)
    return (low + high) / 2


def _cubic_metres(shape: Shape, h: float) -> float:
    if isinstance(shape, Box):
        return shape.length * shape.width * h
    if isinstance(shape, Cylinder):
        return math.pi / 4 * shape.diameter**2 * h
    if isinstance(shape, HorizontalCylinder):
        r = shape.diameter / 2
        # area of the segment below the chord, clamped against rounding at the very rim
        cosine = max(-1.0, min(1.0, (r - h) / r))
        segment = r**2 * math.acos(cosine) - (r - h) * math.sqrt(max(0.0, 2 * r * h - h**2))
        return segment * shape.length
    share = h / shape.height
    if isinstance(shape, ConeFrustum):
        at_level = shape.diameter_bottom + (shape.diameter_top - shape.diameter_bottom) * share
        d0 = shape.diameter_bottom
        return math.pi * h / 12 * (d0**2 + d0 * at_level + at_level**2)
    return h / 6 * (area_at(shape, 0.0) + 4 * area_at(shape, share / 2) + area_at(shape, share))


def area_at(shape: TaperedBox, share: float) -> float:
    """Area of a tapered box at a share of its height [m2].

    shape: its sizes in metres; share [1] 0 the floor to 1 the rim, not judged. Raises nothing. Source: geometry.
    """
    length = shape.length_bottom + (shape.length_top - shape.length_bottom) * share
    width = shape.width_bottom + (shape.width_top - shape.width_bottom) * share
    return length * width


def _refuse_bad_sizes(shape: Shape) -> None:
    for name, value in vars(shape).items():
        if not value > 0:
            raise RangeProblem(f"the tank's {name.replace('_', ' ')} is {value:g} m; it must be above 0")

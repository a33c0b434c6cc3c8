"""Sanitizer batches: how much solution a task needs, how much stock goes in, how strong it is, how it is proved."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from macros.ground.problems import RangeProblem

DILUTIONS = (1, 2, 5, 10, 20, 50, 100)
"""Dilutions a person can make with a cup and a jug: 1 part in d."""

PASS_FROM, PASS_TO = 0.90, 1.25
"""Band in which a reading passes, as shares of the strength wanted: our own choice, no source."""


def tray_area(count: int, length: float, width: float, wall_height: float) -> float:
    """Wetted inside of flood trays, floor and four walls [m2].

    count [trays] 1 or more; length, width, wall_height [m] above 0. Raises RangeProblem outside these. Source:
    geometry; arithmetic, checked by hand.
    """
    if count < 1 or min(length, width, wall_height) <= 0:
        raise RangeProblem("the trays need a count of at least 1 and sizes above 0")
    return count * (length * width + 2 * (length + width) * wall_height)


def plate_area(count: int, rows: int, columns: int, pitch: float) -> float:
    """Both faces of cup plates [m2]; the holes are not subtracted.

    count [plates], rows, columns [holes] 1 or more; pitch [m] from hole to hole, above 0. Raises RangeProblem outside
    these. Source: geometry.
    """
    if min(count, rows, columns) < 1 or pitch <= 0:
        raise RangeProblem("the plates need a count, rows and columns of at least 1 and a pitch above 0")
    return 2 * count * rows * columns * pitch * pitch


def spray_volume(area: float, coverage: float, waste_factor: float) -> float:
    """Solution to spray an area [L].

    area [m2] 0 or more, not judged; coverage [L/m2] 0.05 to 1; waste_factor [1] 1 to 2. Raises RangeProblem outside
    these. Source: arithmetic, checked by hand; the bounds are our own.
    """
    if not 0.05 <= coverage <= 1:
        raise RangeProblem(f"a coverage of {coverage * 1000:g} mL/m2 is outside 50 to 1000 mL/m2")
    if not 1 <= waste_factor <= 2:
        raise RangeProblem(f"a waste factor of {waste_factor:g} is outside 1 to 2")
    return area * coverage * waste_factor


def soak_loads(bulk: float, packing: float, tub: float) -> int:
    """Tub loads for loose parts [loads], 1 at the least.

    bulk [L] of the parts, not judged; packing [1] share of the tub they fill, 0.3 to 0.9; tub [L] above 0. Raises
    RangeProblem outside these. Source: arithmetic, checked by hand; the bounds are our own.
    """
    if not 0.3 <= packing <= 0.9:
        raise RangeProblem(f"a packing of {packing:g} is outside 0.3 to 0.9")
    if tub <= 0:
        raise RangeProblem("the tub must hold more than 0 L")
    return max(1, math.ceil(bulk / (packing * tub) - 1e-9))


def soak_volume(bulk: float, packing: float, solid: float) -> float:
    """Solution that covers one load [L]: the room the load takes in the tub, less the solid plastic.

    bulk, solid [L] of the load; packing [1] 0.3 to 0.9, not judged. Raises RangeProblem where the solid parts fill
    the tub. Source: arithmetic, checked by hand.
    """
    if solid >= bulk / packing:
        raise RangeProblem("the solid parts fill the tub; measure bulk and solid volume again")
    return bulk / packing - solid


def loop_volume(dead: float, draw: float, margin: float) -> float:
    """Solution for the loop [L] so that a whole flood runs with the pump covered.

    dead, draw [L] 0 or more, not judged; margin [1] 0 to 0.5. Raises RangeProblem for another margin. Source:
    arithmetic, checked by hand.
    """
    if not 0 <= margin <= 0.5:
        raise RangeProblem(f"a margin of {margin:g} is outside 0 to 0.5")
    return (dead + draw) * (1 + margin)


def stock_for_batch(volume: float, target: float, stock: float) -> float:
    """Stock that makes a batch of the target strength [mL].

    volume [L] of the finished batch, above 0; target [g/L] above 0; stock [g/L] on the day of use, not under the
    target. Raises RangeProblem outside these: no dilution makes a stock stronger. Source: mass balance; in the form
    parts of water = stock/wanted - 1 in CDC guidance on chlorine solutions.
    """
    if volume <= 0 or target <= 0:
        raise RangeProblem("a batch needs a volume and a target strength above 0")
    if stock < target:
        raise RangeProblem(f"the stock of {stock:.4g} g/L is weaker than the {target:.4g} g/L wanted")
    return volume * target / stock * 1000


def strength_made(stock_volume: float, stock: float, batch: float) -> float:
    """Strength really made [g/L].

    stock_volume [mL] 0 up to the batch; stock [g/L] 0 or more; batch [L] above 0. Raises RangeProblem for more stock
    than batch. Source: mass balance.
    """
    if batch <= 0 or stock_volume / 1000 > batch * (1 + 1e-9):
        raise RangeProblem("the stock is more than the whole batch")
    return stock_volume / 1000 * stock / batch


@dataclass(frozen=True)
class StripReading:
    """How a batch is read on a strip: 1 part in `dilution`, wanted [mg/L] there, and the pads that pass [mg/L]."""

    dilution: int
    wanted: float
    low_pad: float
    high_pad: float


def strip_reading(target: float, pads: Sequence[float]) -> StripReading:
    """Bring a batch into the range of a strip and say which of its own pads pass.

    target [mg/L] in the substance the strip reads; pads [mg/L] as printed on the strip. The smallest dilution that
    puts the wanted strength at 40 to 80 % of the top pad and leaves a pad inside 90 to 125 % of it; a pad under 90 %
    never passes, so a weak batch does not. Raises RangeProblem where no dilution fits or no pad is above 0. Source:
    our own choice, no source.
    """
    ordered = sorted(pads)
    if not ordered or ordered[-1] <= 0:
        raise RangeProblem("the strip has no pad above 0")
    top = ordered[-1]
    for dilution in DILUTIONS:
        wanted = target / dilution
        passing = [pad for pad in ordered if PASS_FROM * wanted - 1e-9 <= pad <= PASS_TO * wanted + 1e-9]
        if 0.4 * top <= wanted <= 0.8 * top and passing:
            return StripReading(dilution, wanted, passing[0], passing[-1])
    raise RangeProblem(
        f"a strength of {_four(target)} mg/L cannot be read on a strip with the pads {', '.join(f'{p:g}' for p in ordered)}: "
        f"thinned 1 in {', '.join(str(d) for d in DILUTIONS[:-1])} or {DILUTIONS[-1]} it comes near no pad between "
        f"{_four(0.4 * top)} and {_four(0.8 * top)}, the middle of the strip; buy strips with a pad of {_four(target)} and a top "
        f"one of {_four(1.25 * target)} to {_four(2.5 * target)} mg/L"
    )


def _four(value: float) -> str:
    """Four figures, as people write them."""
    return f"{float(f'{value:.4g}'):g}"


def neutralizer_mass(volume: float, strength: float, ratio: float) -> float:
    """Neutralizer that takes what a strip reads out of a used batch [g].

    volume [L] of the batch, above 0; strength [mg/L] as the strip reads it, 0 or more, not judged; ratio [g/g] grams for
    each gram of it, above 0. Raises RangeProblem for no volume or ratio. Source: mass balance; the ratio is published
    (AWWA field guide, table 7-2) or of the molar masses.
    """
    if volume <= 0 or ratio <= 0:
        raise RangeProblem("a batch to neutralize needs a volume and a ratio above 0")
    return volume * strength / 1000 * ratio


def quench_water(volume: float, strength: float, limit: float) -> float:
    """Water that brings a used batch under a limit [L]; none where it is under it already.

    volume [L] of the batch; strength, limit [one unit], the strength really made and a limit above 0. Raises
    RangeProblem for no limit. Source: mass balance; arithmetic, checked by hand.
    """
    if limit <= 0:
        raise RangeProblem("the limit for the drain must be above 0")
    return max(0.0, volume * (strength / limit - 1))

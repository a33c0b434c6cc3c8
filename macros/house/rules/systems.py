"""Rules on tanks, trays, plates and timers: what cannot be built or would spill (E10)."""

from __future__ import annotations

from collections.abc import Iterator

from macros.calculations.water import volumes
from macros.calculations.water.watering import is_light
from macros.ground.problems import Problem, RangeProblem
from macros.ground.units import Quantity
from macros.house.records.house import House
from macros.house.records.systems import SIZES, Reservoir, System
from macros.house.rules.report import limit, problem_at, written

FREEBOARD = 0.030
"""[m] Least distance from the fill mark to the rim: our own choice."""
OVERFLOW_FREEBOARD = 0.015
"""[m] Least wall left above the water while the overflow runs: our own choice."""
SMALLEST, LARGEST = 0.005, 20.0
"""[m] A length of a tank, tray or plate outside these is a slip of the unit."""


def check_systems(house: House) -> Iterator[Problem]:
    """Every rule on every system."""
    for system in house.systems:
        slips = list(_lengths(system))
        yield from slips
        if not slips:
            yield from _reservoir(system.reservoir)
            yield from _trays(system)
            yield from _plates(system)
        yield from _timer(system)
        yield from _references(house, system)
    yield from _rinse_volume(house)


def _lengths(system: System) -> Iterator[Problem]:
    """Sizes a shape needs, none it does not, each between half a centimetre and 20 m."""
    yield from _sizes_of_shape(system.reservoir)
    for record in (system.reservoir, system.trays, *([system.cup_plate] if system.cup_plate else [])):
        for name in type(record).model_fields:
            value = getattr(record, name)
            is_length = getattr(value, "unit", "") in ("m", "cm", "mm", "ft", "in")
            if is_length and not SMALLEST <= value.to("m") <= LARGEST:
                what = f'"{value.written}" cannot be the size of a tank, tray or plate'
                allowed = f"{limit(SMALLEST, 'm', value, up=True)} to {limit(LARGEST, 'm', value, up=False)}"
                yield problem_at(record, name, what, allowed, "Measure again and look at the unit", "E10")
    if system.trays.count < 1:
        yield problem_at(system.trays, "count", "there are 0 trays", "At least 1", "Count them", "E10")


def _sizes_of_shape(tank: Reservoir) -> Iterator[Problem]:
    wanted = SIZES[tank.shape]
    for name in [field for field in type(tank).model_fields if field.startswith("inside_")]:
        given = getattr(tank, name) is not None
        if name in wanted and not given:
            what, allowed = f"a {_shape(tank)} tank needs {name}", f"It needs {', '.join(wanted)}"
            yield problem_at(tank, name, what, allowed, "Measure it inside with a tape", "E10")
        if given and name not in wanted:
            what, allowed = f"a {_shape(tank)} tank has no {name}", f"It has {', '.join(wanted)}"
            yield problem_at(tank, name, what, allowed, "Remove it, or mend the shape", "E10")


def _shape(tank: Reservoir) -> str:
    return tank.shape.replace("_", " ")


def _reservoir(tank: Reservoir) -> Iterator[Problem]:
    top_field = tank.height_field
    top = getattr(tank, top_field)
    fill, refill, low = tank.fill_mark_height, tank.refill_mark_height, tank.pump_minimum_height
    if fill.to("m") > top.to("m") - FREEBOARD + 1e-9:
        least = limit(FREEBOARD, "m", top, up=True)
        what = f"fill_mark_height {fill.written} is under {least} from the rim, or above it"
        allowed = f"{top_field} is {top.written}; the fill mark stays {least} under it"
        remedy = f"Lower the fill mark to {limit(top.to('m') - FREEBOARD, 'm', fill, up=False)}"
        yield problem_at(tank, "fill_mark_height", what, allowed, remedy, "E10")
    if refill.to("m") >= fill.to("m"):
        what = f"refill_mark_height {refill.written} is at or over the fill mark"
        allowed = f"fill_mark_height is {fill.written}"
        yield problem_at(tank, "refill_mark_height", what, allowed, "Lower the refill mark", "E10")
    if low.to("m") >= refill.to("m"):
        what = f"pump_minimum_height {low.written} is at or over refill_mark_height"
        allowed = f"refill_mark_height is {refill.written}; the pump needs water at the lowest day"
        yield problem_at(tank, "pump_minimum_height", what, allowed, "Raise the refill mark", "E10")


def _trays(system: System) -> Iterator[Problem]:
    trays = system.trays
    head = trays.overflow_head_allowed.to("m") if trays.overflow_head_allowed else 0.0
    left = trays.wall_height.to("m") - trays.flood_depth.to("m") - head
    if left >= OVERFLOW_FREEBOARD - 1e-9:
        return
    head_text = f" + overflow_head_allowed {written(trays, 'overflow_head_allowed')}" if head else ""
    depth, wall = trays.flood_depth, trays.wall_height
    least = limit(OVERFLOW_FREEBOARD, "m", wall, up=True)
    what = f"flood_depth {depth.written}{head_text} leave less than {least} under wall_height {wall.written}"
    shallower = wall.to("m") - head - OVERFLOW_FREEBOARD
    higher = limit(depth.to("m") + head + OVERFLOW_FREEBOARD, "m", wall, up=True)
    remedy = f"Fit a wall of {higher}"
    if shallower > SMALLEST:
        remedy = f"Flood {limit(shallower, 'm', depth, up=False)} deep, or fit a wall of {higher}"
    yield problem_at(trays, "wall_height", what, f"{least} at least stay dry", remedy, "E10")


def _plates(system: System) -> Iterator[Problem]:
    plate, trays = system.cup_plate, system.trays
    if plate is None or trays.cup_plates_per_flood_tray in (None, 0):
        return
    count = trays.cup_plates_per_flood_tray
    length = plate.columns * plate.hole_pitch.to("m")
    if count * length > trays.inside_length.to("m") + 1e-9:
        what = f"{count} cup plates of {limit(length, 'm', trays.inside_length, up=True)} do not fit in {trays.inside_length.written}"
        allowed = "Plates stand side by side along the tray"
        remedy = "Count plates, columns and pitch again"
        yield problem_at(trays, "cup_plates_per_flood_tray", what, allowed, remedy, "E10")
    if plate.rows * plate.hole_pitch.to("m") > trays.inside_width.to("m") + 1e-9:
        what = (
            f"{plate.rows} rows of holes at {plate.hole_pitch.written} do not fit in the width "
            f"{trays.inside_width.written}"
        )
        yield problem_at(plate, "rows", what, "", "Count rows and pitch again", "E10")


def _timer(system: System) -> Iterator[Problem]:
    timer = system.timer
    if timer is None:
        return
    if not timer.floods_set:
        yield problem_at(
            timer, "floods_set", "no flood is set", "At least one a day", "Write the times", "E14"
        )
    if timer.on_time_set.to("min") < timer.smallest_step.to("min"):
        what = f"on_time_set {timer.on_time_set.written} is under the timer's smallest step"
        allowed = f"smallest_step is {timer.smallest_step.written}"
        yield problem_at(timer, "on_time_set", what, allowed, "Set a longer time or fit a finer timer", "E14")
    yield from _dark_floods(system)
    if system.lights is not None and system.lights.on == system.lights.off:
        yield problem_at(
            system.lights, "on", f"on and off are both {system.lights.on:%H:%M}", "", "Mend one", "E14"
        )


def _dark_floods(system: System) -> Iterator[Problem]:
    """Floods in the dark are refused unless they are asked for."""
    timer, lights = system.timer, system.lights
    if timer is None or lights is None or timer.floods_in_dark or lights.on == lights.off:
        return
    on, off = lights.on.hour * 60 + lights.on.minute, lights.off.hour * 60 + lights.off.minute
    for flood in timer.floods_set:
        if not is_light(flood.hour * 60 + flood.minute, on, off):
            what = f"flood at {flood:%H:%M} lies in the dark (lights {lights.on:%H:%M}-{lights.off:%H:%M})"
            remedy = "Say floods_in_dark: yes if it is meant"
            yield problem_at(timer, "floods_set", what, "Floods run with the lights on", remedy, "E14")


def _references(house: House, system: System) -> Iterator[Problem]:
    feed = house.nutrients
    if system.fill_stage in feed.stages:
        return
    if not feed.stages and any(path[:-1] == (*feed.path, "stages") for path in feed.read_from.places):
        return  # a stage that could not be read is told where it stands
    there = ", ".join(feed.stages) or "none: nutrients.stages is empty"
    what = f"{system.fill_stage} is no stage of the feed"
    yield problem_at(system, "fill_stage", what, f"There are {there}", "Name one of them")


def _rinse_volume(house: House) -> Iterator[Problem]:
    """A rinse stands under the fill mark; where it is too little to flood the trays, the amount is raised."""
    rinse = house.sanitizing.rinse if house.sanitizing else None
    if rinse is None or rinse.reservoir_rinse_volume is None:
        return
    for system in house.systems:
        full = _volume_to(system.reservoir, system.reservoir.fill_mark_height)
        if full is not None and rinse.reservoir_rinse_volume.to("L") > full * (1 + 1e-9):
            what = (
                f"reservoir_rinse_volume {rinse.reservoir_rinse_volume.written} stands over the fill mark of system "
                f"{system.id}"
            )
            remedy = "Rinse with less water at a time"
            most = limit(full, "L", rinse.reservoir_rinse_volume, up=False)
            yield problem_at(rinse, "reservoir_rinse_volume", what, f"{most} reach it", remedy, "E10")


def _volume_to(tank: Reservoir, mark: Quantity) -> float | None:
    """Water in the tank up to a mark [L]; None where its sizes do not carry it, which is told elsewhere."""
    sizes = [getattr(tank, name) for name in SIZES[tank.shape]]
    if any(size is None for size in sizes):
        return None
    try:
        shape = volumes.solid(tank.shape, [size.to("m") for size in sizes])
        return volumes.volume_to_height(shape, mark.to("m"))
    except RangeProblem:
        return None

"""Rules on what a variety is given of its own: bands, store, spacing, stems, days; and on varieties of one tank."""

from __future__ import annotations

from collections.abc import Iterator

from macros.ground.problems import Problem
from macros.ground.units import Quantity
from macros.house.records.crops import Variety
from macros.house.records.house import House
from macros.house.records.systems import System
from macros.house.rules.report import limit, problem_at, written
from macros.published.amounts.growing import Growing, growing_of

LEAF_TO_LAMP = 100.0
"""[mm] Least between a leaf and its lamp: our own limit, no source."""
_UNITS = {"ec": "mS/cm", "ph": "", "spacing": "mm", "height": "mm", "stems": ""}
_FIELDS = {
    "ec_low": "ec",
    "ec_high": "ec",
    "ph_low": "ph",
    "ph_high": "ph",
    "grown_height": "height",
    "thin_to": "stems",
}
"""Facts of a variety and the published range each is held against."""


def check_varieties(house: House) -> Iterator[Problem]:
    """Every rule on varieties of their own and side by side."""
    for variety in house.varieties:
        yield from _bands(variety)
        yield from _stems(variety)
        yield from _under_the_dome(variety)
        published = growing_of(variety.botanical)
        if published is not None:
            yield from _unlikely(variety, published)
            yield from _chilled(house, variety, published)
    for system in house.systems:
        yield from _one_tank(house, system)
        yield from _under_the_lamp(house, system)


def own_band(variety: Variety, name: str) -> tuple[float, float] | None:
    """The band a variety is given, `ec` [mS/cm] or `ph`; None without both ends."""
    ends = [_plain(getattr(variety, f"{name}_{end}"), _UNITS[name]) for end in ("low", "high")]
    return (ends[0], ends[1]) if ends[0] is not None and ends[1] is not None else None


def planted_in(house: House, system: str) -> list[Variety]:
    """The varieties planned on a system; without a plan all that are grown there."""
    blocks = house.crop_plan.blocks if house.crop_plan is not None else ()
    planned = {block.variety for block in blocks}
    return [one for one in house.varieties if one.system == system and (not planned or one.id in planned)]


def _plain(value: Quantity | float | None, unit: str) -> float | None:
    return value.to(unit) if isinstance(value, Quantity) else value


def _bands(variety: Variety) -> Iterator[Problem]:
    for name in ("ec", "ph"):
        low, high = getattr(variety, f"{name}_low"), getattr(variety, f"{name}_high")
        if (low is None) != (high is None):
            there, missing = (
                (f"{name}_low", f"{name}_high") if high is None else (f"{name}_high", f"{name}_low")
            )
            what = f"{there} of {variety.spoken} stands without {missing}"
            yield problem_at(
                variety, there, what, "A band has two ends", f"Write {missing}, or leave out both"
            )
        band = own_band(variety, name)
        if band is not None and band[0] >= band[1]:
            what = f"{name}_low {written(variety, f'{name}_low')} is not under {name}_high {written(variety, f'{name}_high')}"
            yield problem_at(variety, f"{name}_low", what, "low < high", "Mend the band")


def _stems(variety: Variety) -> Iterator[Problem]:
    if variety.thin_to is not None and variety.thin_to > variety.seeds_per_plug:
        what = f"{variety.thin_to} stems are to stay of {variety.seeds_per_plug} seeds a plug"
        yield problem_at(
            variety, "thin_to", what, "As many stems as seeds at most", "Sow more, or thin to fewer"
        )


def _under_the_dome(variety: Variety) -> Iterator[Problem]:
    up, dome = variety.germination_days, variety.dome_days
    if up is not None and dome is not None and dome < up:
        what = f"the dome comes off {variety.spoken} after {dome} days, and it is up after {up}"
        allowed = "Seed that dries before it is up is lost"
        yield problem_at(variety, "dome_days", what, allowed, f"Leave it on {up} days or more", "", "warning")


def _unlikely(variety: Variety, published: Growing) -> Iterator[Problem]:
    """A figure outside what is published of the species; of spacing only the lower end, for a house may give more room."""
    for field, name in _FIELDS.items():
        value, (low, high) = _plain(getattr(variety, field), _UNITS[name]), getattr(published, name)
        if value is not None and not low <= value <= high:
            what = f"{field} {written(variety, field)} is unusual for {variety.botanical}"
            like = getattr(variety, field)
            ends = f"{low:g} to {high:g} {_UNITS[name]}".strip()
            if isinstance(like, Quantity) and like.unit != _UNITS[name]:
                ends = f"{limit(low, _UNITS[name], like, True)} to {limit(high, _UNITS[name], like, False)}"
            allowed = f"{ends} ({published.source})"
            yield problem_at(
                variety, field, what, allowed, "Look at it again, or keep it by your log", "", "warning"
            )
    least = published.spacing[0]
    if variety.spacing.to("mm") < least:
        what = f"{variety.spoken} stand {variety.spacing.written} apart"
        allowed = f"{limit(least, 'mm', variety.spacing, True)} at least ({published.source}). Closer plants stay damp and shade each other"
        remedy = "Give more room, or harvest them young"
        yield problem_at(variety, "spacing", what, allowed, remedy, "", "warning")


def _chilled(house: House, variety: Variety, published: Growing) -> Iterator[Problem]:
    """A cut plant kept colder than it bears, by its own fact or, without one, in the cold store."""
    policies, least = house.policies, published.chills_below
    kept = variety.storage_temperature or (policies.cold_store if policies is not None else None)
    if least is None or kept is None or kept.to("degC") >= least:
        return
    what = f"{variety.spoken} is kept at {kept.written}"
    allowed = f"{variety.botanical} is harmed under {limit(least, 'degC', kept, True)} ({published.source})"
    remedy = "Give it a place of its own and write it as its storage_temperature"
    yield problem_at(
        variety,
        "storage_temperature" if variety.storage_temperature else "id",
        what,
        allowed,
        remedy,
        "",
        "warning",
    )


def _one_tank(house: House, system: System) -> Iterator[Problem]:
    """Varieties of one tank that bear no common EC or pH, or none that its feed stage aims at."""
    stage = house.nutrients.stages.get(system.fill_stage)
    for name, called in (("ec", "EC"), ("ph", "pH")):
        own = [
            (one, band) for one in planted_in(house, system.id) if (band := own_band(one, name)) is not None
        ]
        if not own:
            continue
        most_low, low = max(own, key=lambda pair: pair[1][0])
        least_high, high = min(own, key=lambda pair: pair[1][1])
        unit = f" {_UNITS[name]}".rstrip()
        if low[0] > high[1]:
            what = (
                f"{most_low.spoken} wants {called} {low[0]:g} to {low[1]:g}{unit}, {least_high.spoken} {high[0]:g} to "
                f"{high[1]:g}{unit}, and both stand on tank {system.id}"
            )
            allowed = "Plants of one tank share one solution"
            yield problem_at(
                most_low, f"{name}_low", what, allowed, "Plant one of them on another tank", "", "warning"
            )
            continue
        target = _plain(getattr(stage, f"{name}_target"), _UNITS[name]) if stage is not None else None
        if stage is not None and target is not None and not low[0] <= target <= high[1]:
            what = f"tank {system.id} aims at {called} {target:g}{unit}"
            allowed = f"Its plants share {low[0]:g} to {high[1]:g}{unit}"
            yield problem_at(stage, f"{name}_target", what, allowed, "Aim inside it", "", "warning")


def _grown(variety: Variety) -> float | None:
    """[mm] Its height full-grown; where the house does not say the least that is published."""
    if variety.grown_height is not None:
        return float(variety.grown_height.to("mm"))
    published = growing_of(variety.botanical)
    return float(published.height[0]) if published is not None else None


def _under_the_lamp(house: House, system: System) -> Iterator[Problem]:
    """Plants that grow into the lamps over them."""
    lights = system.lights
    if lights is None or lights.hung_above_tray is None:
        return
    room = lights.hung_above_tray.to("mm") - LEAF_TO_LAMP
    heights = [
        (one.spoken, grown) for one in planted_in(house, system.id) if (grown := _grown(one)) is not None
    ]
    tall = [f"{name} {grown:g} mm" for name, grown in heights if grown > room]
    if tall:
        what = f"the lamps of system {system.id} hang {lights.hung_above_tray.written} over the tray; {', '.join(tall)} high"
        allowed = f"Between leaf and lamp {LEAF_TO_LAMP:g} mm stay free (our own limit)"
        remedy = "Hang the lamps higher, plant a lower kind, or keep it cut back"
        yield problem_at(lights, "hung_above_tray", what, allowed, remedy, "", "warning")

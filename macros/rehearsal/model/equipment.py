"""What one system of the house is made of, in plain numbers: the fixed part of the model of the room."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from macros.amounts import Register
from macros.amounts.engine.working import Working
from macros.amounts.sanitizer.sanitizing import volume_id
from macros.amounts.water import left_behind
from macros.calculations.sanitizer import batches
from macros.calculations.water import volumes
from macros.ground.units import convert
from macros.house.records.systems import SIZES, System
from macros.published.safety.sanitizers import kind_of

PASSES = 2
"""Every face is wetted, and wetted again at half time."""


@dataclass(frozen=True)
class BatchFacts:
    """One sanitizing task: substance, litres of the batch, [mg/L] made (chlorine as active chlorine), [min] it must stay wet and may live, whether
    the house has a strip that proves it, and the litres that wetting every face once takes of a spray batch;
    `thinned_for_strip` where the strip is read in a measured dilution of it; `quench` litres go down the drain with it."""

    substance: str
    litres: float
    strength: float
    wet: float
    life: float
    provable: bool = False
    one_wetting: float = 0.0
    thinned_for_strip: bool = False
    quench: float = 0.0


@dataclass(frozen=True)
class Equipment:
    """One system: water in litres, times in minutes. None is not known and not judged.

    `levels` are the litres of the tank at each mark, `draw` what a flood takes, `held` what stays wet in trays and
    tubes once they have drained, `heel` what stays in the drained tank, `residue` [mg/L] what the last rinse may show.
    """

    name: str
    shape: volumes.Shape
    brim: float
    dead: float
    levels: Mapping[str, float]
    trays: int
    draw: float
    held: float
    heel: float
    has_air: bool
    has_timer: bool
    has_lamps: bool
    has_plates: bool
    longest_flood: float | None
    stands_dry: float | None
    batches: Mapping[str, BatchFacts]
    residue: float | None
    tray_rinses: int | None
    scale_step: float

    def lacks(self, word: str) -> bool:
        """Whether the system has no such thing, so that nothing can be said of it."""
        has = {
            "air": self.has_air,
            "stones": self.has_air,
            "lamps": self.has_lamps,
            "timer": self.has_timer,
            "plates": self.has_plates,
        }
        return not has.get(word, True)

    def level(self, litres: float) -> float:
        """Height of the water [m] with so many litres [L] in the tank."""
        return _height(self.shape, min(max(litres, 0.0), self.brim))


@lru_cache(maxsize=4096)
def _height(shape: volumes.Shape, litres: float) -> float:
    """Found by halving for most shapes, and the same few volumes are asked for in every run."""
    return volumes.height_for_volume(shape, litres)


_AT_MARKS = {"fill_mark": "res_fill", "refill_mark": "res_refill", "first_mark": "fill_first", "rinse_line": "rinse_volume",
             "loop_line": "loop_volume"}  # fmt: skip


def equipment(register: Register, system_id: str) -> Equipment | None:
    """The system as the house gives it; None where tank, trays or tubes are not known well enough to run a page."""
    system = register.house.system(system_id)
    draws = register.of_id(f"draw_{system.plumbing.flood_order}", system=system_id) if system.plumbing else []
    needed = [
        register.of_id(one, system=system_id) for one in ("res_gross", "res_dead", "res_fill", "res_refill")
    ]
    if not draws or not all(needed):
        return None
    heel, held = _left_wet(register, system)
    longest = system.timer.longest_flood_allowed if system.timer else None
    return Equipment(
        name=system_id,
        shape=_shape(system),
        brim=float(needed[0][0].exact),
        dead=float(needed[1][0].exact),
        levels={**_levels(register, system_id), "heel": heel, "empty": 0.0},
        trays=system.trays.count,
        draw=float(draws[0].exact),
        held=held,
        heel=heel,
        has_air=system.reservoir.air_stones is not None,
        has_timer=system.timer is not None,
        has_lamps=system.lights is not None,
        has_plates=system.cup_plate is not None,
        longest_flood=longest.to("min") if longest else None,
        stands_dry=_stands_dry(register, system),
        batches=_batches(register, system_id),
        residue=_residue(register),
        tray_rinses=_count(register, "rinse_count_trays", system_id),
        scale_step=_scale_step(register),
    )


def _shape(system: System) -> volumes.Shape:
    sizes = [getattr(system.reservoir, name).to("m") for name in SIZES[system.reservoir.shape]]
    return volumes.solid(system.reservoir.shape, sizes)


def _levels(register: Register, system: str) -> dict[str, float]:
    """The marks the house works out [L]."""
    found = {word: _litres(register, id_, system) for word, id_ in _AT_MARKS.items()}
    found["first_line"] = _litres(register, "water_for_batch", system, "loop_circulate")
    return {word: litres for word, litres in found.items() if litres is not None}


def _residue(register: Register) -> float | None:
    """What the last rinse may show [mg/L]; where the house gives no limit the strictest of its sanitizers, as its rinses are counted."""
    sanitizing = register.house.sanitizing
    if sanitizing is None or not sanitizing.tasks:
        return None
    if sanitizing.rinse and sanitizing.rinse.residue_allowed:
        return float(sanitizing.rinse.residue_allowed.to("mg/L"))
    actives = (register.house.chemical(task.chemical).active for task in sanitizing.tasks.values())
    return min((kind.residue.assumed for active in actives if (kind := kind_of(active))), default=None)


def _count(register: Register, id_: str, system: str) -> int | None:
    found = register.of_id(id_, system=system)
    return int(found[0].exact) if found else None


def _litres(register: Register, id_: str, system: str, task: str = "") -> float | None:
    """An amount of water as it is printed [L]."""
    keys = {"system": system, **({"task": task} if task else {})}
    found = register.of_id(id_, **keys)
    return convert(found[0].rounded, found[0].unit, "L") if found else None


def _stands_dry(register: Register, system: System) -> float | None:
    """How long the thirstiest full-grown plant of the system stands without a flood [min]."""
    own = [one.id for one in register.house.varieties if one.system == system.id]
    hours = [
        float(a.exact) for name in own for a in register.of_id("dry_hours", variety=name, growth_stage="full")
    ]
    return min(hours) * 60 if hours else None


def _batches(register: Register, system: str) -> dict[str, BatchFacts]:
    """The batches of the system that the register works out."""
    sanitizing, found = register.house.sanitizing, {}
    for name, task in sanitizing.tasks.items() if sanitizing else ():
        keys = {"system": system, "task": name}
        litres = _litres(register, volume_id(task), system, name)
        made, life = register.of_id("strength_made", **keys), register.of_id("batch_life_end", **keys)
        if litres is not None and made and life:
            wet = task.wet_time or task.run_time
            active = register.house.chemical(task.chemical).active
            kind, milligrams = kind_of(active), float(made[0].exact) * 10_000
            found[name] = BatchFacts(
                active.lower(),
                litres,
                kind.read_on_strip(milligrams, active) if kind else milligrams,
                wet.to("min") if wet else 0.0,
                float(life[0].exact),
                bool(register.of_id("strip_band", **keys)),
                litres / PASSES,
                bool(register.of_id("strip_sample", **keys)),
                _litres(register, "quench_water", system, name) or 0.0,
            )
    return found


def _scale_step(register: Register) -> float:
    """Half of what the tank scale tells apart [m]."""
    marks = [tool.mark.to("cm") for tool in register.house.measuring_tools if "level" in tool.for_]
    return min(marks, default=1.0) / 100


def _left_wet(register: Register, system: System) -> tuple[float, float]:
    """The heel of the drained tank, and what stays in the tubes and on all drained trays [L]; as the rinses count them."""
    w = Working(register, "rinse_count", "", "", system=system.id)
    area = batches.tray_area(
        system.trays.count,
        *(getattr(system.trays, name).to("m") for name in ("inside_length", "inside_width", "wall_height")),
    )
    on_trays = system.trays.count * left_behind.in_one_tray(w, system) + area * left_behind.film(w, system)
    tubes = system.plumbing.supply_tube_volume.to("L") if system.plumbing else 0.0
    return left_behind.heel(w, system), tubes + on_trays

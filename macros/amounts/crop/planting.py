"""Planting sites over the whole tray grid, and the map of each tray (E16-E18)."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import combinations

from macros.amounts.engine.amount import Rounding
from macros.amounts.engine.number_format import brief
from macros.amounts.engine.register import Register
from macros.amounts.engine.working import Working
from macros.calculations.crop import spacing
from macros.ground.problems import Problem, RangeProblem
from macros.house.records.crops import Block, CropPlan, EdibleList, Variety
from macros.house.records.house import House
from macros.house.records.systems import System
from macros.house.rules.report import problem_at

TOPIC = "Planting"


@dataclass(frozen=True)
class Plate:
    """One cup plate by its name: system, shelf from below, place on the shelf (L is 0)."""

    name: str
    system: str
    shelf: str
    place: int

    @property
    def tray(self) -> str:
        """`A-2`: the tray it lies on."""
        return f"{self.system}-{self.shelf}"


def plate_of(name: str) -> Plate | None:
    """`A-2-L` as a plate; None for a name of another form."""
    pieces = name.split("-")
    if len(pieces) == 2:
        return Plate(name, pieces[0], pieces[1], 0)
    if len(pieces) == 3 and pieces[2] in ("L", "R"):
        return Plate(name, pieces[0], pieces[1], "LR".index(pieces[2]))
    return None


def fill(register: Register) -> None:
    """Enter sites and maps; refuse what may not be planted so."""
    plan = register.house.crop_plan
    if plan is None:
        return
    register.problems += [*_edible(register.house), *_look_alikes(register.house)]
    for variety in register.house.varieties:
        system = next((s for s in register.house.systems if s.id == variety.system), None)
        if system is None or system.cup_plate is None:
            continue
        with register.attempt("sites_per_flood_tray", variety, "spacing", variety=variety.id):
            _sites(register, variety, system)
    for system in register.house.systems:
        if system.cup_plate is not None:
            for tray in sorted({p.tray for p in _plates(plan.blocks) if p.system == system.id}):
                with register.attempt("planting_map", plan, "blocks", system=system.id, tray=tray):
                    _map(register, system, tray)


def _plates(blocks: tuple[Block, ...]) -> list[Plate]:
    return [plate for block in blocks for name in block.cup_plates if (plate := plate_of(name)) is not None]


def _grid(w: Working, system: System) -> tuple[int, int, int, float]:
    """Rows, columns of one plate, plates on a tray, pitch [mm]."""
    plate = system.cup_plate
    assert plate is not None
    rows, columns = int(w.fact(plate, "rows")), int(w.fact(plate, "columns"))
    plates = (
        int(w.fact(system.trays, "cup_plates_per_flood_tray"))
        if system.trays.cup_plates_per_flood_tray
        else 1
    )
    return rows, columns, plates, w.fact(plate, "hole_pitch", "mm")


def _sites(register: Register, variety: Variety, system: System) -> None:
    w = Working(
        register,
        "sites_per_flood_tray",
        f"Plants on one tray, {variety.spoken}",
        TOPIC,
        variety=variety.id,
    )
    rows, columns, plates, pitch = _grid(w, system)
    apart = w.fact(variety, "spacing", "mm")
    pattern = spacing.best_pattern(rows, columns * plates, pitch, apart)
    found = spacing.sites(rows, columns * plates, pitch, apart)
    in_rows = Counter(row for row, _ in found).values()
    w.add_line(
        f"{rows} x {columns * plates} holes at {brief(pitch)} mm, plants {brief(apart)} mm apart: {pattern.name}, "
        f"{brief(pattern.distance * pitch, 4)} mm; row by row {' + '.join(map(str, in_rows))} = {len(found)} sites"
    )
    w.enter(
        "count",
        len(found),
        "plants",
        figures=(str(len(found)),),
        rounding=Rounding("down", 1, "the pattern runs over the whole tray, seam counted"),
    )


def _on_tray(
    plan: CropPlan, varieties: Mapping[str, Variety], tray: str
) -> Iterator[tuple[Block, list[Plate]]]:
    """The blocks of a tray, each with its plates there."""
    for block in plan.blocks:
        own = [plate for plate in _plates((block,)) if plate.tray == tray]
        if own and block.variety in varieties:
            yield block, own


def _map(register: Register, system: System, tray: str) -> None:
    """Which hole holds which variety; the rest are covered."""
    w = Working(register, "planting_map", f"Planting map, tray {tray}", TOPIC, system=system.id, tray=tray)
    plan = register.house.crop_plan
    assert plan is not None
    grid = rows, columns, plates, pitch = _grid(w, system)
    varieties = {variety.id: variety for variety in register.house.varieties}
    holes: dict[spacing.PlantingHole, str] = {}
    stands: Counter[str] = Counter()
    later: dict[str, str] = {}
    for block, own in _on_tray(plan, varieties, tray):
        shared = _shared_out(w, block, varieties[block.variety], _plates((block,)), grid)
        here = [hole for plate in own for hole in shared[plate.name]]
        holes |= dict.fromkeys(here, block.variety)
        name = varieties[block.variety].spoken
        if plan.later_day(block, system.id) is not None:
            day = w.day(block, "planting_day").isoformat()
            later |= {plate.name: day for plate in own}
            name = f"{name} planted {day}"
        stands[name] += len(here)
    w.add_line("; ".join(f"{count} {name}" for name, count in stands.items()))
    w.add_line(f"{rows * columns * plates - len(holes)} holes covered")
    value = {
        "rows": rows,
        "columns": columns * plates,
        "pitch_mm": pitch,
        "plates": plates,
        "holes": [[row, column, name] for (row, column), name in sorted(holes.items())],
        **({"later": later} if later else {}),
    }
    days = "".join(f", {name} planted {day}" for name, day in later.items())
    printed = f"map of {len(holes)} plants{days}"
    w.enter("map", value, "", printed=printed, rounding=Rounding("none", None, "as the plan says"))


def _shared_out(
    w: Working, block: Block, variety: Variety, own: list[Plate], grid: tuple[int, int, int, float]
) -> dict[str, list[spacing.PlantingHole]]:
    """The holes of each plate of a block that get a plant; E18 where there are too few."""
    rows, columns, plates, pitch = grid
    apart, total = w.fact(variety, "spacing", "mm"), int(w.fact(block, "plants"))
    free = {plate.name: _sites_on(plate, rows, columns, plates, pitch, apart) for plate in own}
    room = sum(len(found) for found in free.values())
    if total > room:
        w.register.problems.append(_too_many(block, variety, own, room, rows, columns))
    share = _shared(total, {name: len(found) for name, found in free.items()})
    return {name: found[: share[name]] for name, found in free.items()}


def _sites_on(
    plate: Plate, rows: int, columns: int, plates: int, pitch: float, apart: float
) -> list[spacing.PlantingHole]:
    first, last = plate.place * columns, (plate.place + 1) * columns
    return [site for site in spacing.sites(rows, columns * plates, pitch, apart) if first <= site[1] < last]


def _shared(total: int, room: dict[str, int]) -> dict[str, int]:
    """Plants over the plates of a block, evenly, the first plates filled up where one has less room."""
    left, share = total, dict.fromkeys(room, 0)
    names = list(room)
    for number, name in enumerate(names):
        share[name] = min(room[name], -(-left // (len(names) - number)))
        left -= share[name]
    for name in names:
        more = min(left, room[name] - share[name])
        share[name] += more
        left -= more
    return share


def _too_many(
    block: Block, variety: Variety, own: list[Plate], room: int, rows: int, columns: int
) -> Problem:
    names = ", ".join(p.name for p in own)
    size = (
        f"the {rows} x {columns} half takes"
        if len(own) == 1
        else f"the {len(own)} halves of {rows} x {columns} take"
    )
    what = f"{names}: {block.plants} {block.variety} at {variety.spacing.written}"
    return problem_at(
        block, "plants", what, f"{size} {room}", "Plant fewer, or give them another half", "E18"
    )


def _checked(listed: EdibleList | None) -> str:
    return f" checked by {listed.checked_by} on {listed.checked_on}" if listed else ""


def _edible(house: House) -> Iterator[Problem]:
    """E16: only a listed botanical name and part is planned, and no treated seed."""
    plan, listed = house.crop_plan, house.edible_list
    if plan is None:
        return
    varieties = {variety.id: variety for variety in house.varieties}
    for block in plan.blocks:
        variety = varieties.get(block.variety)
        if variety is None:
            continue
        entry = next(
            (e for e in (listed.entries if listed else ()) if e.botanical == variety.botanical), None
        )
        if entry is None:
            what = f"{variety.id} is planned as {variety.botanical}, part {variety.part}"
            allowed = f"{variety.botanical} has no entry in the edible_list{_checked(listed)}"
            remedy = "Nothing was printed. Check the species and list it, or plan another"
            yield problem_at(block, "variety", what, allowed, remedy, "E16")
        elif variety.part not in entry.parts:
            what = f"{variety.id} is planned as {variety.botanical}, part {variety.part}"
            allowed = f"the edible_list{_checked(listed)} allows: {', '.join(entry.parts)}"
            remedy = "Nothing was printed. Plan a part that is listed"
            yield problem_at(variety, "part", what, allowed, remedy, "E16")
        if variety.seed_treatment == "treated":
            what = f"seed of {variety.id}: seed_treatment treated"
            allowed = "Treated seed is not sown for eating"
            yield problem_at(variety, "seed_treatment", what, allowed, "Buy untreated seed", "E16")


def _look_alikes(house: House) -> list[Problem]:
    """E17: young plants of one look never stand on one shelf."""
    plan = house.crop_plan
    if plan is None:
        return []
    varieties = {variety.id: variety for variety in house.varieties}
    placed = [(plate.tray, block) for block in plan.blocks for plate in _plates((block,))]
    found: dict[tuple[str, str, str], Problem] = {}
    for (tray, first), (other_tray, second) in combinations(placed, 2):
        one, two = varieties.get(first.variety), varieties.get(second.variety)
        if tray != other_tray or one is None or two is None or one.id == two.id or not one.looks_like(two):
            continue
        what = f"{one.id} and {two.id} share look_alike_group {one.look_alike_group} and both stand on shelf {tray}"
        allowed = "Look-alikes stand on different shelves"
        problem = problem_at(second, "cup_plates", what, allowed, "Move one of them", "E17")
        found.setdefault((tray, min(one.id, two.id), max(one.id, two.id)), problem)
    return list(found.values())


__all__ = ["Plate", "RangeProblem", "fill", "plate_of"]

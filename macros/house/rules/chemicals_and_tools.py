"""Rules on stocks, strengths and tools: E04-E05, E23, E29 and what no label would say."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, product

from macros.calculations.sanitizer.strength import peroxide_density
from macros.ground.problems import Problem
from macros.house.records.chemicals import Chemical
from macros.house.records.house import House
from macros.house.records.sanitizing import SanitizingTask
from macros.house.records.tools import MeasuringTool, Meter
from macros.house.rules.report import problem_at
from macros.published.safety.pairs import pairs_among
from macros.published.safety.protection import equipment, ppe_id
from macros.published.safety.substances import Handling, handling_of, substances, substances_in

LEAST_STOCK = 0.5
"""[%] Stocks sold to be thinned are stronger: our own choice, from memory of labels."""
DENSITY_TOLERANCE = 0.01
"""A label density of peroxide further than this from the published curve is a slip of label or copy."""
SOLUTION_W_V = 90.0
"""[% w/v] No solution of a solid listed holds more: the strongest, lye of 55 % w/w, holds 86 (from memory)."""
_NEVER_IN_ONE_TOOL = (
    *product(("sanitizer", "nutrients"), ("acids", "bases", "acids_bases")),
    ("sanitizer", "nutrients"),
    ("sanitizer", "water"),
    ("acids", "bases"),
)


def check_stocks(house: House) -> Iterator[Problem]:
    """Every rule on chemicals, measuring tools and the sanitizer's label."""
    for chemical in house.chemicals:
        yield from _strength(chemical)
        yield from _density(chemical)
        yield from _powder(chemical)
        yield from _dates(chemical)
        yield from _ppe(chemical)
    for tool in house.measuring_tools:
        yield from _tool(tool)
    for meter in house.meters:
        yield from _pen(meter)
    for task in house.sanitizing.tasks.values() if house.sanitizing else ():
        yield from _target(task)
    yield from _acid_and_base(house)
    yield from _level_tool(house)
    yield from _label(house)
    yield from _never_together(house)


def _level_tool(house: House) -> Iterator[Problem]:
    """Told once here, not at every step that fills a tank."""
    if "measuring_tools" in house.read_from.left_out:
        return  # it may be the one with the mistake
    if house.systems and not any("level" in tool.for_ for tool in house.measuring_tools):
        what = "no tool of the house reads the level of a tank, and pages fill each tank to a line"
        allowed = "A stick or a scale in the tank, with for: [level], its capacity and mark in cm or in"
        yield problem_at(house, "measuring_tools", what, allowed, "Add it there", "E24")


def _target(task: SanitizingTask) -> Iterator[Problem]:
    target, ceiling = task.target, task.ceiling
    if target.basis == ceiling.basis and target.percent > ceiling.percent:
        what = f"the target {target.written} is over the ceiling {ceiling.written}"
        remedy = "Copy both from the label; look at the decimal points"
        yield problem_at(task, "target", what, "A target is at most the ceiling", remedy, "E08")


def _strength(chemical: Chemical) -> Iterator[Problem]:
    """A share typed for a percentage: a label's 8.25 % as 0.0825 %."""
    strength = chemical.strength
    if chemical.role in ("sanitizer", "acid", "base") and strength.percent < LEAST_STOCK:
        what = f'"{strength.written}" is no strength of a stock that is thinned'
        remedy = f"Copy it from the label: 8.25 % is written 8.25 % {strength.basis}, not 0.0825 %"
        yield problem_at(chemical, "strength", what, f"{LEAST_STOCK:g} to 100 %", remedy, "E33")


def _density(chemical: Chemical) -> Iterator[Problem]:
    strength = chemical.strength
    if strength.basis == "v/v":
        what = f'"{strength.written}" is in v/v, which needs the density of the pure liquid'
        remedy = "Take w/w or w/v from the safety data sheet"
        yield problem_at(chemical, "strength", what, "w/w with density, or w/v", remedy, "E05")
        return
    if chemical.density is None:
        if strength.basis == "w/v" or (_peroxide_alone(chemical) and strength.percent <= 50):
            return  # the published curve gives the density of peroxide
        what = f'"{strength.written}" is w/w and needs density (g/mL)'
        allowed = "From the label or the safety data sheet"
        yield problem_at(chemical, "density", what, allowed, 'Write it, as density: "1.04 g/mL"', "E05")
        return
    density = chemical.density.to("g/mL")
    if not 0.8 <= density <= 1.9:
        what = f'"{chemical.density.written}" is no density of such a stock'
        yield problem_at(chemical, "density", what, "0.8 to 1.9 g/mL", "Look at the label again", "E05")
        return
    if _peroxide_alone(chemical) and strength.basis == "w/w" and strength.percent <= 50:
        published = peroxide_density(strength.percent)
        if abs(density / published - 1) > DENSITY_TOLERANCE:
            what = f'"{chemical.density.written}" does not go with {strength.written}'
            allowed = (
                f"The published density of peroxide of that strength is {published:.3f} g/mL at 20 degC (68 degF); a label "
                "within 1 % of it is taken"
            )
            remedy = "One of the two is copied wrong: read the label again"
            yield problem_at(chemical, "density", what, allowed, remedy, "E05")
            return


def _peroxide_alone(chemical: Chemical) -> bool:
    """Whether the published curve of peroxide in water is that of the stock."""
    return substances_in(chemical.active) == ("hydrogen_peroxide",)


def _pen(meter: Meter) -> Iterator[Problem]:
    """What an EC pen shows must be known: two scales of ppm are sold, and a cold pen without compensation reads low."""
    if meter.measures != "ec":
        return
    in_ppm = "ppm" in meter.resolution
    if in_ppm and meter.scale is None:
        what = f"{meter.name} shows ppm, and its scale is not told"
        allowed = "500 or 700 ppm for 1 mS/cm: water of 1.35 mS/cm reads 675 or 945"
        yield problem_at(
            meter, "scale", what, allowed, "Look at its sheet and write scale: 500 or scale: 700"
        )
    elif meter.scale is not None and not in_ppm:
        what = f"{meter.name} has a scale of {meter.scale} ppm, and its resolution is no ppm"
        allowed = "A scale is that of a pen that shows ppm"
        remedy = 'Take scale away, or write the resolution as "10 ppm"'
        yield problem_at(meter, "scale", what, allowed, remedy)
    if meter.compensates is None:
        yield problem_at(
            meter,
            "compensates",
            f"it is not told whether {meter.name} compensates for temperature; the pages take it that it does",
            "Without, it reads 1.35 mS/cm in water of 15 degC (59 degF) that has 1.67, and too much feed goes in",
            "Dip it in one standard cold and warm: the same number twice is compensates: yes, else no",
            severity="warning",
        )


def _powder(chemical: Chemical) -> Iterator[Problem]:
    """A powder cannot be poured in mL: doses are of a solution."""
    strength, role = chemical.strength, chemical.role
    found = handling_of(chemical.active, strength.percent, role, chemical.name)
    most = substances()[found.substance].dissolves_to if found and found.substance in substances() else None
    if most is None or strength.percent <= (most if strength.basis == "w/w" else max(most, SOLUTION_W_V)):
        return
    what = f'"{strength.written}" of {chemical.active} is a powder, and pages pour in mL'
    allowed = f"A solution: at most {most:g} % w/w dissolves in water of 25 degC (77 degF)"
    remedy = (
        "Dissolve it once, powder into water, and write what you then keep: 100 g of it pure made up to 1 L is 10 % w/v, which needs no "
        "density"
    )
    if role == "sanitizer":
        remedy = "Take a liquid one: a sanitizer is not kept dissolved"
    yield problem_at(chemical, "strength", what, allowed, remedy, "E05")


def _dates(chemical: Chemical) -> Iterator[Problem]:
    if chemical.opened is None or chemical.expires is None or chemical.opened <= chemical.expires:
        return
    what = f"opened {chemical.opened} is after expires {chemical.expires}"
    yield problem_at(chemical, "opened", what, "", "Mend one of the dates")


def _ppe(chemical: Chemical) -> Iterator[Problem]:
    for name in chemical.ppe:
        if ppe_id(name) is None:
            what = f"{name} is not known protective equipment"
            yield problem_at(chemical, "ppe", what, f"One of {', '.join(equipment().items)}", "Choose")


def _tool(tool: MeasuringTool) -> Iterator[Problem]:
    lengths = [size.unit in ("cm", "mm", "in") for size in (tool.capacity, tool.mark, tool.smallest_use)]
    if any(lengths) and not all(lengths):
        what = "capacity, mark and smallest_use are partly lengths, partly volumes"
        yield problem_at(tool, "mark", what, "All of one kind", "Read the tool again")
        return
    yield from _sizes(tool, "cm" if all(lengths) else "mL")
    yield from _served(tool, all(lengths))


def _sizes(tool: MeasuringTool, unit: str) -> Iterator[Problem]:
    capacity, mark, least = (size.to(unit) for size in (tool.capacity, tool.mark, tool.smallest_use))
    if min(capacity, mark, least) <= 0:
        yield problem_at(tool, "mark", "a size of the tool is not above 0", "Above 0", "Read the tool again")
    elif not mark <= least <= capacity or mark >= capacity:
        what = (
            f"mark {tool.mark.written}, smallest_use {tool.smallest_use.written} and capacity "
            f"{tool.capacity.written} do not go together"
        )
        allowed = "mark at most smallest_use, smallest_use at most capacity"
        yield problem_at(tool, "smallest_use", what, allowed, "Read the tool again")


def _served(tool: MeasuringTool, is_scale: bool) -> Iterator[Problem]:
    """No tool serves two liquids that must never meet, and a scale, marked in lengths, serves the level alone."""
    for one, other in _NEVER_IN_ONE_TOOL:
        if one in tool.for_ and other in tool.for_:
            allowed = "What is left in a tool meets the next liquid; these must never meet"
            remedy = "Own one for each"
            yield problem_at(tool, "for", f"'{tool.name}' serves {one} and {other}", allowed, remedy, "E23")
    if "level" in tool.for_ and not is_scale:
        what = f"'{tool.name}' reads a level but is marked in volumes"
        yield problem_at(tool, "capacity", what, "cm or in", "Write its marks as lengths")
    if is_scale and set(tool.for_) != {"level"}:
        what = f"'{tool.name}' is marked in lengths and serves {', '.join(tool.for_) or 'nothing'}"
        allowed = "What is marked in lengths serves level alone"
        yield problem_at(tool, "for", what, allowed, "Write its marks as volumes, or for: [level]")


def _acid_and_base(house: House) -> Iterator[Problem]:
    """`acids_bases` says "whichever of the two the house has": where it has both, one tool would hold both."""
    acids, bases = ([c.id for c in house.chemicals if c.role == role] for role in ("acid", "base"))
    for tool in house.measuring_tools if acids and bases else ():
        if "acids_bases" in tool.for_:
            what = f"'{tool.name}' serves acids_bases, and the house has both: {acids[0]} and {bases[0]}"
            allowed = "What is left in a tool meets the next liquid; these must never meet"
            remedy = "Own two tools, one for: [acids], one for: [bases]"
            yield problem_at(tool, "for", what, allowed, remedy, "E23")


def _label(house: House) -> Iterator[Problem]:
    sanitizing = house.sanitizing
    if sanitizing is None:
        return
    if not (sanitizing.label_reference or "").strip():
        allowed = "A sanitizing sheet is not printed without the label it rests on"
        remedy = "Photograph the label and say where the picture is"
        yield problem_at(
            sanitizing, "label_reference", "sanitizing.label_reference is empty", allowed, remedy, "E29"
        )


def _handled(chemical: Chemical) -> Handling | None:
    return handling_of(chemical.active, chemical.strength.percent, chemical.role, chemical.name)


def _never_together(house: House) -> Iterator[Problem]:
    """E23: what must never meet stands on one shelf, or follows in one loop without a full rinse between."""
    for one, other in combinations(house.chemicals, 2):
        pairs = _pairs(one, other)
        if pairs and one.store_with is not None and one.store_with == other.store_with:
            what = f"{other.id} is stored with {one.id} ({one.store_with})"
            allowed = f"They must never meet: {pairs[0]}"
            yield problem_at(other, "store_with", what, allowed, "Give each its own shelf and tray", "E23")
    yield from _one_cleanout(house)


def _one_cleanout(house: House) -> Iterator[Problem]:
    sanitizing = house.sanitizing
    if sanitizing is None:
        return
    known = {chemical.id: chemical for chemical in house.chemicals}
    tasks = [(name, task) for name, task in sanitizing.tasks.items() if task.chemical in known]
    for (first, one), (second, other) in combinations(tasks, 2):
        pairs = _pairs(known[one.chemical], known[other.chemical])
        if pairs and not (one.rinse and other.rinse):
            what = f"{first} uses {one.chemical} and {second} uses {other.chemical} without a full rinse between them"
            allowed = f"They must never meet: {pairs[0]}"
            remedy = "Set rinse: yes on both tasks"
            yield problem_at(other if one.rinse else one, "rinse", what, allowed, remedy, "E23")


def _pairs(one: Chemical, other: Chemical) -> list[str]:
    handled = [h for h in (_handled(one), _handled(other)) if h is not None]
    return [str(pair) for pair in pairs_among(handled)] if len(handled) == 2 and one is not other else []

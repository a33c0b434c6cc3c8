"""Rules on stocks, strengths and tools: E04-E05, E23, E29 and what no label would say."""

from __future__ import annotations

from macros.calculations.sanitizer.strength import peroxide_density
from macros.ground.problems import Problem
from macros.house.records.chemicals import Chemical
from macros.house.records.house import House
from macros.house.records.tools import MeasuringTool
from macros.house.rules.report import told
from macros.published.safety.pairs import pairs_among
from macros.published.safety.protection import equipment, ppe_id
from macros.published.safety.substances import Handling, handling_of

DENSITY_TOLERANCE = 0.01
"""A label density of peroxide further than this from the published curve is a slip of label or copy."""
_NEVER_IN_ONE_TOOL = (
    ("sanitizer", "nutrients"),
    ("sanitizer", "acids"),
    ("sanitizer", "bases"),
    ("sanitizer", "acids_bases"),
    ("nutrients", "acids"),
    ("nutrients", "bases"),
    ("nutrients", "acids_bases"),
    ("acids", "bases"),
)


def check_stocks(house: House) -> list[Problem]:
    """Every rule on chemicals, measuring tools and the sanitizer's label."""
    problems: list[Problem] = []
    for chemical in house.chemicals:
        problems += _density(chemical)
        problems += _dates(chemical)
        problems += _ppe(chemical)
    for tool in house.measuring_tools:
        problems += _tool(tool)
    problems += _label(house)
    problems += _never_together(house)
    return problems


def _density(chemical: Chemical) -> list[Problem]:
    strength = chemical.strength
    if strength.basis == "v/v":
        return [
            told(
                chemical,
                "strength",
                f'"{strength.written}" is in v/v, which needs the density of the pure liquid',
                "w/w with density, or w/v",
                "Take w/w or w/v from the safety data sheet",
                "E05",
            )
        ]
    if chemical.density is None:
        if strength.basis == "w/v" or ("peroxide" in chemical.active.lower() and strength.percent <= 50):
            return []  # the published curve gives the density of peroxide
        return [
            told(
                chemical,
                "density",
                f'"{strength.written}" is w/w and needs density (g/mL)',
                "From the label or the safety data sheet",
                'Write it, as density: "1.04 g/mL"',
                "E05",
            )
        ]
    density = chemical.density.to("g/mL")
    if not 0.8 <= density <= 1.9:
        return [
            told(
                chemical,
                "density",
                f'"{chemical.density.written}" is no density of such a stock',
                "0.8 to 1.9 g/mL",
                "Look at the label again",
                "E05",
            )
        ]
    if "peroxide" in chemical.active.lower() and strength.basis == "w/w" and strength.percent <= 50:
        published = peroxide_density(strength.percent)
        if abs(density / published - 1) > DENSITY_TOLERANCE:
            return [
                told(
                    chemical,
                    "density",
                    f'"{chemical.density.written}" does not go with {strength.written}',
                    f"The published density of peroxide of that strength is {published:.3f} g/mL at 20 degC; a label "
                    "within 1 % of it is taken",
                    "One of the two is copied wrong: read the label again",
                    "E05",
                )
            ]
    return []


def _dates(chemical: Chemical) -> list[Problem]:
    if chemical.opened is None or chemical.expires is None or chemical.opened <= chemical.expires:
        return []
    return [
        told(
            chemical,
            "opened",
            f"opened {chemical.opened} is after expires {chemical.expires}",
            "",
            "Mend one of the dates",
        )
    ]


def _ppe(chemical: Chemical) -> list[Problem]:
    return [
        told(
            chemical,
            "ppe",
            f"{name} is not known protective equipment",
            f"One of {', '.join(equipment().items)}",
            "Choose",
        )
        for name in chemical.ppe
        if ppe_id(name) is None
    ]


def _tool(tool: MeasuringTool) -> list[Problem]:
    problems = []
    kinds = {
        ("length" if getattr(tool, n).unit in ("cm", "mm", "in") else "volume")
        for n in ("capacity", "mark", "smallest_use")
    }
    if len(kinds) > 1:
        return [
            told(
                tool,
                "mark",
                "capacity, mark and smallest_use are partly lengths, partly volumes",
                "All of one kind",
                "Read the tool again",
            )
        ]
    unit = "m" if kinds == {"length"} else "mL"
    if unit == "m":
        unit = "cm"
    capacity, mark, least = (getattr(tool, name).to(unit) for name in ("capacity", "mark", "smallest_use"))
    if min(capacity, mark, least) <= 0:
        problems.append(
            told(tool, "mark", "a size of the tool is not above 0", "Above 0", "Read the tool again")
        )
    elif not mark <= least <= capacity or mark >= capacity:
        problems.append(
            told(
                tool,
                "smallest_use",
                f"mark {tool.mark.written}, smallest_use {tool.smallest_use.written} and capacity "
                f"{tool.capacity.written} do not go together",
                "mark at most smallest_use, smallest_use at most capacity",
                "Read the tool again",
            )
        )
    for one, other in _NEVER_IN_ONE_TOOL:
        if one in tool.for_ and other in tool.for_:
            problems.append(
                told(
                    tool,
                    "for",
                    f"'{tool.name}' serves {one} and {other}",
                    "What is left in a tool meets the next liquid; these must never meet",
                    "Own one for each",
                    "E23",
                )
            )
    if "level" in tool.for_ and kinds == {"volume"}:
        problems.append(
            told(
                tool,
                "capacity",
                f"'{tool.name}' reads a level but is marked in volumes",
                "cm or in",
                "Write its marks as lengths",
            )
        )
    if kinds == {"length"} and set(tool.for_) != {"level"}:
        problems.append(
            told(
                tool,
                "for",
                f"'{tool.name}' is marked in lengths and serves {', '.join(tool.for_) or 'nothing'}",
                "What is marked in lengths serves level alone",
                "Write its marks as volumes, or for: [level]",
            )
        )
    return problems


def _label(house: House) -> list[Problem]:
    sanitizing = house.sanitizing
    if sanitizing is None:
        return []
    problems = []
    if not (sanitizing.label_reference or "").strip():
        problems.append(
            told(
                sanitizing,
                "label_reference",
                "sanitizing.label_reference is empty",
                "A sanitizing sheet is not printed without the label it rests on",
                "Photograph the label and say where the picture is",
                "E29",
            )
        )
    for name, task in sanitizing.tasks.items():
        if task.chemical not in {chemical.id for chemical in house.chemicals}:
            problems.append(
                told(
                    task,
                    "chemical",
                    f"{task.chemical} of task {name} is no stock of the house",
                    f"There are {', '.join(c.id for c in house.chemicals)}",
                    "Name one of them",
                )
            )
    return problems


def _handled(chemical: Chemical) -> Handling | None:
    return handling_of(chemical.active, chemical.strength.percent, chemical.role, chemical.name)


def _never_together(house: House) -> list[Problem]:
    """E23: what must never meet stands on one shelf, or follows in one loop without a full rinse between."""
    problems = []
    stocks = list(house.chemicals)
    for number, one in enumerate(stocks):
        for other in stocks[number + 1 :]:
            pairs = _pairs(one, other)
            if pairs and one.store_with is not None and one.store_with == other.store_with:
                problems.append(
                    told(
                        other,
                        "store_with",
                        f"{other.id} is stored with {one.id} ({one.store_with})",
                        f"They must never meet: {pairs[0]}",
                        "Give each its own shelf and tray",
                        "E23",
                    )
                )
    return problems + _one_cleanout(house)


def _one_cleanout(house: House) -> list[Problem]:
    sanitizing = house.sanitizing
    if sanitizing is None:
        return []
    known = {chemical.id: chemical for chemical in house.chemicals}
    tasks = [(name, task) for name, task in sanitizing.tasks.items() if task.chemical in known]
    problems = []
    for number, (first, one) in enumerate(tasks):
        for second, other in tasks[number + 1 :]:
            pairs = _pairs(known[one.chemical], known[other.chemical])
            if pairs and not (one.rinse and other.rinse):
                problems.append(
                    told(
                        other if one.rinse else one,
                        "rinse",
                        f"{first} uses {one.chemical} and {second} uses {other.chemical} without a full rinse between them",
                        f"They must never meet: {pairs[0]}",
                        "Set rinse: yes on both tasks",
                        "E23",
                    )
                )
    return problems


def _pairs(one: Chemical, other: Chemical) -> list[str]:
    handled = [h for h in (_handled(one), _handled(other)) if h is not None]
    return [str(pair) for pair in pairs_among(handled)] if len(handled) == 2 and one is not other else []

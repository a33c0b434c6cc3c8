"""Fills the slots of a caution's text. A number is never printed on the other side of an edge."""

from __future__ import annotations

import math
from dataclasses import dataclass

from macros.amounts.engine.number_format import house_unit, shown_unit, trimmed
from macros.ground.units import convert
from macros.manual.cautions.step_facts import StepFacts
from macros.manual.cautions.triggers import Match
from macros.published.safety.bands import EDGE_TOLERANCE, edges_of
from macros.published.safety.cautions import Caution, Slot, cautions
from macros.published.safety.pairs import MetPair
from macros.published.safety.protection import fill
from macros.published.safety.substances import Handling, substances


@dataclass(frozen=True)
class FilledText:
    """The texts with slots filled; `unknown` names facts that are not known, `missing` slots left open."""

    hazard: str
    consequence: str
    avoidance: str
    slots: tuple[tuple[str, str], ...]
    unknown: tuple[str, ...]
    missing: tuple[str, ...]


def filled_text(caution: Caution, match: Match, step: StepFacts, unit_style: str = "metric") -> FilledText:
    """The texts of a caution for one match.

    Parameters
    ----------
    unit_style : metric or us; decides what is printed, never what is compared
    """
    values: dict[str, str] = {}
    unknown: list[str] = []
    missing: list[str] = []
    for name in caution.slots:
        described = cautions().slots[name]
        value = step.slots.get(name) or _value(described, caution, match, step, unit_style)
        value = described.before + value if value else value
        if not value and described.unknown and (described.comes_from != "text" or match.unknown):
            value = described.unknown
            unknown += [] if described.comes_from == "text" else [_fact_behind(described)]
        if not value:
            missing.append(name)
        values[name] = value or "{" + name + "}"
    hazard, consequence, avoidance = (
        _capital(text, fill(text, values))
        for text in (caution.hazard, caution.consequence, caution.avoidance)
    )
    return FilledText(hazard, consequence, avoidance, tuple(values.items()), tuple(unknown), tuple(missing))


def printed_strength(handling: Handling) -> str:
    """Strength with its basis, three figures, more where fewer would cross an edge; empty when not known."""
    percent = handling.percent_by_mass
    if percent is None:
        return ""
    edges = {edge for substance in handling.counts_as for edge in edges_of(substance)} | {0.01, 0.1, 1.0}
    figures = 3
    while figures < 9 and not _same_side(float(f"{percent:.{figures}g}"), percent, tuple(edges)):
        figures += 1
    chlorine = handling.counts_as & {"sodium_hypochlorite", "calcium_hypochlorite"}
    return f"{float(f'{percent:.{figures}g}'):.10g} %{' active chlorine' if chlorine else ''}"


def printed_value(value: float, described: Slot, unit_style: str = "metric") -> str:
    """A number with its unit: whole from 10 up, else one decimal, more where that would cross an edge."""
    unit = described.unit
    if not unit:
        return f"{value:g}"
    target: str = unit
    if unit_style == "us":  # a reach is given in feet, a level in inches
        target = "ft" if unit == "m" else house_unit(unit, us=True)
    shown = convert(value, unit, target)
    edges = tuple(convert(edge, unit, target) for edge in described.edges)
    decimals = 0 if abs(shown) >= 10 else 1
    while decimals < 6 and not _same_side(_rounded(shown, decimals, described.direction), shown, edges):
        decimals += 1
    text = f"{_rounded(shown, decimals, described.direction):.{decimals}f}"
    return f"{trimmed(text)} {shown_unit(target)}"


def spoken_of(caution: Caution, pair: MetPair) -> Handling:
    """The side of a pair that the caution's text and label speak of; the first where both or neither do."""
    wanted = caution.substances | caution.label
    return next((one for one in (pair.first, pair.second) if one.counts_as & wanted), pair.first)


def _value(described: Slot, caution: Caution, match: Match, step: StepFacts, unit_style: str) -> str:
    source = described.comes_from
    if source == "handling":
        item = match.handling or (spoken_of(caution, match.pair) if match.pair else None)
        return "" if item is None else printed_strength(item) if described.name == "strength" else _acid(item)
    if source == "pair":
        pair = match.pair
        return "" if pair is None else (pair.first if described.name == "first" else pair.second).shown_name
    if source == "text":
        return ""
    if source == "lift":
        if match.lift is None:
            return ""
        if described.name == "container":
            return match.lift.container
        value = match.lift.volume_l if described.name == "volume_lifted" else match.lift.mass_kg
    else:
        value = step.fact(source)
    if value is None or (described.zero == "unknown" and value == 0):
        return ""
    return printed_value(value, described, unit_style)


def _acid(item: Handling) -> str:
    return item.shown_name if item.substance == "other_acid" else substances()[item.substance].name


def _fact_behind(described: Slot) -> str:
    return {"handling": "handled_strength", "lift": "lift_mass_kg"}.get(
        described.comes_from, described.comes_from
    )


def _same_side(printed: float, value: float, edges: tuple[float, ...]) -> bool:
    return all((printed >= edge - EDGE_TOLERANCE) == (value >= edge - EDGE_TOLERANCE) for edge in edges)


def _rounded(value: float, decimals: int, direction: str) -> float:
    scale = 10.0**decimals
    # a whole number that the computing left a hair off stays itself
    scaled = round(value * scale, 6)
    step = {"up": math.ceil, "down": math.floor}.get(direction, round)
    return step(scaled) / scale


def _capital(template: str, text: str) -> str:
    """A slot at the beginning gets a capital; `pH-up` keeps its small p."""
    return text[:1].upper() + text[1:] if template.startswith("{") else text

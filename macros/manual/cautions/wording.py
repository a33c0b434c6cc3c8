"""Fills the slots of a caution's text. A number is never printed on the other side of an edge."""

from __future__ import annotations

import math

from macros.amounts.engine.number_format import house_unit, shown_unit, trimmed
from macros.ground.units import convert
from macros.manual.cautions.step_facts import StepFacts
from macros.manual.cautions.triggers import Match
from macros.published.safety.bands import EDGE_TOLERANCE, edges_of
from macros.published.safety.cautions import Caution, Slot, cautions
from macros.published.safety.protection import fill
from macros.published.safety.substances import Handling, substances

Texts = tuple[str, str, str]
"""Hazard, consequence and avoidance."""


def filled(caution: Caution, match: Match, step: StepFacts, unit_style: str) -> tuple[Texts, list[str]]:
    """The texts of a caution for one match, and the facts behind their slots that are not known.

    A slot that must be known and is not stays as it is written, in braces.

    Parameters
    ----------
    unit_style : metric or us; decides what is printed, never what is compared
    """
    values: dict[str, str] = {}
    unknown: list[str] = []
    for name in caution.slots:
        slot = cautions().slots[name]
        if said := step.slots.get(name) or _printed(slot, _value(slot, caution, match, step), unit_style):
            values[name] = slot.before + said
        elif slot.unknown and (slot.comes_from != "text" or match.unknown):
            values[name] = slot.unknown
            unknown += _FACT_BEHIND.get(slot.comes_from, (slot.comes_from,))
        else:
            values[name] = "{" + name + "}"
    hazard, consequence, avoidance = (
        _capital(text, fill(text, values))
        for text in (caution.hazard, caution.consequence, caution.avoidance)
    )
    return (hazard, consequence, avoidance), unknown


def printed_strength(handling: Handling) -> str:
    """Strength with its basis, three figures, more where fewer would cross an edge; empty when not known."""
    percent = handling.percent_by_mass
    if percent is None or handling.label:
        return handling.label
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


def spoken_of(caution: Caution, match: Match) -> Handling | None:
    """What the caution's text and label speak of: the substance met, or a side of the pair met.

    Of a pair it is the first side where both or neither are among the caution's substances.
    """
    if match.handling or not match.pair:
        return match.handling
    wanted = caution.substances | caution.label
    sides = (match.pair.first, match.pair.second)
    return next((one for one in sides if one.counts_as & wanted), sides[0])


_FACT_BEHIND = {"handling": ("handled_strength",), "lift": ("lift_mass_kg",), "text": ()}
"""The fact that is not known, by where its slot comes from; else it is the fact of that name."""

_OF_LIFT = {"container": "container", "volume_lifted": "volume_l", "mass": "mass_kg"}


def _value(slot: Slot, caution: Caution, match: Match, step: StepFacts) -> str | float | None:
    """What stands in the slot: words, or a number in its unit; None where it is not known."""
    source, pair, lift = slot.comes_from, match.pair, match.lift
    if source == "handling":
        item = spoken_of(caution, match)
        return _acid_or_strength(slot, item) if item else None
    if source == "pair":
        return (pair.first if slot.name == "first" else pair.second).shown_name if pair else None
    if source == "lift":
        return getattr(lift, _OF_LIFT[slot.name]) if lift else None
    return None if source == "text" else getattr(step, source)


def _acid_or_strength(slot: Slot, item: Handling) -> str:
    if slot.name == "strength":
        return printed_strength(item)
    return item.shown_name if item.substance == "other_acid" else substances()[item.substance].name


def _printed(slot: Slot, value: str | float | None, unit_style: str) -> str:
    if value is None or (slot.zero == "unknown" and value == 0):
        return ""
    return value if isinstance(value, str) else printed_value(value, slot, unit_style)


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

"""Which pads of the house's own strip pass where a step reads one: of a batch that is proved, or of the last rinse."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from macros.amounts import Register
from macros.amounts.engine.number_format import brief
from macros.house import House
from macros.house.records.chemicals import TestStrip
from macros.page_model.figure import PadsView
from macros.page_model.page import AmountView

_READ = "test_strip"
"""The action of a step that reads a strip."""


def strip_pads(
    action: str, tools: Iterable[str], amounts: Sequence[AmountView], register: Register
) -> PadsView | None:
    """The pads a step reads; None where it reads no strip, or the house does not say what passes."""
    strips = {strip.name: strip for strip in register.house.test_strips}
    for view in amounts:
        for band in register.of_id("strip_band"):
            if view.anchor == band.anchor and band.tool in strips:
                return _pads(strips[band.tool], band.exact["low"], band.exact["high"])
    most = _residue_allowed(register.house)
    read = next((strips[name] for name in tools if name in strips), None)
    return None if action != _READ or most is None or read is None else _pads(read, 0.0, most)


def _residue_allowed(house: House) -> float | None:
    """What the last rinse may show [mg/L], where the house says it: the page prints no assumed limit either."""
    rinse = house.sanitizing.rinse if house.sanitizing is not None else None
    return None if rinse is None or rinse.residue_allowed is None else rinse.residue_allowed.to("mg/L")


def _pads(strip: TestStrip, low: float, high: float) -> PadsView | None:
    """None where no pad passes: the words of the step stand alone."""
    values = sorted(pad.to("mg/L") for pad in strip.pads)
    pads = tuple((brief(value), low <= value <= high) for value in values)
    return PadsView(strip.name, "mg/L", pads) if any(passes for _, passes in pads) else None

"""How a measuring tool looks when an amount stands in it: one drawing for each tool and filling."""

from __future__ import annotations

from collections import Counter

from macros.amounts.engine.amount import Amount
from macros.amounts.engine.number_format import shown_unit, text_as_set
from macros.ground.units import convert
from macros.house import House
from macros.page_model.figure import MeasureView
from macros.page_model.page import AmountView

_SHAPES = ("syringe", "cylinder")
"""Words of a tool's name that say how it looks; any other is drawn as a jug."""


def amount_view(amount: Amount, house: House) -> AmountView:
    """An amount as a page prints it, with the tools it is poured from."""
    return AmountView(
        amount.id,
        amount.label,
        amount.printed,
        amount.tool,
        amount.anchor,
        dict(amount.of).get("system", ""),
        fillings(amount, house),
        " to ".join(amount.figures),
        shown_unit(amount.unit) if amount.figures else "",
    )


def fillings(amount: Amount, house: House) -> tuple[MeasureView, ...]:
    """The fillings of an amount that is poured, each different one once; none of an amount read from a scale or a meter."""
    tools = {tool.name: tool for tool in house.measuring_tools}
    found = []
    for pour, times in Counter(amount.pours).items():
        tool = tools[pour.tool]
        mark = convert(tool.mark.value, tool.mark.unit, pour.unit)
        found.append(
            MeasureView(
                tool=tool.name,
                shape=next((one for one in _SHAPES if one in tool.name.lower()), "jug"),
                unit=shown_unit(pour.unit),
                capacity=convert(tool.capacity.value, tool.capacity.unit, pour.unit),
                mark=mark,
                volume=pour.volume,
                volume_text=text_as_set(pour.volume, mark),
                times=times,
            )
        )
    return tuple(found)

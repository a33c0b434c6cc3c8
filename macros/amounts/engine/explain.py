"""One amount told whole, as plain text: how it came about and what it rests on."""

from __future__ import annotations

from macros.amounts.engine.amount import Amount, Input
from macros.amounts.engine.number_format import brief, shown_unit


def explain(amount: Amount) -> str:
    """The amount's name, value, working, rounding, pours, inputs with file and line, sources, assumptions."""
    lines = [f"{amount.key}: {amount.label}", f"  printed: {amount.printed}"]
    if isinstance(amount.value, float | int) and not isinstance(amount.value, bool):
        lines.append(f"  exact:   {brief(float(amount.value), 8)} {shown_unit(amount.unit)}".rstrip())
    lines.append("  working:")
    lines += [f"    {line}" for line in amount.working.splitlines()]
    lines.append(f"  rounded: {rounding_text(amount)}")
    if amount.pours:
        lines.append(f"  measured with: {amount.tool}")
    lines.append("  from:")
    lines += [f"    {item.name} = {input_text(item)}  ({item.where})" for item in amount.inputs]
    lines += [f"  source: {source}" for source in amount.sources]
    lines += [f"  assumed: {text}" for text in amount.assumed]
    return "\n".join(lines)


def rounding_text(amount: Amount) -> str:
    """`up to 0.5 L: what cannot be used is rounded up`."""
    rounding = amount.rounding
    step = (
        f" to {brief(rounding.step)} {shown_unit(amount.unit)}".rstrip() if rounding.step is not None else ""
    )
    reason = f": {rounding.rule}" if rounding.rule else ""
    return f"{rounding.direction}{step}{reason}"


def input_text(item: Input) -> str:
    """A fact as an amount took it: `0.8 m`."""
    value = brief(item.value, 8) if isinstance(item.value, float) else str(item.value)
    return f"{value} {shown_unit(item.unit)}".rstrip()

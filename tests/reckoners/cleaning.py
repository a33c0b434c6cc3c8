"""Sanitizer: a strip read becomes pass, fail or stop; another batch size becomes stock and water, or a refusal."""

from __future__ import annotations

from typing import Any

from macros.amounts.reckoners import sentence, span
from macros.calculations.rounding import round_to
from macros.calculations.sanitizer import batches
from macros.calculations.water import volumes
from tests.reckoners.answer import Answer, Data, Measured, fixed, measured, trimmed
from tests.reckoners.reading import Unread, read_choice, read_count, read_number, refused
from tests.reckoners.tank import shape_from

RESIDUE = "residue"
"""The choice of the last rinse beside the batches."""
NO_TOOL = "marked bucket"
OVER = 1 + 1e-9
"""Dust: a strength this close over the ceiling stands on it."""


def reckon_strip(data: Data, task: str, reading: str, failed: str) -> Answer:
    """Pass, fail or stop for a strip read on a batch, or on the last rinse.

    Parameters
    ----------
    data : of one system
    task : the id of a sanitizing task, or `residue`
    reading : as typed [mg/L]; 0 to the strip's top pad
    failed : how many strips of this batch failed before, as typed

    Returns
    -------
    Answer
        values `low` and `high`, the pads that pass, or `allowed`, what may stay [mg/L].
    """
    rules = data["strip"]
    try:
        chosen = read_choice(task, list(rules), sentence("strip.task_what"))
        rule = rules[chosen]
        ends = span("0", rule["top_text"], "mg/L")
        read, typed = read_number(reading, sentence("strip.reading_what"), ends)
        before = read_count(failed, sentence("strip.failed_what"))
    except Unread as mistake:
        return mistake.answer
    said = {
        "system": data["system"],
        "responsible": data["responsible"],
        "typed": typed,
        "task": rule["label"],
    }
    if read > rule["top"]:
        return refused(sentence("strip.off_strip", **said, strip=rule["strip"], top=rule["top_text"]))
    if chosen == RESIDUE:
        return _residue(rule, read, before, said)
    band = sentence(
        "strip.band",
        **said,
        strip=rule["strip"],
        dilution=rule["dilution"],
        low=rule["low_text"],
        high=rule["high_text"],
    )
    assumed = (sentence("strip.assume_dilution", dilution=rule["dilution"]), sentence("strip.assume_fresh"))
    values = {"low": rule["low"], "high": rule["high"]}
    if rule["low"] <= read <= rule["high"]:
        title = sentence("strip.passed", **said, life=rule["life"])
        return Answer("answer", title, (band,), (), assumed, values)
    if before > 0:
        lines = (band, sentence("strip.ask", **said))
        return Answer("stop", sentence("strip.twice", **said), lines, (), assumed, values)
    title = sentence("strip.weak" if read < rule["low"] else "strip.strong", **said)
    return Answer("stop", title, (band, sentence("strip.never")), (), assumed, values)


def _residue(rule: Any, read: float, before: int, said: dict[str, str]) -> Answer:
    words = {**said, "allowed": rule["allowed_text"]}
    assumed = (sentence("strip.assume_drops"), sentence("strip.assume_fresh"))
    values = {"allowed": rule["allowed"]}
    if read <= rule["allowed"]:
        return Answer("answer", sentence("strip.rinsed", **words), (), (), assumed, values)
    title = sentence("strip.rinse_twice" if before > 0 else "strip.rinse_again", **words)
    return Answer("stop", title, (), (), assumed, values)


def reckon_batch(data: Data, task: str, wanted: str) -> Answer:
    """Stock and water for another size of a task's batch.

    Parameters
    ----------
    data : of one system
    task : the id of a sanitizing task
    wanted : as typed, in the unit the task is printed in; what the house's vessel and measures take

    Returns
    -------
    Answer
        the batch up to a readable mark, the stock up to marks, water first down, the strength really made; refused
        where it would leave target to ceiling, half a mark included, or the shelf. Values `batch`, `stock`,
        `water`, `made` [% w/v].
    """
    rules = data["batch"]
    try:
        rule = rules[read_choice(task, list(rules), sentence("batch.task_what"))]
        how = span(rule["least_text"], rule["most_text"], rule["shown"])
        read, typed = read_number(wanted, sentence("batch.wanted_what"), how)
    except Unread as mistake:
        return mistake.answer
    said: dict[str, Any] = {
        "system": data["system"],
        "responsible": data["responsible"],
        "typed": typed,
        "unit": rule["shown"],
        "task": rule["label"],
        "chemical": rule["chemical"],
    }
    batch = round_to(read, rule["step"], "up")
    if not rule["least"] <= batch <= rule["most"]:
        ends = {"least": rule["least_text"], "most": rule["most_text"], "why": rule["why"]}
        return refused(sentence("batch.out", **said, **ends))
    litres = batch * rule["litres_per_unit"]
    exact = batches.stock_for_batch(litres, rule["target"], rule["now"])
    stock = measured(data, "sanitizer", exact, "up")
    if stock is None:
        return refused(sentence("batch.no_tool", **said, amount=trimmed(exact, 0.1, "nearest")))
    poured = stock.total * data["tools"]["sanitizer"]["to_mL"]
    problem = _out_of_limits(data, rule, stock, poured, litres)
    if problem:
        return refused(sentence(problem[0], **said, **problem[1]))
    return _made(data, rule, batch, litres, stock, poured, said)


def _out_of_limits(
    data: Data, rule: Any, stock: Measured, poured: float, litres: float
) -> tuple[str, dict[str, str]] | None:
    """Why the batch may not be made as poured: the sentence and its own words."""
    if poured / 1000 > litres * OVER:
        return "batch.undiluted", {}
    made = batches.strength_made(poured, rule["now"], litres)
    if made > rule["ceiling"] * OVER:
        return "batch.over", {"made": _percent(made), "ceiling": rule["ceiling_text"]}
    off = 0.0
    for mark in stock.marks:
        off += mark * data["tools"]["sanitizer"]["to_mL"] / 2
    least_batch = max(litres - rule["step"] * rule["litres_per_unit"] / 2, (poured + off) / 1000)
    strongest = batches.strength_made(poured + off, rule["now"], least_batch)
    if strongest > rule["ceiling"] * OVER:
        return "batch.loose", {"made": _percent(strongest), "ceiling": rule["ceiling_text"]}
    if rule["shelf"] is not None and poured > rule["shelf"] * OVER:
        return "batch.shelf", {"stock": stock.amount, "shelf": trimmed(rule["shelf"], 1, "down")}
    return None


def _made(
    data: Data, rule: Any, batch: float, litres: float, stock: Measured, poured: float, said: dict[str, Any]
) -> Answer:
    made = batches.strength_made(poured, rule["now"], litres)
    there = litres
    if rule["loop"]:
        level, _ = _mark_under(data, litres)
        there = volumes.volume_to_height(shape_from(data), level / data["scale"]["per_metre"])
    first = there - poured / 1000
    water_amount, water_text, water_tool = _water_first(data, rule, first)
    batch_text = f"{trimmed(batch, rule['step'], 'nearest')} {rule['shown']}"
    words = {**said, "batch": batch_text, "water": water_text, "stock": stock.amount}
    lines = []
    if batch != float(said["typed"]):
        lines.append(sentence("batch.rounded", **words))
    lines += [
        sentence("batch.pour_water", **words, tool=water_tool),
        sentence("batch.pour_stock", **words, tool=stock.tools),
        sentence("batch.make_up", **words, tool=_batch_tool(data, rule, litres)),
        sentence("batch.made", made=_percent(made), target=rule["target_text"], ceiling=rule["ceiling_text"]),
    ]
    assumed = (
        sentence("batch.assume_stock", now=rule["now_text"], day=rule["day"]),
        sentence("batch.assume_page"),
    )
    values = {"batch": batch, "stock": stock.total, "water": water_amount, "made": _percent_value(made)}
    return Answer("answer", sentence("batch.make", **words), tuple(lines), (), assumed, values)


def _water_first(data: Data, rule: Any, litres: float) -> tuple[float, str, str]:
    """Water that goes in first, its text, and what it is read at: the tank's scale for the loop, else pours."""
    if rule["loop"]:
        size = data["water"]["loop"]
        level, tool = _mark_under(data, litres)
        there = volumes.volume_to_height(shape_from(data), level / data["scale"]["per_metre"])
        amount = round_to(there * size["per_litre"], size["step"], "down")
    else:
        name = "small" if rule["small_unit"] or litres < 2 else "large"
        size = data["water"][name]
        amount = round_to(litres * size["per_litre"], size["step"], "down")
        found = measured(data, f"water_{name}", amount / size["per_litre"] * 1000, "down")
        amount, tool = (found.total, found.tools) if found else (amount, NO_TOOL)
    return amount, f"{trimmed(amount, size['step'], 'nearest')} {size['shown']}", tool


def _batch_tool(data: Data, rule: Any, litres: float) -> str:
    """What the batch is read at: the tank's scale, a few pours of the sanitizer's tools, else of those for water."""
    if rule["loop"]:
        return _mark_under(data, litres)[1]
    name = "small" if rule["small_unit"] else "large"
    own = measured(data, f"sanitizer_{name}", litres * 1000, "up")
    alike = data["tools"][f"sanitizer_{name}"]["shown"] == rule["shown"]
    if alike and own is not None and len(own.marks) <= data["water"]["most_pours"]:
        return own.tools
    found = measured(data, f"water_{name}", litres * 1000, "up")
    return found.tools if found else NO_TOOL


def _mark_under(data: Data, litres: float) -> tuple[float, str]:
    scale = data["scale"]
    level = volumes.height_for_volume(shape_from(data), litres) * scale["per_metre"]
    mark = round_to(level, scale["step"], "down")
    return mark, f"{scale['name']} at {fixed(level, scale['step'], 'down')} {scale['shown']}"


def _percent(grams: float) -> str:
    """[g/L] as % w/v, with the digits its size is printed with."""
    return trimmed(grams / 10, _percent_step(grams), "up")


def _percent_value(grams: float) -> float:
    return round_to(grams / 10, _percent_step(grams), "up")


def _percent_step(grams: float) -> float:
    return 0.01 if grams >= 1 else 0.001

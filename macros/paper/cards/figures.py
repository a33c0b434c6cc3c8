"""The cards of figures: dilution, level, feed, pH, flood timing, lifting. Every figure is the register's, as printed."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from contextlib import suppress

from macros.amounts import Amount, NotFound, Register
from macros.amounts.water.reservoir import level_unit
from macros.ground.units import convert
from macros.house import House
from macros.house.records.systems import System
from macros.manual.house_facts.fact_text import fact_text
from macros.manual.pages.figures import amount_table, page_figures
from macros.page_model.card import Block, CardTable, Facts, Sentences
from macros.page_model.figure import StickMark, StickView
from macros.published.paper.cards import card_words
from macros.published.safety.protection import equipment, in_ppe_order

TOO_LITTLE, DASH = "too little to measure", "–"
"""What a table of doses says where no tool of the house measures so little, and its sign on a card."""

TASKS, ROWS_OF_LEVELS, ROWS_OF_TOPUP = 4, 44, 10
"""Tasks and rows a card holds in type for one metre; a longer table is thinned, its marks and its last row kept."""

_BATCHES = ("batch_spray", "batch_soak", "batch_tool_dip", "loop_volume")
Line = tuple[str, str, str]


def found(register: Register, id_: str, **of: str) -> Amount | None:
    """The amount, or None where this house has none."""
    with suppress(NotFound):
        return register.get(id_, **of)
    return None


def _line(name: str, amount: Amount | None) -> list[Line]:
    """The amount with its tool as a line, or no line."""
    return [(name, amount.printed, amount.tool)] if amount is not None else []


def dilution(register: Register, system: str) -> list[tuple[Block, ...]]:
    """Each task of the system: water, stock, water up to the batch; strength made, proof, use life."""
    house = register.house
    tasks = [dict(amount.of)["task"] for amount in register.of_id("stock_for_batch", system=system)]
    order = list(house.sanitizing.tasks) if house.sanitizing is not None else []
    tasks.sort(key=lambda task: (order.index(task) if task in order else len(order), task))
    names = card_words().task_names
    cards: list[tuple[Block, ...]] = []
    for start in range(0, len(tasks), TASKS):
        blocks: list[Block] = []
        for task in tasks[start : start + TASKS]:
            of = {"system": system, "task": task}
            batch = next((a for id_ in _BATCHES if (a := found(register, id_, **of)) is not None), None)
            pours = (
                *_line("1 Water first", found(register, "water_for_batch", **of)),
                *_line("2 Stock", found(register, "stock_for_batch", **of)),
                *_line("3 Water up to", batch),
            )
            proof = (
                *_line("Makes", found(register, "strength_made", **of)),
                *_strip(register, of),
                *_line("Dead after", found(register, "batch_life_end", **of)),
            )
            blocks += [Facts(names.get(task, task.replace("_", " ")), pours, 3), Facts("", proof, 0)]
        cards.append((*blocks, Sentences("", _stocks(house, tasks[start : start + TASKS]))))
    return cards


def _stocks(house: House, tasks: Sequence[str]) -> tuple[str, ...]:
    """The stocks the tasks take, with their strength and the day they were opened; what to wear."""
    assert house.sanitizing is not None, "a batch is made for a sanitizing task"
    used = {house.sanitizing.tasks[task].chemical for task in tasks}
    stocks = [chemical for chemical in house.chemicals if chemical.id in used]
    told = [
        f"Stock: {c.name}, {c.strength.written}{f', opened {c.opened}' if c.opened else ''}." for c in stocks
    ]
    wear = in_ppe_order(name for chemical in stocks for name in chemical.ppe)
    if wear:
        # The type alone: the page has the material limits, the card is read from a metre.
        told.append(f"Wear {'; '.join(re.split(r' ?[(,]', equipment().items[name])[0] for name in wear)}.")
    return (" ".join(told),)


def _strip(register: Register, of: dict[str, str]) -> list[Line]:
    parts, band = found(register, "strip_dilution", **of), found(register, "strip_band", **of)
    if parts is None or band is None:
        return []
    return [(f"{capital(band.tool)}, 1 part in {parts.printed}", band.printed, "")]


def level(register: Register, system: str) -> list[tuple[Block, ...]]:
    """The level table of the tank with its three marks."""
    tank = register.house.system(system).reservoir
    heights = {
        "Full": tank.fill_mark_height,
        "Refill mark": tank.refill_mark_height,
        "Pump minimum": tank.pump_minimum_height,
    }
    (stick,) = (f for f in page_figures(["level_stick"], register, system) if isinstance(f, StickView))
    marks = [(mark, heights[mark.label].to("m")) for mark in stick.marks if mark.label in heights]
    kept = _level_rows(register, system, marks)
    ordered = sorted((mark for mark, _ in marks), key=lambda mark: -mark.share)
    labels = tuple((n, label) for n, (_, _, label) in enumerate(kept) if label)
    rows = tuple(cells for _, cells, _ in kept)
    return [
        (
            Facts("", tuple((mark.label, mark.level, mark.volume) for mark in ordered), 3),
            CardTable("", ("Level", "Holds", "Mark"), rows, labels, across=2),
        )
    ]


def _level_rows(
    register: Register, system: str, marks: Sequence[tuple[StickMark, float]]
) -> list[tuple[float, tuple[str, ...], str]]:
    """Height, cells and mark of each row that is kept; `marks` come with their heights [m]."""
    amount = register.get("level_table", system=system)
    cells = amount_table(amount, amount.label).rows
    rows = [(float(exact[0]), row[:2], "") for exact, row in zip(amount.exact["rows"], cells, strict=True)]
    metre = convert(1.0, "m", level_unit(register))
    for mark, metres in marks:
        height = metres * metre
        at = next((n for n, (value, _, _) in enumerate(rows) if abs(value - height) < 1e-6), None)
        if at is None:
            rows.append((height, (mark.level, mark.volume), mark.label))
        else:
            # The mark's own volume: it is rounded to its own safe side, and one card shows one figure.
            rows[at] = (height, (rows[at][1][0], mark.volume), mark.label)
    rows.sort(key=lambda row: row[0])
    every = -(-len(rows) // ROWS_OF_LEVELS)
    return [row for n, row in enumerate(rows) if row[2] or n % every == every - 1][: 2 * ROWS_OF_LEVELS]


def feed(register: Register, system: str) -> list[tuple[Block, ...]]:
    """Doses for the full tank in the order of mixing, what the pens must show, and the top-up doses."""
    stage = register.house.system(system).fill_stage
    parts = register.house.nutrients.parts_in_order()
    doses = [
        (part, a)
        for part in parts
        if (a := found(register, "dose_full", system=system, feed_stage=stage, part=part.id)) is not None
    ]
    full, mark = found(register, "res_fill", system=system), found(register, "fill_level", system=system)
    title = f"Full tank: {full.printed}, {mark.printed} at the mark" if full and mark else "Full tank"
    lines = tuple(
        (f"No. {n} {part.name}", dose.printed, dose.tool) for n, (part, dose) in enumerate(doses, 1)
    )
    pens = (
        *_line("EC after mixing", found(register, "ec_expected", system=system)),
        *_line("EC band", found(register, "ec_band", system=system)),
        *_line("pH band", found(register, "ph_band", system=system)),
    )
    blocks: list[Block] = [Facts(title, lines), Facts("", pens, 3)]
    topup = found(register, "topup_table", system=system)
    if topup is not None:
        names = {part.name: f"No. {n}" for n, (part, _) in enumerate(doses, 1)}
        blocks += _topup(topup, names)
    return [tuple(blocks)]


def _topup(amount: Amount, names: dict[str, str]) -> list[Block]:
    """The top-up doses with the parts by their number; rows in which nothing can be measured are told, not printed."""
    table = amount_table(amount, amount.label)
    rows = [row for row in table.rows if set(row[1:]) != {TOO_LITTLE}]
    every = -(-len(rows) // ROWS_OF_TOPUP)
    kept = [row for n, row in enumerate(rows) if (len(rows) - 1 - n) % every == 0] if rows else []
    blocks: list[Block] = []
    if kept:
        heads = tuple(_by_number(head, names) for head in table.columns)
        cells = tuple(tuple(DASH if cell == TOO_LITTLE else cell for cell in row) for row in kept)
        title = "Top-up: water added, and what goes with it"
        blocks.append(CardTable(title, (capital(heads[0]), *heads[1:]), cells))
    notes = " ".join(_topup_notes(rows, kept, len(table.rows)))
    return [*blocks, Sentences("", (notes,))] if notes else blocks


def _by_number(head: str, names: dict[str, str]) -> str:
    """The head of a column with the number of its part in place of the name."""
    return next((no + head.removeprefix(name) for name, no in names.items() if head.startswith(name)), head)


def _topup_notes(rows: Sequence[tuple[str, ...]], kept: Sequence[tuple[str, ...]], of: int) -> Iterator[str]:
    """What is said below: `rows` of the `of` rows hold a dose that can be measured, and those `kept` are printed."""
    if not kept:
        yield "Top-ups: no tool of the house measures doses so small."
    elif len(rows) < of:
        yield f"Under {rows[0][0]}: {TOO_LITTLE}; wait, to the refill mark at most, then add plain water and read EC."
    if any(TOO_LITTLE in row for row in kept):
        yield f"{DASH} is {TOO_LITTLE}."


def ph(register: Register, system: str) -> list[tuple[Block, ...]]:
    """The band, the first dose, the table by the pH read, and pH-up."""
    full = found(register, "res_fill", system=system)
    of_full = f", tank at its fill mark ({full.printed})" if full else ""
    blocks: list[Block] = [Facts("", tuple(_line("pH band", found(register, "ph_band", system=system))))]
    for amount in register.of_id("ph_next_dose", system=system):
        chemical = dict(amount.of)["chemical"]
        first = found(register, "ph_first_dose", system=system, chemical=chemical)
        name = register.house.chemical(chemical).name
        table = amount_table(amount, amount.label)
        blocks.append(Facts(f"Too high: {name}{of_full}", tuple(_line("First dose, at most", first))))
        blocks.append(CardTable("", tuple(capital(head) for head in table.columns), table.rows, across=2))
    for amount in register.of_id("ph_up_first_dose", system=system):
        name = register.house.chemical(dict(amount.of)["chemical"]).name
        blocks.append(Facts(f"Too low: {name}{of_full}", tuple(_line("First dose, at most", amount))))
    return [tuple(blocks)]


def flood(register: Register, system: str) -> list[tuple[Block, ...]]:
    """Times of a flood, the timer as set, and the hours roots stand without one."""
    record = register.house.system(system)
    lines = (
        *_line("Trays full after", found(register, "flood_fill_time", system=system)),
        *_line("Pump on, at least", found(register, "pump_on_time", system=system)),
        *_line("Tray empty after", found(register, "flood_drain_time", system=system)),
        *_line("Between two floods, at least", found(register, "stagger_gap", system=system)),
        *_line("By hand, each tray", found(register, "flood_tray", system=system)),
    )
    blocks: list[Block] = [
        Facts("", tuple((name, value, "") for name, value, _ in lines)),
        *_timer(record, register),
    ]
    clock = found(register, "missed_flood_clock", system=system)
    if clock is None:
        blocks.append(
            Sentences("Hours without a flood", ("Not worked out: no crop is planned on this rack.",))
        )
        return [tuple(blocks)]
    table = amount_table(clock, clock.label)
    blocks.append(
        CardTable(
            "Hours without a flood, lamps on",
            tuple(capital(head) for head in table.columns),
            table.rows,
            first_wide=True,
        )
    )
    assumed = dict.fromkeys(text for text in clock.assumed if "act at half" in text)
    if assumed:
        blocks.append(Sentences("", tuple(capital(text) + "." for text in assumed)))
    return [tuple(blocks)]


def _timer(system: System, register: Register) -> Sequence[Block]:
    timer = system.timer
    if timer is None:
        return ()
    times = ", ".join(f"{clock:%H:%M}" for clock in sorted(timer.floods_set))
    return (
        Facts(
            "Timer, as set",
            (("On for", fact_text(timer.on_time_set, register.house.us), ""), ("Floods at", times, "")),
        ),
    )


def lifting(register: Register, system: str) -> list[tuple[Block, ...]]:
    """Limits, the fill line of each bucket with a known empty mass, other loads, and why a tank goes by hose."""
    limits, us = register.house.lifting, register.house.us
    assert limits is not None, "the card needs the facts under lifting"
    buckets = register.of_id("lift_fill_max")
    loads = register.of_id("lift_bucket")
    of_buckets = {dict(amount.of)["container"] for amount in buckets}
    weights = {dict(amount.of)["container"]: amount for amount in loads}
    lines = []
    for amount in buckets:
        weight = weights.get(dict(amount.of)["container"])
        lines.append((amount.label, amount.printed, f"filled to its brim {weight.printed}" if weight else ""))
    lines += [
        (a.label, a.printed, "; ".join(a.assumed)) for a in loads if dict(a.of)["container"] not in of_buckets
    ]
    blocks: list[Block] = [
        Facts(
            "One lift",
            (
                ("One person, at most", fact_text(limits.one_person_limit, us), ""),
                ("Two people, at most", fact_text(limits.two_person_limit, us), ""),
            ),
        ),
        Facts("Fill lines and loads", tuple(lines)),
    ]
    if not buckets:
        blocks.append(
            Sentences("", ("No bucket of the house has a known empty mass (tare): weigh it first.",))
        )
    trips = [(f"Tank {dict(a.of)['system']}: {a.label}", a.printed, "") for a in register.of_id("trips")]
    if trips:
        blocks.append(Facts("Why a tank goes by hose", tuple(trips[:8])))
    return [tuple(blocks)]


def capital(text: str) -> str:
    """A capital, but for pH."""
    return text if text.startswith("pH") else text[:1].upper() + text[1:]

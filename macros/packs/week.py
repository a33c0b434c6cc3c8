"""The sheets of one week: daily check, tables of doses, sowing, harvest, sticky cards, stocks, next week's dates."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from macros.amounts import Amount, Register
from macros.amounts.crop.one_sheet import plantings_with, sheet_of
from macros.amounts.engine.number_format import brief, shown_unit
from macros.calendar.events import house_events
from macros.house.records.crops import Planting
from macros.manual.pages.figures import amount_table
from macros.manual.pages.tables import OWN_SHEET
from macros.packs.week_sheet_model import BOX, Column, Grid, RoundRow, Week, WeekSheet
from macros.page_model.job_breakdown import by_system
from macros.page_model.page import PageView, RecordView
from macros.paper.cards.figures import DASH, TOO_LITTLE, capital, found
from macros.published.labour.week import week_facts

WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
NOT_SET = "not set"


def week_sheets(
    register: Register, views: Sequence[PageView], first: date
) -> tuple[list[WeekSheet], list[WeekSheet]]:
    """The sheets before and after the weekly check's own; what the house has no data for is left out."""
    week = Week(register, views, first)
    tables = [
        sheet
        for system in register.house.systems
        for sheet in (topup_sheet(week, system.id), doses_sheet(week, system.id))
    ]
    before = [daily_card(week)]
    after = [
        *tables, sowing_card(week), harvest_log(week), sticky_cards(week), stock_count(week), next_dates(week),
    ]  # fmt: skip
    return [s for s in before if s is not None], [s for s in after if s is not None]


def daily_card(week: Week) -> WeekSheet | None:
    """The daily check of seven days on one page, a row for each check in the order it is walked."""
    page = week.page("SOP-16")
    if page is None:
        return None
    days = tuple((week.first + timedelta(days=n)) for n in range(7))
    return WeekSheet(
        week, page, "WEEK-DAILY", "Daily check", (), own_scope=page.scope_line.rpartition(" · ")[2],
        rounds=_rounds(page, [system.id for system in week.house.systems]),
        days=tuple((WEEKDAYS[day.weekday()], f"{day:%m-%d}") for day in days),
        pens=tuple(meter.name for meter in week.house.meters), record=True,
    )  # fmt: skip


def _rounds(page: PageView, systems: Sequence[str]) -> tuple[RoundRow, ...]:
    """A check that is made in several systems is one row with a line for each, where its words are the same."""
    rows: dict[tuple[bool, str, str], list[tuple[str, RecordView]]] = {}
    for step in page.steps:
        if step.record is not None:
            system = next((one for one in systems if step.id.endswith(f"-{one}")), "")
            label = re.sub(rf" {system}\b", "", step.record.label) if system else step.record.label
            rows.setdefault((bool(system), label, step.record.outside), []).append((system, step.record))
    return tuple(
        RoundRow(
            label,
            tuple(by_system([s for s, _ in of], [r.limits for _, r in of])),
            outside,
            tuple(s for s, _ in of),
        )
        for (_, label, outside), of in rows.items()
    )


def topup_sheet(week: Week, system: str) -> WeekSheet | None:
    """Level read to water short, and the feed that goes with the water."""
    page = week.page("SOP-09", "SOP-08", system=system)
    levels, doses = (found(week.register, id_, system=system) for id_ in ("level_table", "topup_table"))
    if page is None or levels is None:
        return None
    grids = [_table(levels, levels.label, 3)]
    notes = ["Trays drained, pump still. Water first, then the parts in order; pH last."]
    if doses is not None:
        grids.append(_table(doses, "Water added: feed that goes with it", 1))
        notes.append(
            f"{DASH} is {TOO_LITTLE}: add more water at once. Between two rows take the lower one, over the last row the last."
        )
    key, title = f"WEEK-TOPUP-{system}", f"Top-up table {system}"
    return WeekSheet(week, page, key, title, tuple(grids), tuple(notes), system)


def doses_sheet(week: Week, system: str) -> WeekSheet | None:
    """What to add where pH or EC is out of its band, for a tank at its fill mark."""
    page = week.page("SOP-09", "SOP-08", system=system)
    grids = (*_ph_grids(week, system), *_ec_grids(week, system))
    if page is None or not grids:
        return None
    full = found(week.register, "res_fill", system=system)
    notes = (
        "; ".join(_bands(week, system)) + ".",
        "After a pH dose wait 15 min and read again. Two doses in 24 h and still out: stop, check the pen, ask.",
        f"EC is set before pH. {DASH} is {TOO_LITTLE}.",
    )
    scope = f"for a tank at its fill mark, {full.printed}" if full is not None else ""
    key, title = f"WEEK-DOSES-{system}", f"pH and EC tables {system}"
    return WeekSheet(week, page, key, title, grids, notes, system, scope)


def _ph_grids(week: Week, system: str) -> Iterator[Grid]:
    for amount in week.register.of_id("ph_next_dose", system=system):
        chemical = dict(amount.of)["chemical"]
        first = found(week.register, "ph_first_dose", system=system, chemical=chemical)
        most = f", first dose at most {first.printed}" if first is not None else ""
        yield _table(amount, f"pH too high: {week.house.chemical(chemical).name}{most}", 2)


def _ec_grids(week: Week, system: str) -> Iterator[Grid]:
    for id_, across in (("ec_raise", 1), ("ec_dilute", 2), ("ec_swap", 2)):
        amount = found(week.register, id_, system=system)
        if amount is not None:
            yield _table(amount, amount.label, across)


def _bands(week: Week, system: str) -> Iterator[str]:
    """The bands, and what raises a pH that is too low."""
    for id_ in ("ph_band", "ec_band"):
        band = found(week.register, id_, system=system)
        if band is not None:
            yield f"{band.label} {band.printed}"
    for amount in week.register.of_id("ph_up_first_dose", system=system):
        name = week.house.chemical(dict(amount.of)["chemical"]).name
        yield f"pH too low: {amount.printed} {name} at most"


def sowing_card(week: Week) -> WeekSheet | None:
    """The varieties whose day of sowing falls into the week, and blank rows for sets that follow on."""
    page = week.page("SOP-11", "SOP-14")
    if page is None or not week.house.varieties:
        return None
    sowings = _sowings(week.register)
    rows = [(*_sown(week.register, one), day, *[""] * 5) for day, one in sowings if week.holds(day)]
    notes = [] if rows else [_none_sown(week, [(day, one.spoken) for day, one in sowings])]
    lots = [
        f"{lot.id}: {lot.variety.replace('_', ' ')}, {lot.treatment}{f', tested {lot.tested}' if lot.tested else ''}"
        for lot in week.house.seed_lots
    ]
    if lots:
        notes.append(f"Lots on file: {'; '.join(lots)}. Sown for eating: untreated only.")
    rows += [("", "", "", "", "", "", *[""] * 5)] * (8 - len(rows))
    columns = (
        Column("Variety"), Column("Sheet", 19), Column("Plugs", 19), Column("Seeds", 21), Column("Blocks", 28),
        Column("Sow on", 28), Column("Sown, date and time", 25), Column("Sow lot", 28), Column("Plugs sown", 18),
        Column("Sown by", 17), Column("Checked", 19),
    )  # fmt: skip
    grids = (Grid("", columns, tuple(rows), 12.0),)
    return WeekSheet(
        week, page, "WEEK-SOWING", "Sowing card", grids, tuple(notes), record=True, landscape=True
    )


def _sowings(register: Register) -> list[tuple[str, Planting]]:
    """The day and the set of each sowing, by day."""
    found = [
        (amount.printed, one)
        for amount in register.of_id("sow_date")
        for one in plantings_with(register.house, dict(amount.of))
    ]
    return sorted(found, key=lambda pair: (pair[0], pair[1].variety.id))


def _none_sown(week: Week, dates: Sequence[tuple[str, str]]) -> str:
    day, name = next(((day, name) for day, name in dates if day > week.last.isoformat()), ("", ""))
    then = f" The next is {name} on {day}." if day else ""
    return f"No first sowing falls into this week.{then} The rows are for sets that follow on (SOP-14)."


def _sown(register: Register, planting: Planting) -> tuple[str, str, str, str, str]:
    """Variety, sheet, plugs, seeds and blocks of one sowing, as printed."""
    house = register.house
    sheet = sheet_of(house, planting) or (OWN_SHEET if planting.several else NOT_SET)
    plugs, seeds = (found(register, id_, **planting.keys) for id_ in ("sow_plugs", "seed_count"))
    blocks = [f"{', '.join(block.cup_plates)} ({block.plants} plants)" for block in planting.blocks]
    return (
        planting.spoken,
        sheet.replace("_", " "),
        plugs.printed if plugs else NOT_SET,
        seeds.printed if seeds else NOT_SET,
        "; ".join(blocks) or NOT_SET,
    )


def harvest_log(week: Week) -> WeekSheet | None:
    """A row for each pick: from the punnet back to the seed lot, and from the lot to its punnets."""
    page = week.page("SOP-18")
    if page is None:
        return None
    columns = tuple(Column(one.head, one.width) for one in week_facts().harvest_columns)
    picked = [
        f"{a.printed} {words} {plantings_with(week.house, dict(a.of))[0].spoken}"
        for id_, words in (("harvest_first", "first"), ("harvest_last", "last"))
        for a in week.register.of_id(id_)
        if week.holds(a.printed)
    ]
    notes = [
        "One row for each variety, tray and pick. Harvest lot = sow lot + tray + date: the same words on each punnet.",
        "Back: punnet, this log, sowing card, seed lot. Forth: seed lot, this log, to whom. Either way within 5 min.",
    ]
    hold = week.house.policies.harvest_hold_after_any_spray if week.house.policies is not None else None
    if hold:
        notes.append(f"Hold after any spray: {hold}. Nothing is picked from a tray on hold.")
    promised = _promised(week)
    if promised:
        notes.append(f"May be promised this week, of the sets as they were planted: {promised}.")
    if picked:
        notes.append(f"Harvests this week: {'; '.join(picked)}.")
    rows = tuple(("",) * len(columns) for _ in range(10))
    grids = (Grid("", columns, rows, 10.5),)
    return WeekSheet(
        week, page, "WEEK-HARVEST", "Harvest log", grids, tuple(notes), record=True, landscape=True
    )


def _promised(week: Week) -> str:
    """What may be promised of each variety in the week the pack begins in; empty where the plan has no such week."""
    monday = week.first - timedelta(days=week.first.weekday())
    for amount in week.register.of_id("promise_weeks"):
        _, *heads = (f"{shown_unit(head['unit'])} {head['name']}" for head in amount.value["columns"])
        for start, *given in amount.value["rows"]:
            if start == monday.isoformat():
                return ", ".join(
                    f"{brief(much)} {head}" for head, much in zip(heads, given, strict=True) if much
                )
    return ""


def sticky_cards(week: Week) -> WeekSheet | None:
    """A row for each sticky card, a column for each pest."""
    page = week.page("SOP-17", "SOP-16")
    if page is None:
        return None
    positions = [
        f"{system.id}, shelf {shelf}"
        for system in week.house.systems
        for shelf in range(1, int(system.trays.count) + 1)
    ]
    positions += ["nursery"] if week.house.nursery is not None else []
    rows = tuple((position, *[""] * (2 + len(week_facts().pests))) for position in (*positions, "door"))
    columns = (
        Column("Card"), Column("Changed on", 27), *(Column(capital(pest), 26) for pest in week_facts().pests),
        Column("Initials", 17),
    )  # fmt: skip
    note = (
        "Count what is new since the last count. Shelf 1 is the lowest. Twice last week's count, or a kind not seen before, "
        "is a finding: SOP-23."
    )
    grids = (Grid("", columns, rows, 9.0),)
    return WeekSheet(week, page, "WEEK-STICKY", "Sticky cards", grids, (note,), signed=True, landscape=True)


def stock_count(week: Week) -> WeekSheet | None:
    """Each stock with its reorder point and its last day as printed, and boxes for what is there."""
    page = week.page("SOP-17", "SOP-02")
    register, house = week.register, week.house
    if page is None:
        return None
    rows = []
    for part in house.nutrients.parts_in_order():
        order = found(register, "reorder_point", part=part.id)
        rows.append((part.name, order.printed if order else NOT_SET, NOT_SET))
    for chemical in house.chemicals:
        last = found(register, "discard_date", chemical=chemical.id)
        order = found(register, "reorder_point", chemical=chemical.id)
        rows.append((chemical.name, order.printed if order else NOT_SET, last.printed if last else NOT_SET))
    rows += [(strip.name, NOT_SET, NOT_SET) for strip in house.test_strips]
    columns = (
        Column("Item"), Column("Order at", 24), Column("Throw out on", 29), Column("Count now", 27),
        Column("Order?", 15), Column("Ordered on", 27), Column("Initials", 17),
    )  # fmt: skip
    note = "At or under the figure, or before its last day: order today. Not set: the house has no figure for it."
    grids = (Grid("", columns, tuple((*row, "", BOX, "", "") for row in rows), 10.0),)
    return WeekSheet(week, page, "WEEK-STOCK", "Stock count", grids, (note,), signed=True)


def next_dates(week: Week) -> WeekSheet | None:
    """What the calendar holds for the week after this one, but for the work of every day."""
    page = week.page("SOP-17", "SOP-16")
    if page is None:
        return None
    first = week.last + timedelta(days=1)
    last = first + timedelta(days=6)
    daily = week_facts().every_day
    due = [e for e in house_events(week.register, week.views, first, last) if e.kind not in daily]
    rows = tuple(
        (f"{WEEKDAYS[e.day.weekday()]} {e.day}", e.title, e.detail, e.page_key, BOX, "") for e in due
    )
    rows += (("", "", "", "", BOX, ""),) * 3
    columns = (
        Column("Day", 36), Column("What", 48), Column("How much, how often"), Column("Page", 22), Column("Done", 13),
        Column("Initials", 17),
    )  # fmt: skip
    notes = () if due else (f"The house knows no date from {first} to {last}.",)
    grid = Grid(f"From {first} to {last}", columns, rows, 9.0)
    return WeekSheet(week, page, "WEEK-DATES", "Next week's dates", (grid,), notes)


def _table(amount: Amount, title: str, across: int) -> Grid:
    """A table of the register, its cells as printed there."""
    table = amount_table(amount, title)
    rows = tuple(tuple(DASH if cell == TOO_LITTLE else cell for cell in row) for row in table.rows)
    return Grid(title, tuple(Column(capital(head)) for head in table.columns), rows, 5.8, across)

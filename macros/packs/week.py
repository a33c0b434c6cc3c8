"""The sheets of one week: daily card, tables of doses, sowing, harvest, sticky cards, stocks, next week's dates."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from macros.amounts import Amount, Register
from macros.calendar.events import house_events
from macros.house import House
from macros.manual.pages.figures import amount_table
from macros.manual.pages.record_form import REVIEW_DAYS, kept_for
from macros.packs.week_sheet_model import BOX, Column, Grid, WeekSheet
from macros.page_model.page import PageView
from macros.paper.cards.figures import DASH, TOO_LITTLE, capital, found
from macros.published.work.week import week_facts

WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
NOT_SET = "not set"


@dataclass(frozen=True)
class Week:
    """What the sheets of a week are made of; `first` is the first of its seven days."""

    register: Register
    views: Sequence[PageView]
    first: date

    @property
    def house(self) -> House:
        """The house of the register."""
        return self.register.house

    @property
    def last(self) -> date:
        """The seventh day."""
        return self.first + timedelta(days=6)

    @property
    def words(self) -> str:
        """`week of 2031-05-05 to 2031-05-11`."""
        return f"week of {self.first} to {self.last}"

    def page(self, *documents: str, system: str = "") -> PageView | None:
        """The first of the pages this house has; that of the system, else of the room."""
        for document in documents:
            for view in self.views:
                if view.document == document and view.system in ("", system):
                    return view
        return None


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
    """Seven columns of boxes beside the values of the daily check, each with its unit and limits."""
    page = week.page("SOP-16")
    if page is None:
        return None
    values = [step for step in page.steps if step.record is not None]
    rows, limits, lines = [], [], []
    last = ""
    for number, step in enumerate(values):
        assert step.record is not None
        system = next((s.id for s in week.house.systems if step.id.endswith(f"-{s.id}")), "")
        if number and (system != last or step.phase):
            lines.append(number)
        last = system
        rows.append((step.record.label, *[""] * 7))
        limits.append(step.record.limits)
    lines.append(len(rows))
    rows.append(("Outside its limits: act, told to", *[""] * 7))
    rows.append(("Read again: value, time", *[""] * 7))
    limits += ["", ""]
    days = [week.first + timedelta(days=n) for n in range(7)]
    columns = (
        Column("Value, unit: limits"), *(Column(WEEKDAYS[day.weekday()], 26, day.isoformat()) for day in days),
    )  # fmt: skip
    return _sheet(
        week,
        page,
        "WEEK-DAILY",
        "Daily card",
        (Grid("", columns, tuple(rows), 9.0, lines=tuple(lines), limits=tuple(limits)),),
        outside=tuple((d.sign, d.act) for d in page.if_wrong if d.kind == "out_of_range"),
        pens=tuple(meter.name for meter in week.house.meters),
        record=True,
        landscape=True,
    )


def topup_sheet(week: Week, system: str) -> WeekSheet | None:
    """Level read to water short, and the feed that goes with the water."""
    page = week.page("SOP-09", "SOP-08", system=system)
    levels, doses = (found(week.register, id_, system=system) for id_ in ("topup_volume", "topup_table"))
    if page is None or levels is None:
        return None
    grids = [_table(levels, levels.label, 4)]
    notes = ["Trays drained, pump still. Water first, then the parts in order; pH last."]
    if doses is not None:
        grids.append(_table(doses, "Water added: feed that goes with it", 1))
        notes.append(f"{DASH} is {TOO_LITTLE}: add more water at once. Between two rows take the lower one.")
    return _sheet(
        week,
        page,
        f"WEEK-TOPUP-{system}",
        f"Top-up table {system}",
        tuple(grids),
        notes=tuple(notes),
        system=system,
    )


def doses_sheet(week: Week, system: str) -> WeekSheet | None:
    """What to add where pH or EC is out of its band, for a tank at its fill mark."""
    page = week.page("SOP-09", "SOP-08", system=system)
    register, house = week.register, week.house
    ec = [(found(register, id_, system=system)) for id_ in ("ec_raise", "ec_dilute", "ec_swap")]
    grids = []
    for amount in register.of_id("ph_next_dose", system=system):
        chemical = dict(amount.of)["chemical"]
        first = found(register, "ph_first_dose", system=system, chemical=chemical)
        most = f", first dose at most {first.printed}" if first is not None else ""
        grids.append(_table(amount, f"pH too high: {house.chemical(chemical).name}{most}", 2))
    low = [
        f"pH too low: {a.printed} {house.chemical(dict(a.of)['chemical']).name} at most"
        for a in register.of_id("ph_up_first_dose", system=system)
    ]
    grids += [_table(amount, amount.label, 1 if amount.id == "ec_raise" else 2) for amount in ec if amount]
    full = found(register, "res_fill", system=system)
    if page is None or not grids:
        return None
    bands = [
        f"{a.label} {a.printed}"
        for id_ in ("ph_band", "ec_band")
        if (a := found(register, id_, system=system)) is not None
    ]
    notes = (
        "; ".join([*bands, *low]) + ".",
        "After a pH dose wait 15 min and read again. Two doses in 24 h and still out: stop, check the pen, ask.",
        f"EC is set before pH. {DASH} is {TOO_LITTLE}.",
    )
    title = f"pH and EC tables {system}"
    return _sheet(
        week,
        page,
        f"WEEK-DOSES-{system}",
        title,
        tuple(grids),
        notes=notes,
        system=system,
        scope=f"for a tank at its fill mark, {full.printed}" if full is not None else "",
    )


def sowing_card(week: Week) -> WeekSheet | None:
    """The varieties whose day of sowing falls into the week, and blank rows for sets that follow on."""
    page = week.page("SOP-11", "SOP-14")
    house, register = week.house, week.register
    if page is None or not house.varieties:
        return None
    dates = {dict(a.of)["variety"]: a.printed for a in register.of_id("sow_date")}
    due = sorted(
        (day, name) for name, day in dates.items() if week.first.isoformat() <= day <= week.last.isoformat()
    )
    rows = [(*_sown(register, name), day, *[""] * 5) for day, name in due]
    rows += [("", "", "", "", "", "", *[""] * 5)] * (8 - len(rows))
    notes = []
    if not due:
        later = sorted((day, name) for name, day in dates.items() if day > week.last.isoformat())
        then = f" The next is {later[0][1].replace('_', ' ')} on {later[0][0]}." if later else ""
        notes.append(
            f"No first sowing falls into this week.{then} The rows are for sets that follow on (SOP-14)."
        )
    lots = [
        f"{lot.id}: {lot.variety.replace('_', ' ')}, {lot.treatment}{f', tested {lot.tested}' if lot.tested else ''}"
        for lot in house.seed_lots
    ]
    if lots:
        notes.append(f"Lots on file: {'; '.join(lots)}. Sown for eating: untreated only.")
    columns = (
        Column("Variety"), Column("Sheet", 19), Column("Plugs", 19), Column("Seeds", 21), Column("Blocks", 28),
        Column("Sow on", 28), Column("Sown, date and time", 25), Column("Sow lot", 28), Column("Plugs sown", 18),
        Column("Sown by", 17), Column("Checked", 19),
    )  # fmt: skip
    return _sheet(
        week, page, "WEEK-SOWING", "Sowing card", (Grid("", columns, tuple(rows), 12.0),),
        notes=tuple(notes), record=True, landscape=True,
    )  # fmt: skip


def _sown(register: Register, name: str) -> tuple[str, str, str, str, str]:
    """Variety, sheet, plugs, seeds and blocks of one sowing, as printed."""
    house = register.house
    sheet = next((sheet for sheet, on_it in house.sow_layout.items() if name in on_it), NOT_SET)
    plugs, seeds = (found(register, id_, variety=name) for id_ in ("sow_plugs", "seed_count"))
    blocks = [
        f"{', '.join(block.cup_plates)} ({block.plants} plants)"
        for block in (house.crop_plan.blocks if house.crop_plan is not None else ())
        if block.variety == name
    ]
    return (
        name.replace("_", " "),
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
        f"{a.printed} {words} {dict(a.of)['variety'].replace('_', ' ')}"
        for id_, words in (("harvest_first", "first"), ("harvest_last", "last"))
        for a in week.register.of_id(id_)
        if week.first.isoformat() <= a.printed <= week.last.isoformat()
    ]
    notes = [
        "One row for each variety, tray and pick. Harvest lot = sow lot + tray + date: the same words on each punnet.",
        "Back: punnet, this log, sowing card, seed lot. Forth: seed lot, this log, to whom. Either way within 5 min.",
    ]
    hold = week.house.policies.harvest_hold_after_any_spray if week.house.policies is not None else None
    if hold:
        notes.append(f"Hold after any spray: {hold}. Nothing is picked from a tray on hold.")
    if picked:
        notes.append(f"Harvests this week: {'; '.join(picked)}.")
    rows = tuple(("",) * len(columns) for _ in range(10))
    return _sheet(
        week, page, "WEEK-HARVEST", "Harvest log", (Grid("", columns, rows, 10.5),),
        notes=tuple(notes), record=True, landscape=True,
    )  # fmt: skip


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
    return _sheet(
        week,
        page,
        "WEEK-STICKY",
        "Sticky cards",
        (Grid("", columns, rows, 9.0),),
        notes=(
            "Count what is new since the last count. Shelf 1 is the lowest. Twice last week's count, or a kind not seen before, is a finding: SOP-23.",
        ),
        signed=True,
        landscape=True,
    )


def stock_count(week: Week) -> WeekSheet | None:
    """Each stock with its reorder point and its last day as printed, and boxes for what is there."""
    page = week.page("SOP-17", "SOP-02")
    register, house = week.register, week.house
    if page is None:
        return None
    items: list[tuple[str, Amount | None, Amount | None]] = []
    for part in house.nutrients.parts_in_order():
        items.append((part.name, found(register, "reorder_point", part=part.id), None))
    for chemical in house.chemicals:
        items.append((chemical.name, None, found(register, "discard_date", chemical=chemical.id)))
    rows = [
        (name, order.printed if order else NOT_SET, last.printed if last else NOT_SET, "", BOX, "", "")
        for name, order, last in items
    ]
    rows += [(strip.name, NOT_SET, NOT_SET, "", BOX, "", "") for strip in house.test_strips]
    columns = (
        Column("Item"), Column("Order at", 24), Column("Throw out on", 29), Column("Count now", 27),
        Column("Order?", 15), Column("Ordered on", 27), Column("Initials", 17),
    )  # fmt: skip
    return _sheet(
        week,
        page,
        "WEEK-STOCK",
        "Stock count",
        (Grid("", columns, tuple(rows), 10.0),),
        notes=(
            "At or under the figure, or before its last day: order today. Not set: the house has no figure for it.",
        ),
        signed=True,
    )


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
    return _sheet(week, page, "WEEK-DATES", "Next week's dates", (grid,), notes=notes)


def _table(amount: Amount, title: str, across: int) -> Grid:
    """A table of the register, its cells as printed there."""
    table = amount_table(amount, title)
    rows = tuple(tuple(DASH if cell == TOO_LITTLE else cell for cell in row) for row in table.rows)
    return Grid(title, tuple(Column(capital(head)) for head in table.columns), rows, 5.8, across)


def _sheet(
    week: Week,
    page: PageView,
    key: str,
    title: str,
    grids: tuple[Grid, ...],
    *,
    notes: tuple[str, ...] = (),
    outside: tuple[tuple[str, str], ...] = (),
    pens: tuple[str, ...] = (),
    system: str = "",
    scope: str = "",
    record: bool = False,
    signed: bool = False,
    landscape: bool = False,
) -> WeekSheet:
    return WeekSheet(
        key=key,
        title=title,
        scope=" · ".join(piece for piece in (week.words, scope) if piece),
        system=system,
        house_name=week.house.house.name,
        control=replace(page.control, document=page.key),
        public_address=page.public_address,
        grids=grids,
        notes=notes,
        pens=pens,
        outside=outside,
        record=record or signed,
        signed=signed,
        reviewed_within=f"{REVIEW_DAYS} days",
        kept=kept_for(week.house),
        landscape=landscape,
    )

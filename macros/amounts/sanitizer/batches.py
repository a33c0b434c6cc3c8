"""Stock into a batch within target and ceiling (E06-E09), and how the batch is proved on the house's own strips."""

from __future__ import annotations

from dataclasses import dataclass

from macros.amounts.engine import number_format as printing
from macros.amounts.engine.amount import Amount
from macros.amounts.engine.number_format import brief, number_text, text_as_set
from macros.amounts.engine.pours import bench, give_poured
from macros.amounts.engine.register import Register, Withheld
from macros.amounts.engine.working import Working
from macros.calculations.sanitizer import batches
from macros.calculations.sanitizer.strength import peroxide_density
from macros.ground.problems import Problem
from macros.ground.records import Record
from macros.ground.units import convert
from macros.house.records.chemicals import TestStrip
from macros.house.records.house import House
from macros.house.records.sanitizing import SanitizingTask
from macros.house.records.systems import System
from macros.house.rules.report import problem_at
from macros.published.safety.sanitizers import SanitizerKind, kind_of

STRENGTH_TOPIC = "Strength made and proved"


def kind_of_stock(house: House, stock: str) -> SanitizerKind:
    """The kind of the sanitizer with this id; withheld for one that is none of the kinds, which the rules refuse."""
    chemical = house.chemical(stock)
    kind = kind_of(chemical.active)
    if kind is None:
        raise Withheld(f"{chemical.active} is no kind of sanitizer that is known")
    return kind


@dataclass(frozen=True)
class Task:
    """One sanitizing task for one system."""

    name: str
    data: SanitizingTask
    system: System
    volume_id: str

    @property
    def keys(self) -> dict[str, str]:
        """What tells its amounts apart."""
        return {"system": self.system.id, "task": self.name}

    @property
    def label(self) -> str:
        """`tray spray`."""
        return self.name.replace("_", " ")


def as_on_label(house: House, task: SanitizingTask, *fields: str) -> str:
    """Target, ceiling, or both of a task as the house writes them, beside it what labels of the kind say: `0.02 % w/v (190 ppm
    available chlorine)`.
    """
    chemical = house.chemical(task.chemical)
    strengths = [getattr(task, field) for field in fields]
    text = " to ".join(one.written for one in strengths)
    kind = kind_of(chemical.active)
    if kind is None:
        return text
    ends = [one.percent for one in strengths]
    if len(ends) == 1:
        beside = kind.label_text(ends[0], chemical.active, "down" if fields == ("ceiling",) else "up")
    else:
        beside = kind.label_range(ends, chemical.active, allowed=True)
    if beside and all(one.in_ppm for one in strengths):
        return beside  # typed as the label says it
    return f"{text} ({beside})" if beside else text


def grams_per_litre(w: Working, record: Record, field: str) -> float:
    """A working strength in g/L.

    A w/w strength is read at the denser side for a target (peroxide by its published density) and at 1.00 g/mL
    for a ceiling or a limit: each the safe side.
    """
    strength = w.strength(record, field)
    if strength.basis == "w/w" and field == "target" and _is_peroxide(w, record):
        return strength.percent * 10 * peroxide_density(strength.percent)
    if strength.basis == "v/v":
        raise Withheld(f"{record.key(field)} is in v/v; give w/v or w/w")
    if strength.basis == "w/w":
        w.assume(
            f"{record.key(field)} of {strength.written} is read at 1.00 g/mL: so thin, it weighs about as water"
        )
    return strength.percent * 10


def _is_peroxide(w: Working, record: Record) -> bool:
    if not isinstance(record, SanitizingTask):
        return False
    return "hydrogen_peroxide" in kind_of_stock(w.register.house, record.chemical).substances


def poured_stock(register: Register, task: Task) -> Amount | None:
    """Stock for a batch, rounded up to the house's marks, then checked against target and ceiling again."""
    w = Working(register, "stock_for_batch", f"Stock, {task.label}", "Sanitizing batches", **task.keys)
    chemical = register.house.chemical(task.data.chemical)
    batch = w.whole(task.volume_id, **task.keys)
    litres = convert(batch.rounded, batch.unit, "L")
    fresh, now = (w.amount(id_, chemical=chemical.id) for id_ in ("stock_strength", "stock_strength_now"))
    target, ceiling = grams_per_litre(w, task.data, "target"), grams_per_litre(w, task.data, "ceiling")
    if now < target:
        raise _told(register, task, _too_weak(register, task, now, target))
    # A guard, not an input: the day of use moves no batch.
    if not register.get("stock_ok", chemical=chemical.id).exact:
        raise _told(register, task, _past_its_date(register, task))
    millilitres = batches.stock_for_batch(litres, target, now)
    w.add_line(
        f"{brief(litres)} L x {brief(target)} g/L / {brief(now)} g/L x 1000 mL/L = {brief(millilitres)} mL"
    )
    w.source("mass balance; CDC guidance on chlorine solutions gives it as parts of water = stock/wanted - 1")
    tools = bench(register, w, "sanitizer", millilitres)
    amount = give_poured(
        w,
        millilitres,
        tools,
        "up",
        "stock is rounded up, then checked under the ceiling",
        task.data.place("target"),
    )
    if amount is None:
        return None
    poured = convert(amount.rounded, amount.unit, "mL")
    made = batches.strength_made(poured, now, litres)
    _under_ceiling(register, task, amount, batch, (now, fresh), (made, ceiling))
    return amount


def _under_ceiling(
    register: Register,
    task: Task,
    amount: Amount,
    batch: Amount,
    stock: tuple[float, float],
    strengths: tuple[float, float],
) -> None:
    """E08: the made strength passes the ceiling [g/L] by rounding up, by fresh stock, or by half a mark of the tools."""
    (now, fresh), (made, ceiling) = stock, strengths
    ceiling_passed = ceiling * (1 + 1e-9)
    if made > ceiling_passed:
        mark = number_text(amount.rounding.step or 0.0, amount.rounding.step or 1.0)
        what = (
            f"system {task.system.id}: after rounding up to the {mark} {printing.shown_unit(amount.unit)} mark the made "
            f"strength of {task.name} is {brief(made / 10)} % w/v"
        )
        allowed = f"The ceiling is {task.data.ceiling.written}"
        remedy = "Own a finer tool, or make a larger batch"
        register.report_problem(task.data, "ceiling", what, allowed, remedy, "E08")
    elif made * fresh / now > ceiling_passed:
        what = (
            f"system {task.system.id}: {task.name} is poured for stock at the end of its use ({brief(now)} g/L); stock as "
            f"bought makes it {made * fresh / now / 10:.3g} % w/v"
        )
        allowed = f"The ceiling is {task.data.ceiling.written}"
        remedy = "Use the stock up sooner: write a higher discard_below_fraction, or an earlier expires"
        register.report_problem(task.data, "ceiling", what, allowed, remedy, "E08")
    elif (most := tolerance(register, amount, batch).strongest(fresh)) > ceiling_passed:
        what = f"system {task.system.id}: half a mark of the measuring tools alone can make {task.name} {most / 10:.3g} % w/v"
        allowed = f"The ceiling is {task.data.ceiling.written}"
        remedy = "Own a finer tool, or make a larger batch"
        register.report_problem(task.data, "ceiling", what, allowed, remedy, "E08")


@dataclass(frozen=True)
class Tolerance:
    """Stock [mL] and batch [L] as read, and half a mark of every tool used on either."""

    stock: float
    stock_off: float
    batch: float
    batch_off: float

    def strongest(self, now: float) -> float:
        """Strength [g/L] with more stock and less batch than read, never over `now`, that of the stock [g/L]."""
        stock = self.stock + self.stock_off
        return batches.strength_made(stock, now, max(self.batch - self.batch_off, stock / 1000))

    def weakest(self, now: float) -> float:
        """The other way round [g/L]."""
        return batches.strength_made(max(0.0, self.stock - self.stock_off), now, self.batch + self.batch_off)


def tolerance(register: Register, stock: Amount, batch: Amount) -> Tolerance:
    """What half a mark does: of each pour of the stock, and of the step the batch is filled to."""
    marks = {
        tool.name: tool.mark.to("mL") for tool in register.house.measuring_tools if "level" not in tool.for_
    }
    off = sum(marks[pour.tool] / 2 for pour in stock.pours)
    litres = convert(batch.rounded, batch.unit, "L")
    step = convert(batch.rounding.step or 0.0, batch.unit, "L")
    return Tolerance(convert(stock.rounded, stock.unit, "mL"), off, litres, step / 2)


def _told(register: Register, task: Task, problem: Problem) -> Withheld:
    """Tell a refusal once, and withhold what rests on it."""
    register.problems.append(problem)
    return Withheld(f"{task.name}: {problem.what}")


def _too_weak(register: Register, task: Task, now: float, target: float) -> Problem:
    chemical = register.house.chemical(task.data.chemical)
    what = (
        f"task {task.name} wants {task.data.target.written} ({target:.3g} g/L) but {chemical.id} has {now:.3g} g/L at the end "
        "of its use"
    )
    allowed = "It cannot be made by diluting"
    remedy = "Use new stock, or a lower target the label allows"
    return problem_at(task.data, "target", what, allowed, remedy, "E06")


def _past_its_date(register: Register, task: Task) -> Problem:
    chemical = register.house.chemical(task.data.chemical)
    if chemical.expires is not None and chemical.expires < register.day:
        what = f"{chemical.id} expires {chemical.expires}; it is used on {register.day}"
    else:
        what = f"{chemical.id} has lost more than its discard fraction of {chemical.discard_below_fraction} allows"
    if chemical.expires is None and chemical.discard_below_fraction is None:
        what = f"{chemical.id} has been open for over a year, and nobody says until when it is used"
    field = "expires" if chemical.expires is not None else "strength"
    return Problem(
        chemical.place(field), chemical.key(field), what, "No batch is made from it", "Use new stock", "E07"
    )


def prove(register: Register, task: Task) -> None:
    """The dilution that brings the batch onto a strip, and the pads that pass."""
    kind = kind_of(register.house.chemical(task.data.chemical).active)
    strips = [s for s in register.house.test_strips if kind is not None and s.measures == kind.strip]
    wanted = [s for s in strips if task.data.proved_with in (None, s.id)]
    if not wanted:
        return
    with register.attempt("strip_dilution", task.data, "target", "E24", **task.keys):
        _strip(register, task, max(wanted, key=lambda s: max(pad.to("mg/L") for pad in s.pads)))


def as_read(w: Working, task: Task, milligrams: float) -> float:
    """A strength as label and strip of the kind count it [mg/L]: chlorine bleach as available chlorine."""
    chemical = w.register.house.chemical(task.data.chemical)
    kind = kind_of_stock(w.register.house, task.data.chemical)
    read = kind.read_on_strip(milligrams, chemical.active)
    if read != milligrams:
        w.add_line(
            f"as {kind.strip_name}: {brief(milligrams)} mg/L x {brief(read / milligrams)} = {brief(read)} mg/L"
        )
    return read


def _strip(register: Register, task: Task, strip: TestStrip) -> None:
    w = Working(
        register, "strip_dilution", f"Dilution for the strip, {task.label}", STRENGTH_TOPIC, **task.keys
    )
    w.raw(strip, "pads")
    target = as_read(w, task, grams_per_litre(w, task.data, "target") * 1000)
    pads = [pad.to("mg/L") for pad in strip.pads]
    reading = batches.strip_reading(target, pads)
    w.add_line(
        f"1 part in {reading.dilution}: {brief(target)} mg/L / {reading.dilution} = {brief(reading.wanted)} mg/L on {strip.name}"
    )
    w.count(reading.dilution, "", "the smallest dilution that reads in the middle of the strip")
    band = Working(register, "strip_band", f"Strip passes, {task.label}", STRENGTH_TOPIC, **task.keys)
    band.whole("strip_dilution", **task.keys)
    passing = [text_as_set(pad, 1.0) for pad in sorted(pads) if reading.low_pad <= pad <= reading.high_pad]
    band.add_line(f"pads inside 90 to 125 % of {brief(reading.wanted)} mg/L; a pad under 90 % never passes")
    band.add_line(f"these pads pass: {' or '.join(passing)} mg/L; under {passing[0]} fails")
    band.band(
        reading.low_pad,
        reading.wanted,
        reading.high_pad,
        "mg/L",
        1.0,
        "pads printed on the strip",
        tool=strip.name,
    )

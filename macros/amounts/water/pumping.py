"""What the pump lifts, how fast trays fill and empty, and whether overflow and timer bear it (E12-E14)."""

from __future__ import annotations

import math

from macros.amounts.engine.number_format import brief, told
from macros.amounts.engine.register import Register
from macros.amounts.engine.working import Working
from macros.amounts.water.flooding import draw_now
from macros.calculations.water import hydraulics, watering
from macros.calculations.water.hydraulics import GRAVITY, ORIFICE, WEIR
from macros.ground.problems import RangeProblem
from macros.house.records.systems import System
from macros.house.rules.report import limit

TOPIC = "Pump and timer"
DERATE = 0.80
"""Share of the label's flow a used pump still gives: our own default, no source."""
FITTING = 1.0
"""Loss coefficient taken for one bend or fitting: common practice, no source."""
HOLD = 5.0
"""[min] A full tray stands this long: our own default, no source."""
REPLACED_BY_STOPWATCH = "a stopwatch beats this figure: write down the first real times"
_PER_SECOND = 1000 * 60
"""[L/min in a m3/s]"""


def fill(register: Register) -> None:
    """Enter pump, overflow, drain and timer amounts of every system; refuse what cannot run."""
    for system in register.house.systems:
        keys = {"system": system.id}
        if system.pump is not None:
            with register.attempt("pump_flow_at_head", system.pump, "head_at_zero_flow", "E12", **keys):
                _flow(register, system)
            with register.attempt("flood_fill_time", system.pump, "flow_at_zero_head", "E14", **keys):
                _fill_time(register, system)
            with register.attempt("standpipe_capacity", system.pump, "flow_at_zero_head", "E13", **keys):
                _overflow(register, system)
        with register.attempt("flood_drain_time", system.trays, "flood_depth", **keys):
            _drain_time(register, system)
        if system.timer is not None:
            with register.attempt("pump_on_time", system.timer, "on_time_set", "E14", **keys):
                _on_time(register, system)
            with register.attempt("stagger_gap", system.timer, "on_time_set", "E14", **keys):
                _stagger_gap(register, system)


def _flow(register: Register, system: System) -> None:
    """Against the lowest working level; a bucket test at the top tray replaces the label."""
    w = Working(register, "pump_flow_at_head", "Pump flow at the top tray", TOPIC, system=system.id)
    pump, pipes = system.pump, system.plumbing
    assert pump is not None
    if pump.bucket_test_at_top_tray is not None:
        litres = w.fact(pump, "bucket_test_at_top_tray", "L/min")
        w.add_line(f"bucket test at the top tray: {brief(litres)} L/min")
        w.number(litres, "L/min", "down", "a flow to fill with is rounded down", step=0.1)
        return
    free, most = w.fact(pump, "flow_at_zero_head", "L/min"), w.fact(pump, "head_at_zero_flow", "m")
    top = w.fact(system.trays, "top_tray_inlet_height_above_reservoir_floor", "m")
    head = top - w.fact(system.reservoir, "pump_minimum_height", "m")
    derate = w.fact(pump, "derate") if pump.derate is not None else DERATE
    w.assume(f"W01: no bucket test at the top tray, so {derate:g} of the label's flow is taken")
    what = f"system {system.id}: no bucket test at the top tray"
    allowed = f"The label's flow times {derate:g} is taken until there is one"
    remedy = "Fill a bucket at the top tray against a watch and write the flow"
    register.report_problem(pump, "bucket_test_at_top_tray", what, allowed, remedy, "W01", "measure this")
    line = hydraulics.flow_against_head(free, most, head)
    w.add_line(
        f"lift from the lowest working level: {brief(top)} m - {brief(top - head)} m = {brief(head)} m"
    )
    if pipes is not None and pipes.tubing is not None:
        bore, length = w.fact(pipes.tubing, "inside_diameter", "m"), w.fact(pipes.tubing, "length", "m")
        loss = FITTING * w.fact(pipes.tubing, "fittings")
        flow = hydraulics.operating_flow(free / _PER_SECOND, most, head, bore, length, loss) * _PER_SECOND
        w.source(
            "Darcy-Weisbach with Colebrook-White friction; the pump's curve as a straight line, the cautious form"
        )
        w.add_line(
            f"{brief(free)} L/min x (1 - {brief(head)} m / {brief(most)} m) = {brief(line)} L/min without the tube; with "
            f"{brief(length)} m of {brief(bore * 1000)} mm tube {brief(flow)} L/min"
        )
    else:
        flow = line
        w.assume("no friction in the tube; set plumbing.tubing")
        w.add_line(f"{brief(free)} L/min x (1 - {brief(head)} m / {brief(most)} m) = {brief(flow)} L/min")
    w.add_line(f"{brief(flow)} L/min x {derate:g} = {brief(flow * derate)} L/min")
    w.number(flow * derate, "L/min", "down", "a flow to fill with is rounded down", step=0.1)


def _fill_time(register: Register, system: System) -> None:
    w = Working(register, "flood_fill_time", "Time until the trays are full", TOPIC, system=system.id)
    drawn, flow = draw_now(w, system), w.amount("pump_flow_at_head", system=system.id)
    minutes = drawn / flow
    w.add_line(f"{brief(drawn)} L / {brief(flow)} L/min = {brief(minutes)} min")
    timer = system.timer
    if timer is not None and timer.longest_flood_allowed is not None:
        longest = w.fact(timer, "longest_flood_allowed", "min")
        if minutes > longest - 2:
            raise RangeProblem(
                f"system {system.id}: the trays are full after {brief(minutes, 3)} min, and a flood may last "
                f"{brief(longest)} min: 2 min at least are left for the roots. Fit a stronger pump, or flood one tray at a time"
            )
    w.assume(REPLACED_BY_STOPWATCH)
    w.number(minutes, "min", "up", "a time to fill is rounded up", tool="timer")


def _overflow(register: Register, system: System) -> None:
    """E13: the overflow must pass all a new pump sends from a full tank into one tray."""
    w = Working(register, "standpipe_capacity", "What the overflow passes", TOPIC, system=system.id)
    pump, pipes = system.pump, system.plumbing
    assert pump is not None
    bore = w.fact(pipes, "standpipe_inside_diameter", "m")
    head = w.fact(system.trays, "overflow_head_allowed", "m")
    weir, mouth = (f(bore, head) * _PER_SECOND for f in (hydraulics.weir_flow, hydraulics.orifice_flow))
    most = min(weir, mouth)
    top = w.fact(system.trays, "top_tray_inlet_height_above_reservoir_floor", "m")
    lift = top - w.fact(system.reservoir, "fill_mark_height", "m")
    sent = hydraulics.flow_against_head(
        w.fact(pump, "flow_at_zero_head", "L/min"), w.fact(pump, "head_at_zero_flow", "m"), lift
    )
    w.source("circular weir 1.7 pi D H^1.5 (coefficient from memory); orifice with Cd 0.6 (N. Midoux)")
    w.add_line(
        f"{brief(bore * 1000)} mm pipe, {brief(head * 1000)} mm of water over it: over the lip {WEIR:g} x 3.1416 x "
        f"{brief(bore)} m x {brief(head)}^1.5 x 60000 = {brief(weir)} L/min; through the drowned mouth {ORIFICE:g} x "
        f"3.1416 / 4 x {brief(bore)}^2 x root(2 x {brief(GRAVITY)} x {brief(head)} m) x 60000 = {brief(mouth)} L/min; "
        f"the smaller is {brief(most)} L/min",
        si=True,
    )
    w.add_line(
        f"a new pump at the full tank sends one tray {brief(sent)} L/min: {brief(most)} L/min / {brief(sent)} L/min = "
        f"{brief(most / sent)} times over"
    )
    assert pipes is not None
    us, pipe = register.house.us, pipes.standpipe_inside_diameter
    assert pipe is not None
    assert system.trays.overflow_head_allowed is not None
    if most < sent:
        what = (
            f"standpipe {pipe.written} at {system.trays.overflow_head_allowed.written} head passes {told(most, 'L/min', us)}; a new pump "
            f"at the full tank can send one tray {told(sent, 'L/min', us)}"
        )
        allowed = "Water will go over the wall"
        wider = limit(_wide_enough(sent, head), "mm", pipe, up=True)
        remedy = f"Fit a wider pipe, for example {wider}, or a smaller pump"
        register.report_problem(pipes, "standpipe_inside_diameter", what, allowed, remedy, "E13")
    elif most < 1.5 * sent:
        what = f"the overflow of system {system.id} passes only {brief(most / sent, 2)} times what the pump can send"
        allowed = "1.5 times leaves room for a leaf over the strainer"
        remedy = "Fit a wider pipe, or look at it every day"
        register.report_problem(pipes, "standpipe_inside_diameter", what, allowed, remedy, "", "warning")
    w.number(most, "L/min", "down", "what a pipe passes is rounded down", step=1.0)


def _wide_enough(sent: float, head: float) -> int:
    """The next 5 mm bore that passes 1.5 times what the pump sends [mm]."""
    bore = 0.02
    while hydraulics.overflow_capacity(bore, head) * _PER_SECOND < 1.5 * sent:
        bore += 0.005
    return round(bore * 1000)


def _drain_time(register: Register, system: System) -> None:
    w = Working(register, "flood_drain_time", "Time until a tray is empty", TOPIC, system=system.id)
    hole = w.fact(system.plumbing, "drain_inside_diameter", "m")
    length, width, depth = (
        w.fact(system.trays, name, "m") for name in ("inside_length", "inside_width", "flood_depth")
    )
    seconds = hydraulics.drain_time(length * width, depth, hole)
    opening = math.pi / 4 * hole**2
    w.source("Torricelli's law integrated; Cd 0.6 for a plain hole (N. Midoux)")
    w.add_line(
        f"a hole of {brief(hole * 1000)} mm opens 3.1416 / 4 x {brief(hole)}^2 = {brief(opening)} m2; "
        f"2 x {brief(length * width)} m2 x root({brief(depth)} m) / ({ORIFICE:g} x {brief(opening)} m2 x root(2 x "
        f"{brief(GRAVITY)})) = {brief(seconds)} s; {brief(seconds)} s / 60 = {brief(seconds / 60)} min",
        si=True,
    )
    w.assume(f"{REPLACED_BY_STOPWATCH}; back through hose and pump it is slower")
    w.number(seconds / 60, "min", "up", "a time to wait is rounded up", tool="timer")


def _on_time(register: Register, system: System) -> None:
    w = Working(register, "pump_on_time", "Pump on", TOPIC, system=system.id)
    timer = system.timer
    assert timer is not None
    filled = math.ceil(w.amount("flood_fill_time", system=system.id) - 1e-9)
    step, set_ = w.fact(timer, "smallest_step", "min"), w.fact(timer, "on_time_set", "min")
    least = watering.minutes_up(filled + HOLD, step)
    w.add_line(
        f"{filled} min to fill + {HOLD:g} min standing = {brief(filled + HOLD)} min, up to the timer's {brief(step)} min: "
        f"{brief(least)} min"
    )
    w.add_line(f"set: {brief(set_)} min")
    longest = None
    if timer.longest_flood_allowed is not None:
        longest = w.fact(timer, "longest_flood_allowed", "min")
        if step > longest:
            raise RangeProblem(
                f"smallest_step {timer.smallest_step.written} is longer than the longest flood allowed "
                f"({timer.longest_flood_allowed.written}). Fit a finer timer"
            )
        if set_ > longest:
            raise RangeProblem(
                f"on_time_set {timer.on_time_set.written} is longer than the longest flood allowed "
                f"({timer.longest_flood_allowed.written}). Set a shorter time"
            )
    if set_ < filled:
        raise RangeProblem(
            f"system {system.id}: on_time_set {timer.on_time_set.written} ends before the trays are full ({filled} min). "
            f"Set {brief(least)} min"
        )
    if set_ >= least:
        w.assume(f"a full tray stands {HOLD:g} min (our own default)")
    else:
        register.report_problem(
            timer,
            "on_time_set",
            f"system {system.id}: on_time_set {timer.on_time_set.written} leaves the full trays under {HOLD:g} min",
            f"They are full after {filled} min",
            f"Set {brief(least)} min",
            "",
            "warning",
        )
        w.add_line(
            f"the house holds the full trays {brief(set_ - filled)} min: {brief(set_)} min at least, as it is set"
        )
        w.assume(f"as the house sets it, under the {HOLD:g} min of ours")
    least = min(least, set_)
    w.number(least, "min", "up", "up to a step of the timer", step=1.0, tool="timer", bounds=(None, longest))


def _stagger_gap(register: Register, system: System) -> None:
    """Least time from one flood's start to the next; E14 where two floods overlap."""
    w = Working(register, "stagger_gap", "Least time between two floods", TOPIC, system=system.id)
    timer = system.timer
    assert timer is not None
    step, set_ = w.fact(timer, "smallest_step", "min"), w.fact(timer, "on_time_set", "min")
    drained = math.ceil(w.amount("flood_drain_time", system=system.id) - 1e-9)
    gap = watering.minutes_up(set_ + drained + 2, step)
    w.raw(timer, "floods_set")
    w.add_line(f"{brief(set_)} min on + {drained} min to drain + 2 min = {brief(gap)} min")
    starts = sorted(flood.hour * 60 + flood.minute for flood in timer.floods_set)
    for one, other in zip(starts, [*starts[1:], starts[0] + 1440], strict=True):
        if other - one < gap and len(starts) > 1:
            raise RangeProblem(
                f"system {system.id}: on_time_set {timer.on_time_set.written} from {_clock(one)} and the next flood at "
                f"{_clock(other)} overlap the drain (done {_clock(one + math.ceil(set_ - 1e-9) + drained)}). Leave {brief(gap)} min "
                "between two floods"
            )
    w.number(gap, "min", "up", "a time between floods is rounded up", step=1.0, tool="timer")


def _clock(minutes: int) -> str:
    return f"{minutes // 60 % 24:02d}:{minutes % 60:02d}"

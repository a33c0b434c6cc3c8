"""What hangs on each breaker, against what the house's code lets it carry for hours (E21)."""

from __future__ import annotations

from macros.amounts.engine.number_format import brief
from macros.amounts.engine.register import Register
from macros.amounts.engine.working import Working
from macros.ground.problems import RangeProblem
from macros.house.records.room import Circuit, Electricity

TOPIC = "Electricity"
CONTINUOUS = 0.80
"""Share of a breaker for loads that run 3 h or more: NFPA 70 (NEC) 210.20(A) asks for a breaker of 125 % of them plus the
rest. Elsewhere a policy of the house; local rules decide."""
RULE = "NFPA 70 (NEC) 210.19(A), 210.20(A), 215.3: 125 % of what runs 3 h or more plus the rest; elsewhere the house's policy"
ELECTRICIAN = "wiring, breakers and sockets are a licensed electrician's work; local rules decide"


def fill(register: Register) -> None:
    """Enter load and allowance of every circuit."""
    supply = register.house.electricity
    if supply is None:
        return
    for circuit in supply.circuits:
        with register.attempt("circuit_allowed", circuit, "breaker", circuit=circuit.id):
            _allowed(register, circuit)
        with register.attempt("circuit_load", circuit, "breaker", circuit=circuit.id):
            _load(register, supply, circuit)


def _allowed(register: Register, circuit: Circuit) -> None:
    w = Working(register, "circuit_allowed", f"Breaker {circuit.id} may carry", TOPIC, circuit=circuit.id)
    breaker = w.fact(circuit, "breaker", "A")
    share = _share(w, circuit)
    w.source(RULE)
    w.assume(ELECTRICIAN)
    w.add_line(f"{brief(breaker)} A x {brief(share)} = {brief(breaker * share)} A")
    w.number(breaker * share, "A", "down", "what a breaker may carry is rounded down", step=0.1)


def _share(w: Working, circuit: Circuit) -> float:
    """The share of a breaker that may run for hours; the usual one where the house gives none."""
    assumed = f"{CONTINUOUS:g} of the breaker for hours on end; set continuous_fraction_allowed"
    return w.fact_or(circuit, "continuous_fraction_allowed", "", CONTINUOUS, assumed)


def _load(register: Register, supply: Electricity, circuit: Circuit) -> None:
    w = Working(register, "circuit_load", f"Load counted on breaker {circuit.id}", TOPIC, circuit=circuit.id)
    voltage = w.fact(supply, "supply_voltage", "V")
    if voltage <= 0:
        raise RangeProblem("a supply has a voltage")
    for_hours, rest = _amperes(w, supply, circuit, voltage)
    share = _share(w, circuit)
    if share <= 0:
        raise RangeProblem("a breaker that may carry nothing for hours has no load")
    counted = for_hours / share + rest
    breaker = w.fact(circuit, "breaker", "A")
    w.source(RULE)
    w.assume(
        "watts over volts leave out the power factor: amperes on a label win; pumps draw more at the start"
    )
    w.add_line(f"{brief(for_hours)} A / {brief(share)} + {brief(rest)} A = {brief(counted)} A")
    if counted > breaker + 1e-9:
        register.report_problem(
            circuit,
            "breaker",
            f"{circuit.id} counts {counted:.2f} A: {for_hours:.2f} A for hours on end / {share:.2f} + {rest:.2f} A at times",
            f"{brief(breaker)} A, what the breaker is for",
            "Move a load to another breaker, or write continuous: no at what never runs 3 h on end; ask a licensed "
            "electrician",
            "E21",
        )
    w.number(counted, "A", "up", "a load is rounded up", step=0.1, bounds=(None, breaker))


def _amperes(w: Working, supply: Electricity, circuit: Circuit, voltage: float) -> tuple[float, float]:
    """Amperes that run for hours on end, and the rest. What the house does not tell of runs on end, the safe side."""
    found: dict[bool, list[float]] = {True: [], False: []}
    for load in supply.loads:
        if load.circuit != circuit.id:
            continue
        on_end = True
        if load.continuous is None:
            w.assume("a load runs for hours on end where the house does not write continuous: no")
        else:
            on_end = bool(w.raw(load, "continuous"))
        drawn = (
            w.fact(load, "current", "A") if load.current is not None else w.fact(load, "power", "W") / voltage
        )
        w.add_line(f"{load.name} {brief(drawn)} A, {'for hours on end' if on_end else 'at times'}")
        found[on_end].append(drawn)
    return sum(found[True]), sum(found[False])

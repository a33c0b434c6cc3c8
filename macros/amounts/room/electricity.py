"""Q86: what hangs on each breaker, against what the house's code lets it carry for hours (E21)."""

from __future__ import annotations

from macros.amounts.engine.number_format import brief
from macros.amounts.engine.register import Register
from macros.amounts.engine.working import Working
from macros.ground.problems import RangeProblem
from macros.house.records.room import Circuit, Electricity

TOPIC = "Electricity"
CONTINUOUS = 0.80
"""Share of a breaker for loads that run 3 h or more: NFPA 70 (NEC) 210.20(A) asks 125 % sizing. Elsewhere a policy of
the house; local rules decide."""
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
    assumed = f"{CONTINUOUS:g} of the breaker for hours on end; set continuous_fraction_allowed"
    share = w.fact_or(circuit, "continuous_fraction_allowed", "", CONTINUOUS, assumed)
    w.source(
        "NFPA 70 (NEC) 210.20(A): 125 % of what runs 3 h or more, where that code holds; else the house's policy"
    )
    w.assume(ELECTRICIAN)
    w.add_line(f"{brief(breaker)} A x {brief(share)} = {brief(breaker * share)} A")
    w.number(breaker * share, "A", "down", "what a breaker may carry is rounded down", step=0.1)


def _load(register: Register, supply: Electricity, circuit: Circuit) -> None:
    w = Working(register, "circuit_load", f"Load on breaker {circuit.id}", TOPIC, circuit=circuit.id)
    voltage = w.fact(supply, "supply_voltage", "V")
    if voltage <= 0:
        raise RangeProblem("a supply has a voltage")
    pieces = []
    for load in supply.loads:
        if load.circuit != circuit.id:
            continue
        if load.current is not None:
            pieces.append((load.name, w.fact(load, "current", "A")))
        else:
            pieces.append((load.name, w.fact(load, "power", "W") / voltage))
    total = sum(amperes for _, amperes in pieces)
    allowed = w.amount("circuit_allowed", circuit=circuit.id)
    w.add_line(" + ".join(f"{name} {brief(amperes)} A" for name, amperes in pieces) + f" = {brief(total)} A")
    w.add_line(
        "watts over volts leave out the power factor: amperes on a label win; pumps draw more at the start"
    )
    if total > allowed:
        share = allowed / circuit.breaker.to("A")
        register.report_problem(
            circuit,
            "breaker",
            f"{circuit.id} carries {total:.1f} A",
            f"{allowed:.1f} A allowed ({brief(circuit.breaker.to('A'))} A x {share:.2f})",
            "Move a load to another breaker; ask a licensed electrician",
            "E21",
        )
    w.number(total, "A", "up", "a load is rounded up", step=0.1, bounds=(None, allowed))

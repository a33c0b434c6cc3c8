"""What turns the reading of the house's EC pen into mS/cm at 25 degC, where the pen does not do it itself."""

from __future__ import annotations

from macros.amounts.engine import number_format as printing
from macros.amounts.engine.number_format import brief
from macros.amounts.engine.register import Register
from macros.amounts.engine.working import Working
from macros.calculations.feed import conductivity
from macros.ground.units import convert
from macros.house.records.tools import Meter

TOPIC = "Feed"
COLDEST, WARMEST = 10, 30
"""[degC] Water that stands in a tank with plants: our own range."""
SOURCE = "1.91 % a degree: Standard Methods for the Examination of Water and Wastewater, method 2510 B"


def fill(register: Register) -> None:
    """Enter what a reading is divided by; nothing for a pen that shows mS/cm at 25 degC."""
    meter = next((one for one in register.house.meters if one.measures == "ec"), None)
    if meter is None:
        return
    if meter.compensates is False:
        with register.attempt("ec_divisor", meter, "compensates"):
            _by_temperature(register, meter)
    elif meter.scale is not None:
        with register.attempt("ec_scale", meter, "scale"):
            w = Working(register, "ec_scale", f"{meter.name}: divide its ppm by", TOPIC)
            scale = float(w.raw(meter, "scale"))
            w.add_line(f"{brief(scale)} ppm shown are 1 mS/cm")
            w.number(scale, "", "nearest", "the scale of the pen", step=1.0)


def _by_temperature(register: Register, meter: Meter) -> None:
    w = Working(register, "ec_divisor", f"{meter.name}: divide the reading by", TOPIC)
    w.raw(meter, "compensates")
    scale = 1.0 if meter.scale is None else float(w.raw(meter, "scale"))
    unit = printing.house_unit("degC", register.house.us)
    step = 2 if unit == "degF" else 1
    first, last = (round(convert(end, "degC", unit)) for end in (COLDEST, WARMEST))
    rows = []
    for shown in range(first, last + 1, step):
        divisor = conductivity.shown_per_ec(convert(shown, unit, "degC"), scale)
        rows.append([shown, f"{divisor:.3f}" if scale == 1 else f"{divisor:.0f}"])
    w.source(SOURCE)
    at_15 = conductivity.shown_per_ec(15, scale)
    w.add_line(
        f"{brief(scale)} x (1 + {conductivity.PER_DEGREE:g} x (water - 25)); at 15 degC it is {brief(at_15)}"
    )
    w.add_line(
        f"EC at 25 degC = reading / this number; {brief(1.35 * scale)} read at 15 degC is {brief(1.35 * scale / at_15)} mS/cm"
    )
    w.table([("water in the cup", unit), ("divide the reading by", "")], rows, "three digits", None)

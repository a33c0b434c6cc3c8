"""What a variety is given of its own beside its tank: EC and pH it grows well in, and how cold its harvest is kept."""

from __future__ import annotations

from macros.amounts.engine.register import Register
from macros.amounts.engine.working import Working
from macros.house.records.crops import Variety

TOPIC = "Planting"


def fill(register: Register) -> None:
    """Enter the own bands of every variety that has them, and what each harvest is kept at."""
    for variety in register.house.varieties:
        keys = {"system": variety.system, "variety": variety.id}
        with register.attempt("own_ec_band", variety, "ec_low", **keys):
            _band(register, variety, "ec", "EC", "mS/cm")
        with register.attempt("own_ph_band", variety, "ph_low", **keys):
            _band(register, variety, "ph", "pH", "")
        with register.attempt("kept_at", variety, "storage_temperature", variety=variety.id):
            _kept_at(register, variety)


def _band(register: Register, variety: Variety, name: str, called: str, unit: str) -> None:
    keys = {"system": variety.system, "variety": variety.id}
    w = Working(register, f"own_{name}_band", f"{called} of {variety.spoken}", TOPIC, **keys)
    low, high = (w.fact(variety, f"{name}_{end}", unit) for end in ("low", "high"))
    w.add_line(f"{low:g} to {high:g}, as the house set it")
    w.band(low, None, high, unit or "1", 0.1, "as the house set it")


def _kept_at(register: Register, variety: Variety) -> None:
    """Its own temperature, else that of the cold store."""
    w = Working(register, "kept_at", f"Keep {variety.spoken} at", TOPIC, variety=variety.id)
    if variety.storage_temperature is not None:
        value = w.fact(variety, "storage_temperature", "degC")
        w.add_line("its own temperature")
    else:
        value = w.fact(register.house.policies, "cold_store", "degC")
        w.add_line("the cold store")
    w.number(value, "degC", "nearest", "as the house set it", step=1.0)

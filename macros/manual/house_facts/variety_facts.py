"""What a variety has of its own, as labels and cards say it."""

from __future__ import annotations

from macros.house.records.crops import Variety
from macros.manual.house_facts.fact_text import fact_text


def own_bands(variety: Variety, us: bool) -> list[str]:
    """`EC 1 to 1.6 mS/cm`, `pH 5.6 to 6.6`: what the house gives of the two."""
    words = []
    for called, low, high in (
        ("EC", variety.ec_low, variety.ec_high),
        ("pH", variety.ph_low, variety.ph_high),
    ):
        if low is not None and high is not None:
            least = fact_text(low, us).removesuffix(" mS/cm")
            words.append(f"{called} {least} to {fact_text(high, us)}")
    return words


def stems(variety: Variety) -> str:
    """How many seedlings stay in a plug; nothing where one seed is sown and no number given."""
    if variety.thin_to is None:
        return "" if variety.seeds_per_plug == 1 else "a number not given, write thin_to"
    return "1 stem a plug" if variety.thin_to == 1 else f"{variety.thin_to} stems a plug"

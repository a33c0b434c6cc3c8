"""What a variety has of its own, as labels and cards say it."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import chain, count

from macros.house import House
from macros.house.records.crops import Variety
from macros.manual.house_facts.fact_text import fact_text


@dataclass(frozen=True)
class VarietyMark:
    """How a variety is drawn and written in the whole house: two letters of its name, and its number from 0 on."""

    letters: str
    number: int


def variety_marks(house: House) -> dict[str, VarietyMark]:
    """Variety id -> its mark, one for the whole house.

    The first letter of the name with the next one that makes a pair of its own, `Pa`, `Ba`, `Bo`; a digit where the
    name has none left. Never the letter of a system or anybody's initials, in capitals or not. A variety added at
    the end of the file changes no other mark.
    """
    taken = {system.id.lower() for system in house.systems}
    taken |= {entry.who.replace(".", "").lower() for entry in house.sign_offs}
    marks: dict[str, VarietyMark] = {}
    for number, variety in enumerate(house.varieties):
        first, *rest = (letter for letter in variety.id if letter.isalpha())
        pairs = (f"{first.upper()}{other}" for other in chain((one.lower() for one in rest), count(2)))
        letters = next(pair for pair in pairs if pair.lower() not in taken)
        taken.add(letters.lower())
        marks[variety.id] = VarietyMark(letters, number)
    return marks


def marked(name: str, mark: VarietyMark) -> str:
    """`pak choi (Pa)`: a variety by its name and its mark, wherever it is written on a label."""
    return f"{name} ({mark.letters})"


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

"""Strength bands: which hazard codes and which label word belong to a substance at a strength."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from macros.problems import RangeProblem
from macros.published import load, number
from macros.published.substances import Handling, substance_name

EDGE_TOLERANCE = 1e-9
"""[%] A value this close below an edge is the edge itself: only the computing made it smaller."""


@dataclass(frozen=True)
class Band:
    """One row: from `percent_min` (in it) to `percent_max` (in the next), with codes and label word."""

    substance: str
    basis: str
    percent_min: float
    percent_max: float
    codes: tuple[str, ...]
    label_word: str
    p_codes: tuple[str, ...]
    text: str


@cache
def bands_of(substance: str) -> tuple[Band, ...]:
    """The bands of a substance, weakest first; empty when it has none."""
    entry = load("bands")["substances"].get(substance)
    sets = load("bands")["p_sets"]
    return tuple(
        Band(
            substance,
            entry["basis"],
            number(row["min"]),
            number(row["max"]),
            tuple(row["codes"]),
            row.get("label_word", ""),
            tuple(sets.get(row.get("p_set", ""), ())),
            row["text"],
        )
        for row in (entry["rows"] if entry else ())
    )


def band_at(substance: str, percent: float) -> Band | None:
    """The band of a strength; None below the first band or for a substance without bands.

    Parameters
    ----------
    percent : [% w/w], for hypochlorites [% active chlorine]; 0 to 100. A lower edge belongs to its band.

    Raises
    ------
    RangeProblem
        a strength below 0 or above 100 %.
    """
    check_percent(substance, percent)
    rows = [row for row in bands_of(substance) if percent >= row.percent_min - EDGE_TOLERANCE]
    return rows[-1] if rows else None


def band_of(handling: Handling) -> Band | None:
    """The band of what is handled, by the first of its substances that has bands; None as in `band_at`.

    A strength that is not known counts as the strongest.
    """
    for substance in (handling.substance, *sorted(handling.counts_as)):
        if bands_of(substance):
            if handling.percent_by_mass is None:
                return bands_of(substance)[-1]
            return band_at(substance, handling.percent_by_mass)
    return None


def codes_of(handling: Handling) -> tuple[str, ...]:
    """Hazard codes at the strength handled: those of the band, then further ones of its safety data sheet."""
    band = band_of(handling)
    codes = band.codes if band else ()
    return codes + tuple(code for code in handling.sds_codes or () if code not in codes)


def label_word_of(handling: Handling) -> str:
    """The label's own word, Danger or Warning: the band's, raised where the safety data sheet is stricter."""
    band = band_of(handling)
    codes = codes_of(handling)
    if (band and band.label_word == "Danger") or set(codes) & set(load("bands")["danger_codes"]):
        return "Danger"
    return "Warning" if codes else ""


def edges_of(substance: str) -> tuple[float, ...]:
    """The lower edges of its bands above 0 [%]."""
    return tuple(row.percent_min for row in bands_of(substance) if row.percent_min > 0)


def weak_ppe(handling: Handling) -> tuple[str, ...]:
    """Equipment that any strength of this substance asks for, also where no caution is shown."""
    entry = load("bands")["substances"].get(handling.substance, {})
    used = handling.percent_by_mass is None or handling.percent_by_mass > 0
    return tuple(entry.get("weak_ppe", ())) if used else ()


def is_flush_code(code: str) -> bool:
    """Whether the code asks for flushing water near by (29 CFR 1910.151(c): corrosive to eyes or body)."""
    return code in load("first_aid")["flush_point"]["codes"]


def hazard_text(code: str) -> str:
    """The meaning of an H or EUH code in our short words; the bare code says to read the label."""
    return str(load("bands")["h_text"].get(code, "see the label"))


def precaution_text(code: str) -> str:
    """The meaning of a P code in our short words."""
    return str(load("bands")["p_text"].get(code, "see the label"))


def active_chlorine(percent_hypochlorite: float) -> float:
    """Active chlorine [%] of a product labelled in % sodium hypochlorite, by mass. Source: molar masses."""
    return percent_hypochlorite * number(
        load("bands")["substances"]["sodium_hypochlorite"]["active_chlorine_of_hypochlorite"]
    )


def check_percent(substance: str, percent: float) -> None:
    """Raise RangeProblem unless 0 <= percent <= 100."""
    if not 0 <= percent <= 100:
        name = substance_name(substance)
        raise RangeProblem(f"{name} at {percent:g} % is no strength: 0 to 100 % by mass.")

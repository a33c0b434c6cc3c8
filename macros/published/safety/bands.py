"""Strength bands: which hazard codes and which label word belong to a substance at a strength."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from macros.ground.field_types import Identifier, Mapped, Number, Text, shaped
from macros.ground.problems import RangeProblem
from macros.ground.records import Record
from macros.published import published
from macros.published.names import Equipment, HazardCode, PrecautionCode, PrecautionSet, Substance
from macros.published.safety.substances import Handling, substances

EDGE_TOLERANCE = 1e-9
"""[%] A value this close below an edge is the edge itself: only the computing made it smaller."""


STATEMENT = shaped(
    r"H(2(0\d|1[01]|2[0-9]|3[0-2]|4[0-2]|5[0-2]|6[01]|7[0-2]|8[0-4]|90)|3(0[0-5]|1\d|20|3[0-6]|4[01]|5[01]|6[0-2]|7[0-3])"
    r"|4(0[0-2]|1[0-3]|20))|EUH(0(14|18|19|29|3[12]|44|66|7[01])|2(0[1-9]|1[0-2]))",
    "not a hazard statement",
    "As H314 or EUH031",
)
"""The statements there are: physical, health and environmental ones of CLP Annex III (from memory)."""


class Band(Record):
    """One row [%]: from `percent_min` (in it) to `percent_max` (in the next), with codes and label word."""

    percent_min: Number = Field(alias="min")
    percent_max: Number = Field(alias="max")
    codes: tuple[HazardCode, ...]
    label_word: Literal["Danger", "Warning", ""] = ""
    p_set: PrecautionSet = ""
    text: Text


class BandsOf(Record):
    """The bands of one substance, weakest first, and where they are from."""

    basis: Literal["w/w", "active chlorine"]
    weak_ppe: tuple[Equipment, ...] = ()
    source: Text
    obtained: Text
    rows: tuple[Band, ...]
    pending: Text = ""
    public_limit: Text = ""
    note: Text = ""


class Bands(Record):
    """The file."""

    p_set_choice: Text
    substances: Mapped[Substance, BandsOf]
    h_text: Mapped[Annotated[str, STATEMENT], Text]
    danger_codes: frozenset[HazardCode]
    p_sets: Mapped[Identifier, tuple[PrecautionCode, ...]]
    p_sets_obtained: Text
    p_text: Mapped[
        Annotated[str, shaped(r"P\d{3}(\+P\d{3})*", "not a precaution", "As P305+P351+P338")], Text
    ]


def bands_of(substance: str) -> tuple[Band, ...]:
    """The bands of a substance, weakest first; empty when it has none."""
    entry = published(Bands, "bands").substances.get(substance)
    return entry.rows if entry else ()


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
    if (band and band.label_word == "Danger") or set(codes) & published(Bands, "bands").danger_codes:
        return "Danger"
    return "Warning" if codes else ""


def edges_of(substance: str) -> tuple[float, ...]:
    """The lower edges of its bands above 0 [%]."""
    return tuple(row.percent_min for row in bands_of(substance) if row.percent_min > 0)


def weak_ppe(handling: Handling) -> tuple[str, ...]:
    """Equipment that any strength of this substance asks for, also where no caution is shown."""
    entry = published(Bands, "bands").substances.get(handling.substance)
    used = handling.percent_by_mass is None or handling.percent_by_mass > 0
    return entry.weak_ppe if entry and used else ()


def hazard_text(code: str) -> str:
    """The meaning of an H or EUH code in our short words; the bare code says to read the label."""
    return published(Bands, "bands").h_text.get(code, "see the label")


def check_percent(substance: str, percent: float) -> None:
    """Raise RangeProblem unless 0 <= percent <= 100."""
    if not 0 <= percent <= 100:
        name = substances()[substance].name
        raise RangeProblem(f"{name} at {percent:g} % is no strength: 0 to 100 % by mass.")

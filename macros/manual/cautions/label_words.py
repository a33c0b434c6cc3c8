"""The label's own words beside a caution: its signal word, and its codes at the strength handled."""

from __future__ import annotations

from dataclasses import dataclass

from macros.manual.cautions.wording import printed_strength
from macros.published import published
from macros.published.safety.bands import Bands, band_of, codes_of, hazard_text, label_word_of
from macros.published.safety.substances import Handling


@dataclass(frozen=True)
class LabelLine:
    """What a label says of a substance at a strength. `hazards` and `precautions` are code and meaning."""

    name: str
    strength: str
    word: str
    hazards: tuple[tuple[str, str], ...]
    precautions: tuple[tuple[str, str], ...]

    @property
    def text(self) -> str:
        """Word and H codes with their meaning, in one line."""
        said = "; ".join(f"{code} {meaning}" for code, meaning in self.hazards)
        return f"Label of {' '.join(filter(None, (self.name, self.strength)))}: {self.word}. {said}."

    @property
    def precaution_text(self) -> str:
        """P codes with their meaning, in one line; the label in hand governs."""
        return "; ".join(f"{code} {meaning}" for code, meaning in self.precautions)


def label_line(handling: Handling) -> LabelLine | None:
    """The label line of what is handled; None where its strength carries no code."""
    codes = codes_of(handling)
    if not codes:
        return None
    band = band_of(handling)
    return LabelLine(
        handling.shown_name,
        printed_strength(handling),
        label_word_of(handling),
        tuple((code, hazard_text(code)) for code in codes),
        tuple((code, published(Bands, "bands").p_text[code]) for code in (band.p_codes if band else ())),
    )

"""The label's own words beside a caution: its signal word, and its codes at the strength handled."""

from __future__ import annotations

from dataclasses import dataclass

from macros.manual.cautions.wording import printed_strength
from macros.published.safety.bands import codes_of, hazard_text, label_word_of
from macros.published.safety.substances import Handling


@dataclass(frozen=True)
class LabelLine:
    """What a label says of a substance at a strength: its word, and the meaning of each code."""

    name: str
    word: str
    hazards: tuple[tuple[str, str], ...]

    @property
    def text(self) -> str:
        """Word and H codes with their meaning, in one line."""
        said = "; ".join(f"{code} {meaning}" for code, meaning in self.hazards)
        return f"Label of {self.name}: {self.word}. {said}."


def label_line(handling: Handling) -> LabelLine | None:
    """The label line of what is handled; None where its strength carries no code."""
    codes = codes_of(handling)
    if not codes:
        return None
    name = f"{handling.shown_name} {printed_strength(handling)}".strip()
    return LabelLine(name, label_word_of(handling), tuple((code, hazard_text(code)) for code in codes))

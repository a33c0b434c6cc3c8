"""The label's own words beside a caution: its signal word, and its codes at the strength handled."""

from __future__ import annotations

from macros.manual.cautions.wording import printed_strength
from macros.published.safety.bands import codes_of, hazard_text, label_word_of
from macros.published.safety.substances import Handling


def label_line(handling: Handling) -> str:
    """Word and H codes with their meaning, in one line; empty where its strength carries no code."""
    codes = codes_of(handling)
    if not codes:
        return ""
    name = f"{handling.shown_name} {printed_strength(handling)}".strip()
    said = "; ".join(f"{code} {hazard_text(code)}" for code in codes)
    return f"Label of {name}: {label_word_of(handling)}. {said}."

"""Wrong answers that matter: kept only where they are no right answer in this house."""

from __future__ import annotations

from collections.abc import Sequence
from hashlib import sha256
from typing import Any

from macros.training.self_checks.figures import Figure, NoFigure, in_unit

DUST = 1e-9


def decoys_that_differ(
    kind: str, answer: str, figure: Figure | None, within: float, wrong: Sequence[tuple[Any, str]]
) -> list[tuple[str, str, float]]:
    """(text, what was misunderstood, number) of each wrong answer that is told apart from the right one.

    A number within the tolerance, of another kind, nothing or less, or the same as an earlier one, is left out; so is
    a text that says the same as the answer.
    """
    kept: list[tuple[str, str, float]] = []
    said = {answer.strip().lower()}
    for decoy, means in wrong:
        value = 0.0
        text = (
            decoy.text
            if isinstance(decoy, Figure)
            else f"{decoy:g}"
            if isinstance(decoy, float)
            else str(decoy)
        )
        if kind == "number" and figure is not None:
            number = decoy if isinstance(decoy, Figure) else Figure(float(decoy), figure.unit)
            try:
                number = in_unit(number, figure.unit)
            except NoFigure:
                continue
            if not number.shown:
                number = Figure(_rounded(number.value, figure.step), number.unit, figure.step)
            value, text = number.value, number.text
            if value <= 0 or abs(value - figure.value) <= within + DUST:
                continue
        if text.strip().lower() in said:
            continue
        said.add(text.strip().lower())
        kept.append((text, means, value))
    return kept


def mixed(id_: str, texts: Sequence[str]) -> tuple[str, ...]:
    """The texts in an order that does not tell which is right, and is the same at every build."""
    return tuple(sorted(texts, key=lambda text: sha256(f"{id_} {text}".encode()).digest()))


def _rounded(value: float, step: float) -> float:
    """To the steps of the right answer, so that it is one somebody could give."""
    return round(round(value / step) * step, 9) if step else float(f"{value:.4g}")

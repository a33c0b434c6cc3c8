"""Wrong answers that matter: kept only where they are no right answer in this house."""

from __future__ import annotations

from collections.abc import Sequence
from hashlib import sha256
from typing import Any

from macros.training.self_checks.figures import Figure, NoFigure, in_unit

DUST = 1e-9


def distractors_that_differ(
    answer: str, figure: Figure | None, within: float, wrong: Sequence[tuple[Any, str]]
) -> list[tuple[str, str, float]]:
    """(text, what was misunderstood, number) of each wrong answer that is told apart from the right one.

    `figure` is the right number of a question that asks for one. A number within the tolerance, of another kind,
    nothing or less, or the same as an earlier one, is left out; so is a text that says the same as the answer.
    """
    kept: list[tuple[str, str, float]] = []
    said = {answer.strip().lower()}
    for distractor, means in wrong:
        read = (_text(distractor), 0.0) if figure is None else _number(distractor, figure, within)
        if read is not None and read[0].strip().lower() not in said:
            said.add(read[0].strip().lower())
            kept.append((read[0], means, read[1]))
    return kept


def _text(distractor: Any) -> str:
    if isinstance(distractor, Figure):
        return distractor.text
    return f"{distractor:g}" if isinstance(distractor, float) else str(distractor)


def _number(distractor: Any, figure: Figure, within: float) -> tuple[str, float] | None:
    """A wrong number as somebody could give it; None for one that is no number of this kind, or nearly right."""
    number = distractor if isinstance(distractor, Figure) else Figure(float(distractor), figure.unit)
    try:
        number = in_unit(number, figure.unit)
    except NoFigure:
        return None
    if not number.shown:
        number = Figure(_rounded(number.value, figure.step), number.unit, figure.step)
    nearly_right = abs(number.value - figure.value) <= within + DUST
    return None if number.value <= 0 or nearly_right else (number.text, number.value)


def mixed(id_: str, texts: Sequence[str]) -> tuple[str, ...]:
    """The texts in an order that does not tell which is right, and is the same at every build."""
    return tuple(sorted(texts, key=lambda text: sha256(f"{id_} {text}".encode()).digest()))


def _rounded(value: float, step: float) -> float:
    """To the steps of the right answer, so that it is one somebody could give."""
    return round(round(value / step) * step, 9) if step else float(f"{value:.4g}")

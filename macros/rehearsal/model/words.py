"""How a state and an amount are said in a refusal."""

from __future__ import annotations

from macros.published.labour.effects import effects


def said(word: str, values: tuple[str, ...]) -> str:
    """How a word of the room stands, as part of a sentence: `the pump is unplugged, its plug hanging in sight`."""
    phrases = effects().words[word]
    text = phrases["say"].replace(
        "{}", " or ".join(phrases.get(value, "stands at no mark") for value in values)
    )
    return text[:1].lower() + text[1:].rstrip(".")


def litres(amount: float) -> str:
    """`45.9 L`."""
    return f"{amount:.1f} L"


FACES = {
    "tray_faces": "the trays",
    "plates": "the cup plates",
    "tank_walls": "the walls of the tank",
    "loop": "tubes and pump",
    "parts": "the parts",
    "blades": "the blades",
}
"""Surfaces in words."""

SLACK = 0.5
"""[L] Under this two amounts of water are the same in this model; our own figure."""

"""What published lists say of eating a part of a plant, by botanical name and never by a common one."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

from macros.published import load

Standing = Literal["listed", "disputed", "unlisted", "refused"]


@dataclass(frozen=True)
class Edibility:
    """The standing of a species and part, and who says so. `unlisted`: no published list known here names the part."""

    standing: Standing
    source: str


def edibility(botanical: str, part: str) -> Edibility:
    """What is known of eating `part` of the species `botanical` (genus, species, subspecies)."""
    data = load("edible")
    for entry in data["refused"]:
        if _names(entry, botanical):
            return Edibility("refused", f"{entry['name']} is poisonous: {data['refused_source']}")
    for entry in data["disputed"]:
        if _names(entry, botanical):
            return Edibility("disputed", entry["source"])
    for entry in data["listed"]:
        if _names(entry, botanical) and part in entry["parts"]:
            return Edibility("listed", entry["source"])
    return Edibility("unlisted", "")


def _names(entry: dict[str, Any], botanical: str) -> bool:
    """Whether the entry is for this species: its first words, or its genus."""
    words = botanical.lower().split()
    wanted = str(entry.get("botanical", entry.get("genus"))).lower().split()
    return words[: len(wanted)] == wanted

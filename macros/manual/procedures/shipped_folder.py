"""Where the procedures that come with the tool stand."""

from __future__ import annotations

from pathlib import Path

from macros.ground.package import shipped


def shipped_procedures(house: Path) -> Path:
    """The folder of the shipped procedures: inside an installed package, beside it in a checkout, else the house's own."""
    folder = shipped("procedures")
    return folder if any(folder.glob("sop-*.md")) else house / "procedures"

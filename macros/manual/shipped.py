"""Where the procedures that come with the tool stand."""

from __future__ import annotations

from pathlib import Path


def shipped_procedures(house: Path) -> Path:
    """The folder of the shipped procedures: inside an installed package, beside it in a checkout, else the house's own."""
    package = Path(__file__).resolve().parent.parent
    for folder in (package / "starter" / "procedures", package.parent / "procedures"):
        if any(folder.glob("sop-*.md")):
            return folder
    return house / "procedures"

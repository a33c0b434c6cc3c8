"""Where the procedures that come with the tool stand."""

from __future__ import annotations

from pathlib import Path


def shipped_procedures() -> Path:
    """The folder of the shipped procedures: inside an installed package, or beside it in a checkout."""
    package = Path(__file__).resolve().parent.parent
    installed = package / "starter" / "procedures"
    return installed if installed.is_dir() else package.parent / "procedures"

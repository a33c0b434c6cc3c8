"""Where the files of the program stand, whatever room asks."""

from __future__ import annotations

from pathlib import Path

PACKAGE = Path(__file__).resolve().parents[1]
"""The folder of the package: rooms, published values, templates, the starter house."""


def shipped(name: str) -> Path:
    """`procedures` or `mkdocs.yml` as shipped: inside an installed package, else beside it in a checkout."""
    inside = PACKAGE / "starter" / name
    return inside if inside.exists() else PACKAGE.parent / name

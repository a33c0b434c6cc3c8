"""Every rule between fields of a house, in one run."""

from __future__ import annotations

from datetime import date

from macros.house.house import House
from macros.problems import Problem


def check_house(house: House, day: date | None) -> list[Problem]:
    """All problems no single field can say."""
    return []

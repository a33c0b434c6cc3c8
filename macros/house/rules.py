"""Every rule between fields of a house, in one run."""

from __future__ import annotations

from datetime import date

from macros.ground.problems import Problem
from macros.house.house import House
from macros.house.rules_control import check_control
from macros.house.rules_feed import check_feed
from macros.house.rules_ids import check_ids
from macros.house.rules_issued import check_issued
from macros.house.rules_people import check_sign_offs
from macros.house.rules_ranges import check_ranges
from macros.house.rules_stocks import check_stocks
from macros.house.rules_systems import check_systems
from macros.house.warnings import check_warnings


def check_house(house: House, day: date | None) -> list[Problem]:
    """All problems no single field can say; warnings included."""
    return [
        *check_ids(house),
        *check_systems(house),
        *check_stocks(house),
        *check_feed(house),
        *check_ranges(house),
        *check_sign_offs(house),
        *check_control(house),
        *check_issued(house),
        *check_warnings(house, day),
    ]

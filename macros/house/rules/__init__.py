"""Every rule between fields of a house, in one run."""

from __future__ import annotations

from datetime import date

from macros.ground.empty_texts import empty_texts
from macros.ground.problems import Problem
from macros.house.records.house import House
from macros.house.rules.chemicals_and_tools import check_stocks
from macros.house.rules.document_control import check_control
from macros.house.rules.edible_plants import check_edible
from macros.house.rules.feeding import check_feed
from macros.house.rules.ids import check_ids
from macros.house.rules.issues import check_issued
from macros.house.rules.money import check_money
from macros.house.rules.own_cautions import check_own_cautions
from macros.house.rules.people import check_initials, check_sign_offs
from macros.house.rules.plausible_ranges import check_ranges, too_many
from macros.house.rules.sanitizers import check_sanitizers
from macros.house.rules.seed_lots import check_seed_lots
from macros.house.rules.substance_names import check_substances
from macros.house.rules.systems import check_systems
from macros.house.rules.unread import check_unread
from macros.house.rules.varieties import check_varieties
from macros.house.rules.warnings import check_warnings


def check_house(house: House, day: date | None) -> list[Problem]:
    """All problems no single field can say; warnings included."""
    many = list(too_many(house))
    if many:  # told alone: the other rules compare each entry with each
        return many
    found = [
        *check_ids(house),
        *check_systems(house),
        *check_stocks(house),
        *check_substances(house),
        *check_sanitizers(house),
        *check_feed(house),
        *check_edible(house),
        *check_ranges(house),
        *check_seed_lots(house),
        *check_varieties(house),
        *check_initials(house),
        *check_sign_offs(house),
        *check_control(house),
        *check_money(house),
        *check_issued(house),
        *check_own_cautions(house),
        *check_unread(house),
        *check_warnings(house, day),
    ]
    told = {(one.place, one.key) for one in found}
    return [*found, *(one for one in empty_texts(house) if (one.place, one.key) not in told)]

"""What each calculation was compared with outside the program, and which calculations an amount rests on."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from macros.ground.field_types import Count, Number, Text
from macros.ground.records import Record
from macros.published import published_rows
from macros.published.names import Calculation, CheckedFunction


class Check(Record):
    """Comparisons of one calculation, the largest deviation [%], and the sources of what it was compared with."""

    function: Calculation
    cases: Count
    largest_percent: Number
    sources: tuple[Text, ...]


class CheckedBy(Record):
    """The calculations an amount rests on, the arithmetic that was checked by hand, or why there is no check."""

    by: tuple[CheckedFunction, ...] = ()
    hand: Text = ""
    none: Text = ""


@cache
def checks() -> Mapping[str, Check]:
    """Every calculation that was compared, as `acid_dose.acid_needed`."""
    return MappingProxyType({check.function: check for check in published_rows(Check, "checks").values()})


def checked_by() -> Mapping[str, CheckedBy]:
    """Every amount by its id."""
    return published_rows(CheckedBy, "checked_by")

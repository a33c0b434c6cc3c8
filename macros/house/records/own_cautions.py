"""Cautions that only one house has."""

from __future__ import annotations

from typing import Literal

from macros.ground.field_types import Name, Text
from macros.ground.records import Record


class OwnCaution(Record):
    """A hazard of the house's own: how bad (`word`), what it is, what it does, what keeps it away.

    `before` names the steps it stands before, each as page and step: `SOP-91 unplug`. It stands beside ours and replaces none.
    """

    id: Name
    word: Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]
    title: Name
    hazard: Text
    consequence: Text
    avoidance: Text
    before: tuple[Name, ...]

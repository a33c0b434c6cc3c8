"""The walk round a house that is measured."""

from __future__ import annotations

from macros.ground.field_types import Text
from macros.ground.records import Record


class MeasuringPlace(Record):
    """One place of the walk: the facts measured there (`[]` stands for every entry of a list), and what to look at.

    `naming` are those of its facts that say which thing it is: they are asked before the others of the same thing.
    """

    name: Text
    facts: tuple[Text, ...]
    naming: tuple[Text, ...] = ()
    look: Text

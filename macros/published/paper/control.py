"""Document control in words, and the rules of a handwritten note on a wall copy."""

from __future__ import annotations

from typing import Annotated

from macros.ground.field_types import Count, Duration, Name, Text
from macros.ground.names import gaps
from macros.ground.records import Record
from macros.published import published


class Mechanism(Record):
    """One thing document control does, and how it is done here."""

    what: Name
    how: Text


class NoteRules(Record):
    """How long a handwritten note may stand [days], what it is never for, and its rules."""

    longest_days: Count
    source: Name
    never: Annotated[Text, gaps("who")]
    rules: tuple[Text, ...]


class TraceRules(Record):
    """The form of a complaint: what comes first, its rules, and the time in which every customer of a lot is named."""

    target: Duration
    source: Name
    stop: Annotated[Text, gaps("who", "ambulance")]
    rules: tuple[Text, ...]
    drill: Annotated[Text, gaps("every")]


class ControlWords(Record):
    """`control.yml`."""

    mechanisms: tuple[Mechanism, ...]
    note: NoteRules
    trace: TraceRules


def control_words() -> ControlWords:
    """The words of document control."""
    return published(ControlWords, "control")

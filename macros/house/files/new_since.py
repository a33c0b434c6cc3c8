"""What an older house has not been told of: facts the program knows since, and what each would add."""

from __future__ import annotations

from macros.ground.record_shape import field_names
from macros.ground.records import records_of
from macros.ground.version import VERSION
from macros.house.files.starter_explanations import explanations, newer_facts
from macros.house.records.house import House

FIRST = "1.0.0"
"""The version of the first starter. A house without `made_with` is older."""


def not_given(house: House) -> list[str]:
    """One line for each fact the house has not, and its owner may not know of; then how to be told no more.

    Judged by `house.made_with`, the version the owner has looked at. Whole sections come first, then single facts that
    are newer than the house, each told once, at the first record that lacks it. A fact of the version that is in the
    making is told from that version on.
    """
    seen = house.house.made_with
    if seen is not None and _order(seen) > _order(VERSION):
        return [f"This house was made with {seen}; this program is {VERSION}. Upgrade the program."]
    words, newer = explanations(), newer_facts()
    lines: dict[tuple[str, str], str] = {}
    for record in records_of(house):
        kind = type(record).__name__
        for written, name in field_names(type(record)).items():
            fact = (kind, written)
            since = newer.get(fact, FIRST if record is house else None)
            if since is None or not _is_news(since, seen):
                continue
            if fact not in lines and getattr(record, name) in (None, (), {}):
                lines[fact] = f"not given: {record.key(name)}: {words[fact]}"
    if not lines:
        return []
    return [
        *lines.values(),
        f'Looked at them all? Write house.made_with: "{VERSION}" and they are told no more.',
    ]


def _is_news(since: str, seen: str | None) -> bool:
    return _order(since) <= _order(VERSION) and (seen is None or _order(seen) < _order(since))


def _order(version: str) -> tuple[int, ...]:
    return tuple(int(part) for part in version.split("."))

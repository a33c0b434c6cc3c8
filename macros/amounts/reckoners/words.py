"""The sentences of the reckoners, from published/reckoners.yml."""

from __future__ import annotations

import re

from macros.published.amounts.reckoners import reckoner_words


def sentence(name: str, /, **values: object) -> str:
    """`level.add` of published/reckoners.yml with its {names} filled in; a name without a value is our own fault."""
    topic, _, key = name.partition(".")
    return re.sub(r"\{(\w+)\}", lambda found: str(values[found.group(1)]), reckoner_words()[topic][key])


def span(low: str, high: str, unit: str) -> str:
    """`6 to 34 cm`; a reading without a unit ends with its number."""
    return sentence("reading.range", low=low, high=high, unit=unit).rstrip(" ")

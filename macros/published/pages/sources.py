"""Sources a page may cite."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from macros.ground.field_types import Text
from macros.ground.records import Record
from macros.published import published_rows


class CitedSource(Record):
    """A source, and whether it was seen, computed or recalled."""

    text: Text
    obtained: Literal["seen", "computed", "memory", "common practice"]

    @property
    def reference(self) -> str:
        """As the pages cite it."""
        return f"{self.text} (obtained: {self.obtained})"


def sources() -> Mapping[str, CitedSource]:
    """Every source by its key."""
    return published_rows(CitedSource, "sources")

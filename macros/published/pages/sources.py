"""Sources a page may cite."""

from __future__ import annotations

from collections.abc import Mapping

from macros.ground.field_types import Text
from macros.ground.records import Record
from macros.published import published_rows
from macros.published.names import Way


class CitedSource(Record):
    """A source, and how it was obtained: a way of `documents.yml`."""

    text: Text
    obtained: Way

    @property
    def reference(self) -> str:
        """As the pages cite it."""
        return f"{self.text} (obtained: {self.obtained})"


def sources() -> Mapping[str, CitedSource]:
    """Every source by its key."""
    return published_rows(CitedSource, "sources")

"""What may be found on a plant: signs, places, first acts short of a product, when to ring, what stops a harvest."""

from __future__ import annotations

from typing import Annotated

from pydantic import AfterValidator

from macros.ground.field_types import Identifier, Name, Text
from macros.ground.records import Record
from macros.published import published
from macros.published.names import SourceKey, distinct


class Line(Record):
    """What is said of a finding, and who says so."""

    say: Text
    source: SourceKey


class Finding(Record):
    """A pest, a disease or a lack."""

    id: Identifier
    name: Name
    seen: Line
    look: Line
    taken_for: Line
    first: Line
    ring: Line
    stops: Line


class Findings(Record):
    """The file."""

    stops: Text
    stops_source: SourceKey
    findings: Annotated[tuple[Finding, ...], AfterValidator(distinct)]


def findings() -> Findings:
    """The guide."""
    return published(Findings, "findings")

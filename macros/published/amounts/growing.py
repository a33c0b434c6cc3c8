"""Published ranges of growing and keeping a species, in which a figure of a house is plausible."""

from __future__ import annotations

from pydantic import model_validator

from macros.ground.field_types import Name, Number, Text
from macros.ground.records import Record, mistake
from macros.published import published_rows

_RANGES = ("ec", "ph", "spacing", "height", "stems")


class Growing(Record):
    """Ranges of a species, low and high: EC [mS/cm], pH, spacing and height [mm], stems left in a plug [1].

    `chills_below` [degC]: kept colder, the cut plant is harmed; None: none known.
    """

    botanical: Name
    ec: tuple[Number, ...]
    ph: tuple[Number, ...]
    spacing: tuple[Number, ...]
    height: tuple[Number, ...]
    stems: tuple[Number, ...]
    chills_below: Number | None = None
    source: Text

    @model_validator(mode="after")
    def _low_and_high(self) -> Growing:
        for name in _RANGES:
            values = getattr(self, name)
            if len(values) != 2 or values[0] > values[1]:
                raise mistake(f"{name} is no range", "Two numbers, the lower one first", "Write both")
        return self


def growing_of(botanical: str) -> Growing | None:
    """What is published of a species: the first row whose words its name begins with; None for one nobody entered."""
    words = botanical.lower().split()
    rows = published_rows(Growing, "growing").values()
    return next(
        (row for row in rows if words[: len(row.botanical.split())] == row.botanical.lower().split()), None
    )

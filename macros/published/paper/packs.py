"""What is printed together, and what a pack's own sheets ask for."""

from __future__ import annotations

from typing import Annotated, Any, ClassVar, Literal

from pydantic import ConfigDict, model_validator

from macros.ground.field_types import Count, Flag, Identifier, Mapped, Name
from macros.ground.names import gaps
from macros.ground.records import Record
from macros.published import published
from macros.published.names import AmountId, DocumentToPrint, JobId, Maker

ASKED = "asked"
"""In the place of a document: the procedure named on the command line."""
AskedFor = Literal["system", "page", "module"]


class PackEntry(Record):
    """One line of a pack: a maker of sheets, or the document whose sheet, record or checklist it is."""

    model_config = ConfigDict(json_schema_extra={"type": ["object", "string"]})
    alone: ClassVar[str] = "made"

    made: Maker = ""
    sheet: DocumentToPrint = ""
    record: DocumentToPrint = ""
    checklist: DocumentToPrint = ""

    @model_validator(mode="before")
    @classmethod
    def _maker_alone(cls, written: Any) -> Any:
        return {cls.alone: written} if isinstance(written, str) else written

    @property
    def maker(self) -> str:
        """What makes it: a name of `MAKERS`, else `sheet`, `record` or `checklist`."""
        return self.made or next(kind for kind in ("sheet", "record", "checklist") if getattr(self, kind))

    @property
    def document(self) -> str:
        """The document it shows, where it shows one."""
        return self.sheet or self.record or self.checklist


class PackPlan(Record):
    """A kind of pack. `asks` must be given on the command line, `takes` may be.

    `job` is the job whose day it is for, `next_day` that of its pages which are done the day after. `planned`: where no
    day was asked for, it is this day of the house's crop plan.
    """

    title: Name
    file: Annotated[Name, gaps("system", "day", "page", "module")]
    asks: tuple[AskedFor, ...] = ()
    takes: tuple[AskedFor, ...] = ()
    job: JobId | None = None
    next_day: Flag = False
    planned: Literal["cleanout_day", "planting_day"] | None = None
    parts: tuple[PackEntry, ...]

    @property
    def name(self) -> str:
        """Its name in the file."""
        return str(self.path[-1])


class ReadinessFacts(Record):
    """How many days ahead the list is gone through; amounts a day takes, and spares it stops without."""

    days_ahead: Count
    stocks: tuple[AmountId, ...]
    spares: tuple[Name, ...]


class WaterLine(Record):
    """An amount of water that is let go; `each` is the amount of one of them, where the first is their count."""

    amount: AmountId
    what: Name
    each: AmountId | None = None


class LedgerLines(Record):
    """Rows before and after the batches of the sanitizing tasks."""

    before: tuple[WaterLine, ...]
    after: tuple[WaterLine, ...]


class SignOffDates(Record):
    """How many days ahead the last sheet looks."""

    days_ahead: Count


class Packs(Record):
    """`packs.yml`."""

    packs: Mapped[Identifier, PackPlan]
    readiness: ReadinessFacts
    ledger: LedgerLines
    sign_off: SignOffDates
    calibration: DocumentToPrint
    most_pages: Count


def packs() -> Packs:
    """All that is published on packs."""
    return published(Packs, "packs")

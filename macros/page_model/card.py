"""What a wall card shows: blocks of large figures, tables, sentences and frames, already worked out.

A text in here is plain text, so the template escapes it.
"""

from __future__ import annotations

from dataclasses import dataclass

from macros.page_model.page import ControlView


@dataclass(frozen=True)
class Facts:
    """Lines of a name, a large value and a note. `title` may be empty.

    `columns` 1 sets them below one another, 3 in boxes side by side, 0 one behind the other as room allows.
    """

    title: str
    lines: tuple[tuple[str, str, str], ...]
    columns: int = 1
    kind: str = "facts"


@dataclass(frozen=True)
class CardTable:
    """A table in large type. `marks` holds for a row's number the words that mark it; `across` tables of equal
    heads stand side by side. `blank` cells are boxes to write in.
    """

    title: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    marks: tuple[tuple[int, str], ...] = ()
    across: int = 1
    blank: bool = False
    first_wide: bool = False
    kind: str = "table"

    def mark(self, row: int) -> str:
        """The words that mark a row, or nothing."""
        return dict(self.marks).get(row, "")

    def strips(self) -> tuple[range, ...]:
        """The numbers of the rows of each of the tables side by side."""
        each = -(-len(self.rows) // self.across)
        return tuple(range(n, min(n + each, len(self.rows))) for n in range(0, len(self.rows), each))


@dataclass(frozen=True)
class Sentences:
    """Sentences below one another under a title."""

    title: str
    lines: tuple[str, ...]
    kind: str = "sentences"


@dataclass(frozen=True)
class Frame:
    """An empty frame for the house's own picture of a plant, and the words that tell it apart."""

    name: str
    words: tuple[str, ...]


@dataclass(frozen=True)
class Frames:
    """Frames, two to a row."""

    frames: tuple[Frame, ...]
    kind: str = "frames"


Block = Facts | CardTable | Sentences | Frames


@dataclass(frozen=True)
class CardSource:
    """A page the figures come from, in the revision and with the values code they were taken from."""

    page: str
    revision: str
    values_code: str


@dataclass(frozen=True)
class CardContent:
    """What one wall card says. `part` reads "1 of 2" where the house needs several of a kind.

    `sources` are the pages behind it; they and the day it was built for do not count for its values code.
    """

    key: str
    kind: str
    number: int
    title: str
    system: str
    system_name: str
    house_name: str
    lead: str
    part: str
    blocks: tuple[Block, ...]
    sources: tuple[CardSource, ...]
    built_for: str
    address: str
    public_address: str


@dataclass(frozen=True, kw_only=True)
class CardView(CardContent):
    """A wall card as it is published, under its control block."""

    control: ControlView


@dataclass(frozen=True)
class NoCard:
    """A card this house has not, and why, in words."""

    kind: str
    title: str
    system: str
    why: str

    def __str__(self) -> str:
        of = f" of system {self.system}" if self.system else ""
        return f"No card {self.title}{of}: {self.why}."

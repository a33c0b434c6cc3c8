"""Sheets of labels by their measures, and the least size of each kind of label."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Annotated, Literal

from macros.ground.field_types import Count, Flag, Mapped, Name, Number
from macros.ground.names import NameOf
from macros.ground.problems import DataProblems, Place, Problem
from macros.ground.records import Record
from macros.published import published
from macros.published.names import DocumentId, LabelName

Paper = Annotated[str, NameOf("paper", lambda: ("A4", "Letter"))]


class LabelStock(Record):
    """A sheet of labels [mm]: `left` and `top` to the first label, pitches from edge to edge; `cut` is plain paper."""

    name: Name
    paper: Paper
    columns: Count
    rows: Count
    width: Number
    height: Number
    left: Number
    top: Number
    pitch_x: Number
    pitch_y: Number
    cut: Flag = False

    @property
    def count(self) -> int:
        """Labels on one sheet."""
        return self.columns * self.rows

    @property
    def size(self) -> str:
        """`2x4 (99.1 x 67.7 mm)`, as a message names it."""
        return f"{self.name} ({self.width:.1f} x {self.height:.1f} mm)"

    def place_of(self, number_: int) -> tuple[float, float]:
        """Left and top edge [mm] of label `number_` of a sheet, counted from 0 along the rows; ValueError past the last."""
        if not 0 <= number_ < self.count:
            raise ValueError(f"a sheet of {self.name} has {self.count} labels")
        row, column = divmod(number_, self.columns)
        return self.left + column * self.pitch_x, self.top + row * self.pitch_y


class LabelKind(Record):
    """A kind of label: what a list calls it, its least size [mm], the pages of its figures, whether it may be a tag."""

    title: Name
    min_width: Number
    min_height: Number
    pages: tuple[DocumentId, ...]
    tag: Flag = False


class PaperSize(Record):
    """A sheet of paper [mm]."""

    width: Number
    height: Number


class Labels(Record):
    """`label_stocks.yml`."""

    source: Name
    obtained: Literal["from memory"]
    papers: Mapped[Paper, PaperSize]
    stocks: tuple[LabelStock, ...]
    kinds: Mapped[LabelName, LabelKind]


def label_kinds() -> Mapping[str, LabelKind]:
    """Every kind by its name, in the order they are printed."""
    return published(Labels, "label_stocks").kinds


def paper_size(paper: str) -> tuple[float, float]:
    """Width and height [mm] of A4 or Letter; KeyError for another."""
    size = published(Labels, "label_stocks").papers[paper]
    return size.width, size.height


@cache
def label_stocks(paper: str) -> tuple[LabelStock, ...]:
    """The sheets of a paper, smallest label first."""
    found = [stock for stock in published(Labels, "label_stocks").stocks if stock.paper == paper]
    return tuple(sorted(found, key=lambda stock: (stock.width * stock.height, stock.name)))


def label_stock(name: str, paper: str) -> LabelStock:
    """The sheet of that name on that paper.

    Raises
    ------
    DataProblems
        there is none; the message lists those there are.
    """
    for stock in label_stocks(paper):
        if stock.name == name:
            return stock
    known = ", ".join(stock.size for stock in label_stocks(paper))
    raise DataProblems(
        [
            Problem(
                Place("macros/published/paper/label_stocks.yml", 1),
                "stocks",
                f"no label sheet on {paper} is called {name}",
                f"Known are {known or 'A4 and Letter, no other paper'}",
                "Choose one, or `single` on plain paper",
            )
        ]
    )

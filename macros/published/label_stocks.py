"""Sheets of labels by their measures, and the least size of each kind of label."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from macros.problems import DataProblems, Place, Problem
from macros.published import load, number


@dataclass(frozen=True)
class LabelStock:
    """A sheet of labels [mm]: `left` and `top` to the first label, pitches from edge to edge; `cut` is plain paper."""

    name: str
    paper: str
    columns: int
    rows: int
    width: float
    height: float
    left: float
    top: float
    pitch_x: float
    pitch_y: float
    cut: bool = False

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


@dataclass(frozen=True)
class LabelKind:
    """A kind of label: what a list calls it, its least size [mm], the pages of its figures, whether it may be a tag."""

    name: str
    title: str
    min_width: float
    min_height: float
    pages: tuple[str, ...]
    tag: bool


@cache
def label_kinds() -> dict[str, LabelKind]:
    """Every kind by its name, in the order they are printed."""
    return {
        name: LabelKind(
            name,
            row["title"],
            number(row["min_width"]),
            number(row["min_height"]),
            tuple(row["pages"]),
            row.get("tag") == "yes",
        )
        for name, row in load("label_stocks")["kinds"].items()
    }


def paper_size(paper: str) -> tuple[float, float]:
    """Width and height [mm] of A4 or Letter; KeyError for another."""
    entry = load("label_stocks")["papers"][paper]
    return number(entry["width"]), number(entry["height"])


@cache
def label_stocks(paper: str) -> tuple[LabelStock, ...]:
    """The sheets of a paper, smallest label first."""
    found = [_stock(row) for row in load("label_stocks")["stocks"] if row["paper"] == paper]
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
                Place("macros/published/label_stocks.yml", 1),
                "stocks",
                f"no label sheet on {paper} is called {name}",
                f"Known are {known or 'A4 and Letter, no other paper'}",
                "Choose one, or `single` on plain paper",
            )
        ]
    )


def _stock(row: dict[str, str]) -> LabelStock:
    sizes = {key: number(row[key]) for key in ("width", "height", "left", "top", "pitch_x", "pitch_y")}
    columns, rows, cut = int(row["columns"]), int(row["rows"]), row.get("cut") == "yes"
    return LabelStock(row["name"], row["paper"], columns, rows, cut=cut, **sizes)

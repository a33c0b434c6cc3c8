"""A page that is nothing but tables, as the reference section and the lists of control and training are."""

from __future__ import annotations

from dataclasses import dataclass

from macros.page_model.figure import BarsView
from macros.page_model.page import LinkView
from macros.page_model.photo import PhotoView


@dataclass(frozen=True)
class Table:
    """A table: title, column heads, rows; a matrix has narrow cells. A cell but the first may be a link. `photos` stand over
    it, and without rows alone.
    """

    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str | LinkView, ...], ...]
    note: str = ""
    matrix: bool = False
    photos: tuple[PhotoView, ...] = ()


@dataclass(frozen=True)
class TablePage:
    """One page of the section. `link` is a file to take along, `see` other pages, `example` lines for a house file.

    `plan` is drawn before the tables.
    """

    title: str
    intro: str
    tables: tuple[Table, ...]
    link: LinkView | None = None
    see: tuple[LinkView, ...] = ()
    example: str = ""
    plan: BarsView | None = None

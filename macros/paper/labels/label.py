"""What a label shows: rows of plain text, worked out for one container, sheet, tray or tank."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from macros.amounts import NotFound, Register
from macros.ground.problems import Place
from macros.page_model.page import PageView
from macros.page_model.photo import PhotoView
from macros.published.paper.label_stocks import label_kinds

ASK = "not known: ask the owner"
READ = "not known: read the bottle"


@dataclass(frozen=True)
class Blank:
    """A place to write: what, how wide it is at least [mm], and words behind it."""

    head: str
    wide: float
    after: str = ""


@dataclass(frozen=True)
class LabelRow:
    """One row: bold head and text, or blanks. `word` is a signal word, `large` type for what is read from afar.

    `rank` 3 is left out first where the label is too small, then 2; what has rank 1 always stands.
    """

    head: str = ""
    text: str = ""
    blanks: tuple[Blank, ...] = ()
    word: str = ""
    large: bool = False
    rank: int = 1


@dataclass(frozen=True)
class LabelSource:
    """The page the figures come from. `key` is empty where no page of the house shows them."""

    house_name: str
    key: str = ""
    revision: str = ""
    code: str = ""
    address: str = ""
    draft: bool = False
    as_of: str = ""

    @property
    def text(self) -> str:
        """Where the figures come from, in one line."""
        if not self.key:
            return f"house file of {self.as_of}"
        draft = " DRAFT" if self.draft else ""
        return f"{self.key} rev {self.revision}{draft} · code {self.code}"


@dataclass(frozen=True)
class LabelView:
    """One label. `badge` is the system's letter, `what` names the label in messages, `place` and `key` its record.

    `shows` is what a photograph on it would show; `photo` that photograph, where the house has it.
    """

    kind: str
    what: str
    name: str
    sub: str
    badge: str
    rows: tuple[LabelRow, ...]
    source: LabelSource
    place: Place
    key: str
    shows: tuple[str, ...] = ()
    photo: PhotoView | None = None


def source_of(kind: str, register: Register, views: Sequence[PageView], system: str = "") -> LabelSource:
    """The first page of the kind's list that this house has, for its system or the whole room."""
    house_name, as_of = register.house.house.name, register.built_for.isoformat()
    for document in label_kinds()[kind].pages:
        for view in views:
            if view.document == document and view.system in (system, ""):
                return LabelSource(
                    house_name,
                    view.key,
                    view.control.revision,
                    view.control.values_code,
                    view.public_address,
                    bool(view.control.draft_reasons),
                )
    return LabelSource(house_name, as_of=as_of)


def printed(register: Register, id_: str, unknown: str = "", **of: str) -> str:
    """An amount as the pages print it; `unknown` where this house has none."""
    try:
        return register.get(id_, **of).printed
    except NotFound:
        return unknown


def known(text: str | None, unknown: str = ASK) -> str:
    """The text, or that it is not known."""
    return text or unknown

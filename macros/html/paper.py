"""Sheets of paper: one document holds one sheet, or a whole pack with one count of pages.

A part is one sheet as a finished HTML fragment with its running head and foot. Its CSS keeps to its own class, so
that every kind of sheet may stand beside every other.
"""

from __future__ import annotations

import base64
import re
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TypedDict

from markupsafe import Markup

from macros.html.environment import render
from macros.page_model.page import ControlView

ASSETS = Path(__file__).parent / "theme" / "assets"

VALID = "Valid on the day printed: scan the code before use"
"""Foot of every sheet that has a live page."""


@dataclass(frozen=True)
class Part:
    """One sheet. `html` is an `<article class="sheet ...">`; `styles` are names of CSS files over `paper`.

    `key` is the sheet's own name (`SOP-08-A`), also the place a table of contents leads to. `margin` is empty for
    the house's own; a sheet of labels has its own. `one_page` sheets that take two are a problem. `pictures` names
    those it could carry where its pages can be counted, the most needed first; `drawn_with` is the same sheet with some.
    """

    key: str
    title: str
    html: Markup
    styles: tuple[str, ...]
    top_left: str = ""
    top_right: str = ""
    bottom_left: str = ""
    bottom_right: str = ""
    landscape: bool = False
    margin: str = ""
    one_page: bool = False
    pictures: tuple[str, ...] = ()
    drawn_with: Callable[[Collection[str]], Part] | None = None

    @property
    def page(self) -> str:
        """The name of its page box and of its place in the document."""
        return "sheet-" + re.sub(r"[^a-z0-9]+", "-", self.key.lower()).strip("-")


@dataclass(frozen=True)
class Bar:
    """The bar above a sheet on screen: where back leads, its words, the word on the print button, the large switch."""

    address: str
    back: str
    print: str
    large: bool = False


class Running(TypedDict):
    """The running texts of a sheet, by the names of `Part`."""

    top_left: str
    top_right: str
    bottom_left: str
    bottom_right: str


MARGINS_ACROSS = "25mm 15mm 20mm 15mm"
"""Of a landscape sheet: its long edge, on top, is punched. Those of an upright sheet stand in paper.css.

No text, running lines included, stands within 15 mm of an edge, nor within 20 mm of the punched one: a hole reaches 15 mm
in (ISO 838: 6 mm wide, its middle 12 mm from the edge; from memory). Turned over, the punched edge is the other one, and keeps 15 mm.
"""

HEAD_UPRIGHT, HEAD_ACROSS = 64, 112
"""Characters the left of a running head has room for beside document, revision and page."""


def head_left(house_name: str, what: str, room: int = HEAD_UPRIGHT) -> str:
    """The left of a running head. Where it would run into the right of it, the name of the house gives way."""
    whole = f"{house_name} · {what}"
    return whole if len(whole) <= room else what


def running_head(
    house_name: str,
    title: str,
    kind: str,
    control: ControlView,
    bottom_right: str = VALID,
    room: int = HEAD_UPRIGHT,
) -> Running:
    """The running texts of a controlled sheet; a draft says so in place of its kind."""
    what = f"{title} · {'DRAFT' if control.draft_reasons else kind}"
    return {
        "top_left": head_left(house_name, what, room),
        "top_right": f"{control.document} · rev {control.revision}",
        "bottom_left": f"Effective {control.effective} · values code {control.values_code}",
        "bottom_right": bottom_right,
    }


def document(
    parts: Sequence[Part],
    title: str,
    language: str = "en",
    paper: str = "",
    bar: Bar | None = None,
    *,
    inline: bool = False,
) -> str:
    """The parts as one standalone HTML document, one below the other; each starts a page of its own.

    Parameters
    ----------
    paper : `A4` or `Letter` fixes the size of its pages; empty leaves it to who prints
    bar : shown on screen only
    inline : CSS and fonts stand in the document, which then needs no other file
    """
    names = list(dict.fromkeys(name for part in parts for name in ("paper", *part.styles)))
    return render(
        "paper.html.j2",
        parts=parts,
        title=title,
        language=language,
        paper=paper,
        bar=bar,
        across=MARGINS_ACROSS,
        styles=names,
        inlined=[_inlined(name) for name in names] if inline else [],
    )


@cache
def _inlined(name: str) -> Markup:
    """A CSS file of ours with the fonts it names inside it."""
    text = (ASSETS / f"{name}.css").read_text(encoding="utf-8")
    return Markup(re.sub(r"url\((fonts/[\w.-]+)\)", _font, text))


def _font(found: re.Match[str]) -> str:
    data = base64.b64encode((ASSETS / found.group(1)).read_bytes()).decode("ascii")
    return f"url(data:font/woff2;base64,{data})"

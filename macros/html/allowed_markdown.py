"""What prose in Markdown may hold: text, lists, tables, emphasis, code, and links that only lead somewhere.

HTML, attributes and inclusions of files are refused: with them a page could run a script, load something from outside, or
look like what it is not. Links and pictures are allowed by a list of what they may look like, not refused by a list of tricks.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

_ALLOWED = "Prose holds paragraphs, lists, tables, emphasis, code and links"

_WITHIN = r"(?!/)(?:\.\./)?(?:(?!\.\./)[\w.~%+-]+/)*(?!\.\.)[\w.~%+-]*(?:#[\w.-]*)?"  # at most one folder up: to the root of the site
_ADDRESS = rf"(?:https?://[\w./?#=&%+@~:,-]+|mailto:[\w.+@-]+|tel:[\d+-]+|{_WITHIN})"
_TITLE = r"""(?: "[^"\n\\]*"| '[^'\n\\]*')?"""
_LINK = re.compile(rf"\]\({_ADDRESS}{_TITLE}\)", re.ASCII)
_PICTURE = re.compile(rf"\]\({_WITHIN}{_TITLE}\)", re.ASCII)

_HTML = re.compile(r"<[A-Za-z/!?][^\n]{0,20}")
_BRACES = re.compile(r"[{}][^\n]{0,20}")
_INCLUSION = re.compile(r"-8<-")
_DEFINITION = re.compile(r"\]:[^\n]{0,20}")
_DESTINATION = re.compile(r"\]\((?=([^\n]{0,40}))")


@dataclass(frozen=True)
class ActiveMark:
    """Something in prose that is refused: the mark as it stands, where, what it is, what is allowed and what to do."""

    mark: str
    start: int
    what: str
    allowed: str
    remedy: str


def active_mark(prose: str) -> ActiveMark | None:
    """The first thing in the prose that is more than text; None where all is well."""
    for pattern, what, remedy in (
        (_HTML, "HTML", "Write it in Markdown; write the sign itself as &lt;"),
        (_BRACES, "a brace", "Take it out; attributes are not for prose"),
        (_INCLUSION, "the mark for including a file", "Write the text itself"),
        (
            _DEFINITION,
            "a link whose address stands apart",
            "Write the address beside its text: [text](address)",
        ),
    ):
        found = pattern.search(prose)
        if found:
            return ActiveMark(
                found.group(), found.start(), f"{what} stands in the prose: {found.group()}", _ALLOWED, remedy
            )
    for found in _DESTINATION.finditer(prose):
        picture = _opens_picture(prose, found.start())
        if not (_PICTURE if picture else _LINK).match(prose, found.start()):
            what, mark = "a picture" if picture else "a link", found.group() + found.group(1)
            allowed = (
                "Pictures stand in the site"
                if picture
                else "An address within the site, or https:, mailto: or tel:"
            )
            return ActiveMark(
                mark, found.start(), f"{what} leads where it may not: {mark}", allowed, "Mend the address"
            )
    return None


def _opens_picture(prose: str, end: int) -> bool:
    """Whether the bracket that closes at `end` may belong to a picture: strict, any ![ before it in its paragraph counts."""
    begin = prose.rfind("\n\n", 0, end) + 1
    return "![" in prose[begin:end]

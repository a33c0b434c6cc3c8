"""A page in the sections a search finds: each heading with the text below it, and the marks that stay in that text.

The theme's search plugin does this with a parser for any HTML, a third of the time of a build. The pages here are written
by our own templates, so most of what that parser looks for cannot stand in them. A page with anything else is left to
the theme. The entries are the same to the letter: `tests/html/test_search_sections.py` compares them page by page.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from html import escape, unescape
from itertools import islice

_TOKEN = re.compile(
    r"<(?P<skipped>script|style)(?:\s[^>]*)?>[\s\S]*?</(?P=skipped)>"
    r"|<(?P<end>/?)(?P<tag>[a-zA-Z][\w:-]*)(?P<attributes>(?:\s+[\w:-]+(?:=\"[^\"]*\")?)*)\s*(?P<both>/?)>"
    r"|(?P<text>[^<]+)"
    r"|(?P<stray><)"
)
_LEFT_TO_THE_THEME = re.compile(
    r"<(?:pre|object)\b|</(?:script|style)\s+>|data-search-exclude|linenodiv|headerlink"
)
"""Text kept as it is, parts left out, the mark beside a heading: the theme treats these apart."""

_ID = re.compile(r"\sid=\"([^\"]*)\"")
_HEADINGS = ("h1", "h2", "h3", "h4", "h5", "h6")
_KEPT = ("p", "code", "li", "ol", "ul", "sub", "sup")
_SKIPPED = ("script", "style")
_WITHOUT_END = (
    *("area", "base", "br", "col", "embed", "hr", "img"),
    *("input", "link", "meta", "param", "source", "track", "wbr"),
)


@dataclass
class Section:
    """A heading and the text below it, both in pieces. `heading` is empty for what stands before the first one."""

    heading: str
    depth: float
    """Elements open at the heading, itself among them."""
    id: str | None = None
    title: list[str] = field(default_factory=list)
    text: list[str] = field(default_factory=list)


def search_sections(html: str) -> list[Section] | None:
    """The sections of a finished page in their order; None where the theme's own parser has to read it."""
    if _LEFT_TO_THE_THEME.search(html):
        return None
    reader = _Reader()
    for token in _TOKEN.finditer(html):
        skipped, end, tag, attributes, both, text, stray = token.groups("")
        if text:
            reader.text(text)
        elif skipped:
            reader.preface()
        elif stray or tag in _SKIPPED:
            return None
        elif tag not in _WITHOUT_END:
            if not end:
                reader.start(tag.lower(), attributes)
            if end or both:
                reader.end(tag.lower())
    return reader.sections


class _Reader:
    """What is open, the section the text goes to, and whether to its title or below it."""

    def __init__(self) -> None:
        self.sections: list[Section] = []
        self._open: list[str] = []
        self._section = Section("", 0)
        self._pieces = self._section.text

    def preface(self) -> None:
        """A section without a heading, where something stands before the first one."""
        if not self.sections:
            self.sections.append(self._section)

    def start(self, tag: str, attributes: str) -> None:
        """A start tag; a heading with an id begins a section."""
        self._open.append(tag)
        if tag in _HEADINGS:
            if found := _ID.search(attributes):
                self._begin(tag, unescape(found[1]))
            self._aim()
        self.preface()
        if tag in _KEPT:
            self._pieces.append(f"<{tag}>")

    def end(self, tag: str) -> None:
        """An end tag. Where a heading stood inside an element, its section ends with that element."""
        if not self._open or self._open[-1] != tag:
            return
        if self._section.depth > len(self._open):
            self._leave()
        self._open.pop()
        if tag in _HEADINGS:
            self._aim()
        if tag in _KEPT:
            self._close(tag)

    def text(self, written: str) -> None:
        """Text between tags; white space alone is one space, and below a heading never two in a row."""
        self.preface()
        text = unescape(written) if "&" in written else written
        pieces = self._pieces
        if not text.isspace():
            pieces.append(escape(text.replace("\n", " "), quote=False))
        elif pieces is self._section.title or not pieces or not pieces[-1].isspace():
            pieces.append(" ")

    def _begin(self, heading: str, anchor: str) -> None:
        depth = len(self._open)
        if heading != "h1" and not self.sections:
            self.sections.append(Section("", depth))
        self._section = Section(heading, depth, anchor if self.sections else None)
        self.sections.append(self._section)

    def _leave(self) -> None:
        """Back to the last section whose heading stands in what is open, never to come here again."""
        around = [one for one in self.sections if one.depth <= len(self._open)]
        if around:
            self._section.depth = float("inf")
            self._section = around[-1]
            self._aim()

    def _aim(self) -> None:
        inside = self._section.heading in self._open
        self._pieces = self._section.title if inside else self._section.text

    def _close(self, tag: str) -> None:
        """The end tag, or nothing of the element where it holds no text."""
        start = self._pieces.index(f"<{tag}>")
        if all(piece.isspace() for piece in islice(self._pieces, start + 1, None)):
            del self._pieces[start:]
        else:
            self._pieces.append(f"</{tag}>")

"""What a reader sees of a finished page or sheet: its text without marks, and without what says which copy it is."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from html import unescape

from macros.amounts import Register
from macros.control.changes.sheet_kinds import listed, page_sheets
from macros.control.changes.uncontrolled_things import PrintedThing, printed_things
from macros.manual.pages.printed_lines import PrintedLine
from macros.page_model.page import PageView
from macros.photographs import NO_PHOTOGRAPHS, Photographs
from macros.training.self_checks.question import QuestionView

CONTROL = "data-control"
"""Attribute of an element that says which copy of a sheet it is: revision, code, draft, history."""

WITHDRAWN = "issues/"
"""Below it stand the withdrawn revisions."""

FOLLOWS_CONTROL = frozenset({"reference/changes.md", "reference/master-list.md", "training/roster.md"})
"""Pages of the site that tell the state of issues and sign-offs alone: what they say is no printed value."""

_UNSEEN = re.compile(r"<(script|style|title)\b.*?</\1>|<!--.*?-->|<nav class=\"bar\".*?</nav>", re.DOTALL)
# To its own end: an element of the same name inside it (a day that stays whole) ends before.
_CONTROLLED = re.compile(
    rf"<(\w+)[^<>]*\b{CONTROL}\b[^<>]*>(?:<\1\b[^<>]*>.*?</\1>|(?!</\1>).)*</\1>", re.DOTALL
)
_INLINE = re.compile(r"</?(?:a|abbr|b|bdi|code|em|i|small|span|strong|sub|sup)\b[^<>]*>")
_TAG = re.compile(r"<[^<>]*>")
_HISTORY = re.compile(r"^## Revision history$.*", re.DOTALL | re.MULTILINE)
"""The last section of a procedure: who issued what."""
_BUILT = re.compile(r"\bbuilt for \d{4}-\d\d-\d\d", re.IGNORECASE)
_SPACE = re.compile(r"\s+")
# The running texts of a paper stand in its styles: the house and the title, whose last piece is the kind or DRAFT; how
# long a record is kept and by when it is looked through.
_RUNNING = re.compile(r'@top-left\{content:"([^"]*) · [^"·]*"|@bottom-right\{content:"(Kept [^"]*)"')


def shown_text(html: str) -> str:
    """The text of a page or sheet as it is read, on one line; what only the marks change is the same text."""
    running = " ".join("".join(found) for found in _RUNNING.findall(html))
    text = _CONTROLLED.sub(" ", _UNSEEN.sub(" ", _HISTORY.sub("", html)))
    text = unescape(_TAG.sub(" ", _INLINE.sub("", text)))
    return _BUILT.sub("", _SPACE.sub(" ", f"{text} {running}")).strip()


def site_things(
    register: Register,
    views: Sequence[PageView],
    questions: Sequence[QuestionView],
    files: Mapping[str, str],
    photographs: Photographs = NO_PHOTOGRAPHS,
) -> Iterator[PrintedThing]:
    """Everything a house prints beside its controlled items: sheets and records, then what no page is made of.

    `files` are the finished sheets by their addresses.
    """
    for view in views:
        for kind, address in page_sheets(view):
            key, title = f"{kind.code}-{view.key}", f"{view.key} {view.title}"
            yield _whole(key, kind.name, title, address, (view.key,), shown_text(files[address]))
    yield from listed(printed_things(register, views, questions, photographs))


def site_pages(pages: Mapping[str, str], files: Mapping[str, str]) -> Iterator[PrintedThing]:
    """Every page of the site and every file for a program, as it reads; nobody prints or issues these."""
    for source, text in sorted(pages.items()):
        if source not in FOLLOWS_CONTROL and not source.startswith(WITHDRAWN):
            address = re.sub(r"\.md$", ".html", source)
            yield _whole(address, "page of the site", address, address, (), shown_text(text))
    for address, text in sorted(files.items()):
        if not address.endswith(".html"):
            yield _whole(address, "file", address, address, (), text)


def _whole(key: str, kind: str, title: str, address: str, pages: tuple[str, ...], text: str) -> PrintedThing:
    return PrintedThing(key, kind, title, address, pages, (PrintedLine("text", "text", text),), kept=False)

"""Finished HTML of a page kept away from the Markdown converter, which would only read it and hand it back.

Nearly all of a page is finished HTML. The converter reads it tag by tag to leave it as it is, and that is half the time
of a build. So each finished element stands as a short mark while the page is converted.
The page comes out the same to the byte; `tests/html/test_skip_finished_html.py` compares the pages of every test house.
"""

from __future__ import annotations

import re

_ELEMENT = re.compile(
    r"^<(?P<tag>p|div|ul|ol|dl|table|nav|noscript|script)[ >].*</(?P=tag)>$"  # on one line
    r"|^<(?P<long>figure|details)[ >][\s\S]*?</(?P=long)>$",  # or over several
    re.MULTILINE,
)
_MARK = '<div class="finished-{}"></div>'
_MARK_NUMBER = re.compile(r'<div class="finished-(\d+)"></div>')
_MARKS = re.compile(r'<div class="finished-(\d+)"></div>(?:\n<div class="finished-(\d+)"></div>)*')

_ANCHOR = re.compile(r'\sid="([^"]+)"')

_CHANGED = re.compile("[\t\r\x02\x03]|\n *\n|<!|<\\?")
"""What the converter changes inside HTML, or what could end an element elsewhere than at its end tag."""

_CONVERTED = re.compile(r"<\w[^>]*\smarkdown[\s=>]")
"""A tag that asks for Markdown inside it: what HTML stands there is written anew, not handed back."""


def set_apart(markdown: str) -> tuple[str, list[str]]:
    """The page with marks in the place of its finished HTML, and that HTML in the order of the marks.

    An element is taken where it fills its lines from the first character to the last; any other stays as it is.
    Neighbours share a mark. A page that holds such a mark of itself, or asks for Markdown inside HTML, stays as it is.
    """
    if _MARK_NUMBER.search(markdown) or ("markdown" in markdown and _CONVERTED.search(markdown)):
        return markdown, []
    elements: list[str] = []
    runs: list[str] = []

    def mark(found: re.Match[str]) -> str:
        if _CHANGED.search(found[0]) or not _is_one(found[0], found["tag"] or found["long"]):
            return found[0]
        elements.append(found[0])
        return _MARK.format(len(elements) - 1)

    def share(found: re.Match[str]) -> str:
        end = int(found[2] or found[1]) + 1
        runs.append("\n".join(elements[int(found[1]) : end]))
        return _MARK.format(len(runs) - 1)

    return _MARKS.sub(share, _ELEMENT.sub(mark, markdown)), runs


def put_back(html: str, runs: list[str]) -> str | None:
    """The converted page with its finished HTML in the place of the marks; None where they did not come through."""
    found = _MARK_NUMBER.findall(html)
    if found != [str(number) for number in range(len(runs))]:
        return None
    return _MARK_NUMBER.sub(lambda mark: runs[int(mark[1])], html)


def anchors(html: str) -> set[str]:
    """The names a link to this page may end in."""
    return set(_ANCHOR.findall(html))


def _is_one(element: str, tag: str) -> bool:
    """Whether the element ends at its last end tag and not before."""
    depth = 0
    for found in re.finditer(rf"<(/?){tag}(?=[ >])", element):
        depth += -1 if found[1] else 1
        if depth == 0:
            return found.end() + 1 == len(element)
    return False

"""Links of the finished pages that lead nowhere. Found before anything is written, the old site is still untouched."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache

from macros.ground.problems import Place, Problem

_LINK = re.compile(r"""href="(?!https?:|mailto:|tel:|data:)([^"]*)\"""")
_PROSE_LINK = re.compile(r"""\]\((?!https?:|mailto:|tel:|#)([^)\s#]+)""")
_FINISHED = re.compile(r"^<.*$", re.MULTILINE)
"""Lines of finished HTML: what looks like a link of Markdown there is a name somebody wrote, and stays text."""
_TARGET = re.compile(r"""id="(?<=\bid=")([^"]+)\"""")  # begins with plain letters: found thirty times as fast
NO_PAGE = "no such page is built"
_PAGE = re.compile(r"\.md$")


def broken_links(pages: Mapping[str, str], files: Mapping[str, str]) -> list[Problem]:
    """Links that lead to no page or file, those in prose included; and to no place in it, where the link is in HTML.

    Places a link in prose leads to are made of its headings when the page is converted; the generator looks at those.
    """
    texts = {_PAGE.sub(".html", address): text for address, text in {**pages, **files}.items()}
    targets: dict[str, set[str]] = {}
    problems = []
    for address, text in sorted(texts.items()):
        for link in _LINK.findall(text) if address.endswith(".html") else ():
            if why := _leads_nowhere(address, link, texts, targets):
                problems.append(_broken(address, text, f'href="{link}"', link, why))
    for address, text in sorted(pages.items()):
        for link in _PROSE_LINK.findall(_FINISHED.sub("", text)):
            if _resolve(address, _PAGE.sub(".html", link)) not in texts:
                problems.append(_broken(address, text, f"]({link}", link, NO_PAGE))
    return problems


def _leads_nowhere(address: str, link: str, texts: Mapping[str, str], targets: dict[str, set[str]]) -> str:
    """Why a link of the page at `address` leads nowhere, or nothing. `targets` keeps the places of pages looked at."""
    path, _, anchor = link.partition("#")
    target = _resolve(address, path) if path else address
    if target.startswith("assets/"):
        return ""
    if target not in texts:
        return NO_PAGE
    if anchor and target not in targets:
        targets[target] = set(_TARGET.findall(texts[target]))
    return f"{target} has no place named {anchor}" if anchor and anchor not in targets[target] else ""


def _broken(address: str, text: str, written: str, link: str, why: str) -> Problem:
    line = text[: text.index(written)].count("\n") + 1
    return Problem(
        Place(address, line), "link", f"{link} leads nowhere: {why}", "", "Mend the page or its template"
    )


@lru_cache(maxsize=16384)
def _resolve(address: str, link: str) -> str:
    parts = address.split("/")[:-1]
    for piece in link.split("/"):
        if piece == "..":
            parts = parts[:-1]
        elif piece not in ("", "."):
            parts.append(piece)
    return "/".join(parts)

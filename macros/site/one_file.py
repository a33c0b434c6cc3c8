"""Which pages go into the manual as one file, the page that lists them, and which pictures there is room for."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from html import unescape
from typing import Any

from macros.html.environment import render
from macros.html.phone.one_file import CONTENTS, FilePage, OneFile, one_file, pictures_of
from macros.photographs.clean import small_copy
from macros.site.site import Site

MOST_BYTES = 6_000_000
"""Of the whole file: what goes into a message nearly everywhere (common practice, no source)."""

_LEFT_OUT = (
    "reference/workings.html",
    "reference/changes.html",
    "reference/checks.html",
    "reference/facts.html",
    "reference/log.html",
    "reference/master-list.html",
    "reference/photographs.html",
    "reference/requirements.html",
    "reference/sources.html",
    "training/coverage.html",
    "training/naming.html",
    "training/roster.html",
    "training/trainer-",
    "issues/",
)
"""Begins of the addresses of pages a helper does not need at the bench."""

_HEAD = re.compile(r"<h1[^>]*>(?P<words>.*?)</h1>", re.DOTALL)
_TAG = re.compile(r"<[^>]+>")


@dataclass(frozen=True)
class Made:
    """The finished file, and how many pictures it has no room for, by address."""

    text: str
    without: tuple[str, ...]


def is_carried(address: str) -> bool:
    """Whether the page at this address goes into the file."""
    return not address.startswith(_LEFT_OUT)


def manual_as_one_file(
    site: Site, pages: Iterable[FilePage], styles: Sequence[str], scripts: Sequence[str]
) -> Made:
    """The manual in one document; `pages` are all rendered pages of the site, `styles` and `scripts` what each of them loads."""
    carried = [_titled(page) for page in pages if is_carried(page.address)]
    manual = OneFile(
        name=site.name,
        language=str(site.extra["language"]),
        pages=carried,
        emergency=site.extra["emergency"],
        call=str(site.extra["call"]),
        styles=styles,
        scripts=scripts,
    )
    shown = [name for name in pictures_of(carried) if name in site.pictures]
    room = MOST_BYTES - len(one_file(_with_contents(manual, site, len(shown))).encode())
    pictures, without = _that_fit({name: site.pictures[name] for name in shown}, room)
    return Made(one_file(_with_contents(replace(manual, pictures=pictures), site, len(without))), without)


def _titled(page: FilePage) -> FilePage:
    """The page under the longer of its name in the menu, which tells the system, and its head, which no menu stands over."""
    head = _HEAD.search(page.html)
    words = unescape(_TAG.sub("", head["words"])) if head else ""
    return replace(page, title=max(unescape(page.title), words, key=len))


def _that_fit(pictures: Mapping[str, bytes], room: int) -> tuple[dict[str, bytes], tuple[str, ...]]:
    """The pictures as they are where there is room for all; else small copies, in their order, until the room is used up."""
    if sum(map(_written, pictures.values())) <= room:
        return dict(pictures), ()
    kept: dict[str, bytes] = {}
    for name, data in pictures.items():
        small = small_copy(data)
        if _written(small) <= room:
            kept[name] = small
            room -= _written(small)
    return kept, tuple(name for name in pictures if name not in kept)


def _written(data: bytes) -> int:
    """Bytes a picture takes in the file: four letters for three of its own, and its name."""
    return 4 * (len(data) + 2) // 3 + 80


def _with_contents(manual: OneFile, site: Site, without: int) -> OneFile:
    """The manual with the page that lists its pages and says what it lacks, `without` pictures among it."""
    titles = {page.address: page.title for page in manual.pages}
    digest = hashlib.sha256("".join(page.html for page in manual.pages).encode()).hexdigest()
    html = render(
        "contents.html.j2",
        groups=[(head, rows) for head, rows in _groups(site.navigation, titles, "") if rows],
        day=site.extra["day"],
        code=f"{digest[:4]} {digest[4:8]}",
        without=without,
    )
    return replace(manual, pages=[*manual.pages, FilePage(CONTENTS, "Pages", html)])


def _groups(
    entries: Sequence[Any], titles: Mapping[str, str], head: str
) -> list[tuple[str, list[tuple[str, str]]]]:
    """The menu as heads with (title, address) below them, without what is not in the file."""
    own: list[tuple[str, str]] = []
    below: list[tuple[str, list[tuple[str, str]]]] = []
    for entry in entries:
        ((title, inside),) = entry.items()
        if isinstance(inside, list):
            below += _groups(inside, titles, title)
        elif inside.removesuffix(".md") + ".html" in titles:
            own.append((title, inside.removesuffix(".md") + ".html"))
    return [(head, own), *below]

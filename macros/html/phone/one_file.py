"""The manual as one file: pages, look, scripts and pictures in one HTML document that asks for nothing.

A page lies in it as text until it is shown (`shell.js`): a phone reads one page at a time, not all at once.
"""

from __future__ import annotations

import base64
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from posixpath import join, normpath
from typing import Any

from markupsafe import Markup

from macros.html.content_policy import script_hashes
from macros.html.environment import render, script_data

CONTENTS = "contents.html"
"""The page that lists all others."""

_HERE = Path(__file__).parent
_ASSETS = _HERE.parent / "theme" / "assets"
_FIRST = "assets/kept.js"
"""What keeps things on the device begins before anything that asks it."""

_SOURCE = re.compile(r'<script src="(?P<address>[^"]+)"[^>]*></script>')
_PICTURE = re.compile(r'<img src="(?P<address>[^"]+)"')
_FONT = re.compile(r"url\((?P<address>fonts/[\w.-]+)\)")
_ENDS_A_SCRIPT = re.compile(r"<(?=/script|script|!--)", re.IGNORECASE)


@dataclass(frozen=True)
class FilePage:
    """One page of the file, under its address in the site: its title as plain text, the HTML between head and foot."""

    address: str
    title: str
    html: str


@dataclass(frozen=True)
class OneFile:
    """All that goes into the file but its pictures. `styles` and `scripts` are addresses below the theme."""

    name: str
    language: str
    pages: Sequence[FilePage]
    emergency: Sequence[Mapping[str, Any]]
    call: str
    styles: Sequence[str]
    scripts: Sequence[str]
    pictures: Mapping[str, bytes] = field(default_factory=dict)


def pictures_of(pages: Sequence[FilePage]) -> list[str]:
    """Addresses of the pictures the pages show, in the order of their first place."""
    found = [_at(page, image["address"]) for page in pages for image in _PICTURE.finditer(page.html)]
    return list(dict.fromkeys(found))


def one_file(manual: OneFile) -> str:
    """The document. A picture a page shows and `manual.pictures` lacks is told in its place."""
    scripts = _scripts(manual)
    return render(
        "one_file.html.j2",
        name=Markup(manual.name),
        language=manual.language,
        contents=CONTENTS,
        policy=Markup(_policy(scripts)),
        style=Markup(_style(manual.styles)),
        icon=_data("image/svg+xml", (_ASSETS / "icons" / "icon.svg").read_bytes()),
        emergency=manual.emergency,
        call=manual.call,
        pages=[replace(page, html=_laid_in(page)) for page in manual.pages],
        pictures=script_data({name: _data("image/webp", data) for name, data in manual.pictures.items()}),
        scripts=[Markup(script) for script in scripts],
    )


def _policy(scripts: Sequence[str]) -> str:
    """Nothing from anywhere: no script but those of this file, no address but pictures and fonts that stand in it."""
    return "; ".join(
        (
            "default-src 'none'",
            f"script-src {script_hashes(scripts)}",
            "style-src 'unsafe-inline'",  # sheets and drawings carry their sizes
            "img-src data:",
            "font-src data:",
            "base-uri 'none'",
            "form-action 'none'",
        )
    )


def _scripts(manual: OneFile) -> list[str]:
    """The shell before all that follow it, and after what it and they keep things with."""
    named = [_at(page, one["address"]) for page in manual.pages for one in _SOURCE.finditer(page.html)]
    others = [one for one in dict.fromkeys([*manual.scripts, *named]) if one != _FIRST]
    shell = (_HERE / "shell.js").read_text(encoding="utf-8")
    return [_asset(_FIRST), shell, *(_asset(one) for one in others)]


def _style(styles: Sequence[str]) -> str:
    text = "\n".join([(_HERE / "shell.css").read_text(encoding="utf-8"), *(_asset(one) for one in styles)])
    return _FONT.sub(
        lambda font: f"url({_data('font/woff2', (_ASSETS / font['address']).read_bytes())})", text
    )


def _asset(address: str) -> str:
    return (_ASSETS.parent / address).read_text(encoding="utf-8")


def _laid_in(page: FilePage) -> Markup:
    """The page as it may stand inside a script element; `htmlOf` in the shell is the way back."""
    html = _SOURCE.sub("", page.html)
    html = _PICTURE.sub(lambda image: f'<img data-picture="{_at(page, image["address"])}"', html)
    return Markup(_ENDS_A_SCRIPT.sub(r"<\\", html))


def _at(page: FilePage, address: str) -> str:
    """An address on a page, from the root of the site."""
    return normpath(join(page.address.rpartition("/")[0], address))


def _data(kind: str, data: bytes) -> str:
    return f"data:{kind};base64,{base64.b64encode(data).decode()}"

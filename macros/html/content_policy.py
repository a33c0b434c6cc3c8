"""The Content-Security-Policy of a page: what it may load. Nothing from outside, ever.

Served from a web server the policy names the theme's own inline scripts by their hashes, so that text which got in
anywhere else cannot run. Opened from disk a browser knows no own address (`'self'`), so there the scheme is named.
Source: W3C, Content Security Policy Level 3.
"""

from __future__ import annotations

import base64
import hashlib
import re
from collections.abc import Iterable, Sequence

_SCRIPT = re.compile(r"<script(?P<attributes>[^>]*)>(?P<text>.*?)</script>", re.DOTALL)
_SOURCE = re.compile(r"\ssrc\s*=")
_TYPE = re.compile(r"""\stype\s*=\s*["']?(?P<type>[^"'\s>]+)""")
_HEAD = re.compile(r"<head>|<head\s[^>]*>")

HEADERS = {
    "Content-Security-Policy": "frame-ancestors 'none'",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cache-Control": "no-cache",
}
"""What a server may add: the one directive a page cannot say of itself, no guessing of types, and fresh pages."""


def with_policy(html: str, served: bool, theme: Sequence[str] = ()) -> str:
    """The page with its policy as the first thing of its head; a page without a head is left as it is.

    `theme` holds what the theme wrote of the page. Sheets and forms of our own have no inline script.
    """
    policy = served_policy(theme) if served else DISK_POLICY
    meta = f'<meta http-equiv="Content-Security-Policy" content="{policy}">'
    return _HEAD.sub(lambda head: head.group(0) + meta, html, count=1)


DISK_POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src file: 'unsafe-inline'",  # the search from disk writes its frame as inline script
        "style-src file: 'unsafe-inline'",
        "img-src file: data:",
        "font-src file:",
        "connect-src 'none'",
        "frame-src file: blob:",
        "base-uri 'none'",
        "form-action 'none'",
    )
)


def served_policy(theme: Sequence[str]) -> str:
    """The policy of one page on a web server: the site's own files, and the theme's inline scripts by their hashes."""
    found = (text for part in theme for text in inline_scripts(part))
    scripts = f"script-src 'self' {script_hashes(found)}".rstrip()
    return "; ".join(
        (
            "default-src 'none'",
            scripts,
            "worker-src 'self'",
            "style-src 'self' 'unsafe-inline'",  # sheets and drawings carry their sizes
            "img-src 'self' data:",
            "font-src 'self'",
            "connect-src 'self'",
            "manifest-src 'self'",
            "base-uri 'none'",
            "form-action 'none'",
        )
    )


def inline_scripts(html: str) -> list[str]:
    """The text of each script of the page that runs and is no file of its own."""
    found = []
    for script in _SCRIPT.finditer(html):
        kind = _TYPE.search(script["attributes"])
        runs = kind is None or kind["type"] in ("module", "text/javascript")
        if runs and not _SOURCE.search(script["attributes"]):
            found.append(script["text"])
    return found


def script_hashes(scripts: Iterable[str]) -> str:
    """What a policy calls these scripts by."""
    return " ".join(dict.fromkeys(f"'sha256-{_hash(text)}'" for text in scripts))


def _hash(text: str) -> str:
    return base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()

"""What makes a served site one that can be installed: its manifest, the worker, and the list of the files of an issue."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path

WORKER = Path(__file__).with_name("worker.js")
LIST = "issue.json"
COLOUR = "#0a4f45"
"""That of the head of every page."""

_NOT_KEPT = ("assets/javascripts/lunr/",)
"""Words of other languages for the search: a page in English never asks for them."""


def installed_files(site: Path, name: str, language: str, day: str) -> dict[str, bytes]:
    """The files to add to a finished site: address -> bytes.

    `day` is the day the manual is for, ISO. The code of the issue is that of its list, so it moves with any file.
    """
    added = {"manifest.webmanifest": _manifest(name, language), WORKER.name: WORKER.read_bytes()}
    kept = {
        file.relative_to(site).as_posix(): file.read_bytes() for file in site.rglob("*") if file.is_file()
    }
    kept = {address: data for address, data in kept.items() if _is_kept(address)}
    kept["manifest.webmanifest"] = added["manifest.webmanifest"]
    files = {address: hashlib.sha256(data).hexdigest() for address, data in sorted(kept.items())}
    code = hashlib.sha256(json.dumps([day, files]).encode()).hexdigest()
    added[LIST] = json.dumps({"code": code, "date": day, "files": files}, indent=0).encode()
    return added


def _is_kept(address: str) -> bool:
    return not (address.startswith(_NOT_KEPT) or address.endswith(".map") or address in (LIST, WORKER.name))


def _manifest(name: str, language: str) -> bytes:
    """Source: W3C, Web Application Manifest. The icon fills its square and keeps to the middle, so it serves as both kinds."""
    icons = [
        {
            "src": f"assets/icons/icon-{side}.png",
            "sizes": f"{side}x{side}",
            "type": "image/png",
            "purpose": purpose,
        }
        for side in (192, 512)
        for purpose in ("any", "maskable")
    ]
    icons.append({"src": "assets/icons/icon.svg", "sizes": "any", "type": "image/svg+xml", "purpose": "any"})
    manifest = {
        "name": name,
        "short_name": name,
        "lang": language,
        "id": "./",
        "start_url": "./index.html",
        "scope": "./",
        "display": "standalone",
        "background_color": "#ffffff",
        "theme_color": COLOUR,
        "icons": icons,
    }
    return json.dumps(manifest, ensure_ascii=False, indent=1).encode()

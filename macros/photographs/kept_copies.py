"""Scaled copies of photographs, kept in the house's `.trayside/photos/` by the content of the file they came from.

A build reads 200 photographs of 4 MB only once: what has kept its size and time is taken to be the same file. Nothing
here is needed: a folder that cannot be read or written costs time and no picture.
"""

from __future__ import annotations

import hashlib
import re
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path

from macros.ground.disk.safe_write import write_whole
from macros.photographs.webp import RECIPE, Copies, plain_webp

FOLDER, KNOWN = ".trayside/photos", "known.txt"
MOST_KEPT_BYTES = 1_000_000
"""Bytes of a kept file that are read: a copy has a twentieth."""
_CODE = re.compile(r"[0-9a-f]{64}")


@dataclass
class KeptCopies:
    """The kept copies of one house; `codes` maps name, size and time of a file to the code of its content."""

    folder: Path
    codes: dict[str, str] = field(default_factory=dict)
    used: dict[str, str] = field(default_factory=dict)

    @classmethod
    def of(cls, house_folder: Path) -> KeptCopies:
        """What a house has kept; empty where that is unreadable or damaged."""
        kept = cls(house_folder / FOLDER)
        lines = _read(kept.folder / KNOWN).decode(errors="replace").splitlines()
        found = [line.partition(" ") for line in lines]
        kept.codes = {key: code for code, _, key in found if _CODE.fullmatch(code)}
        return kept

    def copies(self, path: Path, name: str) -> tuple[str, Copies]:
        """The code of a photograph's content and its copies.

        Raises
        ------
        NoPhotograph
            the file is not used.
        OSError
            the file cannot be read.
        """
        state = path.stat()
        key = f"{name} {state.st_size} {state.st_mtime_ns}"
        code = self.codes.get(key, "")
        copies = self._kept(code) if code else None
        if copies is None:
            data = path.read_bytes()
            code = hashlib.sha256(data).hexdigest()
            copies = self._kept(code)
        if copies is None:
            from macros.photographs.clean import (
                cleaned,  # PIL takes a twentieth of a second: only for a new photograph
            )

            copies = cleaned(data)
            self._keep(code, copies)
        self.used[key] = code
        return code, copies

    def close(self) -> None:
        """Write what is known now, and take away the copies of photographs that are gone."""
        if self.used == self.codes:
            return
        with suppress(OSError):
            lines = [f"{code} {key}\n" for key, code in sorted(self.used.items())]
            write_whole(self.folder / KNOWN, "".join(lines).encode())
            names = {name for code in self.used.values() for name in _names(code)}
            for path in self.folder.glob("*.webp"):
                if path.name not in names:
                    path.unlink()

    def _kept(self, code: str) -> Copies | None:
        screen, paper = (_read(self.folder / name) for name in _names(code))
        size, grey = plain_webp(screen), plain_webp(paper)
        return Copies(screen, paper, *size) if size and grey else None

    def _keep(self, code: str, copies: Copies) -> None:
        with suppress(OSError):
            for name, data in zip(_names(code), (copies.screen, copies.paper), strict=True):
                write_whole(self.folder / name, data)


def _names(code: str) -> tuple[str, str]:
    return f"{code[:32]}-{RECIPE}.webp", f"{code[:32]}-{RECIPE}-paper.webp"


def _read(path: Path) -> bytes:
    """A kept file; empty where there is none, it is a link, or it is longer than any copy."""
    try:
        if path.is_symlink() or not path.is_file():
            return b""
        with path.open("rb") as file:
            data = file.read(MOST_KEPT_BYTES + 1)
    except OSError:
        return b""
    return data if len(data) <= MOST_KEPT_BYTES else b""

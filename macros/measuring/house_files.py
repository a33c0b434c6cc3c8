"""The files of a house while it is measured: read once, written one stroke at a time, never over another's change."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from pathlib import Path

from macros.ground.disk.safe_write import NotWritten, write_whole
from macros.ground.house_files import files_of, is_there, read_bytes
from macros.ground.problems import DataProblems
from macros.ground.yaml_source import Path_, read_yaml_text
from macros.house.files.load_house import FOLDER
from macros.house.files.starter_explanations import starter_facts, switched_on
from macros.house.files.write_fact import Value, with_entry, with_facts
from macros.house.files.writing import house_lock, inside

_BOM = "\ufeff"


class ChangedMeanwhile(NotWritten):
    """A file is not as it was read; nothing was written over it."""


class HouseFiles:
    """The texts of `site_data/*.yml` by name, as they stand on the disk."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._bytes: dict[str, bytes] = {}
        self.texts: dict[str, str] = {}
        self.read()

    def read(self) -> None:
        """Read every file anew.

        Raises
        ------
        DataProblems
            a file cannot be read; each is told.
        """
        paths, problems = files_of(self.folder / FOLDER, ".yml", FOLDER, self.folder)
        self._bytes = {}
        for path in paths:
            content, refused = read_bytes(path, f"{FOLDER}/{path.name}", self.folder)
            problems += refused
            if content is not None:
                self._bytes[path.name] = content
        if problems:
            raise DataProblems(problems)
        self.texts = {
            name: content.decode("utf-8").removeprefix(_BOM) for name, content in self._bytes.items()
        }

    def write(self, texts: Mapping[str, str]) -> dict[str, str | None]:
        """Put these texts in their files, each in one stroke; the texts that stood there before are returned.

        Raises
        ------
        ChangedMeanwhile
            one of the files was changed since it was read. None was written.
        NotWritten
            another command writes into this house.
        OSError
            the disk refuses.
        """
        before: dict[str, str | None] = {}
        with house_lock(self.folder):
            for name in texts:
                self._refuse_changed(name)
            for name, text in texts.items():
                mark = _BOM if self._bytes.get(name, b"").startswith(_BOM.encode()) else ""
                content = f"{mark}{text}".encode()
                write_whole(inside(self.folder / FOLDER / name, self.folder), content)
                before[name] = self.texts.get(name)
                self._bytes[name], self.texts[name] = content, text
        return before

    def with_stroke(self, facts: Mapping[Path_, Value | None]) -> dict[str, str]:
        """The texts that hold these facts, of the files that change; None switches one off. A new entry is added whole.

        Raises
        ------
        NotChanged
            a place is written in a form that is not changed here.
        """
        changed: dict[str, str] = {}
        entries: dict[Path_, dict[Path_, Value]] = {}
        for path, value in facts.items():
            name = self.file_of(str(path[0]))
            text = changed.get(name, self.texts.get(name, ""))
            new = _new_entry(text, path)
            if new and value is not None:
                entries.setdefault(new, {})[path] = value
            else:
                changed[name] = with_facts(text, {path: value})
        for entry, inner in entries.items():
            name = self.file_of(str(entry[0]))
            text = changed.get(name, self.texts.get(name, ""))
            below = {path[len(entry) :]: value for path, value in inner.items()}
            changed[name] = with_entry(text, entry[:-1], _nested(below))
        return changed

    def file_of(self, section: str) -> str:
        """The file a section stands in, or would: where it is switched off, else as in a new house."""
        for name, text in self.texts.items():
            source, _ = read_yaml_text(text, name)
            if source is not None and isinstance(source.data, dict) and section in source.data:
                return name
        off = re.compile(rf"^#{re.escape(section)}:", re.MULTILINE)
        new = re.compile(rf"^{re.escape(section)}:", re.MULTILINE)
        for name, text in self.texts.items():
            if off.search(text):
                return name
        return next(
            (name for name, text in starter_facts().items() if new.search(switched_on(text))), "house.yml"
        )

    def _refuse_changed(self, name: str) -> None:
        path = self.folder / FOLDER / name
        now = read_bytes(path, name, self.folder)[0] if is_there(path) else None
        if now != self._bytes.get(name):
            raise ChangedMeanwhile(
                f"{FOLDER}/{name} was changed by somebody else since it was read. Nothing was written over it."
            )


def _new_entry(text: str, path: Path_) -> Path_:
    """The path of the list entry in which a fact stands, where the text does not have it yet; else empty."""
    source, _ = read_yaml_text(text, "")
    data = source.data if source is not None else None
    for depth, step in enumerate(path):
        if isinstance(step, int):
            if not isinstance(data, list) or step >= len(data):
                return path[: depth + 1]
            data = data[step]
        else:
            data = data.get(step) if isinstance(data, dict) else None
    return ()


def _nested(facts: Mapping[Path_, Value]) -> dict[str, object]:
    found: dict[str, object] = {}
    heads: Iterable[str] = dict.fromkeys(str(path[0]) for path in facts)
    for head in heads:
        own = {path[1:]: value for path, value in facts.items() if str(path[0]) == head}
        found[head] = own[()] if () in own else _nested(own)
    return found

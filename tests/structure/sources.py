"""Which lines of published files and of sourced cases name no source: a document by its name, or why there is none."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import yaml

from macros.published.pages.documents import documents, ways
from macros.published.pages.sources import sources

ROOT = Path(__file__).parents[2]
FILES = [
    *sorted((ROOT / "macros/published").rglob("*.yml")),
    *sorted((ROOT / "tests/reference").glob("*.yml")),
]
NO_DOCUMENT = re.compile(
    r"[cC]ommon practice, no source|from memory|our own\b.*(because|: )|as on surfaces|^none$"
    r"|arithmetic, checked by hand|geometry, by hand|definition, by hand"
)
"""What a line may say that names no document."""
NO_SOURCE_LINES = {"judgement.yml", "documents.yml"}
"""Files whose `source` is a kind of change, or a title."""


def faults_of_file(file: Path) -> list[str]:
    """Each fault of one file, with where it stands."""
    if file.name in NO_SOURCE_LINES:
        return []
    data = yaml.safe_load(file.read_text(encoding="utf-8"))
    found = list(_of_sources(data)) if file.name == "sources.yml" else list(_walked(data, ""))
    return [f"{file.name}{told}" for told in found]


def fault_of_source(line: str) -> str:
    """What is wrong with a source line; empty when nothing is."""
    if line in sources():
        return ""
    for piece in re.split(r";\s+", line):
        if not NO_DOCUMENT.search(piece) and not any(name in piece for name in documents()):
            return f'"{piece}" names no document of documents.yml, nor why there is none'
    return ""


def fault_of_way(line: str) -> str:
    """What is wrong with how something was obtained; empty when nothing is."""
    vague = re.search(r"\b(seen|search|ours)\b", line)
    if vague or not line.startswith(tuple(ways())):
        return f'"{line}" begins with no way of documents.yml, or says {vague.group() if vague else line.split()[0]}'
    return ""


def _of_sources(data: dict[str, Any]) -> Iterator[str]:
    for key, entry in data.items():
        for fault in (fault_of_source(entry["text"].replace(";", ",")), fault_of_way(entry["obtained"])):
            if fault:
                yield f".{key}: {fault}"


def _walked(data: Any, place: str) -> Iterator[str]:
    if isinstance(data, dict):
        for key, value in data.items():
            told = ""
            if isinstance(value, str) and key == "source":
                told = fault_of_source(value)
            elif isinstance(value, str) and key == "obtained":
                told = fault_of_way(value)
            elif key == "sources" and isinstance(value, list):
                told = " and ".join(filter(None, map(fault_of_source, map(str, value))))
            if told:
                yield f"{place}.{key}: {told}"
            yield from _walked(value, f"{place}.{key}")
    elif isinstance(data, list):
        for number, value in enumerate(data):
            name = (
                (value.get("id") or value.get("name") or value.get("function") or number)
                if isinstance(value, dict)
                else number
            )
            yield from _walked(value, f"{place}.{name}")

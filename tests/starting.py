"""The starter house taken apart: its switched-off facts, what each needs beside it, and where each belongs."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator
from copy import deepcopy
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from macros.ground.yaml_source import Path_, read_yaml_text
from macros.house.files.starter_explanations import explanations, starter_facts, switched_on

OPTIONAL = "optional.yml"
"""The file of a new house that holds the facts that are switched off, and no other."""
_NEEDS = re.compile(r"Needs ([a-z_]+)(?: and ([a-z_]+))?\.")


@dataclass(frozen=True)
class Block:
    """A fact that may be given by itself, with what stands under it, at its path in a new house."""

    path: Path_
    value: Any


def data_of(text: str) -> Any:
    """What a file of facts holds; it must be readable."""
    source, problems = read_yaml_text(text, "")
    assert source is not None
    assert problems == []
    return source.data


def given_facts(us: bool = False) -> dict[str, Any]:
    """The sections a new house gives, of all its files."""
    return {name: one for text in starter_facts(us).values() for name, one in (data_of(text) or {}).items()}


def switched_off_blocks(us: bool = False) -> dict[str, Block]:
    """Each fact that can be given by itself, by its name: `systems.0.rack`, `varieties`."""
    off = data_of(switched_on(starter_facts(us)[OPTIONAL]))
    return {".".join(map(str, one.path)): one for one in _beside(given_facts(us), off, ())}


def _beside(given: Any, off: Any, path: Path_) -> Iterator[Block]:
    """What `off` holds that `given` does not: a name, or an entry whose own name no entry given has."""
    if isinstance(off, dict):
        for name, value in off.items():
            if name not in given:
                yield Block((*path, name), value)
            elif isinstance(value, dict | list):
                yield from _beside(given[name], value, (*path, name))
        return
    added = 0
    for item in off:
        own = next(iter(item.values()))
        at = next((n for n, one in enumerate(given) if own in one.values()), None)
        if at is None:
            yield Block((*path, len(given) + added), item)
            added += 1
        else:
            yield from _beside(given[at], item, (*path, at))


def needed(key: str, blocks: dict[str, Block]) -> set[str]:
    """The block and those its explanation says it needs."""
    match = _NEEDS.search(explanations().get(("House", key), ""))
    return {key} | {word for word in match.groups() if word} if match else {key}


def facts_with(blocks: Iterable[Block], us: bool = False) -> dict[str, str]:
    """A new house with these blocks given, as one file; JSON is YAML."""
    data = deepcopy(given_facts(us))
    for block in blocks:
        above: Any = data
        for step in block.path[:-1]:
            above = above[step]
        if isinstance(above, list):
            above.append(block.value)
        else:
            above[block.path[-1]] = block.value
    return {"house.yml": json.dumps(data, indent=1)}


def written(folder: Path, files: dict[str, str]) -> Path:
    """A house folder with these files of facts."""
    facts = folder / "site_data"
    facts.mkdir(parents=True)
    for name, text in files.items():
        (facts / name).write_text(text, encoding="utf-8")
    return folder


def without_what_may_be_left_out() -> tuple[dict[str, str], list[str]]:
    """A new house without any given fact whose explanation says what leaving it out means; and those facts."""
    left_out = []
    files = {}
    for name, text in starter_facts().items():
        lines = text.splitlines()
        kept: list[str] = []
        number = 0
        while number < len(lines):
            line = lines[number]
            over = len(kept)
            while over > 0 and kept[over - 1].lstrip().startswith("# "):
                over -= 1
            said = " ".join(comment.strip("# ") for comment in kept[over:])
            if line.lstrip()[:1] in ("", "#", "-") or "Leave out:" not in said:
                kept.append(line)
                number += 1
                continue
            left_out.append(line.strip())
            del kept[over:]
            number += 1
            while number < len(lines) and (_indent(lines[number]) > _indent(line)):
                number += 1
        files[name] = "\n".join(kept) + "\n"
    return files, left_out


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip())

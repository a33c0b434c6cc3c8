"""The starter house taken apart: its switched-off blocks, and what each needs beside it."""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path

from macros.house.files.starter_explanations import starter_facts, switched_on

_OFF = re.compile(r"( *)#[^ #\n]")
_NEEDS = re.compile(r"Needs ([a-z_]+)(?: and ([a-z_]+))?\.")

Block = tuple[str, int, int]
"""File, and the first and the last line that go on together, counted from 0."""


def switched_off_blocks(us: bool = False) -> dict[str, Block]:
    """Each fact that can be switched on by itself, with what stands under it: `crops.yml:12 varieties` -> its lines."""
    found: dict[str, Block] = {}
    for name, text in starter_facts(us).items():
        lines = text.splitlines()
        start = 0
        while start < len(lines):
            match = _OFF.match(lines[start])
            if match is None:
                start += 1
                continue
            end = start
            for number in range(start + 1, len(lines)):
                inner = _OFF.match(lines[number])
                if inner is not None and len(inner.group(1)) > len(match.group(1)):
                    end = number
                elif not lines[number].lstrip().startswith("# "):
                    break
            word = lines[start].strip().lstrip("#- ").split(":")[0]
            found[f"{name}:{start + 1} {word}"] = (name, start, end)
            start = end + 1
    return found


def needed(key: str, blocks: dict[str, Block]) -> set[str]:
    """The block and those its explanation says it needs."""
    name, start, _ = blocks[key]
    text = list(starter_facts()[name].splitlines())
    over = start
    while text[over - 1].lstrip().startswith("# "):
        over -= 1
    match = _NEEDS.search(" ".join(line.strip("# ") for line in text[over:start]))
    words = {word for word in match.groups() if word} if match else set()
    return {key} | {other for other in blocks if other.split()[1] in words and not other.startswith(" ")}


def facts_with(blocks: Iterable[Block], us: bool = False) -> dict[str, str]:
    """The files of a new house with these blocks switched on."""
    files = {name: text.splitlines() for name, text in starter_facts(us).items()}
    for name, start, end in blocks:
        part = switched_on("\n".join(files[name][start : end + 1]))
        files[name][start : end + 1] = part.splitlines()
    return {name: "\n".join(lines) + "\n" for name, lines in files.items()}


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

"""What every thing beside the controlled items printed when it was last taken as done: `site_data/issued/printed.json`.

A thing enters again when an item it follows from is issued and no other of them waits, or when the owner says that the
list was seen to. So a label that two changed pages touch stays listed until both are issued. Each thing names the
inputs it was printed from, so that an old value is told of the day it was printed, not of the last issue of another.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import Any, cast

from macros.amounts import Register
from macros.control.changes.uncontrolled_things import PrintedThing
from macros.ground.house_files import damaged, read_json
from macros.ground.package import PACKAGE
from macros.ground.problems import Problem
from macros.house.files.facts_as_written import written_facts
from macros.manual.pages.printed_lines import LineKind, PrintedLine
from macros.manual.procedures.load_files import ProcedureFile
from macros.published import files as published_files

FILE = "site_data/issued/printed.json"
"""Where it lies below the house folder."""
MAX_BYTES = 20_000_000
"""A house of 40 systems takes a fifth of it; past it lies a file made to hang us."""
PROGRAM = "the program"
PROCEDURE = "procedure "
"""What stands before the id of a procedure among the files."""
SCHEMA_HINT = "# yaml-language-server: $schema=../schemas/{}.json\n"
"""First line of a published file, by which an editor finds its schema; it counts as no change of the list."""


@dataclass(frozen=True)
class Inputs:
    """All that a manual is made of: the day, each fact as written, and a code of each file that is read."""

    day: str
    facts: Mapping[str, str]
    files: Mapping[str, str]

    @property
    def code(self) -> str:
        """Fingerprint of the whole: 16 hex digits of SHA-256. Equal codes mean that everything prints the same."""
        return _code(json.dumps([self.day, self.facts, self.files], sort_keys=True))


@dataclass(frozen=True)
class BaselineEntry:
    """A thing as it was taken: as `PrintedThing`, its code, the code of its inputs; lines only where they are kept."""

    kind: str
    title: str
    address: str
    pages: tuple[str, ...]
    inputs: str
    code: str
    lines: tuple[PrintedLine, ...] = ()


@dataclass(frozen=True)
class Baseline:
    """Every thing by its key, and the inputs they were printed from by their codes."""

    things: Mapping[str, BaselineEntry] = field(default_factory=dict)
    inputs: Mapping[str, Inputs] = field(default_factory=dict)

    def all_from(self, inputs: Inputs) -> bool:
        """Whether everything was taken from these inputs, so that nothing can print anything else."""
        return bool(self.things) and set(self.inputs) == {inputs.code}

    def as_json(self) -> str:
        """The text of its file: keys sorted, one thing a line, the same bytes on every run."""
        things = {
            key: [one.kind, one.title, one.address, one.pages, one.inputs, one.code,
                  [[line.place, line.kind, line.text] for line in one.lines]]
            for key, one in self.things.items()
        }  # fmt: skip
        inputs = {
            code: {"day": one.day, "facts": dict(one.facts), "files": dict(one.files)}
            for code, one in self.inputs.items()
        }
        return f'{{\n"inputs": {_block(inputs)},\n"things": {_block(things)}\n}}\n'


def inputs_of(register: Register, procedures: Sequence[ProcedureFile]) -> Inputs:
    """The inputs of the manual at hand."""
    facts = {name: fact.text for name, fact in written_facts(register.house).items()}
    pages = {PROCEDURE + file.id: _code(f"{file.front}---\n{file.body}") for file in procedures}
    return Inputs(register.built_for.isoformat(), facts, {**pages, **program_files()})


@cache
def program_files() -> Mapping[str, str]:
    """Each published list by its name, and the program with its templates as one, with their codes.

    Style sheets and scripts are left out: no printed text is made of them.
    """
    published = {
        f"macros/published/{path.name}": _code(
            path.read_text(encoding="utf-8").removeprefix(SCHEMA_HINT.format(path.stem))
        )
        for path in published_files()
    }
    texts = [
        *(path for path in PACKAGE.rglob("*.py") if "starter" not in path.parts),
        *(PACKAGE / "html" / "templates").glob("*.j2"),
    ]
    named = {path.relative_to(PACKAGE).as_posix(): path.read_text(encoding="utf-8") for path in texts}
    return published | {PROGRAM: _code(json.dumps(named, sort_keys=True))}


def renewed(
    old: Baseline | None,
    things: Iterable[PrintedThing],
    inputs: Inputs,
    issued: Iterable[str] | None,
    waiting: Iterable[str],
) -> Baseline:
    """The baseline after an issue.

    Parameters
    ----------
    issued : keys of the items that were issued now; None takes every thing that waits for no issue
    waiting : keys of the items that still print what was never issued

    A thing is taken when none of its items waits and one of them was issued now, or when it prints as before; what
    follows from the whole house, when nothing waits at all. All else stays as it was, so that it stays listed.
    """
    now, waits = None if issued is None else set(issued), set(waiting)
    before = old.things if old else {}
    there = {thing.key: thing for thing in things}
    kept = dict(before)
    for key in {**before, **there}:
        thing = there.get(key)
        if not _is_taken(before.get(key), thing, now, waits):
            continue
        if thing is None:
            kept.pop(key)
        else:
            lines = thing.lines if thing.kept else ()
            kept[key] = BaselineEntry(
                thing.kind, thing.title, thing.address, thing.pages, inputs.code, thing.code, lines
            )
    used = {one.inputs for one in kept.values()}
    known = {**(old.inputs if old else {}), inputs.code: inputs}
    return Baseline(kept, {code: one for code, one in known.items() if code in used})


def _is_taken(
    old: BaselineEntry | None, new: PrintedThing | None, issued: set[str] | None, waiting: set[str]
) -> bool:
    """Whether a thing, or that it is gone, is taken as done."""
    pages = {page for one in (old, new) if one is not None for page in one.pages}
    if (pages & waiting) if pages else waiting:
        return False
    same = old is not None and new is not None and old.code == new.code
    return issued is None or not pages or bool(pages & issued) or same


def read_baseline(house_folder: Path) -> tuple[Baseline | None, list[Problem]]:
    """The baseline of a house; None where there is none or its file cannot be read, and then everything is new."""
    data, problems = read_json(house_folder / FILE, FILE, house_folder, MAX_BYTES)
    if data is None:
        return None, problems
    try:
        inputs = {
            str(code): Inputs(str(one["day"]), _texts(one["facts"]), _texts(one["files"]))
            for code, one in data["inputs"].items()
        }
        things = {str(key): _taken(row) for key, row in data["things"].items()}
        if all(one.inputs in inputs for one in things.values()):
            return Baseline(things, inputs), []
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        pass
    return None, [damaged(FILE)]


def _taken(row: Any) -> BaselineEntry:
    kind, title, address, pages, inputs, code, lines = row
    return BaselineEntry(
        str(kind),
        str(title),
        str(address),
        tuple(str(page) for page in pages),
        str(inputs),
        str(code),
        tuple(PrintedLine(str(place), cast(LineKind, str(of)), str(text)) for place, of, text in lines),
    )


def _texts(data: Any) -> dict[str, str]:
    return {str(name): str(text) for name, text in data.items()}


def _code(text: str) -> str:
    return sha256(text.encode()).hexdigest()[:16]


def _block(entries: Mapping[str, Any]) -> str:
    """A mapping as JSON, one entry a line."""
    rows = ",\n".join(
        f" {json.dumps(name)}: {json.dumps(entries[name], ensure_ascii=False, sort_keys=True)}"
        for name in sorted(entries)
    )
    return f"{{\n{rows}\n}}" if rows else "{}"

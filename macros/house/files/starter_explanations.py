"""The starter house, and what it says about each fact: one set of words for a new house and for editors.

The files stand in `macros/starter/site_data`. Three marks are ours: `<metric | us>` is a choice between the units of
two kinds of house, `@VERSION@` is the version of the program, and a line whose # has no blank after it is a fact that
is switched off.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cache

from macros.ground.package import PACKAGE
from macros.ground.problems import DataProblems
from macros.ground.record_shape import field_names, record_at
from macros.ground.version import VERSION
from macros.ground.yaml_source import Source, read_yaml_text
from macros.house.records.house import House

STARTER = PACKAGE / "starter"

_CHOICE = re.compile(r"<([^<>|]+) \| ([^<>|]+)>")
_SWITCHED_OFF = re.compile(r"^( *)#(?=[^ #\n])", re.MULTILINE)
_OF_FIELD = re.compile(r"(\w+): (.*)")
_NEWER = re.compile(r"\bNew in (\d+\.\d+\.\d+)\.")


def in_units(text: str, us: bool) -> str:
    """A text of the starter in the units of one kind of house, with the version of the program."""
    return _CHOICE.sub(r"\2" if us else r"\1", text).replace("@VERSION@", VERSION)


def starter_facts(us: bool = False) -> dict[str, str]:
    """Each file of facts of a new house: its name and its text."""
    files = sorted((STARTER / "site_data").glob("*.yml"))
    return {file.name: in_units(file.read_text(encoding="utf-8"), us) for file in files}


def switched_on(text: str) -> str:
    """The text with every fact given that was switched off; each keeps its line."""
    return _SWITCHED_OFF.sub(r"\1", text)


@cache
def explanations(us: bool = False) -> Mapping[tuple[str, str], str]:
    """What the starter says about each fact, by record type and field as a house file writes it; in units of either kind."""
    found: dict[tuple[str, str], str] = {}
    for text, source in _with_all_given(us):
        lines = text.splitlines()
        for path, place in source.places.items():
            record = record_at(House, path[:-1]) if path else None
            if record is None or path[-1] not in field_names(record):
                continue
            for field, words in _said_over(lines, place.line, str(path[-1]), set(field_names(record))):
                found.setdefault((record.__name__, field), words)
    return found


@cache
def homes() -> Mapping[str, list[str]]:
    """Each name below a section -> the names a new house gives it under, as `systems.reservoir`."""
    found: dict[str, set[str]] = {}
    for _, source in _with_all_given():
        for path in source.places:
            if len(path) > 1:
                above = ".".join(step for step in path[:-1] if isinstance(step, str))
                found.setdefault(str(path[-1]), set()).add(above)
    return {name: sorted(above) for name, above in found.items()}


def _with_all_given(us: bool = False) -> Iterator[tuple[str, Source]]:
    """The text of each file, and what it holds where every fact is given."""
    for name, text in starter_facts(us).items():
        source, problems = read_yaml_text(switched_on(text), name)
        if source is None or problems:
            raise DataProblems(problems)
        yield text, source


def newer_facts() -> dict[tuple[str, str], str]:
    """The facts that came after version 1.0.0 -> the version they came with."""
    marked = {fact: _NEWER.search(words) for fact, words in explanations().items()}
    return {fact: match.group(1) for fact, match in marked.items() if match}


def _said_over(lines: list[str], line: int, field: str, fields: set[str]) -> Iterator[tuple[str, str]]:
    """Field and words of the comment that ends over a line; `# other_field: words` in it is said of that field."""
    start = line - 1
    while start > 0 and lines[start - 1].lstrip().startswith("# "):
        start -= 1
    said: dict[str, list[str]] = {field: []}
    about = field
    for comment in lines[start : line - 1]:
        words = comment.strip().removeprefix("# ")
        named = _OF_FIELD.match(words)
        if named and named.group(1) in fields:
            about, words = named.groups()
            said[about] = []
        said[about].append(words)
    for name, parts in said.items():
        if parts:
            yield name, " ".join(parts)

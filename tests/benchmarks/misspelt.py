"""Every word misspelt, one at a time; each slip must be told with its file and line.

Run `python -m tests.benchmarks.misspelt --pages`. Each part counts the slips that are told and those that are not, and
lists the latter; the status is 1 where there is one. Nothing is built: a slip is made in what was read, and what reads
and looks through it is asked again.
"""

from __future__ import annotations

import argparse
import copy
import re
import sys
import tempfile
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from macros.ground.problems import Problem
from macros.ground.yaml_source import Source, read_yaml_text
from macros.manual.pages.unknown_words import unknown_words
from macros.manual.procedures.known_words import KnownWords
from macros.manual.procedures.load_files import ProcedureFile, load_procedures, procedure_of
from macros.manual.procedures.write_text import TextWriter
from tests.making import PROCEDURES, made_house, made_register


@dataclass(frozen=True)
class Slip:
    """One word misspelt: where it stands, what kind of word it is, and what is told of it."""

    where: str
    kind: str
    told: bool


def misspelt(word: str) -> str:
    """Two letters next to each other swapped, in the middle where they differ; else a letter more."""
    middle = len(word) // 2
    for at in (*range(middle, len(word)), *range(middle, 0, -1)):
        if 0 < at < len(word) and word[at - 1] != word[at] and word[at - 1 : at + 1].isalpha():
            return word[: at - 1] + word[at] + word[at - 1] + word[at + 1 :]
    return word + "x"


def is_told(problems: list[Problem], file: str) -> bool:
    """Whether an error names the file and a line of it."""
    return any(one.severity == "error" and one.place.file == file and one.place.line > 1 for one in problems)


# ------------------------------------------------------------------ pages

PROSE = frozenset(
    [
        "title",
        "purpose",
        "when",
        "not_for",
        "before",
        "do",
        "short",
        "phase",
        "expect",
        "reason",
        "least",
        "greatest",
        "then",
        "missed",
        "quantity",
        "limits",
        "for",
        "as",
        "doer",
        "one_of",
        "until",
        "done_when",
        "clean_up",
        "sign",
        "act",
        "record",
        "first_lines",
        "emergency",
        "figure",
        "take_apart",
        "protect_until_use",
        "inspect_before_use",
        "head",
    ]
)
"""Fields whose words are the author's own; only what stands between braces names something."""
DECLARED = frozenset({("id",), ("steps", "id")})
"""Ids that the page gives, rather than names."""
_BRACES = re.compile(r"\{\{.*?\}\}|\{%.*?%\}", re.DOTALL)
_TOKEN = re.compile(r"""(?P<before>[(=,]\s*)?(?P<quoted>'[^']*'|"[^"]*")|(?P<name>[A-Za-z_]+)""")

Page = tuple[Source, str]
"""A front matter as it was read, and the body below it."""


def pages() -> Iterator[Slip]:
    """Every key, every value that is a key to something, and every word between braces of the shipped procedures.

    The house has next to nothing, so that most steps, tables and branches are not for it.
    """
    files, problems = load_procedures(PROCEDURES)
    assert problems == []
    with tempfile.TemporaryDirectory() as folder:
        register = made_register(made_house(Path(folder)))
    known = KnownWords(register, tuple(file.id for file in files))
    write = TextWriter()
    for file in files:
        source, problems = read_yaml_text(file.front, file.file, first_line=2)
        assert source is not None, problems

        def told(page: Page, file: ProcedureFile = file) -> bool:
            changed, mistakes = procedure_of(page[0], page[1], file.body_line, file.front)
            return is_told(mistakes + (unknown_words(changed, known, write) if changed else []), file.file)

        assert not told((copy.deepcopy(source), file.body)), f"{file.file} is told as it stands"
        for where, kind, page in slips_of(source, file.body):
            yield Slip(f"{file.file}: {where}", kind, told(page))


def slips_of(source: Source, body: str) -> Iterator[tuple[str, str, Page]]:
    """(where, kind, the page with that one word misspelt)."""
    for way, key in keys_in(source.data):
        yield f"{'.'.join(map(str, way))}: {key}", "name of a field", (renamed(source, way, key), body)
    for way, text in texts_in(source.data):
        for kind, changed in slips_of_text(way, text):
            yield f"{'.'.join(map(str, way))}: {changed}", kind, (with_text(source, way, changed), body)
    for kind, changed in slips_of_braces(body):
        yield f"body: {changed[:60]}", kind, (copy.deepcopy(source), changed)


def keys_in(data: Any, way: tuple[Any, ...] = ()) -> Iterator[tuple[tuple[Any, ...], str]]:
    """Every name of every mapping, and the way to the mapping."""
    if isinstance(data, dict):
        for key, value in data.items():
            yield way, key
            yield from keys_in(value, (*way, key))
    elif isinstance(data, list):
        for index, value in enumerate(data):
            yield from keys_in(value, (*way, index))


def texts_in(data: Any, way: tuple[Any, ...] = ()) -> Iterator[tuple[tuple[Any, ...], str]]:
    """Every text, and the way to it."""
    items = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for key, value in items:
        yield from texts_in(value, (*way, key))
    if isinstance(data, str):
        yield way, data


def slips_of_text(way: tuple[Any, ...], text: str) -> Iterator[tuple[str, str]]:
    """The text with one word misspelt: each word it names between braces, else the text where it is a key itself."""
    names = tuple(step for step in way if isinstance(step, str))
    if names in DECLARED:
        return
    if "{" in text:
        yield from slips_of_braces(text)
    elif names[-1] not in PROSE:
        start = 0
        for part in re.split(r"(?<=[:. ])", text):
            word = part.strip(":. ")
            if re.search("[A-Za-z]", word):
                changed = text[:start] + part.replace(word, misspelt(word)) + text[start + len(part) :]
                yield f"value of {names[-1]}", changed
            start += len(part)


def slips_of_braces(text: str) -> Iterator[tuple[str, str]]:
    """The text with one word between its braces misspelt; what is printed where a thing lacks is the author's own."""
    for braces in _BRACES.finditer(text):
        inside = braces.group()
        for token in _TOKEN.finditer(inside):
            start, end = token.span("name") if token["name"] else token.span("quoted")
            kind = "word of a text"
            if token["quoted"]:
                before = inside[:start].rstrip()
                if not before.endswith(("(", "=")) or before.endswith("otherwise="):
                    continue
                start, end, kind = start + 1, end - 1, "constant in a call"
            for at, word in words_in(inside[start:end]):
                slip = inside[: start + at] + misspelt(word) + inside[start + at + len(word) :]
                yield kind, text[: braces.start()] + slip + text[braces.end() :]


def words_in(text: str) -> Iterator[tuple[int, str]]:
    """The words of a path with dots, and where each begins."""
    for found in re.finditer(r"[^.]+", text):
        yield found.start(), found.group()


def renamed(source: Source, way: tuple[Any, ...], key: str) -> Source:
    """The source with one name of one mapping misspelt, its place kept."""
    made = copy.deepcopy(source)
    holder = at(made.data, way)
    wrong = misspelt(key)
    entries = {wrong if name == key else name: value for name, value in holder.items()}
    holder.clear()
    holder.update(entries)
    return replace(made, places={**made.places, (*way, wrong): source.place((*way, key))})


def with_text(source: Source, way: tuple[Any, ...], text: str) -> Source:
    """The source with another text in one place."""
    made = copy.deepcopy(source)
    at(made.data, way[:-1])[way[-1]] = text
    return made


def at(data: Any, way: tuple[Any, ...]) -> Any:
    """What stands at the end of a way."""
    for step in way:
        data = data[step]
    return data


# ------------------------------------------------------------------ all parts

PARTS: dict[str, Callable[[], Iterator[Slip]]] = {"pages": pages}
"""What can be misspelt, by the option that asks for it."""


def main() -> int:
    """Makes every slip of the parts asked for; those not told decide the status."""
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    for name, part in PARTS.items():
        asked.add_argument(f"--{name}", action="store_true", help=str(part.__doc__).splitlines()[0])
    wanted = vars(asked.parse_args())
    untold = 0
    for name, part in PARTS.items():
        if not any(wanted.values()) or wanted[name]:
            untold += counted(name, list(part()))
    return 1 if untold else 0


def counted(name: str, slips: list[Slip]) -> int:
    """Prints the counts of a part and what is not told; how many those are."""
    untold = [slip for slip in slips if not slip.told]
    for kind, made in sorted(Counter(slip.kind for slip in slips).items()):
        missed = sum(slip.kind == kind for slip in untold)
        print(f"{name}, {kind}: {made - missed} told, {missed} not told")
    for slip in untold:
        print(f"not told: {slip.where} ({slip.kind})")
    print(f"{name}: {len(slips)} misspelt, {len(slips) - len(untold)} told, {len(untold)} not told")
    return len(untold)


if __name__ == "__main__":
    sys.exit(main())

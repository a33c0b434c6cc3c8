"""Every word misspelt, one at a time; each slip must be told with its file and line.

    python -m tests.benchmarks.misspelt [pages] [published] [names]

`pages` are the shipped procedures, `published` all published files, `names` the amounts that modules name. What is not
told is listed with the reason why that is right, which is tested; the status is 1 where there is none. Nothing is built:
a slip is made in what was read, and what reads and looks through it is asked again.
"""

from __future__ import annotations

import argparse
import ast
import copy
import re
import sys
import tempfile
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from types import UnionType
from typing import Annotated, Any, Union, get_args, get_origin
from unittest import mock

import macros.doors.cli
import macros.published
from macros.ground import field_types
from macros.ground.names import NameOf, marked_words, slots_in
from macros.ground.problems import Problem
from macros.ground.record_shape import field_names
from macros.ground.records import Record, build_record
from macros.ground.yaml_source import Path_, Source, read_yaml_text
from macros.house import load_house
from macros.house.rules.plausible_ranges import check_ranges
from macros.manual.pages.unknown_words import unknown_words
from macros.manual.procedures.known_words import KnownWords
from macros.manual.procedures.load_files import ProcedureFile, load_procedures, procedure_of
from macros.manual.procedures.write_text import TextWriter
from macros.published.amounts.amount_ids import known_amount_ids
from macros.published.index.topics import OF_ROWS, TOPICS
from macros.published.training.questions import Sum
from macros.site.published_words import published_mistakes
from tests.making import HOUSES, PROCEDURES, ROOT, made_house, made_register
from tests.published_files import forget
from tests.structure.named import modules, named_in


@dataclass(frozen=True)
class Slip:
    """One word misspelt: where it stands, what kind of word it is, what is told of it, or why nothing need be."""

    where: str
    kind: str
    told: bool
    reason: str = ""


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


# ------------------------------------------------------------------ published files

_TEXTS = {id(note) for kind in (field_types.Text, field_types.Name) for note in get_args(kind)[1:]}
_NUMBERS = {
    id(note)
    for kind in (field_types.Number, field_types.Count, field_types.Fraction, field_types.Ph)
    for note in get_args(kind)[1:]
}
_SUM = {id(note) for note in get_args(Sum)[1:]}
NEW_NAME = "nothing names it, so the slip is another name"


def published() -> Iterator[Slip]:
    """Every name of a field, word of a list, name of something and word between braces of all published files.

    Prose and numbers are left out. A name that is declared is told where what names it no longer finds it.
    """
    sources = {topic: copy.deepcopy(macros.published.source_of(topic)) for topic in TOPICS}
    named = named_words()
    for topic, source in sources.items():
        rows: Any = (
            Mapping[str, TOPICS[topic]] if isinstance(source.data, dict) else tuple[TOPICS[topic], ...]
        )  # type: ignore[misc]
        for path, kind, word, changed in words_of(rows if topic in OF_ROWS else TOPICS[topic], source):
            told = told_of_published(topic, changed, sources)
            reason = NEW_NAME if not told and kind.startswith("declared") and word not in named else ""
            yield Slip(f"{source.place(path)}: {word}", kind, told, reason)
    forget()


def typed_as(topic: str, source: Source) -> Any:
    """The type of all data of a published file."""
    model: Any = TOPICS[topic]
    if topic not in OF_ROWS:
        return model
    return Mapping[str, model] if isinstance(source.data, dict) else tuple[model, ...]


@cache
def named_words() -> frozenset[str]:
    """Every word that names something, in the published files and in the procedures, their texts included."""
    found: set[str] = set()
    for topic in TOPICS:
        source = macros.published.source_of(topic)
        found |= {word for _, word, _ in marked_words(typed_as(topic, source), source.data)}
        found |= {word for _, text in texts_in(source.data) for word in re.findall(r"['\"](\w+)['\"]", text)}
    for file in load_procedures(PROCEDURES)[0]:
        data = file.data.read_from.data
        found |= {word for _, word, _ in marked_words(type(file.data), data)}
        found |= {step.action for step in file.data.steps}
        found |= {
            word for braces in _BRACES.findall(f"{data} {file.body}") for word in re.findall(r"\w+", braces)
        }
    return frozenset(found)


def told_of_published(topic: str, changed: Source, sources: dict[str, Source]) -> bool:
    """Whether the file is told as it reads now: by its type, by what looks words up, by the pages that name it."""
    if any(one.place.line for one in typed(topic, changed)):
        return True
    read = {**sources, topic: changed}
    with mock.patch.object(macros.published, "read_yaml", lambda file, shown: (read[file.stem], [])):
        forget()
        files, problems = load_procedures(PROCEDURES)
        found = [*published_mistakes(files), *problems, *check_ranges(house())]
        return any(one.place.line for one in found or of_pages(files))


def typed(topic: str, source: Source) -> list[Problem]:
    """What does not fit the type of the file."""
    model = TOPICS[topic]
    rows = source.data if isinstance(source.data, dict) else range(len(source.data))
    paths = [(name,) for name in rows] if topic in OF_ROWS else [()]
    return [problem for path in paths for problem in build_record(model, source, path)[1]]


@cache
def house() -> Any:
    """A house with its bounds; read once."""
    return load_house(HOUSES / "first")[0]


@cache
def bare() -> Any:
    """The register of a house with next to nothing."""
    with tempfile.TemporaryDirectory() as folder:
        return made_register(made_house(Path(folder)))


def of_pages(files: list[ProcedureFile]) -> list[Problem]:
    """What pages name that no published file declares any more."""
    known, write = KnownWords(bare(), tuple(file.id for file in files)), TextWriter()
    return [problem for file in files for problem in unknown_words(file, known, write)]


def words_of(type_: Any, source: Source) -> Iterator[tuple[Path_, str, str, Source]]:
    """Each word of a file: its path, its kind, the word, and the file with that one word misspelt."""
    for path, kind, word in _below(type_, source.data, ()):
        if kind.endswith("name"):
            yield path, kind, word, renamed(source, path[:-1], word)
        elif kind in ("word", "declared id"):
            yield path, kind, word, with_text(source, path, misspelt(word))
        else:
            for changed in _changed_text(kind, word):
                yield path, kind, changed, with_text(source, path, changed)


def _changed_text(kind: str, text: str) -> Iterator[str]:
    """The text with one word misspelt, of those that name something."""
    if kind == "sum":
        text = "{{" + text + "}}"
    yield from (
        changed.removeprefix("{{").removesuffix("}}") if kind == "sum" else changed
        for _, changed in slips_of_braces(text)
    )
    if kind == "text" and "{{" not in text:
        yield from (text.replace(f"{{{slot}}}", f"{{{misspelt(slot)}}}") for slot in slots_in(text))


def _below(type_: Any, data: Any, path: Path_) -> Iterator[tuple[Path_, str, str]]:
    type_, notes = _bare(type_)
    if isinstance(type_, type) and issubclass(type_, Record):
        if isinstance(data, str):
            yield path, "word", data
            return
        names = field_names(type_)
        for name, value in data.items():
            info = type_.model_fields[names[name]]
            yield (*path, name), "field name", name
            if name == "id":
                yield (*path, name), "declared id", value
            else:
                yield from _below(Annotated[(info.annotation, *info.metadata, None)], value, (*path, name))
    elif get_origin(type_) in (dict, Mapping):
        name_type, value_type = get_args(type_)
        for name, value in data.items():
            marks = _bare(name_type)[1]
            yield (*path, name), "name" if _is_name(marks) else "declared name", name
            yield from _below(value_type, value, (*path, name))
    elif get_origin(type_) in (tuple, frozenset) and isinstance(data, list):
        for index, value in enumerate(data):
            yield from _below(get_args(type_)[0], value, (*path, index))
    elif data is not None and re.search("[A-Za-z]", str(data)):
        ids = {id(note) for note in notes}
        if ids & _SUM:
            yield path, "sum", data
        elif ids & _TEXTS and not any(type(note) is NameOf for note in notes):
            yield path, "text", data
        elif not ids & _NUMBERS:
            yield path, "word", data


def _is_name(notes: list[Any]) -> bool:
    return any(isinstance(note, NameOf) for note in notes)


def _bare(type_: Any) -> tuple[Any, list[Any]]:
    """The type without its notes and without "or nothing", and the notes."""
    notes: list[Any] = []
    while get_origin(type_) in (Annotated, Union, UnionType):
        notes += getattr(type_, "__metadata__", ())
        type_ = next(part for part in get_args(type_) if part is not type(None))
    return type_, notes


# ------------------------------------------------------------------ names in modules


def names() -> Iterator[Slip]:
    """Every amount that a module names, and every id asked of the register."""
    for path in modules():
        where, tree = path.relative_to(ROOT).as_posix(), ast.parse(path.read_text(encoding="utf-8"))
        for node in ast.walk(tree):
            if isinstance(node, ast.Constant) and node.value in known_amount_ids():
                word = str(node.value)
                node.value = misspelt(word)
                told = [str(one) for one in named_in(tree, where) if not one.known]
                line = f"{where}:{node.lineno}"
                yield Slip(f"{line}: {word}", "amount", told == [f'{line}: "{node.value}" is no id'])
                node.value = word


# ------------------------------------------------------------------ all parts

PARTS: dict[str, Callable[[], Iterator[Slip]]] = {"pages": pages, "published": published, "names": names}


def main() -> int:
    """Makes every slip of the parts asked for; one not told without a reason decides the status."""
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("part", nargs="*", choices=[*PARTS, []], default=[])
    wrong = 0
    for name in asked.parse_args().part or PARTS:
        slips = list(PARTS[name]())
        untold = [slip for slip in slips if not slip.told]
        for kind, made in sorted(Counter(slip.kind for slip in slips).items()):
            missed = sum(slip.kind == kind for slip in untold)
            print(f"{name}, {kind}: {made - missed} told, {missed} not told")
        for slip in untold:
            print(f"not told: {slip.where} ({slip.kind}): {slip.reason or 'NO REASON'}")
        wrong += sum(not slip.reason for slip in untold)
        told = len(slips) - len(untold)
        print(f"{name}: {len(slips)} misspelt, {told} told with file and line, {len(untold)} not told")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())

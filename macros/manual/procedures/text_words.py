"""The words between the braces of a page's texts, looked at before any text is written: all branches, all steps."""

from __future__ import annotations

import inspect
from collections.abc import Iterator, Mapping

from macros.amounts.engine.amount import OF_KEYS
from macros.ground.names import Unknown, unknown_word
from macros.ground.problems import DataProblems, Place, Problem
from macros.ground.records import Record, records_of
from macros.house import House
from macros.manual.procedures.expand_steps import ITEM_WORDS
from macros.manual.procedures.known_words import KnownWords
from macros.manual.procedures.load_files import ProcedureFile
from macros.manual.procedures.page_texts import AskedWord, Writer
from macros.manual.procedures.template_functions import FUNCTIONS, Words


def text_mistakes(file: ProcedureFile, known: KnownWords, write: Writer) -> Iterator[Problem]:
    """Every mistake in the words of the page's texts and of its body."""
    data = file.data
    page = {"system"} if data.for_each == "system" else set()
    looked_at = set()
    for step in data.steps:
        items = page | ({step.repeat} if step.repeat is not None else set())
        for record in records_of(step):
            looked_at.add(id(record))
            yield from _of_record(record, items, known, write)
    for record in records_of(data):
        if id(record) not in looked_at:
            yield from _of_record(record, page, known, write)
    yield from _of_text(file.body, Place(file.file, file.body_line), "text", page, known, write)


def _of_record(record: Record, items: set[str], known: KnownWords, write: Writer) -> Iterator[Problem]:
    for field in type(record).model_fields:
        value = getattr(record, field)
        for index, text in enumerate(value if isinstance(value, tuple) else (value,)):
            if isinstance(text, str) and "{" in text:  # few texts have
                place = record.item_place(field, index) if isinstance(value, tuple) else record.place(field)
                yield from _of_text(text, place, record.key(field), items, known, write)


def _of_text(
    text: str, place: Place, key: str, items: set[str], known: KnownWords, write: Writer
) -> Iterator[Problem]:
    try:
        asked = write.asked(text, place.file, place.line)
    except DataProblems as found:
        yield from found.problems
        return
    for word in asked:
        here = Place(place.file, place.line + word.line - 1)
        for unknown in _of_word(word, items, known):
            yield unknown_word(here, key, *unknown)


def _of_word(word: AskedWord, items: set[str], known: KnownWords) -> Iterator[Unknown]:
    name, words = word.name, {*FUNCTIONS, *items}
    if name not in words:
        yield name, "word of this text", words
    elif name in FUNCTIONS:
        if word.attribute or word.positional is None:
            yield name, "word that stands like this", (f"{name}(...)",)
        else:
            yield from _of_call(word, word.positional, known)
    elif word.positional is not None or word.attribute not in ITEM_WORDS[name]:
        given = f"{name}.{word.attribute}" if word.attribute else name
        yield given, "word of this text", [f"{name}.{one}" for one in sorted(ITEM_WORDS[name])]


def _of_call(word: AskedWord, positional: tuple[str | None, ...], known: KnownWords) -> Iterator[Unknown]:
    way = inspect.signature(getattr(Words, word.name))
    try:
        asked = way.bind(None, *positional, **dict(word.named)).arguments
    except TypeError:
        takes = ", ".join(name for name in way.parameters if name not in ("self", "of"))
        yield f"{word.name}(...)", "word with these texts in its brackets", (f"{word.name}({takes})",)
        return
    first = next((value for name, value in asked.items() if name not in ("self", "of", "otherwise")), "")
    of = {key: value for key, value in asked.get("of", {}).items() if key != "otherwise"}
    if first is None or None in of.values():
        yield (
            f"{word.name}(...)",
            "word with each name as a text in quotes, to be checked for every house",
            (),
        )
        return
    yield from _of_first(word.name, str(first), known)
    yield from unknown_of(of, known)


def _of_first(function: str, word: str, known: KnownWords) -> Iterator[Unknown]:
    """What a function of a text is asked for."""
    if function == "fact":
        end = known.path(House, word)
        if end.unknown:
            yield end.unknown
        elif end.is_group:
            yield word, "path of one fact, as policies.spill_limit: it holds several", ()
    elif function in known.of_words:
        kind, names = known.of_words[function]
        if word not in names:
            yield word, kind, names


def unknown_of(of: Mapping[str, str], known: KnownWords) -> Iterator[Unknown]:
    """The values of the keys that tell amounts apart, and keys that are none."""
    for key, value in of.items():
        if key not in OF_KEYS:
            yield key, "key of amounts", sorted(OF_KEYS)
        elif value not in known.of[key]:
            yield value, key.replace("_", " "), known.of[key]

"""The words between the braces of a page's texts, looked at before any text is written: all branches, all steps."""

from __future__ import annotations

import inspect
from collections.abc import Iterable, Iterator

from macros.amounts.engine.amount import OF_KEYS
from macros.ground.problems import DataProblems, Place, Problem, unknown_word
from macros.ground.records import Record, records_of
from macros.house import House
from macros.manual.procedures.expand_steps import ITEM_WORDS
from macros.manual.procedures.known_words import KnownWords, path_words
from macros.manual.procedures.load_files import ProcedureFile
from macros.manual.procedures.page_texts import AskedWord, Writer
from macros.manual.procedures.template_functions import FUNCTIONS, Words

_AMOUNT_WORDS = ("amount", "number", "unit_of", "low", "high")
_AMOUNT_LIST = "The list is macros/published/amounts/checked_by.yml"
Mistake = tuple[str, str, Iterable[str], str]
"""What is wrong, the word that is, what is known in its place, and where that is listed (or empty)."""


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
        for what, wrong, names, listed in _of_word(word, items, known):
            yield unknown_word(here, key, what, wrong, names, listed)


def _of_word(word: AskedWord, items: set[str], known: KnownWords) -> Iterator[Mistake]:
    name, words = word.name, (*FUNCTIONS, *items)
    if name not in words:
        yield f"{name or 'what stands before the dot'} is not a word of this text", name, words, ""
    elif word.attribute:
        if name in FUNCTIONS or word.attribute not in ITEM_WORDS[name]:
            names = () if name in FUNCTIONS else ITEM_WORDS[name]
            yield f"{name}.{word.attribute} is not a word of this text", word.attribute, names, ""
    elif (name in FUNCTIONS) is (word.positional is None):
        how = f"{name}(...)" if name in FUNCTIONS else f"{name}.{', '.join(sorted(ITEM_WORDS[name]))}"
        yield f"{name} cannot stand like this", name, (), f"As {how}"
    elif word.positional is not None:
        yield from _of_call(word, word.positional, known)


def _of_call(word: AskedWord, positional: tuple[str | None, ...], known: KnownWords) -> Iterator[Mistake]:
    function = getattr(Words, word.name)
    named = dict(word.named)
    try:
        asked = inspect.signature(function).bind(None, *positional, **named).arguments
    except TypeError:
        takes = [name for name in inspect.signature(function).parameters if name not in ("self", "of")]
        yield f"{word.name}(...) is asked with too few, too many or other texts", "", takes, ""
        return
    first = next((value for name, value in asked.items() if name not in ("self", "of", "otherwise")), "")
    of = {key: value for key, value in asked.get("of", {}).items() if key != "otherwise"}
    if first is None or None in of.values():
        yield (
            f"{word.name}(...) names something that is worked out",
            "",
            (),
            "Each name as a text in quotes, so that it can be checked for every house",
        )
    elif word.name == "fact":
        yield from _of_fact(str(first), known)
    else:
        names = known.of_words.get(word.name)
        if names is not None and first not in names:
            listed = _AMOUNT_LIST if word.name in _AMOUNT_WORDS else ""
            yield f'{word.name}("{first}"): {first or "nothing"} is not known', str(first), names, listed
        yield from _of_keys(of, known)


def _of_keys(of: dict[str, str], known: KnownWords) -> Iterator[Mistake]:
    for key, value in of.items():
        if key not in OF_KEYS:
            yield f"{key} is not a key of amounts", key, OF_KEYS, ""
        elif value not in known.of[key]:
            yield f"{value} is not a known {key.replace('_', ' ')}", value, known.of[key], ""


def _of_fact(path: str, known: KnownWords) -> Iterator[Mistake]:
    end = known.path(House, path)
    if end.unknown or not path:
        yield (*path_words(path, end.above, end.unknown), end.known, "")
    elif end.is_group:
        yield f"{path} holds several facts", "", (), "The path of one fact, as policies.spill_limit"

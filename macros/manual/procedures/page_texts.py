"""Writes the texts of a page out: fills their words in, and keeps each with its place for the rules on pages."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Protocol

from macros.ground.problems import DataProblems, Problem
from macros.ground.records import Record
from macros.manual.procedures.load_files import ProcedureFile
from macros.manual.procedures.template_functions import Words
from macros.page_model.clock_times import Answer, typed_minutes


@dataclass(frozen=True)
class Written:
    """One text of a page: as it stands in the file and as it is printed, with its place."""

    record: Record
    field: str
    index: int | None
    raw: str
    text: str

    @cached_property
    def own_words(self) -> str:
        """The author's words alone: what the house or the register fills in is not the page's."""
        return re.sub(r"\{\{.*?\}\}|\{%.*?%\}", " ", self.raw) if "{" in self.raw else self.raw

    @cached_property
    def sentence(self) -> str:
        """The text as the author shaped it: each word of the house, however long, counts as one."""
        return self.text if "{%" in self.raw else self.authored

    @cached_property
    def authored(self) -> str:
        """The author's words with X for each word of the house; every branch where the text has branches."""
        return re.sub(r"\{%.*?%\}", " ", re.sub(r"\{\{.*?\}\}", "X", self.raw)).strip()


@dataclass(frozen=True)
class AskedWord:
    """A word that a text names, in whichever branch: at a line counted from 1, with what stands behind its dot.

    `positional` and `named` are what stands in its brackets, None without brackets; one that is no text in quotes is None.
    """

    line: int
    name: str
    attribute: str = ""
    positional: tuple[str | None, ...] | None = None
    named: tuple[tuple[str, str | None], ...] = ()


class Writer(Protocol):
    """Fills the words of a text in; mistakes are raised as DataProblems."""

    def asked(self, text: str, file: str, line: int) -> tuple[AskedWord, ...]:
        """Every word the text names, also where this house does not come to it."""

    def render(self, text: str, names: Mapping[str, Any], file: str, line: int) -> str:
        """As plain text."""

    def render_markdown(self, text: str, names: Mapping[str, Any], file: str, line: int) -> str:
        """As Markdown, in which what the house wrote stays plain text."""


class PageTexts:
    """The texts of one page. One that cannot be written becomes a problem; the rest goes on."""

    def __init__(self, write: Writer, problems: list[Problem]) -> None:
        self._write, self._problems = write, problems
        self.written: list[Written] = []

    def one(self, record: Record, field: str, words: Words) -> str:
        """A text field."""
        raw = getattr(record, field)
        if not raw:
            return ""
        shown = self._fill(raw, words, record, field)
        self.written.append(Written(record, field, None, raw, shown))
        return shown

    def unprinted(self, record: Record, field: str, words: Words) -> str:
        """A text field that no page prints, so that no rule on the wording of pages looks at it."""
        return self._fill(getattr(record, field), words, record, field)

    def time(self, record: Record, field: str, words: Words) -> tuple[str, float | None]:
        """A text field, and its minutes: of the amount or fact that it is, else as typed; None where it is no one time."""
        text = self.one(record, field, words)
        return text, text.minutes if isinstance(text, Answer) else typed_minutes(text)

    def all(self, record: Record, field: str, words: Words) -> list[str]:
        """A list of texts."""
        found = []
        for index, raw in enumerate(getattr(record, field)):
            shown = self._fill(raw, words, record, field, index)
            self.written.append(Written(record, field, index, raw, shown))
            found.append(shown)
        return found

    def body(self, file: ProcedureFile, words: Words) -> str:
        """The prose below the front matter, as Markdown."""
        try:
            return self._write.render_markdown(file.body, words.names(), file.file, file.body_line)
        except DataProblems as found:
            self._problems += found.problems
            return ""

    def _fill(self, text: str, words: Words, record: Record, field: str, index: int | None = None) -> str:
        if "{" not in text:  # nearly all texts
            return text
        place = record.place(field) if index is None else record.item_place(field, index)
        try:
            return self._write.render(text, words.names(), place.file, place.line)
        except DataProblems as found:
            self._problems += found.problems
            return ""

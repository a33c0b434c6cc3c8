"""Words the pages use and words they do without: the glossary, the language of sentences, the names of things."""

from __future__ import annotations

from collections.abc import Mapping

from pydantic import Field

from macros.ground.field_types import Mapped, Name, Text
from macros.ground.records import Record
from macros.published import published
from macros.published.names import Verb


class Term(Record):
    """What a word means, and the words not used for it."""

    means: Text
    not_: tuple[Text, ...] = Field(alias="not")


class Glossary(Record):
    """`glossary.yml`."""

    terms: Mapped[Name, Term]


def glossary() -> Mapping[str, Term]:
    """Every term of the glossary."""
    return published(Glossary, "glossary").terms


class Language(Record):
    """`language.yml`: each list by what its words do to a sentence."""

    vague: tuple[Text, ...]
    limits: tuple[Text, ...]
    modal: tuple[Text, ...]
    double_negatives: tuple[Text, ...]
    condition_words: tuple[Text, ...]
    verbs_that_are_things: tuple[Verb, ...]
    articles: tuple[Text, ...]
    answers_that_say_nothing: tuple[Text, ...]


def language() -> Language:
    """The words that rules on sentences look for."""
    return published(Language, "language")


class Things(Record):
    """`things.yml`: name -> what it is for."""

    things: Mapped[Name, Text]


def things() -> Mapping[str, str]:
    """Things a step may use beside the house's own tools."""
    return published(Things, "things").things

"""Questions of the self-checks as published: what is asked, and the sums that give the answers."""

from __future__ import annotations

import ast
from functools import cache
from types import MappingProxyType
from typing import Annotated, Literal

from pydantic import AfterValidator, Field, model_validator

from macros.ground.field_types import Identifier, Mapped, Text
from macros.ground.records import Record, mistake
from macros.published import published
from macros.published.names import Tested, Unit

QuestionKind = Literal["number", "choice", "order", "yes_no", "words"]
ForEach = Literal["room", "system", "part", "variety", "first_sown", "block", "pair", "meter"]
ReadWith = Literal["level", "ph", "ec", "nutrients", "acids", "bases", "sanitizer", "water", "pours", "shown"]

_PIECES = (
    ast.Expression, ast.Constant, ast.Name, ast.Load, ast.Call, ast.keyword, ast.IfExp,
    ast.BoolOp, ast.And, ast.Or, ast.UnaryOp, ast.USub, ast.Not, ast.BinOp, ast.Add, ast.Sub, ast.Mult, ast.Div,
    ast.Compare, ast.Eq, ast.NotEq, ast.Lt, ast.LtE, ast.Gt, ast.GtE,
)  # fmt: skip
"""All a sum is made of. Nothing here reaches into an object, so a sum reaches nothing but its names."""


@cache
def parsed_sum(text: str) -> ast.Expression:
    """A sum as a tree.

    Raises
    ------
    SyntaxError
        it cannot be read, or holds more than numbers, texts, names, calls, + - * /, comparisons, and, or, not, if.
    """
    tree = ast.parse(text, mode="eval")
    for node in ast.walk(tree):
        if not isinstance(node, _PIECES) or (
            isinstance(node, ast.Call) and not isinstance(node.func, ast.Name)
        ):
            raise SyntaxError(text)
    return tree


def _readable(text: str) -> str:
    try:
        parsed_sum(text)
    except (SyntaxError, ValueError) as error:
        raise mistake(
            f'"{text}" is no sum',
            'Numbers, texts, names, calls as amount("res_fill"), + - * /, comparisons, and, or, not, if',
            "Mend it",
        ) from error
    return text


Sum = Annotated[str, AfterValidator(_readable)]
"""A sum of amounts and facts. Its names are checked with the pages, in the manual."""


class Answer(Record):
    """An answer: a sum or a text."""

    answer: Sum | None = None
    says: Text | None = None

    @model_validator(mode="after")
    def _answered_once(self) -> Answer:
        if (self.answer is None) == (self.says is None):
            raise mistake("an answer is a sum or a text", "answer: or says:, one of the two", "Write one")
        return self


class Wrong(Answer):
    """A wrong answer that matters, and what was misunderstood."""

    means: Text


class Template(Answer):
    """One question, asked for each item of `for_each`.

    `tests` names steps or cautions, `if_` leaves it out, `given` are sums its texts may name. `read_with` is the tool
    whose mark is the tolerance.
    """

    id: Identifier
    module: Unit | None = None
    tests: tuple[Tested, ...]
    for_each: ForEach = "room"
    take: Literal["first"] | None = None
    if_: Sum | None = Field(None, alias="if")
    given: Mapped[Identifier, Sum] = Field(default_factory=lambda: MappingProxyType({}))
    kind: QuestionKind
    text: Text
    read_with: ReadWith | None = None
    why: Text = ""
    wrong: tuple[Wrong, ...] = ()


class Questions(Record):
    """`questions.yml`."""

    templates: tuple[Template, ...]


def templates() -> tuple[Template, ...]:
    """Every question that is written as data, in file order."""
    return published(Questions, "questions").templates

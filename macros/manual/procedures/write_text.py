"""Text written in procedures: a template in a sandbox that reaches the words of the page and nothing else."""

from __future__ import annotations

import re
import traceback
from collections.abc import Callable, Collection, Iterator, Mapping
from contextlib import contextmanager
from typing import Any

from jinja2 import TemplateError, TemplateSyntaxError, UndefinedError
from jinja2.exceptions import SecurityError

from macros.ground.problems import DataProblems, Place, Problem
from macros.ground.yaml_source import unseen_character
from macros.html.allowed_markdown import active_mark
from macros.html.environment import markdown_text
from macros.html.sandbox import TextEnvironment, Word
from macros.manual.procedures.asked_words import asked_words
from macros.manual.procedures.page_texts import AskedWord
from macros.manual.procedures.template_functions import WordMistake
from macros.page_model.clock_times import Answer

MAX_TEXT = 20_000
MAX_RESULT = 60_000
"""Characters of one text, before and after. The longest page of a manual stays far under both."""


_WITHOUT = re.compile(r"^'[\w.]+ object' has no (?:attribute|element)")


class TextWriter:
    """Renders texts of procedures; every mistake becomes a problem at its file and line."""

    def __init__(self) -> None:
        # The same text is written for each system of a house and at every build; it is compiled once.
        self._compiled = TextEnvironment().get_template

    def asked(self, text: str, file: str, line: int) -> tuple[AskedWord, ...]:
        """Every word the text names, in whichever branch it stands; mistakes as `render` has them."""
        if len(text) > MAX_TEXT:
            raise _mistake(file, line, f"the text is over {MAX_TEXT} characters", "Shorten it")
        with _mistakes_told(file, line, ()):
            return asked_words(text)

    def render_markdown(self, text: str, names: Mapping[str, Any], file: str, line: int) -> str:
        """As `render`, for prose in Markdown: each word's answer has its Markdown and HTML marks made plain.

        Prose may hold no HTML, no attributes, and links that only lead somewhere (see `prose`).
        """
        result = self._render(text, names, file, line, _plain_in_markdown)
        found = active_mark(result)
        if found is not None:
            at = text.find(found.mark)
            lines = text[:at].count("\n") if at >= 0 else result[: found.start].count("\n")
            raise _mistake(file, line + lines, found.what, found.remedy, found.allowed)
        return result

    def render(self, text: str, names: Mapping[str, Any], file: str, line: int) -> str:
        """The text with its words filled in, as plain text.

        Parameters
        ----------
        text : as written in the procedure
        names : what it may name
        file, line : where its first line stands

        Raises
        ------
        DataProblems
            an undefined name, a syntax error, a forbidden construct, a word the house cannot answer.
        """
        return self._render(text, names, file, line, _answer)

    def _render(
        self, text: str, names: Mapping[str, Any], file: str, line: int, finish: Callable[[Any], Any]
    ) -> str:
        if len(text) > MAX_TEXT:
            raise _mistake(file, line, f"the text is over {MAX_TEXT} characters", "Shorten it")
        with _mistakes_told(file, line, names):
            result = self._filled(text, names, finish)
        if result is None or len(result) > MAX_RESULT:
            raise _mistake(file, line, f"the text grows over {MAX_RESULT} characters", "Shorten it")
        for at, one in enumerate(result.split("\n"), start=line):
            unseen = unseen_character(one, file, at, "text")
            if unseen is not None:
                raise DataProblems([unseen])
        return result

    def _filled(self, text: str, names: Mapping[str, Any], finish: Callable[[Any], Any]) -> str | None:
        """The finished text; None where it outgrows its bound, which stops it while it grows.

        With a word's answer in it, it is one itself: its time is that of the answer which is the whole text.
        """
        pieces, length = [], 0
        given = {name: _given(name, value, finish) for name, value in names.items()}
        for piece in self._compiled(text).generate(given):
            pieces.append(piece)
            length += len(piece)
            if length > MAX_RESULT:
                return None
        text, told = "".join(pieces), [piece for piece in pieces if piece.strip()]
        answers = [piece for piece in told if isinstance(piece, Answer)]
        if not answers:
            return text
        return Answer(text, answers[0].minutes if len(told) == 1 else None)


@contextmanager
def _mistakes_told(file: str, line: int, names: Collection[str]) -> Iterator[None]:
    """Whatever goes wrong in a text that begins at this line is a mistake of who wrote it, in their words."""
    try:
        yield
    except TemplateSyntaxError as error:
        raise _mistake(
            file,
            line + (error.lineno or 1) - 1,
            f"the text is no valid template: {error.message}",
            "Mend the braces",
        ) from error
    except SyntaxError as error:  # a key given twice passes the template's own reading
        raise _mistake(
            file, line, f"the text is no valid template: {error.msg}", "Mend the braces"
        ) from error
    except UndefinedError as error:
        raise _mistake(
            file,
            line + _line_of(error) - 1,
            _WITHOUT.sub("there is no", str(error.message)),
            f"Known words: {', '.join(sorted(names))}",
        ) from error
    except WordMistake as error:
        if (lacking := error.in_house()) is not None:
            raise DataProblems([lacking]) from error
        raise _mistake(
            file, line + _line_of(error) - 1, str(error), "Mend the words between the braces"
        ) from error
    except (SecurityError, TemplateError) as error:
        raise _mistake(
            file,
            line + _line_of(error) - 1,
            f"the text asks for what it may not: {error}",
            "Use the words of the page only",
        ) from error
    except (TypeError, ValueError, OverflowError, RecursionError) as error:
        raise _mistake(
            file,
            line + _line_of(error) - 1,
            "the text between the braces is too deep, too large, or compares what does not fit",
            "Use the words of the page only",
        ) from error


def _given(name: str, value: Any, finish: Callable[[Any], Any]) -> Any:
    if isinstance(value, Mapping):
        return {key: _given(key, item, finish) for key, item in value.items()}
    return Word(name, value, finish) if callable(value) else finish(value)


def _answer(value: Any) -> Any:
    return Answer(value) if isinstance(value, str) and not isinstance(value, Answer) else value


def _plain_in_markdown(value: Any) -> Any:
    return str(markdown_text(value)) if isinstance(value, str) else value


def _line_of(error: BaseException) -> int:
    """Line inside the text where the template failed; 1 where it cannot be told."""
    for frame in reversed(traceback.extract_tb(error.__traceback__)):
        if frame.filename == "<template>" and frame.lineno:
            return frame.lineno
    return 1


def _mistake(file: str, line: int, what: str, remedy: str, allowed: str = "") -> DataProblems:
    return DataProblems([Problem(Place(file, line), "text", what, allowed, remedy)])

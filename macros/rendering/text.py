"""Text written in procedures: a template in a sandbox that reaches the words of the page and nothing else."""

from __future__ import annotations

import re
import traceback
from collections.abc import Mapping
from typing import Any

from jinja2 import FunctionLoader, StrictUndefined, TemplateError, TemplateSyntaxError, UndefinedError
from jinja2.exceptions import SecurityError
from jinja2.sandbox import ImmutableSandboxedEnvironment

from macros.manual.words import WordMistake
from macros.problems import DataProblems, Place, Problem
from macros.rendering.environment import compiled_templates, markdown_text
from macros.rendering.plain_words import written

MAX_TEXT = 20_000
MAX_RESULT = 60_000
"""Characters of one text, before and after. The longest page of a manual stays far under both."""

_FORBIDDEN = re.compile(r"\{%-?\s*(for|macro|import|from|include|extends|call|block|filter|set)\b")
"""Statements no text needs: without loops and macros a text cannot run without bound."""


class _Sandbox(ImmutableSandboxedEnvironment):
    """No attribute of anything but plain mappings, no arithmetic that grows."""

    intercepted_binops = frozenset(["*", "**", "%", "//"])

    def call_binop(self, context: Any, operator: str, left: Any, right: Any) -> Any:
        raise SecurityError(f"the operator {operator} is not for texts")

    def is_safe_attribute(self, obj: Any, attr: str, value: Any) -> bool:
        return False


class TextWriter:
    """Renders texts of procedures; every mistake becomes a problem at its file and line."""

    def __init__(self) -> None:
        self._environment = _Sandbox(
            undefined=StrictUndefined,
            autoescape=False,
            keep_trailing_newline=True,
            loader=FunctionLoader(lambda text: (text, None, lambda: True)),  # a text is its own name
            cache_size=4096,
            bytecode_cache=compiled_templates(),
        )
        self._environment.globals.clear()
        self._environment.filters.clear()
        # The same text is written for each system of a house and at every build; it is compiled once.
        self._compiled = self._environment.get_template

    def render_markdown(self, text: str, names: Mapping[str, Any], file: str, line: int) -> str:
        """As `render`, for prose in Markdown: each word's answer has its Markdown and HTML marks made plain."""
        return self.render(
            text, {name: _plain_in_markdown(value) for name, value in names.items()}, file, line
        )

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
        if len(text) > MAX_TEXT:
            raise _mistake(file, line, f"the text is over {MAX_TEXT} characters", "Shorten it")
        forbidden = _FORBIDDEN.search(text)
        if forbidden:
            at = line + text[: forbidden.start()].count("\n")
            raise _mistake(
                file,
                at,
                f"{{% {forbidden.group(1)} %}} is not for texts",
                "Only if, elif, else and endif are",
            )
        try:
            plain = written(text, names)
            result = self._compiled(text).render(dict(names)) if plain is None else plain
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
                f"{error.message}",
                f"Known words: {', '.join(sorted(names))}",
            ) from error
        except WordMistake as error:
            raise _mistake(
                file, line + _line_of(error) - 1, str(error), "Mend the words between the braces"
            ) from error
        except (SecurityError, TemplateError, TypeError, ValueError, OverflowError, RecursionError) as error:
            raise _mistake(
                file,
                line + _line_of(error) - 1,
                f"the text asks for what it may not: {error}",
                "Use the words of the page only",
            ) from error
        if len(result) > MAX_RESULT:
            raise _mistake(file, line, f"the text grows over {MAX_RESULT} characters", "Shorten it")
        return result


def _plain_in_markdown(value: Any) -> Any:
    if callable(value):
        return lambda *arguments, **keys: str(markdown_text(value(*arguments, **keys)))
    if isinstance(value, Mapping):
        return {name: _plain_in_markdown(item) for name, item in value.items()}
    return str(markdown_text(value)) if isinstance(value, str) else value


def _line_of(error: BaseException) -> int:
    """Line inside the text where the template failed; 1 where it cannot be told."""
    for frame in reversed(traceback.extract_tb(error.__traceback__)):
        if frame.filename == "<template>" and frame.lineno:
            return frame.lineno
    return 1


def _mistake(file: str, line: int, what: str, remedy: str) -> DataProblems:
    return DataProblems([Problem(Place(file, line), "text", what, "", remedy)])

"""The template environment of texts from procedures: what is allowed is listed, all else is refused before it runs.

A text may print words, ask yes-no questions and compare. It has no loop, no assignment, no arithmetic and no attribute,
so that it ends, stays about as long as it was written, and reaches nothing but the words it is given.
"""

from __future__ import annotations

import hashlib
import inspect
import math
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from jinja2 import FunctionLoader, StrictUndefined, TemplateSyntaxError, nodes
from jinja2.exceptions import SecurityError
from jinja2.runtime import Undefined
from jinja2.sandbox import ImmutableSandboxedEnvironment

from macros.html.environment import compiled_templates

MOST_NESTED = 20
"""Levels of conditions and brackets inside each other."""
MOST_NUMBER = 1e9

_ALLOWED = (
    nodes.Template, nodes.Output, nodes.TemplateData, nodes.If, nodes.CondExpr, nodes.Name, nodes.Const, nodes.Call, nodes.Keyword,
    nodes.Getattr, nodes.Getitem, nodes.Slice, nodes.Compare, nodes.Operand, nodes.And, nodes.Or, nodes.Not, nodes.Neg, nodes.Tuple,
    nodes.List, nodes.Scope,
)  # fmt: skip
_STORE = f"texts_{hashlib.sha256(Path(__file__).read_bytes()).hexdigest()[:12]}"
"""Where compiled texts are kept. They are not judged again, so whatever changes in this module gets a store of its own."""

_STATEMENTS: dict[type[nodes.Node], str] = {
    nodes.For: "for", nodes.Macro: "macro", nodes.Import: "import", nodes.FromImport: "from", nodes.Include: "include",
    nodes.Extends: "extends", nodes.CallBlock: "call", nodes.Block: "block", nodes.FilterBlock: "filter", nodes.Assign: "set",
    nodes.AssignBlock: "set", nodes.With: "with", nodes.ScopedEvalContextModifier: "autoescape",
}  # fmt: skip
_OPERATORS: dict[type[nodes.Node], str] = {
    nodes.Mul: "*", nodes.Pow: "**", nodes.Mod: "%", nodes.Div: "/", nodes.FloorDiv: "//", nodes.Add: "+", nodes.Sub: "-",
    nodes.Pos: "+", nodes.Concat: "~", nodes.Filter: "|", nodes.Test: "is", nodes.Dict: "{ }",
}  # fmt: skip


class Word:
    """A word a text may call, with texts in its brackets; it cannot be printed, kept or looked into."""

    __slots__ = ("_answer", "_finish", "_name")

    def __init__(self, name: str, answer: Callable[..., Any], finish: Callable[[Any], Any]) -> None:
        self._name, self._answer, self._finish = name, answer, finish

    def ask(self, positional: tuple[Any, ...], named: Mapping[str, Any]) -> Any:
        """The word's answer."""
        if not all(isinstance(value, str) for value in (*positional, *named.values())):
            raise SecurityError(f"{self._name} takes texts only, each in quotes")
        try:
            answer = self._answer(*positional, **named)
        except TypeError as error:
            try:
                inspect.signature(self._answer).bind(*positional, **named)
            except TypeError:
                raise SecurityError(f"{self._name} is asked with too few or too many texts") from error
            raise
        return self._finish(answer)


class TextEnvironment(ImmutableSandboxedEnvironment):
    """Compiles and runs texts. No filter, no test, no global; no attribute of anything but plain mappings."""

    def __init__(self) -> None:
        super().__init__(
            undefined=StrictUndefined,
            autoescape=False,
            keep_trailing_newline=True,
            finalize=_printable,
            loader=FunctionLoader(lambda text: (text, None, lambda: True)),  # a text is its own name
            cache_size=4096,
            bytecode_cache=compiled_templates(_STORE),
        )
        self.globals.clear()
        self.filters.clear()
        self.tests.clear()

    def _generate(self, source: nodes.Template, *arguments: Any, **options: Any) -> str:
        """The library's place to step in between reading a template and making code of it."""
        _refuse(source)
        return super()._generate(source, *arguments, **options)

    def read(self, text: str) -> nodes.Template:
        """The text as a tree in which nothing stands that is refused. TemplateSyntaxError otherwise."""
        template = self.parse(text)
        _refuse(template)
        return template

    def call(self, context: Any, called: Any, /, *positional: Any, **named: Any) -> Any:
        """Words only."""
        if isinstance(called, Undefined):
            str(called)  # an undefined name says which
        if not isinstance(called, Word):
            raise SecurityError("something is called that is no word")
        return called.ask(positional, named)

    def unsafe_undefined(self, obj: Any, attribute: str) -> Undefined:
        """What stands for an attribute that may not be asked for: it fails, in words."""
        return self.undefined(f"{attribute} may not be asked for", name=attribute, exc=SecurityError)

    def is_safe_attribute(self, obj: Any, attr: str, value: Any) -> bool:
        """None is: plain mappings answer by their keys."""
        return False


def _refuse(template: nodes.Template) -> None:
    """Raises at the first thing that is not on the list, by its line. No recursion: the text may be nested to hurt it."""
    waiting: list[tuple[nodes.Node, int, int]] = [(template, 0, 1)]
    while waiting:
        node, depth, line = waiting.pop()
        line = node.lineno or line  # a few nodes have none
        reason = _reason(node, depth)
        if reason:
            raise TemplateSyntaxError(reason, line)
        inner = [(child, depth + 1, line) for child in node.iter_child_nodes()]
        waiting += reversed(inner)


def _reason(node: nodes.Node, depth: int) -> str:
    kind = type(node)
    if kind in _STATEMENTS:
        return f"{{% {_STATEMENTS[kind]} %}} is not for texts: only if, elif, else and endif are"
    if kind in _OPERATORS:
        return f"the sign {_OPERATORS[kind]} is not for texts"
    if kind not in _ALLOWED:
        return "this is not for texts"
    if depth > MOST_NESTED:
        return f"conditions or brackets are nested over {MOST_NESTED} deep"
    name = _name_asked_for(node)
    if name == "self" or name.startswith("_"):
        return f"{name} may not be asked for"
    if isinstance(node, nodes.Call):
        return _reason_of_call(node)
    value = node.value if isinstance(node, nodes.Const) else None
    if isinstance(value, int | float) and not abs(value) <= MOST_NUMBER:
        return "a number is over 1,000,000,000"
    return ""


def _reason_of_call(node: nodes.Call) -> str:
    if not isinstance(node.node, nodes.Name):
        return "something is called that is no word"
    starred = node.dyn_args is not None or node.dyn_kwargs is not None
    return "the sign * is not for texts" if starred else ""


def _name_asked_for(node: nodes.Node) -> str:
    """The name a node looks up, where the text says it plainly."""
    if isinstance(node, nodes.Name):
        return str(node.name)
    if isinstance(node, nodes.Getattr):
        return str(node.attr)
    if isinstance(node, nodes.Getitem) and isinstance(node.arg, nodes.Const):
        return str(node.arg.value)
    return ""


def _printable(value: Any) -> Any:
    """Texts and numbers are printed; a thing of the program or of the house as a whole is not."""
    if isinstance(value, Undefined | str) or (
        isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)
    ):
        return value
    if isinstance(value, Word):
        raise SecurityError("a word stands without its brackets")
    if isinstance(value, bool):
        raise SecurityError("a yes or no is no text; ask it with if")
    raise SecurityError("what is asked for is no text")

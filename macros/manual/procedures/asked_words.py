"""The words that a text of a procedure names, read from its template without running it: every branch is looked at."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache, lru_cache

from jinja2 import TemplateSyntaxError, nodes
from jinja2.exceptions import SecurityError

from macros.html.sandbox import TextEnvironment
from macros.manual.procedures.page_texts import AskedWord


@cache
def _environment() -> TextEnvironment:
    return TextEnvironment()


@lru_cache(maxsize=4096)
def asked_words(text: str) -> tuple[AskedWord, ...]:
    """Every word of the text, in its order. TemplateSyntaxError where the text cannot be read."""
    template = _environment().read(text)
    return tuple(sorted(_words(template), key=lambda word: word.line))


def readable_words(text: str) -> tuple[AskedWord, ...]:
    """The same; none where the text cannot be read, which is told where it is written out."""
    try:
        return asked_words(text) if "{" in text else ()
    except (TemplateSyntaxError, SecurityError):
        return ()


def _words(template: nodes.Template) -> Iterator[AskedWord]:
    with_more: set[int] = set()
    for node in template.find_all((nodes.Call, nodes.Getattr, nodes.Getitem)):
        if isinstance(node, nodes.Call):
            with_more.add(id(node.node))
            yield AskedWord(
                node.lineno,
                _name(node.node),
                positional=tuple(_quoted(one) for one in node.args),
                named=tuple((one.key, _quoted(one.value)) for one in node.kwargs),
            )
        elif isinstance(node, nodes.Getattr):
            with_more.add(id(node.node))
            yield AskedWord(node.lineno, _name(node.node), node.attr)
        elif (
            isinstance(node, nodes.Getitem)
            and isinstance(node.node, nodes.Name)
            and (attribute := _quoted(node.arg)) is not None
        ):
            with_more.add(id(node.node))
            yield AskedWord(node.lineno, node.node.name, attribute)
    for name in template.find_all(nodes.Name):
        if id(name) not in with_more:
            yield AskedWord(name.lineno, name.name)


def _name(node: nodes.Node) -> str:
    """The name before a bracket or a dot; empty where something else stands there, which nobody can look into."""
    return node.name if isinstance(node, nodes.Name) else ""


def _quoted(node: nodes.Node) -> str | None:
    return node.value if isinstance(node, nodes.Const) and isinstance(node.value, str) else None

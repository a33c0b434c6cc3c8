"""Finds in the source of the program every constant that names an amount, a field of a record or a published file.

A constant in the place of an id is checked as it stands. Ids also stand in tuples, mappings and comparisons, where
nothing says what they are: there, a word one slip of the finger away from a known id is taken for that id misspelt.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from macros.amounts.engine.amount import OF_KEYS
from macros.ground.record_shape import field_names
from macros.ground.records import Record
from macros.published.amounts.amount_ids import known_amount_ids
from tests.making import ROOT

PACKAGE = ROOT / "macros"
PUBLISHED = frozenset(path.stem for path in (PACKAGE / "published").rglob("*.yml"))
NO_IDS = frozenset({"li"})
"""Words one slip away from an id that mean something else: `li` is an element of HTML."""
ONLY_READS = frozenset({"reckoner"})
"""A `Working` that reads amounts and gives none has a name and no id."""

_ID_METHODS = {"find": 0, "of_id": 0, "on_page": 0, "attempt": 0, "withhold": 0, "whole": 0, "rounded": 0, "amount": 0, "Working": 1}  # fmt: skip
_FIELD_METHODS = {"fact": 1, "strength": 1, "day": 1, "raw": 1, "fact_or": 1, "attempt": 2, "report_problem": 1, "place": 0, "key": 0, "item_place": 0}  # fmt: skip
_FILE_FUNCTIONS = {"declared": 0, "published": 1, "published_rows": 1}
_LETTERS = "abcdefghijklmnopqrstuvwxyz_0123456789"


@dataclass(frozen=True)
class Named:
    """One constant: where it stands, what it names (`id`, `key`, `field`, `file`) and whether that is known."""

    where: str
    kind: str
    text: str
    known: bool

    def __str__(self) -> str:
        return f'{self.where}: "{self.text}" is no {self.kind}'


def slips(word: str) -> set[str]:
    """Every text that differs from the word by one letter left out, added, changed, or two neighbours swapped."""
    found: set[str] = set()
    for at in range(len(word) + 1):
        head, tail = word[:at], word[at:]
        found |= {head + letter + tail for letter in _LETTERS}
        if tail:
            found |= {head + letter + tail[1:] for letter in ("", *_LETTERS)}
        if len(tail) > 1:
            found.add(head + tail[1] + tail[0] + tail[2:])
    return found - {word}


@cache
def near_ids() -> frozenset[str]:
    """Every text that is one slip away from an id and is none."""
    return frozenset(slip for id_ in known_amount_ids() for slip in slips(id_)) - known_amount_ids() - NO_IDS


@cache
def fields() -> frozenset[str]:
    """The fields of all record types, those of pages and published files included."""
    waiting, found = [Record], set()
    while waiting:
        model = waiting.pop()
        waiting += model.__subclasses__()
        found |= set(model.model_fields) | set(field_names(model).keys())
    return frozenset(found)


def _id_parameters(tree: ast.Module) -> dict[str, int]:
    """The functions of a module that take an id: name -> its position."""
    return {
        node.name: [argument.arg for argument in node.args.args].index("id_")
        for node in tree.body
        if isinstance(node, ast.FunctionDef) and any(argument.arg == "id_" for argument in node.args.args)
    }


@cache
def _id_functions(module: str) -> dict[str, int]:
    path = ROOT / (module.replace(".", "/") + ".py")
    return _id_parameters(ast.parse(path.read_text(encoding="utf-8"))) if path.is_file() else {}


def _own_functions(tree: ast.Module) -> dict[str, int]:
    """What a module calls by name and hands an id: its own functions and those it imports."""
    found = _id_parameters(tree)
    for node in tree.body:
        if isinstance(node, ast.ImportFrom) and node.module and node.module.startswith("macros"):
            theirs = _id_functions(node.module)
            found |= {alias.name: theirs[alias.name] for alias in node.names if alias.name in theirs}
    return found


def _positions(call: ast.Call, own: dict[str, int]) -> Iterator[tuple[str, int]]:
    """What a call names, by position: (`id`, 0), (`field`, 2)."""
    if isinstance(call.func, ast.Name):
        name, receiver = call.func.id, ""
        methods = {**own, "Working": 1}
        files = _FILE_FUNCTIONS
        named_fields = {"problem_at": 1}
    elif isinstance(call.func, ast.Attribute):
        name, receiver = call.func.attr, ast.unparse(call.func.value)
        methods = {**_ID_METHODS, **({"get": 0} if receiver.endswith("register") else {})}
        if receiver.endswith(("text", "line")):
            del methods["find"]  # the texts' own
        files, named_fields = {}, {} if receiver == "self" else _FIELD_METHODS
    else:
        return
    for kind, table in (("id", methods), ("file", files), ("field", named_fields)):
        if name in table:
            yield kind, table[name]


def named_in(tree: ast.Module, where: str) -> Iterator[Named]:
    """Every constant of a module that names an amount, a key of amounts, a field or a published file."""
    own = _own_functions(tree)
    seen: set[int] = set()
    known = {"id": known_amount_ids() | ONLY_READS, "field": fields(), "file": PUBLISHED}
    for node in ast.walk(tree):
        if not isinstance(node, ast.Call):
            continue
        for kind, position in _positions(node, own):
            if position < len(node.args) and isinstance(node.args[position], ast.Constant):
                constant = node.args[position]
                assert isinstance(constant, ast.Constant)
                if isinstance(constant.value, str):
                    seen.add(id(constant))
                    word = constant.value.partition(".")[0]
                    yield Named(f"{where}:{constant.lineno}", kind, constant.value, word in known[kind])
            if kind == "id" and ast.unparse(node.func).endswith(("register.get", "Working")):
                for keyword in node.keywords:
                    if keyword.arg is not None:
                        yield Named(f"{where}:{node.lineno}", "key", keyword.arg, keyword.arg in OF_KEYS)
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in seen:
            if node.value in known["id"]:
                yield Named(f"{where}:{node.lineno}", "id", node.value, True)
            elif node.value in near_ids():
                yield Named(f"{where}:{node.lineno}", "id", node.value, False)


def modules() -> list[Path]:
    """Every module of the program."""
    return sorted(PACKAGE.rglob("*.py"))


def named() -> list[Named]:
    """All of it."""
    return [
        one
        for path in modules()
        for one in named_in(ast.parse(path.read_text(encoding="utf-8")), path.relative_to(ROOT).as_posix())
    ]

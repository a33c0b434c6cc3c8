"""Rooms above the house take no printed text apart: a number goes up beside its text, never through its letters.

What the source cannot show, a test shows by running: `tests/manual/pages/test_numbers_beside_text.py` prints every amount
and fact as words, and all that counts stays.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[2] / "macros"

READ_TEXT = ("ground", "published", "calculations", "house", "html", "manual/requirements")
"""Text is read here: as an owner or a published file typed it, to lay it out, or to judge how a page is written."""

READERS = {"parse_quantity", "parse_money", "parse_strength"}
CUTS = {
    "split",
    "rsplit",
    "partition",
    "rpartition",
    "removesuffix",
    "removeprefix",
    "startswith",
    "endswith",
}
PATTERNS = {"compile", "match", "fullmatch", "search", "findall", "finditer", "sub", "split"}
BESIDE_A_NUMBER = {"", "to", "x", "at", "=", "+", "±", "%", "FILLED"}
"""What stands, with blanks, between a number and its unit, its tool or another number."""

TYPED = "typed by an owner, an author or on the command line, and read here for the first time"
KEY = "a key or an address of our own making, which says no number of the house"
WORDS = "words are counted or letters fitted into a line; no number is taken"
SHOWN = "two texts are compared by the figures a reader sees in each; no number is taken"
ALLOWED = {
    "amounts/engine/us_units.py _pattern": "a line of a working is written in the units of a US house; no number is taken from it",
    "calendar/month.py lines_of": WORDS,
    "control/changes/terminal.py _NUMBERED": KEY,
    "control/changes/sheet_kinds.py _KINDS": KEY,
    "control/changes/visible_text.py _BUILT": SHOWN,
    "control/documents/place_words.py _AMOUNT": KEY,
    "day_plan/times.py from_midnight": TYPED,
    "manual/checklists/checklists.py _beside": SHOWN,
    "manual/house_facts/recurrence.py _EVERY": TYPED,
    "manual/pages/step_sentence.py wrong_verb": WORDS,
    "manual/pages/formula_shapes.py _NUMBER": SHOWN,
    "manual/pages/printed_lines.py line_group": KEY,
    "manual/procedures/load_files.py _check": KEY,
    "manual/procedures/load_files.py hands_on_minutes": TYPED,
    "measuring/answers.py _unit_of": TYPED,
    "measuring/answers.py plain": TYPED,
    "measuring/talk.py plain": WORDS,
    "measuring/talk.py with_unit": TYPED,
    "packs/pack.py _clock": TYPED,
    "page_model/clock_times.py typed_minutes": TYPED,
    "page_model/job_breakdown.py _FIGURE": SHOWN,
    "paper/cards/cards.py _card": KEY,
    "paper/labels/fit.py lines_needed": WORDS,
    "photographs/kept_copies.py of": KEY,
    "photographs/photographs.py _refused_name": KEY,
    "site/published_words.py tested": KEY,
    "training/self_checks/from_steps.py _FIGURE": SHOWN,
    "training/self_checks/from_templates.py named": KEY,
}


def places(tree: ast.Module) -> Iterator[tuple[str, ast.AST]]:
    """Every node with the name of the function or constant it stands in."""
    waiting: list[tuple[str, ast.AST]] = [("", tree)]
    while waiting:
        name, node = waiting.pop()
        if isinstance(node, ast.FunctionDef):
            name = node.name
        elif isinstance(node, ast.Assign) and not name:
            name = ast.unparse(node.targets[0])
        yield name, node
        waiting += ((name, child) for child in ast.iter_child_nodes(node))


def texts_in(node: ast.AST) -> Iterator[str]:
    """The texts that stand in a part of the source; what is filled into one stands as a word."""
    if isinstance(node, ast.JoinedStr):
        yield "".join(next(texts_in(part), "FILLED") for part in node.values)
    elif isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.Tuple):
        for part in node.elts:
            yield from texts_in(part)


def takes_apart(node: ast.AST) -> bool:
    """Whether a node reads a quantity, cuts a text at what stands beside its number, or looks for digits in it."""
    if isinstance(node, ast.Subscript) and isinstance(node.value, ast.Call):  # the first or the last word
        return called(node.value) == "split" and not node.value.args
    if not isinstance(node, ast.Call):
        return False
    texts = [text for argument in node.args[:1] for text in texts_in(argument)]
    if ast.unparse(node.func).startswith("re.") and called(node) in PATTERNS:
        return any(r"\d" in text or "[0-9]" in text for text in texts)
    cut = any((" " in text or "%" in text) and text.strip(" ") in BESIDE_A_NUMBER for text in texts)
    return called(node) in READERS or (called(node) in CUTS and cut)


def called(node: ast.Call) -> str:
    return node.func.attr if isinstance(node.func, ast.Attribute) else ast.unparse(node.func)


def test_no_room_above_the_house_takes_printed_text_apart() -> None:
    below = tuple(f"{room}/" for room in READ_TEXT)
    files = {path.relative_to(PACKAGE).as_posix(): path for path in sorted(PACKAGE.rglob("*.py"))}
    files = {name: path for name, path in files.items() if not name.startswith(below)}
    found = {
        f"{file} {name}"
        for file, path in files.items()
        for name, node in places(ast.parse(path.read_text(encoding="utf-8")))
        if takes_apart(node)
    }
    assert len(files) > 200
    assert sorted(found - ALLOWED.keys()) == [], (
        "take the number from the record that holds it, not from its text"
    )
    assert sorted(ALLOWED.keys() - found) == [], "an exception that nothing needs"


@pytest.mark.parametrize(
    "source",
    [
        'text.split(" to ")[0]',
        'text.split(" ")[0]',
        "text.split()[0]",
        'printed.removesuffix(f" {unit}")',
        'tool.partition(" at ")',
        'strength.endswith("%")',
        'amount.printed.startswith(("5 ", " "))',
        'parse_quantity(text, "duration")',
        'units.parse_quantity(text, "duration")',
        r're.match(r"\d+", text)',
    ],
)
def test_the_rule_sees_each_way_of_reading_a_number_back(source: str) -> None:
    assert any(takes_apart(node) for _, node in places(ast.parse(source)))


@pytest.mark.parametrize(
    "source", ['path.split(".")', 'name.removeprefix("SOP-")', "len(text.split())", '" to ".join(ends)']
)
def test_the_rule_leaves_other_texts_alone(source: str) -> None:
    assert not any(takes_apart(node) for _, node in places(ast.parse(source)))

"""Every public function of the calculations says what it takes, in which unit, what it refuses and where it is from."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator

import pytest

from tests.making import ROOT

FOLDER = ROOT / "macros" / "calculations"
NUMBERS = {"int", "float", "list[int]", "Sequence[float]", "float | None"}
"""Annotations of what has a unit."""
REFUSALS = {"RangeProblem", "NoTool"}
_GROUP = r"\b{}(?:,? (?:and )?\w+)*? \["


def _functions() -> Iterator[tuple[str, ast.FunctionDef]]:
    """The public functions of every module. The scheduler works on whole minutes and names of its own: left out."""
    for path in sorted(FOLDER.rglob("*.py")):
        if "scheduler" not in path.parts:
            for node in ast.parse(path.read_text(encoding="utf-8")).body:
                if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
                    yield f"{path.stem}.{node.name}", node


def faults(function: ast.FunctionDef) -> Iterator[str]:
    """What the docstring of a function fails to say."""
    summary, _, rest = (ast.get_docstring(function) or "").partition("\n\n")
    rest = " ".join(rest.split())
    if ast.unparse(function.returns or ast.Constant(None)) in ("float", "int") and "[" not in summary:
        yield "no unit of what it gives"
    for argument in function.args.args:
        annotation = ast.unparse(argument.annotation) if argument.annotation else ""
        form = _GROUP if annotation in NUMBERS else r"\b{}\b"
        if not re.search(form.format(argument.arg), rest):
            yield f"{argument.arg} is not explained{', with its unit in brackets' if form is _GROUP else ''}"
    if not re.search(r"Raises (nothing\.|(RangeProblem|NoTool) )", rest):
        yield "does not say what it raises"
    raised = {node.exc.func.id for node in ast.walk(function)
              if isinstance(node, ast.Raise) and isinstance(node.exc, ast.Call) and isinstance(node.exc.func, ast.Name)}  # fmt: skip
    for name in sorted(raised & REFUSALS):
        if f"Raises {name}" not in rest:
            yield f"raises {name} and does not say so"
    if not re.search(r"Source: \S.+\.$", rest):
        yield "no source, and no word that there is none"


def test_every_public_calculation_says_units_range_refusals_and_source() -> None:
    found = list(_functions())
    assert len(found) > 90
    assert [f"{name}: {fault}" for name, function in found for fault in faults(function)] == []


@pytest.mark.parametrize(
    ("docstring", "fault"),
    [
        ("Flow.\n\nhead [m] above 0. Raises RangeProblem outside that. Source: arithmetic.", "no unit of what it gives"),
        ("Flow [L].\n\nRaises RangeProblem outside that. Source: arithmetic.", "head is not explained, with its unit in brackets"),
        ("Flow [L].\n\nhead above 0. Raises RangeProblem outside that. Source: x.", "head is not explained, with its unit in brackets"),
        ("Flow [L].\n\nhead [m] above 0. Source: arithmetic.", "does not say what it raises"),
        ("Flow [L].\n\nhead [m] above 0. Raises nothing. Source: arithmetic.", "raises RangeProblem and does not say so"),
        ("Flow [L].\n\nhead [m] above 0. Raises RangeProblem below it.", "no source, and no word that there is none"),
    ],
)  # fmt: skip
def test_what_a_docstring_leaves_out_is_told(docstring: str, fault: str) -> None:
    text = f'def flow(head: float) -> float:\n    """{docstring}"""\n    raise RangeProblem("no")'
    function = ast.parse(text).body[0]
    assert isinstance(function, ast.FunctionDef)
    assert fault in list(faults(function))

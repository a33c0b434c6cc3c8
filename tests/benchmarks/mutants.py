"""Small faults put into the program on purpose, to see whether the tests notice. Run `python -m tests.benchmarks.mutants`.

`--seed 1 --count 40` picks comparisons, operators, constants and directions of rounding at random, as many from each of
`calculations`, `amounts` and `manual`. Each fault is made alone, in a copy of the checkout; the tests run until one fails:
those of the same folder first, then the wider ones. A test counts as the one that killed it only if it passes without the
fault. `--only 3 17` runs some of the picked, `--at macros/amounts/water/pumping.py:56` every fault of one line instead.

Left out are the tests of the browser, of random houses and of the command line, which are slow, those of `structure`, which
judge how the code is written, and the one that keeps the table of checks: it holds what we last wrote, not what is true.
"""

from __future__ import annotations

import argparse
import ast
import importlib.util
import os
import random
import re
import shutil
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

ROOT = Path(__file__).parents[2]
ROOMS = ("calculations", "amounts", "manual")
WIDER = ("reference", "amounts", "manual", "site", "calculations")
LEFT_OUT = {"browser", "doors", "fuzz", "structure"}
OWN_RECORD = "tests/reference/test_reference.py::test_table_of_checks_is_current"
SECONDS = 900
"""For one run of tests; a fault that makes a loop endless is noticed by it."""

_OPERATORS: dict[type[ast.AST], tuple[str, str]] = {
    ast.Lt: ("<", "<="), ast.LtE: ("<=", "<"), ast.Gt: (">", ">="), ast.GtE: (">=", ">"), ast.Eq: ("==", "!="),
    ast.NotEq: ("!=", "=="), ast.In: ("in", "not in"), ast.NotIn: ("not in", "in"), ast.Is: ("is", "is not"),
    ast.IsNot: ("is not", "is"), ast.Add: ("+", "-"), ast.Sub: ("-", "+"), ast.Mult: ("*", "/"), ast.Div: ("/", "*"),
    ast.FloorDiv: ("//", "/"), ast.Mod: ("%", "*"), ast.Pow: ("**", "*"), ast.And: ("and", "or"), ast.Or: ("or", "and"),
}  # fmt: skip
_NAMES = {"min": "max", "max": "min", "up": "down", "down": "up"}
_JOINED = (ast.JoinedStr, ast.List, ast.Tuple, ast.Dict, ast.ListComp)  # `-` between them would only crash


@dataclass(frozen=True)
class Mutant:
    """One fault: bytes `start` to `end` of a file become `new`."""

    path: Path
    line: int
    start: int
    end: int
    new: str

    def __str__(self) -> str:
        source = (ROOT / self.path).read_bytes()
        old, line = source[self.start : self.end].decode(), source.splitlines()[self.line - 1].decode()
        return f"{self.path}:{self.line} `{old}` -> `{self.new}` in: {line.strip()}"


def mutants_of(path: Path) -> list[Mutant]:
    """Every fault the script knows for one file, in the order of the text."""
    source = (ROOT / path).read_bytes()
    starts = [0]
    for line in source.splitlines(keepends=True):
        starts.append(starts[-1] + len(line))

    def span(node: ast.expr) -> tuple[int, int]:
        last = starts[(node.end_lineno or node.lineno) - 1] + (node.end_col_offset or 0)
        return starts[node.lineno - 1] + node.col_offset, last

    found = []
    for node in _code(ast.parse(source)):
        for left, operator, right in _operations(node):
            old, new = _OPERATORS[type(operator)]
            start = source.index(old.encode(), span(left)[1], span(right)[0])
            found.append(Mutant(path, source.count(b"\n", 0, start) + 1, start, start + len(old), new))
        if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not):
            found.append(Mutant(path, node.lineno, span(node)[0], span(node.operand)[0], ""))
        elif isinstance(node, ast.Name | ast.Constant) and (other := _other(node)) is not None:
            found.append(Mutant(path, node.lineno, *span(node), other))
    return sorted(found, key=lambda mutant: mutant.start)


def _code(node: ast.AST) -> Iterator[ast.AST]:
    """What is worked out: no types, decorators, indices or widths of numbers in a text."""
    yield node
    for name, value in ast.iter_fields(node):
        if name not in ("annotation", "returns", "decorator_list", "slice", "format_spec"):
            for child in value if isinstance(value, list) else [value]:
                if isinstance(child, ast.AST):
                    yield from _code(child)


def _operations(node: ast.AST) -> Iterator[tuple[ast.expr, ast.AST, ast.expr]]:
    """Left side, operator and right side of each operation that stands in `node` itself."""
    if isinstance(node, ast.Compare):
        yield from zip([node.left, *node.comparators], node.ops, node.comparators, strict=False)
    elif isinstance(node, ast.BoolOp):
        yield from ((left, node.op, right) for left, right in pairwise(node.values))
    elif isinstance(node, ast.BinOp) and type(node.op) in _OPERATORS:
        sides = (node.left, node.right)
        if not any(isinstance(one, _JOINED) or isinstance(getattr(one, "value", 0), str) for one in sides):
            yield node.left, node.op, node.right


def _other(node: ast.Name | ast.Constant) -> str | None:
    """What stands for a name or a constant in the mutant: one more of a whole number, a tenth more of another."""
    if isinstance(node, ast.Name):
        return _NAMES.get(node.id)
    value = node.value
    if isinstance(value, bool):
        return str(not value)
    if isinstance(value, int | float):
        return str(value + 1 if isinstance(value, int) else value * 1.1 or 1.0)
    return f'"{_NAMES[value]}"' if value in ("up", "down") else None


def picked(seed: int, count: int) -> list[Mutant]:
    """`count` of all the faults there are, as many from each room."""
    dice, found = random.Random(seed), []
    for number, room in enumerate(ROOMS):
        paths = sorted(path.relative_to(ROOT) for path in (ROOT / "macros" / room).rglob("*.py"))
        every = [mutant for path in paths for mutant in mutants_of(path)]
        found += dice.sample(every, (count + len(ROOMS) - 1 - number) // len(ROOMS))
    return found


def _runs(path: Path) -> list[list[str]]:
    """The folders of tests, the nearest first."""
    near = Path("tests", *path.parent.parts[1:])
    while not (ROOT / near).is_dir():
        near = near.parent
    rest = sorted(each.name for each in (ROOT / "tests").iterdir() if (each / "__init__.py").is_file())
    wider = [f"tests/{name}" for name in WIDER if Path("tests", name) != near]
    first = ["tests/reference", str(near)] if "calculations" in path.parts else [str(near)]
    return [first, wider, [f"tests/{name}" for name in rest if name not in {*WIDER, *LEFT_OUT}]]


def _failed(copy: Path, tests: list[str]) -> str | None:
    """The first test that fails in the copy, if one does."""
    options = f"-x -q -p no:cacheprovider --tb=no -rfE --deselect {OWN_RECORD}".split()
    command = [sys.executable, "-m", "pytest", *options, *tests]
    environment = {**os.environ, "PYTHONPATH": str(copy), "COLUMNS": "1000"}
    try:
        run = subprocess.run(command, cwd=copy, env=environment, capture_output=True, text=True, timeout=SECONDS)  # fmt: skip
    except subprocess.TimeoutExpired:
        return f"the limit of {SECONDS} s"
    told = re.search(r"^(?:FAILED|ERROR) (tests/[^ \[]+(?:\[.*?\])?)(?: - |$)", run.stdout, re.MULTILINE)
    if run.returncode and told is None:
        raise SystemExit(f"the tests could not be run:\n{run.stdout}{run.stderr}")
    return told[1] if told else None


def killer(copy: Path, mutant: Mutant, near: bool) -> str | None:
    """The test that fails with this fault and passes without it; None where the fault goes unseen."""
    path, source = copy / mutant.path, (ROOT / mutant.path).read_bytes()

    def write(text: bytes) -> None:
        path.write_bytes(text)
        Path(importlib.util.cache_from_source(str(path))).unlink(missing_ok=True)  # dated in whole seconds

    write(source[: mutant.start] + mutant.new.encode() + source[mutant.end :])
    runs = _runs(mutant.path)[: 1 if near else None]
    failed = next(filter(None, (_failed(copy, tests) for tests in runs)), None)
    write(source)
    if failed and failed.startswith("tests/") and _failed(copy, [failed]):
        raise SystemExit(f"{failed} fails without a fault as well: mend it first")
    return failed


def main() -> None:
    """One line a mutant, and the count."""
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--count", type=int, default=40)
    asked.add_argument("--only", nargs="*", type=int, help="numbers of the picked ones", default=[])
    asked.add_argument("--at", nargs="*", metavar="FILE:LINE", help="every fault of these lines", default=[])
    asked.add_argument("--near", action="store_true", help="only the tests of the same folder")
    wanted = asked.parse_args()
    places = (place.rsplit(":", 1) for place in wanted.at)
    at = [each for file, line in places for each in mutants_of(Path(file)) if each.line == int(line)]
    chosen = enumerate(at if wanted.at else picked(wanted.seed, wanted.count), start=1)
    ends: Counter[str] = Counter()
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder) / "copy"
        shutil.copytree(ROOT, copy, ignore=shutil.ignore_patterns(".git", ".venv", ".*_cache", "__pycache__"))
        for number, mutant in [one for one in chosen if not wanted.only or one[0] in wanted.only]:
            failed = killer(copy, mutant, wanted.near)
            ends["killed" if failed else "survived"] += 1
            print(f"{number} {mutant}: {f'killed by {failed}' if failed else 'SURVIVED'}", flush=True)
    print(", ".join(f"{count} {end}" for end, count in sorted(ends.items())))


if __name__ == "__main__":
    main()

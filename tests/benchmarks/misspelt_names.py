"""Misspells every amount id the source of the program names, one at a time: is each told with file and line?

    python -m tests.benchmarks.misspelt_names

Each constant gets three slips: its last letter left out, two neighbours swapped, a letter doubled. What is told must
name the very line. The same is asked of the register for each id, and of every key that tells amounts apart.
"""

from __future__ import annotations

import ast
import sys

import macros.doors.cli  # noqa: F401 - every record type, for its fields
from macros.amounts import Register
from macros.amounts.engine.register import UnknownAmount
from macros.published.amounts.amount_ids import known_amount_ids
from tests.making import HOUSES, ROOT, made_register
from tests.structure.named import modules, named_in


def misspelt(word: str) -> list[str]:
    """Three slips of a word, those that are a word of their own left out."""
    middle = len(word) // 2
    swapped = word[: middle - 1] + word[middle] + word[middle - 1] + word[middle + 1 :]
    return [
        slip
        for slip in (word[:-1], swapped, word[:middle] + word[middle - 1 :])
        if slip != word and slip not in known_amount_ids()
    ]


def told_of_source() -> tuple[int, list[str]]:
    """How many misspelt constants were tried, and those nobody told."""
    tried, missed = 0, []
    for path in modules():
        where, tree = path.relative_to(ROOT).as_posix(), ast.parse(path.read_text(encoding="utf-8"))
        for node in ast.walk(tree):
            if not (isinstance(node, ast.Constant) and node.value in known_amount_ids()):
                continue
            word = str(node.value)
            for node.value in misspelt(word):
                tried += 1
                told = [str(one) for one in named_in(tree, where) if not one.known]
                if told != [f'{where}:{node.lineno}: "{node.value}" is no id']:
                    missed.append(f"{where}:{node.lineno}: {word} as {node.value}")
            node.value = word
    return tried, missed


def told_of_register(register: Register) -> tuple[int, list[str]]:
    """How many misspelt ids were asked for, and those the register took."""
    tried, missed = 0, []
    for id_ in sorted(known_amount_ids()):
        for slip in misspelt(id_):
            tried += 1
            try:
                register.of_id(slip)
            except UnknownAmount:
                continue
            missed.append(slip)
    return tried, missed


def main() -> int:
    """Print the counts; 1 where a slip went by."""
    missed = []
    for name, (tried, unseen) in (
        ("constants of the source", told_of_source()),
        ("ids asked of the register", told_of_register(made_register(HOUSES / "fourth"))),
    ):
        print(f"{name}: {tried} slips, {tried - len(unseen)} told, {len(unseen)} not")
        missed += unseen
    print("\n".join(missed))
    return int(bool(missed))


if __name__ == "__main__":
    sys.exit(main())

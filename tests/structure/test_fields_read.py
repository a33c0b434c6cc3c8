"""Every fact a house may give is read by something: by its name in the program, or by its path on a page or in a list.

What the test cannot see: whether a name that several records share is read of each of them.
"""

from __future__ import annotations

import ast
import re
from functools import cache

from macros.house.records.house import House
from tests.house.test_new_house import records_below
from tests.making import ROOT
from tests.structure.named import PACKAGE, modules

KEPT = {
    "Person.sheets_signed": "which sheets a person signs is the house's own record; no sheet checks it",
}
"""Facts nothing reads, each with why a house may write it all the same."""

_PATH = re.compile(r"[a-z_]+(?:\.[a-z_0-9]+)+")
_QUOTED = re.compile(r"""['"]([a-z_0-9]+)['"]""")


@cache
def read_names() -> frozenset[str]:
    """Names read as attributes or written as texts of the program, and those on fact paths of pages and lists."""
    found: set[str] = set()
    for path in modules():
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Attribute) and isinstance(node.ctx, ast.Load):
                found.add(node.attr)
            elif isinstance(node, ast.Constant) and isinstance(node.value, str) and " " not in node.value:
                found |= {node.value, *node.value.split(".")}
            elif isinstance(node, ast.JoinedStr) and isinstance(node.values[0], ast.Constant):
                begins = str(node.values[0].value)
                found |= {name for name in _fields() if begins.endswith("_") and name.startswith(begins)}
    for text in (*ROOT.glob("procedures/*.md"), *PACKAGE.glob("published/**/*.yml")):
        words = text.read_text(encoding="utf-8")
        found |= {part for path in _PATH.findall(words) for part in path.split(".")}
        found |= set(_QUOTED.findall(words))
    return frozenset(found)


@cache
def _fields() -> frozenset[str]:
    return frozenset(name for record in records_below(House) for name in record.model_fields)


def test_every_fact_of_a_house_is_read() -> None:
    unread = {
        f"{record.__name__}.{name}"
        for record in records_below(House)
        for name in record.model_fields
        if name not in read_names()
    }
    assert unread == set(KEPT), (
        "read it, or take it away (macros/house/files/dropped.py tells the houses that write it)"
    )


def test_many_facts_and_names_were_looked_at() -> None:
    assert len(_fields()) > 250
    assert {"fill_mark_height", "drain_inside_diameter", "solution_batch", "handwash"} <= read_names()
    assert "sheets_signed" not in read_names()

"""Every amount, key, field and published file that the program names is there, also in branches no house takes."""

from __future__ import annotations

import ast
from collections import Counter

import pytest

from macros.published.amounts.amount_ids import known_amount_ids
from tests.structure.named import NO_IDS, ONLY_READS, PACKAGE, fields, named, named_in, near_ids, slips


def test_every_constant_that_names_something_names_what_is_there() -> None:
    found = named()
    assert [str(one) for one in found if not one.known] == []
    counts = Counter(one.kind for one in found)
    assert counts["id"] > 400
    assert counts["field"] > 300
    assert counts["key"] > 80
    assert counts["file"] > 30


def test_every_known_amount_is_named_somewhere() -> None:
    assert known_amount_ids() - {one.text for one in named() if one.kind == "id"} == set()


def test_each_exception_is_needed() -> None:
    texts = "".join(path.read_text(encoding="utf-8") for path in PACKAGE.rglob("*.py"))
    assert [word for word in NO_IDS | ONLY_READS if f'"{word}"' not in texts] == []
    assert {slip for id_ in known_amount_ids() for slip in slips(id_)} >= NO_IDS


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ('w.amount("something", system="K")', 'm.py:1: "something" is no id'),
        ('Working(register, "something", "Label", "Topic")', 'm.py:1: "something" is no id'),
        ('register.get("something")', 'm.py:1: "something" is no id'),
        ('with register.attempt("something", tank, "shape"): pass', 'm.py:1: "something" is no id'),
        ('register.get("res_fill", sistem="K")', 'm.py:1: "sistem" is no key'),
        ('w.fact(tank, "fill_mark_heigt", "m")', 'm.py:1: "fill_mark_heigt" is no field'),
        ('with register.attempt("res_fill", tank, "shap"): pass', 'm.py:1: "shap" is no field'),
        ('declared("cardz")', 'm.py:1: "cardz" is no file'),
        ('for name in (\n    "res_fil",): pass', 'm.py:2: "res_fil" is no id'),
        ('if id_ == "ec_diulte": pass', 'm.py:1: "ec_diulte" is no id'),
        ('def f(a, id_): pass\nf(1, "something")', 'm.py:2: "something" is no id'),
        ('from macros.paper.labels.label import printed\nprinted(register, "something")', 'm.py:2: "something" is no id'),
    ],
)  # fmt: skip
def test_what_is_not_there_is_told_with_file_and_line(line: str, told: str) -> None:
    assert [str(one) for one in named_in(ast.parse(line), "m.py") if not one.known] == [told]


def test_a_slip_is_one_letter() -> None:
    assert {"ab", "abcd", "axc", "bac", "abc_"} <= slips("abc")
    assert not {"abc", "cab", "a", "abcde"} & slips("abc")
    assert "res_fil" in near_ids()
    assert "res_fill" not in near_ids()
    assert {"inside_length", "for", "strength"} <= fields()

"""Every published value and sourced case names its source; no number of an index stands that a reader has not."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from macros.published.labour.effects import effects
from macros.published.pages.documents import documents, ways
from macros.published.pages.requirements import requirements
from tests.structure.sources import FILES, ROOT, fault_of_source, fault_of_way, faults_of_file

CODE = re.compile(r"(?<![\w-])(?:[ACDGLPRSTX]|PLAN)-\d{2}(?![\w-])")
INDEX = re.compile(r"(?<![\w-])Q\d{2}(?![\w-])")
NO_ROW = {"S-99", "P-55"}
"""Slips that tests make on purpose."""


@pytest.mark.quick
def test_every_source_line_names_a_document_or_why_there_is_none() -> None:
    assert [told for file in FILES for told in faults_of_file(file)] == []


@pytest.mark.parametrize("line", [
    "general safety text", "a fact sheet, 2008", "EPA QA/G-6; laboratory reagent tables", "our own", "worked homework solution",
])  # fmt: skip
def test_a_line_without_a_name_is_told(line: str) -> None:
    assert fault_of_source(line).endswith("names no document of documents.yml, nor why there is none")


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("seen", "says seen"),
        ("excerpt; rest seen", "says seen"),
        ("mixed: see source", "says mixed:"),
        ("search", "says search"),
    ],
)
def test_a_way_nobody_defined_is_told(line: str, told: str) -> None:
    assert fault_of_way(line).endswith(told)


def test_named_lines_pass() -> None:
    assert not fault_of_source("EPA QA/G-6 (excerpt); 5 mg/L: our own, because none is published")
    assert not any(map(fault_of_way, ways()))


def test_each_document_is_named_somewhere() -> None:
    texts = "\n".join(file.read_text(encoding="utf-8") for file in FILES if file.name != "documents.yml")
    assert [name for name in documents() if name not in texts] == []


def test_every_number_of_a_requirement_or_refusal_has_its_row() -> None:
    known = {*requirements(), *effects().refusals, *NO_ROW}
    found = []
    for file in (
        one
        for folder in ("macros", "tests", "procedures", "docs", "site_data")
        for one in (ROOT / folder).rglob("*")
    ):
        if file.suffix in (".py", ".yml", ".md", ".j2", ".js") and file != Path(__file__):
            text = file.read_text(encoding="utf-8")
            found += [f"{file}: {one}" for one in {*CODE.findall(text)} - known] + [
                f"{file}: {one}" for one in INDEX.findall(text)
            ]
    assert found == []

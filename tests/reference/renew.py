"""Writes `macros/published/amounts/checks.yml`: what each calculation was compared with. Run `python -m tests.reference.renew`."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import yaml

from tests.reference.comparisons import cases, comparisons, deviation

(FILE,) = (Path(__file__).parents[2] / "macros" / "published").rglob("checks.yml")
HEAD = (
    "# yaml-language-server: $schema=../schemas/checks.json\n"
    "# What each calculation was compared with, and how far off it was at most. Who edits it: nobody; it is written by\n"
    "# `python -m tests.reference.renew` from the sourced cases of the tests, and a test keeps it current.\n"
)


def table() -> list[dict[str, Any]]:
    """One entry a calculation: number of comparisons, largest deviation in percent, sources."""
    found: dict[str, dict[str, Any]] = {}
    for case in cases():
        entry = found.setdefault(
            case["function"],
            {"function": case["function"], "cases": 0, "largest_percent": 0.0, "sources": []},
        )
        for single in comparisons(case):
            entry["cases"] += 1
            entry["largest_percent"] = max(entry["largest_percent"], 100 * deviation(single))
        if case["source"] not in entry["sources"]:
            entry["sources"].append(case["source"])
    for entry in found.values():
        entry["largest_percent"] = (
            float(f"{entry['largest_percent']:.2g}") if entry["largest_percent"] >= 1e-4 else 0.0
        )
    return [found[name] for name in sorted(found)]


def text() -> str:
    """The file as it should be."""
    return HEAD + str(yaml.safe_dump(table(), sort_keys=False, allow_unicode=True, width=200))


if __name__ == "__main__":
    FILE.write_text(text(), encoding="utf-8")

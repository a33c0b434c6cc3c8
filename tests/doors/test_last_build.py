"""The ledger of the last build may be anybody's: it is bounded, typed, read inside the house, and shown made visible."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from macros.doors.last_build import LEDGER, changes_since_last_build
from tests.making import manual_of


def told(house: Path, content: str) -> list[str]:
    (house / "site").mkdir(exist_ok=True)
    (house / "site" / LEDGER).write_text(content, encoding="utf-8")
    return changes_since_last_build(house, manual_of("fifth"), "site")


def rows() -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = json.loads(manual_of("fifth").files["amounts.json"])
    return found


def test_the_same_ledger_is_no_change(tmp_path: Path) -> None:
    assert told(tmp_path, json.dumps(rows())) == ["No printed value changed since the last build."]


def test_a_changed_value_is_told_with_its_fact(tmp_path: Path) -> None:
    old = rows()
    old[0]["printed"] = "12 nonsense"
    old[0]["inputs"] = [{"name": "house.made_up", "value": 1, "unit": "m"}]
    count, line = told(tmp_path, json.dumps(old))
    assert count == "1 printed value changed since the last build:"
    assert ": 12 nonsense -> " in line
    assert "house.made_up" in line


@pytest.mark.parametrize(
    "content",
    ["", "{", "{}", "[1]", '[{"id": 1}]', "[[]]", "null", "[" * 100_000,
     '[{"id": "x", "of": [], "printed": "", "pours": [], "kind": "", "inputs": [], "value": 1}]',
     '[{"id": "x", "of": {}, "printed": "", "pours": [], "kind": "", "inputs": [1], "value": 1}]',
     '[{"id": "x", "of": {}, "printed": "", "pours": [], "kind": "", "inputs": {"a": 1}, "value": 1}]'],
)  # fmt: skip
def test_a_ledger_of_another_form_is_told(tmp_path: Path, content: str) -> None:
    (line,) = told(tmp_path, content)
    assert line.startswith("site/amounts.json cannot be read")
    assert line.endswith("; build again to compare from then on.")


def test_a_ledger_that_leads_out_is_not_read(tmp_path: Path) -> None:
    house = tmp_path / "house"
    (house / "site").mkdir(parents=True)
    (tmp_path / "secret.json").write_text(json.dumps([{**rows()[0], "id": "secret"}]))
    (house / "site" / LEDGER).symlink_to(tmp_path / "secret.json")
    (line,) = changes_since_last_build(house, manual_of("fifth"), "site")
    assert line.startswith(
        "site/amounts.json cannot be read (this is a link that leads out of the house, to "
    )
    assert "printed" not in line


def test_a_ledger_that_is_too_large_is_not_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("macros.doors.last_build.MAX_BYTES", 1000)
    assert told(tmp_path, json.dumps(rows())) == [
        "site/amounts.json cannot be read (the file is too large); build again to compare from then on."
    ]


def test_nothing_in_a_ledger_turns_the_terminal(tmp_path: Path) -> None:
    old = rows()
    old[0]["id"] = "\x1b[2Jgone\u202e"
    old[1]["printed"] = "\x1b]0;title\x07" + "x" * 10_000
    lines = told(tmp_path, json.dumps(old))
    assert all(line.isprintable() and len(line) < 1500 for line in lines)
    assert any("<U+001B>[2Jgone<U+202E>" in line for line in lines)

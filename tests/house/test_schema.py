"""The editors' schema is current, takes good houses and points at what is wrong."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml

from macros.house.files.json_schema import FILE, schema_text
from tests.making import HOUSES, ROOT

FILES = sorted([*ROOT.glob("site_data/*.yml"), *HOUSES.glob("*/site_data/*.yml")])


def as_editors_read(path: Path) -> Any:
    """YAML as an editor types it by the core schema of YAML 1.2: plain numbers and true or false, all else text."""

    def typed(node: yaml.Node) -> Any:
        if isinstance(node, yaml.MappingNode):
            return {typed(key): typed(value) for key, value in node.value}
        if isinstance(node, yaml.SequenceNode):
            return [typed(item) for item in node.value]
        text = str(node.value)
        if node.style is None and re.fullmatch(r"[-+]?\d+(\.\d+)?", text):  # type: ignore[attr-defined]
            return float(text) if "." in text else int(text)
        return {"true": True, "false": False}.get(text, text)

    return typed(yaml.compose(path.read_text(encoding="utf-8"), Loader=yaml.SafeLoader))


def test_schema_is_current() -> None:
    assert FILE.read_text(encoding="utf-8") == schema_text(), "run python -m macros.house.files.json_schema"


def test_files_were_found() -> None:
    assert len(FILES) > 10


@pytest.mark.parametrize("path", FILES, ids=lambda p: f"{p.parents[1].name}/{p.name}")
def test_good_house_passes(path: Path) -> None:
    jsonschema.validate(as_editors_read(path), json.loads(schema_text()))


def test_misspelt_field_is_pointed_at() -> None:
    data = as_editors_read(HOUSES / "first" / "site_data" / "house.yml")
    data["systems"][0]["reservoir"]["colour"] = "blue"
    with pytest.raises(jsonschema.ValidationError, match="colour"):
        jsonschema.validate(data, json.loads(schema_text()))

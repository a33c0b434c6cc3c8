"""Phosphorus of feed and pH-down together, worked by hand on the fourth house."""

from __future__ import annotations

import copy

import pytest

from macros.ground.yaml_source import Source
from tests.facts import register_of, source_of


def test_the_feed_counts_by_the_part_with_phosphate() -> None:
    """30 mg/L at 1.5 mL/L of part 2; a stage with 3.0 mL/L of it brings 60, and nitric acid nothing."""
    source = source_of("fourth")
    data = copy.deepcopy(source.data)
    assert register_of(source).get("phosphorus_in_all", system="K").exact == pytest.approx(30)
    stages = data["nutrients"]["stages"]
    stages["bloom"] = {
        **copy.deepcopy(stages["leafy"]), "rates": {"part_1": "0.6 mL/L", "part_2": "3.0 mL/L"}, "ec_target": "1.4 mS/cm",
    }  # fmt: skip
    data["systems"][0]["fill_stage"] = "bloom"
    found = register_of(Source(data=data, places=source.places, file=source.file))
    assert found.get("phosphorus_in_all", system="K").exact == pytest.approx(60)
    assert found.get("phosphorus_in_all", system="M").exact == pytest.approx(30)

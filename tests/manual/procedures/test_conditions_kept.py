"""A step that is done only if something is so says so on the sheet and in the checklist too."""

from __future__ import annotations

import re

import pytest

from tests.making import manual_of

CONDITION = re.compile(r"^(If|When|Where)\b")


@pytest.mark.parametrize("house", ["first", "second", "third", "fourth", "fifth"])
def test_a_condition_of_a_step_is_not_lost_in_its_short_form(house: str) -> None:
    seen = 0
    for view in manual_of(house).views:
        for step in view.steps:
            if step.short and CONDITION.match(step.do):
                kept = re.search(r"\b(if|when|where)\b|:", step.short, re.IGNORECASE)
                assert kept, f"{view.key} step {step.number}: {step.short}"
                seen += 1
    assert seen

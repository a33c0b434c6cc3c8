"""Faults put into good pages: each is found by its rule, and the good page has none."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
import yaml

from macros.published.labour.effects import Does
from macros.rehearsal.model.equipment import Equipment, equipment
from macros.rehearsal.model.steps import RunStep, over, steps_of
from macros.rehearsal.pages import rehearsal, systems_of
from macros.rehearsal.whole_page import proved
from tests.making import manual_of

FAULTS = yaml.load(Path(__file__).with_name("faults.yml").read_text(encoding="utf-8"), yaml.BaseLoader)
HOUSE, SYSTEM = "fourth", "K"


def with_fault(steps: Sequence[RunStep], fault: dict[str, Any]) -> list[RunStep]:
    changed = [step for step in steps if step.written != fault.get("drop")]
    if "move" in fault:
        moved = [step for step in steps if step.written == fault["move"]]
        rest = [step for step in steps if step.written != fault["move"]]
        at = next(number for number, step in enumerate(rest) if step.written == fault["before"])
        changed = [*rest[:at], *moved, *rest[at:]]
    for name, said in fault.get("set", {}).items():
        does = Does.model_validate(said)
        changed = [replace(one, does=over(one.does, does)) if one.written == name else one for one in changed]
    if "waits" in fault:
        long = float(fault["minutes"])
        changed = [replace(one, waits=long) if one.written == fault["waits"] else one for one in changed]
    assert changed != list(steps), f"{fault} changes nothing"
    return changed


def rules_of(document: str, fault: dict[str, Any] | None) -> set[str]:
    site = manual_of(HOUSE)
    page = next(
        p for p in site.built if p.content.document == document and SYSTEM in systems_of(p, site.register)
    )
    of = equipment(site.register, SYSTEM)
    assert isinstance(of, Equipment)
    of = replace(of, brim=of.levels["fill_mark"] + 10.0)  # so that what comes back is seen
    assert page.data is not None
    steps = steps_of(page, site.register, SYSTEM)
    steps = with_fault(steps, fault) if fault else steps
    found = rehearsal(document, steps, of, page.data.starts_from, page.data.ends_in).findings
    return {one.rule for one in (*found, *proved(steps, of))}


@pytest.mark.parametrize(
    "fault",
    FAULTS,
    ids=lambda one: f"{one['page']} {one.get('drop') or one.get('move') or one.get('waits') or 'set'}",
)
def test_a_fault_in_a_good_page_is_found(fault: dict[str, Any]) -> None:
    assert rules_of(fault["page"], None) == set()
    assert fault["rule"] in rules_of(fault["page"], fault)


def test_there_are_sixty_faults_and_each_is_another() -> None:
    assert len({str(one) for one in FAULTS}) >= 60

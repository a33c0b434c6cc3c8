"""Breakdown sheets: what stands on them, how they are split, and what is told of a step without a reason."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from macros.amounts import Register
from macros.ground.problems import in_order
from macros.manual.pages.build_page import build_pages
from macros.manual.procedures.load_files import load_procedures
from macros.manual.procedures.write_text import TextWriter
from macros.page_model.job_breakdown import (
    HOLD,
    BreakdownView,
    breakdown_sheets,
    important_steps,
    is_important,
    reason_of,
    shared_sheets,
    split_at_phases,
)
from macros.page_model.page import PageView, StepView
from macros.site.site import Site
from tests.making import HOUSES, OWN_PAGE, made_house, made_register, made_site, views_of

TEXT = OWN_PAGE.read_text(encoding="utf-8").replace(
    "[low strip]", "[chlorine strip]"
)  # the strip of the house it is read in
REASONED = (
    TEXT.replace("    action: carry\n", '    action: carry\n    reason: "It is needed at once."\n')
    .replace("    action: wash\n", '    action: wash\n    reason: "Dirt spends the sanitizer."\n')
    .replace("    action: rinse\n", '    action: rinse\n    reason: "What is left burns roots."\n')
)
"""The page with a reason at three more steps, so that it fills a sheet."""


@cache
def fifth() -> Register:
    return made_register(HOUSES / "fifth")


def built(folder: Path, text: str) -> tuple[list[PageView], list[str]]:
    """The page of this text in a house that trains helpers, and what is told of it."""
    (folder / OWN_PAGE.name).write_text(text, encoding="utf-8")
    files, problems = load_procedures(folder)
    pages, more = build_pages(files, fifth(), TextWriter())
    return views_of(pages, fifth()), [str(one) for one in in_order([*problems, *more])]


@pytest.mark.parametrize("name", ["second", "fourth", "fifth"])
def test_every_procedure_has_sheets_of_five_to_nine_steps(sites: Mapping[str, Site], name: str) -> None:
    views = sites[name].views
    assert len(views) >= 20
    for view in views:
        sheets = breakdown_sheets(view)
        assert sheets, view.key
        for sheet in sheets:
            assert 5 <= len(sheet.steps) <= 9 or len(sheet.steps) == len(view.steps) < 5, sheet.key
        numbers = [step.number for sheet in sheets for step in sheet.steps]
        assert numbers == sorted(set(numbers)), view.key
        flagged = {
            s.number for s in view.steps if s.critical or s.hold or s.easily_missed or s.wait or s.cautions
        }
        assert flagged <= set(numbers), view.key


@pytest.mark.parametrize("name", ["fourth", "fifth"])
def test_each_key_point_has_a_reason_of_the_page(sites: Mapping[str, Site], name: str) -> None:
    for view in sites[name].views:
        said = {
            step.id: {step.reason, HOLD, *(c.consequence for c in step.cautions)} - {""}
            for step in view.steps
        }
        for sheet in breakdown_sheets(view):
            for step in sheet.steps:
                assert step.groups, (sheet.key, step.id)
                for group in step.groups:
                    assert group.reason in said[step.id], (sheet.key, step.id)
                    assert group.points
                    assert all(point.strip() for point in group.points)


@pytest.mark.quick
def test_amounts_limits_waits_and_cautions_of_a_sheet_are_those_of_the_page(
    sites: Mapping[str, Site],
) -> None:
    view = next(view for view in sites["fourth"].views if view.key == "SOP-04-K")
    sheets = breakdown_sheets(view)
    points = {s.id: [p for g in s.groups for p in g.points] for sheet in sheets for s in sheet.steps}
    spray = next(step for step in view.steps if step.id == "spray")
    assert spray.amounts
    assert spray.wait is not None
    assert spray.record is not None
    for amount in spray.amounts:
        assert any(amount.printed in point and amount.tool in point for point in points["spray"])
    assert any(spray.wait.least in point and spray.wait.missed in point for point in points["spray"])
    assert any(point.endswith(spray.record.limits) for point in points["spray"])
    for caution in spray.cautions:
        told = [p for step in points.values() for p in step if caution.entry.short_hazard in p]
        assert len(told) == 1, "told once on the sheet, where it is first met"


# by hand: (which steps begin a phase, sizes of the sheets)
SPLITS = [
    ("x" * 3, (3,)),
    ("P" + "x" * 8, (9,)),
    ("P" + "x" * 3 + "P" + "x" * 5, (5, 5)),  # no phase starts where five and five part
    ("P" + "x" * 4 + "P" + "x" * 6, (5, 7)),
    ("P" + "x" * 5 + "P" + "x" * 5, (6, 6)),
    ("P" + "x" * 4 + "P" + "x" * 4 + "P" + "x" * 4, (5, 5, 5)),  # two sheets would part a phase
    ("P" + "x" * 17, (9, 9)),
    ("P" + "x" * 18, (7, 6, 6)),
]  # fmt: skip


@pytest.mark.parametrize(("steps", "sizes"), SPLITS)
def test_more_than_nine_are_split_at_a_phase(steps: str, sizes: tuple[int, ...]) -> None:
    assert split_at_phases(tuple(mark == "P" for mark in steps)) == sizes


@pytest.mark.parametrize("count", [*range(5, 40), 200])
def test_every_number_of_steps_has_sheets_of_five_to_nine(count: int) -> None:
    sizes = split_at_phases((False,) * count)
    assert sum(sizes) == count
    assert all(5 <= size <= 9 for size in sizes)


def test_a_step_gives_its_own_reason_first_then_the_hold_then_the_caution(sites: Mapping[str, Site]) -> None:
    spray = next(s for v in sites["fourth"].views if v.key == "SOP-04-K" for s in v.steps if s.id == "spray")
    assert reason_of(spray) == spray.reason != ""
    bare = replace(spray, reason="", hold=False)
    assert reason_of(bare) == spray.cautions[0].consequence != ""
    assert reason_of(replace(bare, hold=True)) == HOLD
    plain = replace(bare, cautions=(), wait=None, critical=False, easily_missed=False)
    assert reason_of(plain) == ""
    assert not is_important(plain)


def test_a_short_list_is_filled_with_steps_that_say_why(tmp_path: Path) -> None:
    views, told = built(tmp_path, REASONED)
    chosen = [step.id for step in important_steps(views[0])]
    # by hand: the rinse has an amount and a sight, the brushing a choice; the carrying has nothing of the kind
    assert chosen == ["unplug", "ways", "spray", "rinse", "residue"]
    assert not [line for line in told if "breakdown sheet" in line]


def test_too_few_reasons_are_told(tmp_path: Path) -> None:
    _, told = built(tmp_path, TEXT)
    found = [line for line in told if line.endswith("[T-02]")]
    number = 1 + TEXT.splitlines().index("steps:")
    assert found == [
        f"procedures/{OWN_PAGE.name}:{number}: steps: only 3 of 8 steps can stand on the breakdown sheet. 5 at least, or "
        "every step of a shorter page. Add reason: to the steps that matter most. [T-02]"
    ]


def test_a_step_without_a_reason_is_told_with_its_line(tmp_path: Path) -> None:
    text = REASONED.replace("    action: train\n", "    action: train\n    easily_missed: yes\n")
    _, told = built(tmp_path, text)
    found = [line for line in told if line.endswith("[T-01]")]
    number = 1 + text.splitlines().index("  - id: again")
    assert found == [
        f"procedures/{OWN_PAGE.name}:{number}: steps[again].id: step again stands on the breakdown sheet without a reason. "
        "A reason of its own, a hold, or a caution before it. Add reason: one short sentence that says what goes wrong "
        "otherwise. [T-01]"
    ]


def test_systems_that_say_the_same_share_a_sheet(sites: Mapping[str, Site]) -> None:
    """Each step, mark, point and reason of each system's own sheets stands on the shared one, figures by system."""
    site, shared_by_two = sites["fourth"], 0
    own = {view.key: breakdown_sheets(view) for view in site.views}
    for sheet in shared_sheets(site.views):
        shared_by_two += len(sheet.pages) == 2
        for page in sheet.pages:
            for told, step in zip(sheet.steps, own[page.key][sheet.number - 1].steps, strict=True):
                assert (told.id, told.number, told.mark) == (step.id, step.number, step.mark)
                assert step.text in told.text
                assert [group.reason for group in told.groups] == [group.reason for group in step.groups]
                for group, alone in zip(told.groups, step.groups, strict=True):
                    said = {*group.points, *(p.removeprefix(f"{page.system}: ") for p in group.points)}
                    assert said >= set(alone.points)
    assert shared_by_two > 10
    both = {(s.page.document, s.number): s for s in shared_sheets(site.views) if len(s.pages) == 2}
    dose = next(s for s in both["SOP-08", 2].steps + both["SOP-08", 1].steps if s.id == "add_part-part_1")
    points = [point for group in dose.groups for point in group.points]
    for system in "KM":
        amount = site.register.get("dose_full", system=system, part="part_1")
        assert any(p.startswith((f"{system}: ", "Full")) and amount.printed in p for p in points), points


def sheets_of(site: Site) -> dict[str, BreakdownView]:
    return {sheet.key: sheet for view in site.views for sheet in breakdown_sheets(view)}


def printed_of(site: Site, sheet: BreakdownView) -> list[StepView]:
    """The steps of the page behind a sheet, without what no sheet prints."""
    wanted = {step.id for step in sheet.steps}
    view = next(view for view in site.views if view.key == sheet.page.key)
    return [replace(step, tools=(), where="", minutes=0.0, doer="", safe_to_leave=None, amounts=tuple(
        replace(amount, anchor="") for amount in step.amounts)) for step in view.steps if step.id in wanted]  # fmt: skip


def test_a_changed_amount_changes_the_sheets_that_print_it_and_no_other(
    sites: Mapping[str, Site], tmp_path: Path
) -> None:
    before = sites["fifth"]
    after = made_site(
        made_house(tmp_path, ('coverage: "500 mL/m^2"', 'coverage: "700 mL/m^2"'), name="fifth")
    )
    old, new = sheets_of(before), sheets_of(after)
    assert old.keys() == new.keys()
    changed = {key for key in old if old[key].steps != new[key].steps}
    expected = {key for key in old if printed_of(before, old[key]) != printed_of(after, new[key])}
    assert changed == expected
    assert {key.rpartition("-")[0] for key in changed} >= {"SOP-03-K", "SOP-04-K"}, (
        "batch and spraying of the trays"
    )
    assert not {key for key in changed if key.startswith(("SOP-01", "SOP-05", "SOP-10", "SOP-18", "SOP-20"))}

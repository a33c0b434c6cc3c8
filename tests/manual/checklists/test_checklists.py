"""Checklists: which steps stand on one, how they are cut into blocks, in which order, and what the doer answers."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise

import pytest

from macros.house import load_house
from macros.manual.checklists.check_rendered import checklist_mistakes
from macros.manual.checklists.checklists import (
    cut_into_blocks,
    must_not_be_missed,
    procedure_checklist,
    severity,
)
from macros.manual.pages.bench_sheet import bench_part, checklist_part
from macros.manual.pages.printed_lines import page_lines, printed_lines
from macros.manual.pages.values_code import lines_code
from macros.manual.procedures.file_format import ProcedureData
from macros.manual.requirements.rules.checklists import MOST_WORDS, says_nothing
from macros.page_model.checklist import ChecklistView
from macros.page_model.page import PageView, StepView
from macros.site.site import Site
from tests.making import HOUSES, manual_of

ALL_HOUSES = ("first", "second", "third", "fourth", "fifth")


def page_of(name: str, document: str) -> PageView:
    return next(page for page in manual_of(name).views if page.document == document)


# ----------------------------------------------------------------- blocks


@pytest.mark.parametrize("count", range(5, 120))
def test_blocks_hold_five_to_nine_items(count: int) -> None:
    """Source: Gawande and others, A Checklist for Checklists: fewer than ten items; five at least is ours."""
    sizes = cut_into_blocks([("page", "phase")] * count)
    assert sum(sizes) == count
    assert all(5 <= size <= 9 for size in sizes)
    assert max(sizes) - min(sizes) <= 1


def test_short_lists_are_one_block_and_none_is_none() -> None:
    assert cut_into_blocks([("page", "phase")] * 3) == [3]
    assert cut_into_blocks([]) == []


@pytest.mark.parametrize(
    ("phases", "sizes"),
    [
        ("aaaaaabbbbb", [6, 5]),  # at the phase, though 6 and 5 is also even
        ("aaaaabbbbbbbb", [5, 8]),  # at the phase, though 7 and 6 is more even
        ("aaaaaaaaabbbbbb", [9, 6]),
        ("aaabbbccc", [9]),  # three of three: one block, for three is too few
        ("aaaabbbbbb", [5, 5]),  # four is too few: one phase is parted, and one block mixes two
        ("aaaaabbbbbccccc", [5, 5, 5]),
    ],
)
def test_blocks_follow_the_phases_where_sizes_allow(phases: str, sizes: list[int]) -> None:
    assert cut_into_blocks([("page", phase) for phase in phases]) == sizes


def test_blocks_part_pages_before_phases() -> None:
    """Six items of one page in two phases, then five of another: the cut is between the pages."""
    places = [("one", "a")] * 5 + [("one", "b")] * 2 + [("two", "a")] * 5
    assert cut_into_blocks(places) == [7, 5]


# ----------------------------------------------------------------- items, in every house


@pytest.mark.parametrize("name", ALL_HOUSES)
def test_items_are_the_steps_that_must_not_be_missed(name: str) -> None:
    site = manual_of(name)
    assert site.checklists
    for view in (one for one in site.checklists if not one.one_page):
        pages = [page for page in site.views if page.key in view.pages]
        wanted = [(page.key, step.number) for page in pages for step in must_not_be_missed(page)]
        items = [item for block in view.blocks for item in block.items]
        assert sorted((item.page, item.step) for item in items) == sorted(wanted)
        assert [item.number for item in items] == list(range(1, len(items) + 1))
        for block in view.blocks:
            assert len(block.items) <= 9
            assert len(block.items) >= 5 or len(view.blocks) == 1
            assert re.match(r"(before|after) step \d+", block.trigger)


@pytest.mark.parametrize("name", ALL_HOUSES)
def test_items_are_short_and_answers_tell_a_state_or_a_value(name: str) -> None:
    """Banned answers: Degani and Wiener, NASA CR-177549, guideline 1. Ten words are our own."""
    for view in manual_of(name).checklists:
        for item in (item for block in view.blocks for item in block.items):
            assert len(item.text.split()) <= MOST_WORDS, f"{view.key}: {item.text}"
            assert item.response or item.record, f"{view.key}: {item.text}"
            assert not item.response or not says_nothing(item.response), item.response
            assert item.record is None or (item.record.limits and not says_nothing(item.record.limits))


@pytest.mark.parametrize(
    "answer", ["OK", "Done.", "checked", "All done", "yes", "is set", "complete and correct"]
)
def test_empty_answers_are_known(answer: str) -> None:
    assert says_nothing(answer)


@pytest.mark.parametrize("answer", ["shut", "both plugs hang in sight", "0", "5 to 6", "set to 15", "dry"])
def test_states_and_values_are_answers(answer: str) -> None:
    assert not says_nothing(answer)


def test_the_mode_is_the_page_s_and_the_trigger_fits_it() -> None:
    modes = set()
    for view in (one for one in manual_of("fourth").checklists if not one.one_page):
        modes.add(view.mode)
        for block in view.blocks:
            numbers = [item.step for item in block.items]
            first = view.mode == "read_do"
            assert block.trigger.startswith("before" if first else "after")
            assert f"step {min(numbers) if first else max(numbers)}" in block.trigger or len(view.pages) > 1
    assert modes == {"read_do", "do_confirm"}


def test_a_house_without_sanitizing_has_no_cleanout_checklist() -> None:
    keys = [view.key for view in manual_of("first").checklists]
    assert keys
    assert all(key.startswith("CHECK-SOP-") for key in keys)
    assert {"CHECK-K", "CHECK-M"} <= {view.key for view in manual_of("third").checklists}


# ----------------------------------------------------------------- order


def free_page() -> PageView:
    """A page whose four last items each come after the first and after nothing else."""
    page = page_of("third", "SOP-20")
    plain = replace(page.steps[0], cautions=(), phase="", critical=False, hold=False, easily_missed=True)

    def step(number: int, where: str, after: tuple[str, ...] = (), **flags: bool) -> StepView:
        return replace(plain, id=f"s{number}", number=number, where=where, after=after, **flags)

    steps = (
        replace(step(1, "door"), phase="One"),
        step(2, "sink", ("s1",)),
        step(3, "rack", ("s1",), critical=True),
        step(4, "sink", ("s1",), hold=True),
        step(5, "rack", ("s1",), critical=True, hold=True),
        step(6, "rack", ("s5",), critical=True, hold=True),
    )
    return replace(page, steps=steps, checklist="read_do")


def test_where_order_is_free_the_worst_comes_first_and_nobody_walks_back() -> None:
    house, _ = load_house(HOUSES / "third")
    assert house is not None
    view = procedure_checklist(free_page(), house)
    assert view is not None
    # s1 names nothing it comes after and s6 comes after s5: both keep their place. Rack has the worst item.
    assert [item.step_id for item in view.blocks[0].items] == ["s1", "s5", "s3", "s4", "s2", "s6"]
    by_id = {step.id: step for step in free_page().steps}
    assert [severity(by_id[id_]) for id_ in ("s5", "s3")] == [0, 1]


@pytest.mark.parametrize("name", ["fourth", "fifth"])
def test_where_order_is_fixed_it_is_the_order_of_the_work(name: str) -> None:
    for view in (one for one in manual_of(name).checklists if not one.one_page):
        for block in view.blocks:
            for one, two in pairwise(block.items):
                assert (one.page, one.step) < (two.page, two.step)


# ----------------------------------------------------------------- control, links, the check


def test_asking_for_a_checklist_leaves_the_values_code_alone() -> None:
    page = page_of("third", "SOP-08")
    assert page.checklist == "read_do"
    assert "checklist" in ProcedureData.model_fields
    assert page_lines(replace(page, checklist="")) == page_lines(page)
    free = tuple(replace(step, after=("x",)) for step in page.steps)
    assert page_lines(replace(page, steps=free)) == page_lines(page)
    other = tuple(replace(step, short=step.short + "!") for step in page.steps)
    assert page_lines(replace(page, steps=other)) != page_lines(page)


def test_a_checklist_has_a_code_of_its_own_that_follows_its_text() -> None:
    view = next(one for one in manual_of("third").checklists if one.key == "CHECK-SOP-08-K")
    assert view.control.values_code == _code(view)
    assert _code(replace(view, worked_to=("SOP-08-K rev 9",))) == _code(view)
    assert _code(replace(view, mode="do_confirm")) != _code(view)


@pytest.mark.quick
@pytest.mark.parametrize("name", ["fourth", "fifth"])
def test_page_and_home_lead_to_the_checklist(name: str) -> None:
    site = manual_of(name)
    for view in site.checklists:
        assert view.address in site.files
        assert f'href="{view.address}"' in site.pages["index.md"]
        for page in (page for page in site.views if page.key in view.pages):
            assert f'href="../{view.address}"' in site.pages[page.page_address.replace(".html", ".md")]


def lists_of(site: Site) -> tuple[dict[str, str], list[ChecklistView], list[PageView]]:
    return dict(site.files), site.checklists, site.views


def test_the_check_finds_a_missing_a_strange_and_a_double_item() -> None:
    files, checklists, views = lists_of(manual_of("third"))
    assert checklist_mistakes(files, checklists, views) == []
    address = "sheets/check-sop-08-k.html"
    whole = files[address]
    first = re.search(r'<tr class="item" data-item="([^"]+)".*?</tr>', whole)
    assert first is not None
    for changed, told in (
        (whole.replace(first.group(0), ""), f"the step {first.group(1)} is missing"),
        (whole.replace(first.group(0), first.group(0) * 2), f"{first.group(1)} stands there twice"),
        (
            whole.replace(first.group(1), "SOP-08-K/dance"),
            "SOP-08-K/dance is no step that must not be missed",
        ),
    ):
        found = [str(one) for one in checklist_mistakes({**files, address: changed}, checklists, views)]
        assert any(told in line for line in found), found
    fewer = [view for view in checklists if view.address != address]
    assert [
        "SOP-08-K stands on no checklist" in str(one) for one in checklist_mistakes(files, fewer, views)
    ] == [True]


def test_no_sheet_holds_a_script_of_its_own() -> None:
    site = manual_of("fourth")
    for address, text in site.files.items():
        if address.endswith(".html"):
            assert re.search(r"\son[a-z]+=", text) is None, address
            assert re.findall(r"<script[^>]*>", text) == ['<script src="../assets/paper.js" defer>'], address


def test_large_print_is_the_same_sheet_and_may_take_more_pages() -> None:
    page = replace(page_of("third", "SOP-08"), one_page=True)
    small, large = bench_part(page), bench_part(page, large=True)
    assert small.one_page
    assert not large.one_page
    assert str(large.html).replace(" large", "", 1).replace('one-page="0"', 'one-page="1"') == str(small.html)
    assert large.top_left.endswith(("large print", "DRAFT"))
    view = next(one for one in manual_of("third").checklists if not one.one_page)
    assert 'class="sheet check large"' in checklist_part(view, large=True).html


def _code(view: ChecklistView) -> str:
    return lines_code(printed_lines(view), {})

"""What must come before what, on the sheets people hold in hand."""

from __future__ import annotations

from pathlib import Path

from tests.making import made_house, made_register, manual_of


def test_a_tray_is_counted_before_the_next_one_is_touched() -> None:
    view = next(view for view in manual_of("fourth").views if view.key == "SOP-13-M")
    ids = [step.id for step in view.steps]
    assert ids.index("count-M-1") < ids.index("map-M-2")


def test_harvest_is_checked_by_name_before_it_is_cut() -> None:
    view = next(view for view in manual_of("fourth").checklists if view.key == "CHECK-SOP-18")
    assert view.mode == "read_do"
    says = [item.text for block in view.blocks for item in block.items]
    named, cut = (
        next(n for n, text in enumerate(says) if word in text) for word in ("Compare leaf", "cut only")
    )
    assert named < cut


def test_the_solution_change_lists_draining_and_filling() -> None:
    view = next(view for view in manual_of("fourth").checklists if view.key == "CHECK-SOP-08-K")
    says = " ".join(item.text for block in view.blocks for item in block.items)
    for words in (
        "Open the drain valve.",
        "Shut the drain valve.",
        "Fill to the first mark",
        "Fill to the fill mark.",
    ):
        assert words in says


def test_leaves_have_a_use_by_of_their_own(tmp_path: Path) -> None:
    """Part of a day is left out: 4.5 days are 4."""
    folder = made_house(
        tmp_path,
        ("policies: {", 'policies: {flower_shelf_life: "3 day", leaf_shelf_life: "4.5 day", '),
        name="fourth",
    )
    register = made_register(folder)
    assert register.get("use_by").printed == "3 days"
    assert register.get("use_by_leaves").printed == "4 days"

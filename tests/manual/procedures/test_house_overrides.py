"""A house's own pages: they replace and add, but keep critical steps and limits unless they say why."""

from __future__ import annotations

from pathlib import Path

import pytest

from macros.ground.problems import DataProblems
from macros.manual.procedures.house_overrides import with_own_pages
from macros.site.site import Site
from tests.making import OWN_PAGE, made_house, made_site

TEXT = OWN_PAGE.read_text(encoding="utf-8")
RINSE = TEXT[TEXT.index("  - id: rinse\n") : TEXT.index("  - id: residue\n")]
UNPLUG = TEXT[TEXT.index("  - id: unplug\n") : TEXT.index("  - id: bring\n")]


def overlaid(folder: Path, own: str, name: str = OWN_PAGE.name) -> Site:
    """The manual of a house whose shipped pages are SOP-90 and which carries `own`."""
    shipped = folder / "shipped"
    shipped.mkdir()
    (shipped / OWN_PAGE.name).write_text(TEXT, encoding="utf-8")
    house = made_house(folder, name="third")
    (house / "procedures").mkdir()
    (house / "procedures" / name).write_text(own, encoding="utf-8")
    return made_site(house, shipped)


def refused(folder: Path, own: str) -> list[str]:
    with pytest.raises(DataProblems) as found:
        overlaid(folder, own)
    return [str(problem) for problem in found.value.problems]


def test_a_new_id_adds_a_page(tmp_path: Path) -> None:
    site = overlaid(tmp_path, TEXT.replace("id: SOP-90", "id: SOP-91"), "own.md")
    assert {view.document for view in site.views} == {"SOP-90", "SOP-91"}


def test_the_same_id_replaces_the_page(tmp_path: Path) -> None:
    site = overlaid(tmp_path, TEXT.replace("title: Clean the demonstration tray", "title: Our own way"))
    assert {view.title for view in site.views} == {"Our own way"}


def test_an_ordinary_step_may_go(tmp_path: Path) -> None:
    site = overlaid(tmp_path, TEXT.replace(RINSE, ""))
    assert all(step.id != "rinse" for view in site.views for step in view.steps)


def test_a_critical_step_may_not_go_in_silence(tmp_path: Path) -> None:
    own = TEXT.replace(UNPLUG, "").replace("    after: [unplug]\n", "")
    lines = refused(tmp_path, own)
    assert any(
        line.startswith("house/procedures/sop-90-clean-the-tub.md:17: steps: the step unplug of procedures/sop-90-clean-the-tub.md is critical and is left out.")
        for line in lines
    ), lines  # fmt: skip


def test_a_dropped_step_is_printed_with_its_reason(tmp_path: Path) -> None:
    own = TEXT.replace(UNPLUG, "").replace("    after: [unplug]\n", "")
    own = own.replace("starts_from: {pump: [in, out]", "starts_from: {pump: out")
    own = own.replace(
        "see_also: []", 'see_also: []\ndrops: [{step: unplug, reason: "This rack has no pump."}]'
    )
    site = overlaid(tmp_path, own)
    assert all(
        "unplug: This rack has no pump." in text
        for address, text in site.pages.items()
        if address.startswith("p/")
    )


def test_a_limit_may_not_change(tmp_path: Path) -> None:
    own = TEXT.replace("residue_allowed') }} at most", "residue_allowed') }} or twice that")
    lines = refused(tmp_path, own)
    assert any(
        "A page may not change a limit; limits come from the facts of the house." in line for line in lines
    )


def test_dropping_what_is_not_there_is_refused(tmp_path: Path) -> None:
    own = TEXT.replace("see_also: []", 'see_also: []\ndrops: [{step: polish, reason: "We never polish."}]')
    lines = refused(tmp_path, own)
    assert any(
        "polish is not a step this page leaves out or weakens. Steps of procedures/" in line for line in lines
    )


def step(id_: str) -> str:
    """A step of the page as it stands in the file."""
    return "  - id: " + TEXT[TEXT.index(f"  - id: {id_}\n") + 8 :].split("  - id: ")[0]


@pytest.mark.parametrize(
    ("id_", "old", "new", "told"),
    [
        ("unplug", "    critical: yes\n", "", "critical: the step unplug of {shipped} is critical, and here it is not marked critical: yes."),
        ("unplug", "    hold: yes\n", "", "hold: the step unplug of {shipped} is critical, and here it is not marked hold: yes."),
        ("unplug", "    hold: yes\n", '    hold: yes\n    only_with: "fact:no.such.thing"\n',
         "only_with: the step unplug of {shipped} is critical, and only_with is fact:no.such.thing instead of not given."),
        ("unplug", 'do: "Unplug the pump."\n    action: unplug', 'do: "Look at the tools."\n    action: carry',
         "action: the step unplug of {shipped} is critical, and action is carry instead of unplug."),
        ("spray", "    amount: {id: batch_spray, task: tray_spray}\n", "",
         "amount: the step spray of {shipped} is critical, and it does not tell batch_spray."),
        ("spray", '    handles: [{chemical: sanitizer, at: "made:tray_spray"}]\n', "",
         "handles: the step spray of {shipped} is critical, and it does not handle sanitizer."),
    ],
)  # fmt: skip
def test_a_critical_step_may_not_be_weakened_in_silence(
    tmp_path: Path, id_: str, old: str, new: str, told: str
) -> None:
    own = TEXT.replace(step(id_), step(id_).replace(old, new))
    assert own != TEXT
    _, problems = with_own_pages(*folders(tmp_path, own))
    (line,) = [str(problem) for problem in problems]
    said = told.format(shipped="procedures/sop-90-clean-the-tub.md")
    assert (
        f": steps[{id_}].{said} A page that replaces another keeps what its critical steps and holds do"
        in line
    )
    reason = "drops: [{step: " + id_ + ', reason: "Here it is done by the electrician."}]'
    own = own.replace("see_also: []", f"see_also: []\n{reason}")
    (tmp_path / "house" / "procedures" / OWN_PAGE.name).write_text(own, encoding="utf-8")
    assert with_own_pages(tmp_path / "shipped", tmp_path / "house" / "procedures")[1] == []


def test_a_critical_step_may_be_worded_anew_and_marked_more_strongly(tmp_path: Path) -> None:
    own = TEXT.replace('do: "Unplug the pump."', 'do: "Unplug the black pump at the wall."')
    own = own.replace(
        "    minutes: 4\n    critical: yes\n", "    minutes: 5\n    critical: yes\n    hold: yes\n"
    )
    assert own.count("hold: yes") > TEXT.count("hold: yes")
    assert with_own_pages(*folders(tmp_path, own))[1] == []


def folders(folder: Path, own: str) -> tuple[Path, Path]:
    """A folder of shipped pages and one of a house that replaces its page."""
    for name, text in (("shipped", TEXT), ("house/procedures", own)):
        (folder / name).mkdir(parents=True)
        (folder / name / OWN_PAGE.name).write_text(text, encoding="utf-8")
    return folder / "shipped", folder / "house" / "procedures"

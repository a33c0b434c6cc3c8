"""Mistakes in a procedure file: each told with the file and line of the page, all in one run."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from macros.ground.problems import DataProblems
from tests.making import HOUSES, PROCEDURES, made_site

PAGE = "sop-08-reservoir-change.md"


def told(folder: Path, *changes: tuple[str, str], page: str = PAGE) -> list[str]:
    procedures = folder / "procedures"
    shutil.copytree(PROCEDURES, procedures)
    file = procedures / page
    text = file.read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new, 1)
    file.write_text(text, encoding="utf-8")
    with pytest.raises(DataProblems) as refused:
        made_site(HOUSES / "third", procedures)
    return [str(problem) for problem in refused.value.problems]


def line_of(text: str) -> int:
    lines = (PROCEDURES / PAGE).read_text(encoding="utf-8").splitlines()
    return next(number for number, line in enumerate(lines, start=1) if text in line)


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("section: Tank and feed", "section: Tanks", 'section: "Tanks" is no section. Allowed: Room and people, Chemicals,'),
        ("who: 3", "who: 7", 'who: "7" is not one of the words for this. Allowed: 0, 1, 2, 3 or 4. Choose one.'),
        ("    action: unplug", "    action: unplugg", 'steps[unplug].action: "unplugg" is no action of actions.yml. Allowed: '),
        ("  - id: drain\n", "  - id: unplug\n", "steps[unplug].id: two steps are named unplug. Rename one. [E32]"),
        ("    critical: yes", "    critcal: yes", "steps[unplug].critcal: critcal is not a known field. Did you mean steps[unplug].critical? [E31]"),
        ('    do: "Unplug the pump', '    do: "The pump', 'steps[unplug].do: the step begins with "The". A step of the action unplug begins with one of: Unplug, Pull.'),
        ("    amount: {id: fill_first,", "    amount: {id: fill_furst,", 'steps[fill_first].amount[fill_furst].id: "fill_furst" is no amount of checked_by.yml. Allowed: '),
        ("    amount: {id: fill_first,", "    amount: {id: stock_for_batch,", 'steps[fill_first].amount: amount("stock_for_batch", system=K) fits several: stock_for_batch['),
        ("see_also: [SOP-09,", "see_also: [SOP-99,", 'see_also[0]: "SOP-99" is no procedure. Allowed: SOP-01,'),
        ("references: [davies", "references: [davis", 'references[0]: "davis-closed-carbonate" is no source of sources.yml.'),
        ("{{ place('eyewash') }}", "{{ place('eyewosh') }}", 'if_wrong[5].act: "eyewosh" is no place of emergency things. Allowed: '),
        ("{{ meter('ph') }} and", "{{ meter('p') }} and", 'before[1].say: "p" is no meter. Allowed: ph, ec. Did you mean ph? [E31]'),
    ],
)  # fmt: skip
def test_mistake_in_a_page(tmp_path: Path, old: str, new: str, message: str) -> None:
    lines = told(tmp_path, (old, new))
    place = f"procedures/{PAGE}:{line_of(old.strip().splitlines()[0])}: "
    assert any(line.startswith(place + message) for line in lines), lines


def test_no_front_matter(tmp_path: Path) -> None:
    lines = told(tmp_path, ("---\nid: SOP-08", "id: SOP-08"))
    assert lines == [
        f"procedures/{PAGE}:1: page: the page has no front matter between two lines of ---. A procedure says its id, section "
        "and steps there. Copy the front matter of another procedure."
    ]


def test_several_mistakes_are_told_in_one_run(tmp_path: Path) -> None:
    lines = told(
        tmp_path,
        ("section: Tank and feed", "section: Tanks"),
        ("    action: unplug", "    action: pull_plug"),
    )
    assert len(lines) == 2


def test_two_pages_with_one_id(tmp_path: Path) -> None:
    lines = told(tmp_path, ("id: SOP-06", "id: SOP-08"), page="sop-06-loop.md")
    assert any(
        "id: SOP-08 is also the id of procedures/sop-06-loop.md. Give one of them another id. [E32]" in x
        for x in lines
    )


ALCOHOL = (
    '  - {id: alcohol, name: "rubbing alcohol", role: sanitizer, active: "isopropanol", strength: "70 % w/w", density: "0.85 g/mL", '
    'container: "1 L", containers_in_stock: 1}\n'
)


def test_a_substance_without_a_caution_may_not_be_handled(tmp_path: Path) -> None:
    """Alcohol is known to the pair rules, but the catalogue holds no wording for it."""
    text = (HOUSES / "third" / "site_data" / "house.yml").read_text(encoding="utf-8")
    house = tmp_path / "house" / "site_data"
    house.mkdir(parents=True)
    (house / "house.yml").write_text(
        text.replace("chemicals:\n", f"chemicals:\n{ALCOHOL}", 1), encoding="utf-8"
    )
    with pytest.raises(DataProblems) as refused:
        made_site(house.parent)
    assert "rubbing alcohol has no caution in the catalogue, so no page may handle it" in str(refused.value)

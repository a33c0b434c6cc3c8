"""What readers found in the pages of version 1.0.0 is told by rule, file and line."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path

import pytest
import yaml

from macros.amounts import Register
from macros.manual.pages.build_page import BuiltPage, build_pages
from macros.manual.procedures.load_files import load_procedures
from macros.manual.procedures.write_text import TextWriter
from macros.published.labour.effects import Does, RoomWords
from macros.rehearsal.model.equipment import equipment
from macros.rehearsal.model.steps import over, steps_of
from macros.rehearsal.pages import Rehearsal, problems_of, rehearsal
from macros.rehearsal.whole_page import conditions, proved
from tests.making import HOUSES, PROCEDURES, made_register

FOLDER = Path(__file__).parent / "version_1"
SAID = yaml.load((FOLDER.parent / "version_1.yml").read_text(encoding="utf-8"), yaml.BaseLoader)
RINSE_OF_VERSION_1 = 16.0
"""[L] More than the pump minimum and the tubes of the house below, which was all that version 1 asked of a rinse."""


@pytest.fixture(scope="module")
def house(tmp_path_factory: pytest.TempPathFactory) -> Register:
    folder = tmp_path_factory.mktemp("v1") / "house"
    shutil.copytree(HOUSES / "fourth", folder)
    file = folder / "site_data" / "house.yml"
    text = file.read_text(encoding="utf-8").replace('inside_height: "0.40 m"', 'inside_height: "0.34 m"')
    file.write_text(text, encoding="utf-8")
    return made_register(folder)


@pytest.fixture(scope="module")
def pages(house: Register) -> dict[str, BuiltPage]:
    of_now, of_version_1 = (
        load_procedures(PROCEDURES)[0],
        {file.id: file for file in load_procedures(FOLDER)[0]},
    )
    built, _ = build_pages([of_version_1.get(file.id, file) for file in of_now], house, TextWriter())
    return {page.content.document: page for page in built if page.content.system in ("", "K")}


def run_version_1(page: BuiltPage, house: Register) -> tuple[Rehearsal, RoomWords | None, RoomWords | None]:
    """The page with what its sentences say as data; its spray batch is that of version 1, for wetting once."""
    said, of = SAID[page.content.document], equipment(house, "K")
    assert of is not None
    batches = {**of.batches}
    batches["tray_spray"] = replace(batches["tray_spray"], litres=batches["tray_spray"].one_wetting)
    of = replace(of, levels={**of.levels, "rinse_of_version_1": RINSE_OF_VERSION_1}, batches=batches)
    does = {name: _does(one) for name, one in said.get("does", {}).items()}
    steps = [
        replace(step, does=over(step.does, does.get(step.written))) for step in steps_of(page, house, "K")
    ]
    begins, ends = _room(said, "starts_from"), _room(said, "ends_in")
    found = rehearsal(page.content.document, steps, of, begins, ends)
    return replace(found, findings=(*found.findings, *proved(steps, of))), begins, ends


def _room(said: dict[str, dict[str, str]], field: str) -> RoomWords | None:
    return RoomWords.model_validate(said[field]) if field in said else None


def _does(said: dict[str, object]) -> Does:
    """What a sentence says; a rinse of version 1 goes to a line that no house has any more."""
    does = Does.model_validate({word: value for word, value in said.items() if value != "rinse_of_version_1"})
    return (
        does.model_copy(update={"fill": "rinse_of_version_1"})
        if said.get("fill") == "rinse_of_version_1"
        else does
    )


TOLD = [
    (document, one["step"], one["rule"], one["found"])
    for document, said in SAID.items()
    for one in said["told"]
]


@pytest.mark.parametrize(("document", "step", "rule", "found"), TOLD, ids=lambda one: str(one)[:40])
def test_what_readers_found_is_told(
    document: str, step: str, rule: str, found: str, house: Register, pages: dict[str, BuiltPage]
) -> None:
    run, begins, ends = run_version_1(pages[document], house)
    line = next(
        i
        for i, text in enumerate(_file(document).read_text(encoding="utf-8").splitlines(), 1)
        if text == f"  - id: {step}"
    )
    problems = [
        one
        for one in problems_of(run, house, begins, ends)
        if one.code == rule and one.place.line in range(line, line + 4)
    ]
    assert problems, f"{found}: nothing of {rule} at {document} {step}"
    assert problems[0].place.file == f"procedures/{_file(document).name}"


def _file(document: str) -> Path:
    return next(FOLDER.glob(f"{document.lower()}-*.md"))


def test_conditions_that_nobody_brings_about_are_told(pages: dict[str, BuiltPage]) -> None:
    told = [str(one) for one in conditions(pages["SOP-06"], list(pages))]
    assert any(
        'nobody brings about "The old solution is out, the tank wiped and the pump opened' in one
        for one in told
    )

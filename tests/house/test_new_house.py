"""A new house: it builds at once, every fact is explained, every switched-off fact may be switched on."""

from __future__ import annotations

import errno
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any, get_args

import pytest
from pydantic import BaseModel

from macros.doors.cli import commands
from macros.ground.problems import errors_in
from macros.ground.record_shape import field_names
from macros.ground.version import VERSION
from macros.ground.yaml_spans import spans_of
from macros.house import load_house
from macros.house.files import new_house as starting
from macros.house.files.new_house import NotStarted, start_house
from macros.house.files.new_since import not_given
from macros.house.files.starter_explanations import explanations, newer_facts, starter_facts, switched_on
from macros.house.records.house import House
from macros.site.site import Site
from tests.making import bytes_below, made_house, made_site
from tests.photographs.pictures import picture, saved
from tests.starting import (
    OPTIONAL,
    data_of,
    facts_with,
    needed,
    switched_off_blocks,
    without_what_may_be_left_out,
    written,
)

BLOCKS = switched_off_blocks()
UNITS = {"metric": False, "us": True}


@pytest.fixture(scope="module")
def sites(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Site]:
    """The manual of a new house in each kind of units."""
    folder = tmp_path_factory.mktemp("new")
    return {name: made_site(start_house(folder / name, us)) for name, us in UNITS.items()}


def _records_in(annotation: Any) -> list[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return [annotation]
    return [record for part in get_args(annotation) for record in _records_in(part)]


def records_below(model: type[BaseModel]) -> Iterator[type[BaseModel]]:
    """`model` and every record type its fields lead to, each once, in the order of the fields."""
    seen: dict[type[BaseModel], None] = {}
    waiting = [model]
    while waiting:
        one = waiting.pop(0)
        if one in seen:
            continue
        seen[one] = None
        yield one
        for info in one.model_fields.values():
            waiting += _records_in(info.annotation)


@pytest.mark.parametrize("record", list(records_below(House)), ids=lambda record: record.__name__)
def test_every_field_is_explained_where_it_stands(record: type) -> None:
    said = explanations()
    missing = [field for field in field_names(record) if (record.__name__, field) not in said]
    assert missing == [], f"explain {missing} of {record.__name__} in macros/starter/site_data"


def test_an_explanation_is_a_sentence() -> None:
    for fact, words in explanations().items():
        assert re.fullmatch(r"[^ ].{6,400}[.?!]", words), (fact, words)
        assert "<" not in words, (fact, words)


@pytest.mark.parametrize("units", UNITS)
def test_a_new_house_has_nothing_but_what_is_to_measure_or_fill_in(
    sites: dict[str, Site], units: str
) -> None:
    kinds = {problem.severity for problem in sites[units].warnings}
    assert kinds == {"measure this", "fill this in"}
    assert "SOP-08-A" in {view.key for view in sites[units].views}


@pytest.mark.parametrize("units", UNITS)
def test_every_sheet_of_a_new_house_is_a_draft_that_says_why(sites: dict[str, Site], units: str) -> None:
    for view in sites[units].views:
        reasons = " ".join(view.control.draft_reasons)
        for name in ("ambulance fire", "eyewash", "label reference"):
            assert name in reasons, view.key


def test_the_two_kinds_of_house_differ_in_units_alone(sites: dict[str, Site]) -> None:
    metric, us = (sites[name].register.house for name in UNITS)
    assert (metric.us, us.us) == (False, True)
    assert (metric.systems[0].reservoir.inside_length.unit, us.systems[0].reservoir.inside_length.unit) == (
        "m",
        "in",
    )
    assert [view.key for view in sites["metric"].views] == [view.key for view in sites["us"].views]
    # An inch is 25.4 mm, a US gallon 3.785 L (NIST Handbook 44, appendix C): the examples are of one size.
    metric_tank, us_tank = (house.systems[0].reservoir for house in (metric, us))
    for field in ("inside_length", "inside_width", "inside_height", "fill_mark_height"):
        assert getattr(us_tank, field).to("m") == pytest.approx(getattr(metric_tank, field).to("m"), rel=0.05)


@pytest.mark.quick
@pytest.mark.parametrize("us", UNITS.values(), ids=UNITS)
def test_no_mark_of_ours_is_left_in_a_file(us: bool) -> None:
    for name, text in starter_facts(us).items():
        assert re.search(r"<[^<>]* \| [^<>]*>|@VERSION@", text) is None, name
        assert text.isascii(), name


def test_half_of_the_lines_and_no_fact_that_is_switched_off_stand_in_the_files_of_every_house() -> None:
    """The first starter had 1110 lines in its files; most explained what a house may do without."""
    files = starter_facts()
    rest = files.pop(OPTIONAL)
    assert sum(len(text.splitlines()) for text in files.values()) <= 1110 / 2
    for name, text in files.items():
        assert switched_on(text) == text, name
        assert f'{OPTIONAL}, "' in text.splitlines()[0] + text.splitlines()[2], name
    assert data_of(rest) is None
    topics = re.findall(r"^## ([^:]+):", rest, re.MULTILINE)
    assert {match for text in files.values() for match in re.findall(rf'{OPTIONAL}, "([^"]+)"', text)} <= set(
        topics
    )


def test_an_optional_fact_is_copied_in_the_column_it_stands_in() -> None:
    files = starter_facts()
    off = spans_of(switched_on(files.pop(OPTIONAL)))
    shared = [
        (off[path].column, span.column)
        for text in files.values()
        for path, span in spans_of(text).items()
        if path in off and not span.flow
    ]
    assert len(shared) > 20
    assert [one for one in shared if one[0] != one[1]] == []


@pytest.mark.parametrize("key", BLOCKS)
def test_each_switched_off_fact_may_be_switched_on(tmp_path: Path, key: str) -> None:
    house, problems = load_house(written(tmp_path, facts_with(BLOCKS[one] for one in needed(key, BLOCKS))))
    assert errors_in(problems) == []
    assert house is not None


@pytest.mark.parametrize("us", UNITS.values(), ids=UNITS)
def test_all_of_them_together_build(tmp_path: Path, us: bool) -> None:
    assert len(BLOCKS) > 80
    house = written(tmp_path, facts_with(switched_off_blocks(us).values(), us))
    (house / "photos" / "sop-08").mkdir(parents=True)  # its words stand in a block
    (house / "photos" / "sop-08" / "drain.jpg").write_bytes(saved(picture()))
    site = made_site(house)
    assert {problem.severity for problem in site.warnings} == {"warning", "measure this", "fill this in"}
    # The starter cleans with peroxide, and what is published takes chlorine out.
    warned = [problem.key for problem in site.warnings if problem.severity == "warning"]
    assert warned == ["sanitizing.neutralizer.substance"]
    assert site.pictures
    house = site.register.house
    empty = [name for name in House.model_fields if getattr(house, name) in (None, (), {})]
    assert empty == []


def test_what_may_be_left_out_may_be_left_out_all_at_once(tmp_path: Path) -> None:
    files, left_out = without_what_may_be_left_out()
    assert len(left_out) > 15
    assert made_site(written(tmp_path, files)).views


# ------------------------------------------------------------------ the folder


def test_a_folder_with_anything_in_it_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "note.txt").write_text("mine", encoding="utf-8")
    with pytest.raises(NotStarted) as told:
        start_house(tmp_path)
    assert str(told.value) == (
        f"{tmp_path} is not empty. A new house needs an empty folder: name another, or clear this one."
    )
    assert bytes_below(tmp_path) == {"note.txt": b"mine"}


def test_a_file_is_no_folder(tmp_path: Path) -> None:
    file = tmp_path / "house"
    file.write_text("mine", encoding="utf-8")
    with pytest.raises(
        NotStarted, match=r"house is a file. A new house needs a folder of its own: name another.$"
    ):
        start_house(file)


@pytest.mark.parametrize("there", [True, False], ids=["empty folder", "no folder"])
@pytest.mark.parametrize("step", [1, 2])
def test_a_disk_that_refuses_leaves_nothing_half(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, there: bool, step: int
) -> None:
    folder = tmp_path / "house"
    if there:
        folder.mkdir()
    calls = []
    rename = Path.rename

    def refusing(self: Path, target: Path) -> Path:
        calls.append(target)
        if len(calls) == step:
            raise OSError(errno.ENOSPC, "No space left on device")
        return rename(self, target)

    monkeypatch.setattr(Path, "rename", refusing)
    if step == 2 and not there:  # one rename is all it takes
        assert start_house(folder) == folder
        return
    with pytest.raises(NotStarted) as told:
        start_house(folder)
    assert str(told.value) == (
        f"No house was written to {folder}: no space left on device. Look at the disk and its rights."
    )
    assert sorted(tmp_path.rglob("*")) == ([folder] if there else [])


def test_a_full_disk_while_writing_leaves_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(folder: Path, us: bool) -> None:
        (folder / "site_data").mkdir(parents=True)
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(starting, "_write", full)
    with pytest.raises(NotStarted, match="no space left on device"):
        start_house(tmp_path / "deep" / "house")
    assert sorted(tmp_path.rglob("*")) == [tmp_path / "deep"]


def test_an_empty_folder_somebody_stands_in_stays_the_same_folder(tmp_path: Path) -> None:
    before = tmp_path.stat().st_ino
    start_house(tmp_path)
    assert tmp_path.stat().st_ino == before
    assert {path.name for path in tmp_path.iterdir()} == {"README.md", "site_data"}


def test_the_readme_fits_one_screen(tmp_path: Path) -> None:
    text = (start_house(tmp_path / "house") / "README.md").read_text(encoding="utf-8")
    assert len(text.splitlines()) <= 40
    for file in starter_facts():
        assert f"`{file}`" in text, file


# ------------------------------------------------------------------ upgrades


def loaded(folder: Path) -> House:
    house, problems = load_house(folder)
    assert house is not None, problems
    return house


def test_a_house_without_a_version_is_told_of_each_section_it_lacks(tmp_path: Path) -> None:
    lines = not_given(loaded(made_house(tmp_path)))
    told = {line.split(": ")[1] for line in lines[:-1]}
    given = {
        "margins",
        "policies",
        "meters",
        "chemicals",
    }  # the house `first` has these of the optional sections
    optional = {name for name, info in House.model_fields.items() if not info.is_required()}
    later = {name for record, name in newer_facts() if record == "House"} - told  # told from their version on
    assert told & set(House.model_fields) == optional - given - later
    assert "systems[K].trays.film_left" in told  # a single fact of a later version
    assert "not given: inventory: " + explanations()["House", "inventory"] in lines
    assert lines[-1] == f'Looked at them all? Write house.made_with: "{VERSION}" and they are told no more.'


def test_a_new_house_lacks_nothing(sites: dict[str, Site]) -> None:
    assert sites["metric"].register.house.house.made_with == VERSION
    assert not_given(sites["metric"].register.house) == []


def older(folder: Path, made_with: str) -> House:
    return loaded(made_house(folder, ('name: "Test Loft"', f'name: "Test Loft"\n  made_with: "{made_with}"')))


def test_a_fact_newer_than_the_house_is_told_once_with_what_it_adds(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    said = {fact: text.partition(" New in ")[0] for fact, text in explanations().items()}
    said["Trays", "left_in_tray_after_drain"] = "What stays. Leave out: then none. New in 1.2.0."
    said["Reservoir", "water_temperature"] = "Its water. Leave out: then it is not named. New in 1.2.0."
    said["House", "nursery"] = "The shelf. Leave out: then nothing. New in 1.1.0."
    monkeypatch.setattr("macros.house.files.starter_explanations.explanations", lambda: said)
    monkeypatch.setattr("macros.house.files.new_since.explanations", lambda: said)
    monkeypatch.setattr("macros.house.files.new_since.VERSION", "1.2.0")
    line = "not given: systems[K].reservoir.water_temperature: Its water. Leave out: then it is not named. New in 1.2.0."
    end = 'Looked at them all? Write house.made_with: "1.2.0" and they are told no more.'
    assert not_given(older(tmp_path / "a", "1.1.0")) == [line, end]
    said["Trays", "wall_height"] = said["Pump", "derate"] = "Not yet. New in 1.3.0."
    assert not_given(older(tmp_path / "b", "1.0.0")) == [
        "not given: nursery: The shelf. Leave out: then nothing. New in 1.1.0.",
        line,
        end,
    ]
    assert not_given(older(tmp_path / "c", "1.2.0")) == []


def test_a_house_newer_than_the_program_is_told(tmp_path: Path) -> None:
    assert not_given(older(tmp_path, "99.10.0")) == [
        f"This house was made with 99.10.0; this program is {VERSION}. Upgrade the program."
    ]


def test_check_tells_an_older_house_and_touches_no_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    house = made_house(tmp_path)
    before = bytes_below(house)
    commands(["check", "--house", str(house)], standalone_mode=False)
    out = capsys.readouterr().out
    assert (
        "not given: training: How a helper is trained. Leave out: then there is no training section." in out
    )
    assert bytes_below(house) == before

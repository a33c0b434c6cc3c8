"""The door to the files of a house: what cannot be read is told and never counts as none."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from macros.control.changes.baseline import FILE as BASELINE
from macros.control.changes.baseline import read_baseline
from macros.control.documents.issued_copies import FOLDER, Archive
from macros.ground.house_files import MOST_FILES, files_of, read_file, read_json
from macros.house import load_house
from macros.manual.procedures.load_files import load_procedures
from tests.making import made_house

OTHER = "the folder cannot be read (Permission denied). Check its permissions."


@pytest.fixture
def house(tmp_path: Path) -> Path:
    return made_house(tmp_path, name="fifth")


def locked(monkeypatch: pytest.MonkeyPatch, *names: str) -> None:
    """Folders of these names can be listed by nobody; whoever runs the tests may be allowed everything."""
    scandir = os.scandir

    def listed(path: Any) -> Iterator[os.DirEntry[str]]:
        if Path(path).name in names:
            raise PermissionError(13, "Permission denied", str(path))
        return scandir(path)

    monkeypatch.setattr(os, "scandir", listed)


def test_a_log_nobody_may_read_is_an_error(house: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (house / "site_data" / "log").mkdir(exist_ok=True)
    locked(monkeypatch, "log")
    found, problems = load_house(house)
    assert found is None
    assert [str(one) for one in problems if one.severity == "error"] == [f"site_data/log/:1: file: {OTHER}"]


def test_facts_nobody_may_read_are_an_error(house: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    locked(monkeypatch, "site_data")
    assert str(load_house(house)[1][0]) == f"site_data/:1: file: {OTHER}"


def test_issued_copies_nobody_may_read_are_told(house: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (house / FOLDER).mkdir(parents=True)
    locked(monkeypatch, "issued")
    (told,) = Archive(house).problems
    assert (str(told), told.severity) == (f"site_data/issued/:1: file: {OTHER}", "error")


@pytest.mark.parametrize("folder", ["site_data/log", "site_data/issued", "procedures"])
def test_no_folder_of_a_house_is_a_link_out(house: Path, tmp_path: Path, folder: str) -> None:
    outside = tmp_path / "outside"
    outside.mkdir()
    (outside / "secret.md").touch()
    (house / folder).parent.mkdir(exist_ok=True)
    (house / folder).symlink_to(outside)
    found, problems = files_of(house / folder, ".md", folder, house, deep=True)
    assert found == []
    assert [str(one) for one in problems] == [
        f"{folder}/:1: file: this is a link that leads out of the house, to {outside}. A house is read from its own folder "
        "alone. Put the file itself here, or take the link away."
    ]


def test_folders_inside_each_other_end_in_words(tmp_path: Path) -> None:
    deep = tmp_path / "procedures"
    for _ in range(500):
        deep /= "a"
    deep.mkdir(parents=True)
    found, problems = load_procedures(tmp_path / "procedures", "house/procedures", tmp_path)
    assert found == []
    assert [str(one) for one in problems] == [
        f"house/procedures/{'a/' * 10}:1: file: folders lie over 10 deep in each other. Move the pages up, or take them away."
    ]


def test_more_files_than_a_house_has(tmp_path: Path) -> None:
    for number in range(MOST_FILES + 5):
        (tmp_path / f"{number:04}.yml").touch()
    found, problems = files_of(tmp_path, ".yml", "site_data", tmp_path)
    assert len(found) == MOST_FILES
    assert str(problems[0]).startswith("site_data/:1: file: more files end in .yml than a house has.")


def test_hidden_names_are_not_the_house_s(tmp_path: Path) -> None:
    for name in (".a.yml", "b.yml", "c.yaml"):
        (tmp_path / name).touch()
    assert [path.name for path in files_of(tmp_path, ".yml", "x", tmp_path)[0]] == ["b.yml"]
    assert files_of(tmp_path / "none", ".yml", "x", tmp_path) == ([], [])


def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "a.json")
    assert read_json(tmp_path / "a.json", "a.json", tmp_path, 10)[1][0].what.startswith(
        "this is no file (a folder, a pipe"
    )


@pytest.mark.parametrize("content", [b"{", b"\xff", b"[" * 100_000, b"9" * 5000])
def test_a_damaged_file_of_ours_is_a_warning(tmp_path: Path, content: bytes) -> None:
    (tmp_path / "a.json").write_bytes(content)
    found, (told,) = read_json(tmp_path / "a.json", "a.json", tmp_path, 1_000_000)
    assert (found, told.severity) == (None, "warning")


def test_a_baseline_that_leads_out_is_not_read(house: Path, tmp_path: Path) -> None:
    (tmp_path / "outside.json").write_text('{"inputs": {}, "things": {}}')
    (house / BASELINE).parent.mkdir(parents=True, exist_ok=True)
    (house / BASELINE).symlink_to(tmp_path / "outside.json")
    found, (told,) = read_baseline(house)
    assert (found, told.severity) == (None, "error")
    assert f"to {tmp_path / 'outside.json'}" in told.what


@pytest.mark.parametrize("end", ["\x85", "\u2028", "\u2029"])
def test_no_fact_hides_behind_the_end_of_a_comment(house: Path, end: str) -> None:
    file = house / "site_data" / "zz.yml"
    file.write_text(f"# a comment{end}margins: {{reserve_volume: 1 L}}\n", encoding="utf-8")
    found, problems = load_house(house)
    assert found is None
    assert any(
        str(one).startswith(f"site_data/zz.yml:1: file: the text holds U+{ord(end):04X} (")
        for one in problems
    )


def test_text_is_read_with_plain_line_ends(tmp_path: Path) -> None:
    (tmp_path / "a.md").write_bytes(b"\xef\xbb\xbfa\r\nb\rc\n")
    assert read_file(tmp_path / "a.md", "a.md", tmp_path) == ("a\nb\nc\n", [])

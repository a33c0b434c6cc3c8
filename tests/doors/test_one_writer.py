"""Commands that write into a house take turns, write into the file that is read, and tell what happened."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from macros.control.documents.plan_issue import IssueRequest, NotIssued
from macros.doors import cli
from macros.doors import issue as issuing
from macros.ground.disk.safe_write import NotWritten
from macros.house import load_house
from macros.house.files.writing import house_lock
from macros.site.site import Site
from tests.making import ROOT, bytes_below, made_house, manual_of, quiet_environment

ONE = IssueRequest(("SOP-01",), "owner", "first issue")

EARLIER = '{page: SOP-02, revision: 1, effective: 2031-04-01, approved_by: owner, why: "first", values_code: "AAAAAA"}'


@pytest.fixture
def house(tmp_path: Path) -> Path:
    return made_house(tmp_path, name="fifth")


def notes(error: BaseException) -> list[str]:
    return getattr(error, "__notes__", [])


def entries(house: Path) -> list[tuple[str, int]]:
    found, problems = load_house(house)
    assert found is not None, [str(problem) for problem in problems]
    return [(one.page, one.revision) for one in found.issued]


def test_while_another_writes_nothing_is_read_or_written(
    house: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def never(*given: object, **named: object) -> Site:
        raise AssertionError("the house was read before its turn")

    monkeypatch.setattr(issuing, "prepare_site", never)
    before = bytes_below(house)
    with house_lock(house), pytest.raises(NotWritten) as told:
        issuing.issue(house, ONE, None, {})
    assert str(told.value) == (
        f"Another run is writing {house / 'site_data'}. Wait until it ends, then run this again."
    )
    assert notes(told.value) == ["Nothing was issued."]
    assert bytes_below(house) == before


@pytest.mark.parametrize("arguments", [["issue", "SOP-01"], ["changes", "--seen"]])
def test_the_house_is_read_under_the_lock(
    house: Path, arguments: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    class Read(Exception):  # noqa: N818 - ends the command where the house would be read
        pass

    def read(*given: object, **named: object) -> Site:
        with pytest.raises(NotWritten), house_lock(house):
            pass
        raise Read

    monkeypatch.setattr(issuing, "prepare_site", read)
    monkeypatch.setattr(cli, "prepare_site", read)
    with pytest.raises(Read):
        cli.commands([*arguments, "--house", str(house)], standalone_mode=False)
    assert [path.name for path in house.iterdir() if path.name.endswith("-lock")] == []


def test_two_issues_at_once_leave_each_entry_once(house: Path) -> None:
    command = [sys.executable, "-m", "macros", "issue", "SOP-01", "--by", "owner", "--why", "first issue"]
    runs = [
        subprocess.Popen(
            [*command, "--house", str(house)], cwd=ROOT, text=True, env=quiet_environment(),
            stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        )
        for _ in range(2)
    ]  # fmt: skip
    told = [(*run.communicate(), run.returncode) for run in runs]
    (won,) = [out for out, _, status in told if status == 0]
    (lost,) = [error for _, error, status in told if status == 1]
    assert won.startswith("SOP-01: revision 1, effective ")
    at_once = f"Another run is writing {house / 'site_data'}. Wait until it ends, then run this again."
    # Started a moment later, the other finds it issued.
    assert lost.splitlines()[0] == at_once or lost.startswith("SOP-01 prints what revision 1 of ")
    assert lost.endswith("Nothing was issued.\n")
    assert entries(house) == [("SOP-01", 1)]


def test_what_was_issued_before_a_disk_refused_is_told(house: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(issuing, "_prepared", lambda house, day, environment: manual_of("fifth"))

    def full(*given: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(issuing, "keep_baseline", full)
    with pytest.raises(OSError, match="No space left") as told:
        issuing.issue(house, ONE, None, {})
    (note,) = notes(told.value)
    assert note.startswith("What was issued before that stands:\n  SOP-01: revision 1, effective ")
    assert entries(house) == [("SOP-01", 1)]


def test_a_hidden_file_takes_no_entries(house: Path) -> None:
    (house / "site_data" / ".issued.yml").write_text("issued:\n")
    write_one(house)
    assert (house / "site_data" / ".issued.yml").read_text() == "issued:\n"
    assert entries(house) == [("SOP-01", 1)]


def test_entries_go_where_a_link_inside_the_house_leads(house: Path) -> None:
    (house / "records").mkdir()
    (house / "records" / "control.yml").write_text(f"issued:\n  - {EARLIER}\n")
    (house / "site_data" / "control.yml").symlink_to("../records/control.yml")
    write_one(house)
    assert entries(house) == [("SOP-02", 1), ("SOP-01", 1)]
    assert "page: SOP-01" in (house / "records" / "control.yml").read_text()
    assert not (house / "site_data" / "issued.yml").exists()


def write_one(house: Path) -> None:
    """Issue one page as planned from the made house, written into this copy of it as it is read now."""
    site = manual_of("fifth")
    items = [item for item in site.controlled_documents if item.key == "SOP-01"]
    plan = issuing._planned(house, ONE, items, site)
    record, problems = load_house(house)
    assert record is not None, [str(problem) for problem in problems]
    issuing._write(house, plan, record, [])


def test_entries_made_from_an_older_file_are_refused(house: Path) -> None:
    site = manual_of("fifth")
    items = [item for item in site.controlled_documents if item.key == "SOP-01"]
    plan = issuing._planned(house, ONE, items, site)
    record, _ = load_house(house)
    assert record is not None
    theirs = f"issued:\n  - {plan.entries[0]}\n"
    (house / "site_data" / "issued.yml").write_text(theirs)
    with pytest.raises(
        NotIssued, match=r"^site_data/issued\.yml was changed by somebody else in this moment"
    ):
        issuing._write(house, plan, record, [])
    assert (house / "site_data" / "issued.yml").read_text() == theirs


def test_a_folder_without_facts_gets_no_lock(tmp_path: Path) -> None:
    with house_lock(tmp_path):
        assert list(tmp_path.iterdir()) == []

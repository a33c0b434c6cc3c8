"""`trayside issue` on a house folder: what is written, in which order, and what a broken run leaves."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from macros.control.documents.issued_copies import FOLDER, Archive, read_snapshot
from macros.control.documents.plan_issue import IssuePlan, IssueRequest, NotIssued, plan_issue
from macros.doors import issue as issuing
from macros.ground.disk.safe_write import NotWritten
from macros.house import load_house
from macros.site.site import Site
from tests.making import ROOT, bytes_below, made_house, made_site, manual_of, quiet_environment

FIRST = IssueRequest((), "owner", "first issue", every_draft=True)


@pytest.fixture(scope="module")
def site() -> Site:
    return manual_of("fifth")


def plan_of(site: Site, house: Path, *keys: str) -> IssuePlan:
    items = [item for item in site.controlled_documents if item.key in keys]
    return plan_issue(FIRST, items, site.register, Archive(house))


def write(house: Path, plan: IssuePlan) -> None:
    """Write a plan into a house as `issue` does, under the facts it has now."""
    record, _ = load_house(house)
    assert record is not None
    issuing._write(house, plan, record, [])


def test_copies_first_then_entries_and_every_byte_stays(site: Site, tmp_path: Path) -> None:
    house = made_house(tmp_path, name="fifth")
    before = bytes_below(house)
    write(house, plan_of(site, house, "SOP-01", "SOP-08-K"))
    after = bytes_below(house)
    new = {name: data for name, data in after.items() if before.get(name) != data}
    assert set(new) == {f"{FOLDER}/SOP-01-1.json", f"{FOLDER}/SOP-08-K-1.json", "site_data/issued.yml"}
    assert not before.keys() - after.keys()
    found, problems = load_house(house)
    assert problems == []
    assert found is not None
    for entry in found.issued:
        kept, _ = read_snapshot(house / FOLDER / f"{entry.page}-1.json", house)
        assert kept is not None
        assert (kept.code, kept.key) == (entry.values_code, entry.page)
    write(house, plan_of(site, house, "CARD-1"))
    assert (house / "site_data" / "issued.yml").read_bytes().startswith(after["site_data/issued.yml"])


def test_killed_between_copies_and_entries_the_next_run_goes_on(
    site: Site, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    house = made_house(tmp_path, name="fifth")
    plan = plan_of(site, house, "SOP-01", "SOP-08-K")
    write_whole = issuing.write_whole

    def killed(path: Path, data: bytes) -> None:
        if path.suffix == ".yml":
            raise KeyboardInterrupt
        write_whole(path, data)

    with monkeypatch.context() as patch:
        patch.setattr(issuing, "write_whole", killed)
        with pytest.raises(KeyboardInterrupt):
            write(house, plan)
    left = bytes_below(house)
    assert f"{FOLDER}/SOP-01-1.json" in left
    assert "site_data/issued.yml" not in left
    found, _ = load_house(house)
    assert found is not None
    assert found.issued == ()  # nothing counts as issued yet
    write(house, plan)
    whole = made_house(tmp_path / "whole", name="fifth")
    write(whole, plan)
    assert bytes_below(house) == bytes_below(whole)


def test_a_list_in_another_form_is_left_alone_and_the_entries_are_told(site: Site, tmp_path: Path) -> None:
    house = made_house(tmp_path, name="fifth")
    (house / "site_data" / "control.yml").write_text("issued: []\n")
    before = bytes_below(house)
    plan = plan_of(site, house, "SOP-01")
    with pytest.raises(NotIssued) as told:
        write(house, plan)
    assert str(told.value) == (
        "site_data/control.yml:1: issued is written on one line. Write it as a list, one entry a dash on lines of its own below "
        f"issued:, then issue again.\nThe entries would be:\n  - {plan.entries[0]}"
    )
    assert bytes_below(house) == before


def test_somebody_else_wrote_meanwhile(site: Site, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    house = made_house(tmp_path, name="fifth")
    file = house / "site_data" / "issued.yml"
    file.write_text("# mine\n")
    write_whole = issuing.write_whole

    def beside(path: Path, data: bytes) -> None:
        file.write_text("issued:\n# theirs\n")
        write_whole(path, data)

    monkeypatch.setattr(issuing, "write_whole", beside)
    with pytest.raises(NotIssued, match=r"site_data/issued\.yml was changed by somebody else in this moment"):
        write(house, plan_of(site, house, "SOP-01"))
    assert file.read_text() == "issued:\n# theirs\n"


@pytest.mark.parametrize("linked", ["issued", "issued.yml"])
def test_nothing_is_written_where_a_link_leads_out(site: Site, tmp_path: Path, linked: str) -> None:
    """`issued.yml` turned into a link after the house was read; one that was there before is refused by the reading."""
    house = made_house(tmp_path, name="fifth")
    outside = tmp_path / "outside"
    outside.mkdir()
    (outside / "issued.yml").write_text("issued:\n")
    target = outside if linked == "issued" else outside / "issued.yml"
    plan, before = plan_of(site, house, "SOP-01"), bytes_below(outside)
    (house / "site_data" / linked).symlink_to(target)
    with pytest.raises(NotWritten, match="is outside the house folder, where a link leads"):
        issuing._write(house, plan, site.register.house, [])
    assert bytes_below(outside) == before


def trayside(*arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "macros", *arguments],
        capture_output=True,
        text=True,
        check=False,
        env={**quiet_environment(), "PYTHONHASHSEED": "7", "TZ": "Pacific/Auckland"},
        cwd=ROOT,
    )


def test_the_command_issues_all_and_then_finds_nothing_to_issue(site: Site, tmp_path: Path) -> None:
    """Also D-04: in another process, time zone and order of hashes the codes are the same."""
    house = made_house(tmp_path, name="fifth")
    done = trayside("issue", "--all", "--by", "owner", "--why", "first issue", "--house", str(house))
    assert (done.returncode, done.stderr) == (0, "")
    again = made_site(house)
    assert done.stdout.splitlines() == [
        f"{item.key}: revision 1, effective 2031-05-01, values code {item.control.values_code}."
        for item in again.controlled_documents
    ]
    moved = [new.key for old, new in zip(site.controlled_documents, again.controlled_documents, strict=True) if old.control.values_code != new.control.values_code]  # fmt: skip
    assert moved
    assert all(
        key.startswith("CARD-10") for key in moved
    )  # the card of sign-offs prints the revisions of the pages
    assert [item.key for item in again.controlled_documents if item.control.draft_reasons] == []
    assert json.loads((house / FOLDER / "SOP-08-K-1.json").read_text())["title"] == "Solution change"
    before = bytes_below(house)
    refused = trayside("issue", "SOP-01", "--by", "owner", "--why", "x", "--house", str(house))
    assert refused.returncode == 1
    assert refused.stderr == (
        "SOP-01 prints what revision 1 of 2031-05-01 printed: nothing changed. To date a review without a change: trayside "
        "issue SOP-01 --by ROLE --reviewed.\nNothing was issued.\n"
    )
    assert bytes_below(house) == before

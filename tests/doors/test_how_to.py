"""The owner's how-to is short, and its commands and those of the README are run on a house of A4 and one of Letter."""

from __future__ import annotations

import io
import re
import shlex
import shutil
from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from macros.doors import cli
from macros.doors import print_pack as packing
from macros.ground.version import VERSION
from macros.published import source_of
from macros.site.site import Site, prepare_site
from tests.making import ROOT, bytes_below
from tests.starting import facts_with, switched_off_blocks, written

TEXT = (ROOT / "docs" / "how-to.md").read_text(encoding="utf-8")
TASKS = dict(re.findall(r"^## (.+?)\n\n(.+?)(?=\n## |\Z)", TEXT, re.MULTILINE | re.DOTALL))

README = (ROOT / "README.md").read_text(encoding="utf-8")
COMMAND = re.compile(r"^ +(?:\.venv/bin/)?trayside ([^#\n]+)", re.MULTILINE)
INSIDE = re.compile(r"`\.venv/bin/trayside ([^`]+)`")
ELSEWHERE = {"build", "measure", "new", "preview"}
"""Commands of the README with tests of their own: `test_building`, `test_measure`, `test_distribution`, `test_preview`."""

KEPT_ON_PAPER = {"issued", "sign_offs", "wall_copies", "reviews", "photos", "log", "records"}
"""What a house writes down as the years go by; the commands of the tasks begin it."""

KINDS = ("numbers", "words", "new", "program")
PRINTS = "pack"


def commands_of(task: str) -> list[list[str]]:
    """The command lines of a task, word by word; of the README also those within its sentences."""
    if task != "README":
        return [shlex.split(line) for line in COMMAND.findall(TASKS[task])]
    lines = [*COMMAND.findall(README), *INSIDE.findall(README)]
    return [words for words in map(shlex.split, lines) if words[0] not in ELSEWHERE and "FOLDER" not in words]


def name_of(words: list[str]) -> str:
    return " ".join(words[:2]) if words[0] == PRINTS else words[0]


def there(words: list[str]) -> bool:
    """Whether the program has the command, and for a pack the pack."""
    known = set(cli.commands.commands) | {f"{PRINTS} {name}" for name in source_of("packs").data["packs"]}
    return name_of(words) in known


@pytest.fixture(scope="module", params=["A4", "Letter"])
def filled_in(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A new house with every fact given but the records, and everything filled in; that in inches prints on Letter."""
    us = request.param == "Letter"
    blocks = [block for name, block in switched_off_blocks(us).items() if name not in KEPT_ON_PAPER]
    files = {
        name: text.replace("fill in before printing", "555-0100 (fictional)")
        for name, text in facts_with(blocks, us).items()
    }
    return written(tmp_path_factory.mktemp("how-to") / "house", files)


@pytest.fixture(scope="module")
def worked_out() -> Callable[..., Site]:
    """Works a manual out once for the facts of a house as they are: the commands of most tasks change none of them."""
    known: dict[tuple[object, ...], Site] = {}

    def prepare(
        house: Path,
        procedures: Path,
        day: str | None,
        environment: Mapping[str, str],
        approving: bool = False,
    ) -> Site:
        key = (day, approving, *sorted(bytes_below(house.resolve() / "site_data").items()))
        if key not in known:
            known[key] = prepare_site(house, procedures, day, environment, approving=approving)
        return known[key]

    return prepare


def test_there_are_ten_tasks_each_under_ten_lines() -> None:
    assert len(TASKS) >= 10
    for task, text in TASKS.items():
        lines = [line for line in text.splitlines() if line.strip()]
        assert 2 < len(lines) < 10, (task, len(lines))


def test_every_command_is_one_of_the_program() -> None:
    assert {name_of(words) for task in TASKS for words in commands_of(task) if not there(words)} == set()


def test_the_readme_has_its_commands_told_to_be_run() -> None:
    told = [name_of(words) for words in commands_of("README")]
    assert {"pack labels", "pack cleanout", "pack training", "rehearse", "amounts", "check"} <= set(told)
    assert [name for name in told if not there(name.split())] == []


@pytest.mark.parametrize("task", TASKS)
def test_its_commands_run(
    task: str,
    filled_in: Path,
    worked_out: Callable[..., Site],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    run_all(
        commands_of(task),
        Path(shutil.copytree(filled_in, tmp_path / "house")),
        worked_out,
        monkeypatch,
        capsys,
    )


def test_the_commands_of_the_readme_run_on_the_demo(
    worked_out: Callable[..., Site],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """The README names the demo's racks and plants; its house prints on A4, and on Letter once it says so.

    One after the other: the plan of a day is searched for once, whatever it is printed on.
    """
    for paper in ("A4", "Letter"):
        house = tmp_path / paper
        shutil.copytree(ROOT / "site_data", house / "site_data")
        facts = house / "site_data" / "house.yml"
        text = facts.read_text(encoding="utf-8")
        assert "\n  paper:" not in text
        facts.write_text(text.replace("\nhouse:\n", f"\nhouse:\n  paper: {paper}\n", 1), encoding="utf-8")
        assert f"  paper: {paper}\n" in facts.read_text(encoding="utf-8")
        commands = [words for words in commands_of("README") if words[0] == PRINTS or paper == "A4"]
        run_all(commands, house, worked_out, monkeypatch, capsys)


def run_all(
    commands: list[list[str]],
    house: Path,
    worked_out: Callable[..., Site],
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """A pack is left as HTML here, with status 1, on a machine with a browser too: what is printed is tried elsewhere."""
    monkeypatch.chdir(house)
    monkeypatch.setenv("TRAYSIDE_CHROMIUM", "no-browser")
    monkeypatch.setattr(cli, "prepare_site", worked_out)
    monkeypatch.setattr(packing, "prepare_site", worked_out)
    for words in filter(there, commands):
        monkeypatch.setattr("sys.argv", ["trayside", *words])
        monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO()))  # nobody answers a question
        status = 0
        try:
            cli.main()
        except SystemExit as end:
            status = int(end.code or 0)
        told = capsys.readouterr()
        if words[0] == PRINTS:
            assert status == 1, (words, told.err)
            assert "no-browser" in told.err, told.err
        else:
            assert status == 0, (words, told.err)


def test_the_readme_leads_to_each_task_and_to_the_changelog() -> None:
    assert "(docs/how-to.md)" in README
    assert "(docs/changelog.md)" in README


def test_this_version_has_an_entry_that_says_kind_effect_and_what_to_do() -> None:
    text = (ROOT / "docs" / "changelog.md").read_text(encoding="utf-8")
    entry = re.search(rf"^## {re.escape(VERSION)}$(.+?)(?=^## |\Z)", text, re.MULTILINE | re.DOTALL)
    assert entry is not None, f"docs/changelog.md has no entry for {VERSION}"
    rows = [line.strip("|").split("|") for line in entry.group(1).splitlines() if line.startswith("| ")][1:]
    assert rows
    for row in rows:
        kind, *cells = (cell.strip() for cell in row)
        assert kind in KINDS, row
        assert len(cells) == 3, row
        assert all(cells), row

"""The owner's how-to: each task is short, and its commands are run on a house made for it."""

from __future__ import annotations

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

KINDS = ("numbers", "words", "new", "program")
PRINTS = "pack"


def commands_of(task: str) -> list[list[str]]:
    """The command lines of a task, word by word."""
    return [shlex.split(line)[1:] for line in TASKS[task].splitlines() if line.startswith("       trayside ")]


def name_of(words: list[str]) -> str:
    return " ".join(words[:2]) if words[0] == PRINTS else words[0]


def there(words: list[str]) -> bool:
    """Whether the program has the command, and for a pack the pack."""
    known = set(cli.commands.commands) | {f"{PRINTS} {name}" for name in source_of("packs").data["packs"]}
    return name_of(words) in known


@pytest.fixture(scope="module")
def filled_in(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A new house with every fact given but the records, and everything filled in."""
    blocks = [block for block in switched_off_blocks().values() if block[0] != "records.yml"]
    files = {
        name: text.replace("fill in before printing", "555-0100 (fictional)")
        for name, text in facts_with(blocks).items()
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


@pytest.mark.parametrize("task", TASKS)
def test_its_commands_run(
    task: str,
    filled_in: Path,
    worked_out: Callable[..., Site],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """A pack is left as HTML here, with status 1, on a machine with a browser too: what is printed is tried elsewhere."""
    house = Path(shutil.copytree(filled_in, tmp_path / "house"))
    monkeypatch.chdir(house)
    monkeypatch.setenv("TRAYSIDE_CHROMIUM", "no-browser")
    monkeypatch.setattr(cli, "prepare_site", worked_out)
    monkeypatch.setattr(packing, "prepare_site", worked_out)
    for words in filter(there, commands_of(task)):
        monkeypatch.setattr("sys.argv", ["trayside", *words])
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
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    assert "(docs/how-to.md)" in readme
    assert "(docs/changelog.md)" in readme


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

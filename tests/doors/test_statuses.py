"""The status each command ends with, as the README's table says it."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

from macros.doors import cli
from tests.making import ROOT, made_house, quiet_environment


def status_of(monkeypatch: pytest.MonkeyPatch, *arguments: str) -> int:
    """What the command line ends with, run within this process."""
    monkeypatch.setattr(sys, "argv", ["trayside", *arguments])
    try:
        cli.main()
    except SystemExit as end:
        return int(end.code or 0)
    return 0


def test_the_readme_names_each_status() -> None:
    text = (ROOT / "README.md").read_text(encoding="utf-8").partition("the status of a command\n")[2]
    assert re.findall(r"^\| ([\d, ]+) \|", text, re.MULTILINE) == ["0", "1", "2", "129, 130, 143"]


@pytest.mark.quick
@pytest.mark.parametrize("arguments", [("--version",), ("--help",), ("pack", "--help")], ids=" ".join)
def test_done_is_0(monkeypatch: pytest.MonkeyPatch, arguments: tuple[str, ...]) -> None:
    assert status_of(monkeypatch, *arguments) == 0


@pytest.mark.quick
def test_a_mistake_in_the_facts_is_1(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    house = made_house(tmp_path, ('inside_length: "0.50 m"', 'inside_length: "0.50"'))
    for command in ("check", "build", "amounts"):
        assert status_of(monkeypatch, command, "--house", str(house)) == 1
        assert capsys.readouterr().err.endswith("1 problem. Nothing was written.\n")


def test_a_folder_that_is_not_empty_is_1(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert status_of(monkeypatch, "new", str(made_house(tmp_path))) == 1
    told = capsys.readouterr()
    assert (told.out, "is not empty" in told.err) == ("", True)


@pytest.mark.parametrize(
    "arguments", [("chek",), ("check", "--hous", "."), ("new",), ("pack",)], ids=" ".join
)
def test_a_command_typed_wrong_is_2(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], arguments: tuple[str, ...]
) -> None:
    assert status_of(monkeypatch, *arguments) == 2
    assert "Error: " in capsys.readouterr().err


def test_stopped_by_hand_is_130(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    def stopped(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(cli, "prepare_site", stopped)
    assert status_of(monkeypatch, "check", "--house", str(made_house(tmp_path))) == 130


@pytest.mark.parametrize("arguments", [("amounts", "--json"), ("check",)], ids=["long", "short"])
def test_nobody_reading_is_1_and_says_nothing(tmp_path: Path, arguments: tuple[str, ...]) -> None:
    """Long output breaks the pipe while it is written, short output only when it is flushed at the end."""
    command = [sys.executable, "-m", "macros", *arguments, "--house", str(made_house(tmp_path))]
    run = subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, cwd=ROOT, env=quiet_environment()
    )
    assert run.stdout is not None
    assert run.stderr is not None
    run.stdout.close()
    assert run.stderr.read() == b""
    run.stderr.close()
    assert run.wait(timeout=60) == 1

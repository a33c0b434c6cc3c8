"""The manual as one file is written in one stroke, and over nothing that is not ours."""

from __future__ import annotations

import shutil
import sys
from pathlib import Path

import pytest

from macros.doors import cli, publish
from macros.doors.publish import one_file_lines, write_one_file
from macros.ground.disk import safe_write
from macros.ground.disk.safe_write import NotWritten
from macros.site.one_file import Made
from macros.site.site import Site
from tests.making import HOUSES

MANUAL = Site(
    name="House",
    pages={"index.md": "# House\n\n[Today](today.md)\n", "today.md": "# Today\n"},
    navigation=[{"Start": "index.md"}, {"Today": "today.md"}],
    extra={"day": "2026-03-10", "language": "en", "emergency": [], "call": ""},
)


@pytest.fixture
def house(tmp_path: Path) -> Path:
    shutil.copytree(HOUSES / "fourth", tmp_path / "house")
    return tmp_path / "house"


def test_a_file_of_somebody_else_is_not_written_over(house: Path) -> None:
    mine = house / "manual.html"
    mine.write_text("<p>my own notes</p>", encoding="utf-8")
    with pytest.raises(NotWritten) as refused:
        write_one_file(house, None, Site())
    assert str(refused.value) == (
        f"{mine} does not look like a manual of this program. Nothing in it was touched. "
        "If you need nothing of it, delete it, then build again."
    )
    assert mine.read_text(encoding="utf-8") == "<p>my own notes</p>"
    assert [path.name for path in sorted(house.iterdir())] == ["manual.html", "site_data"]


def test_a_build_that_fails_leaves_the_last_good_file(house: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (house / ".manual.html-1d_zb9q7").touch()  # a killed run began it
    file, made = write_one_file(house, None, MANUAL)
    assert one_file_lines(file, made) == [
        f"The manual stands in {file}, one file of {len(made.text) / 1e6:.1f} MB. Workings and sheets are not in it."
    ]
    good = file.read_bytes()
    assert good == made.text.encode()
    assert b'data-page="today.html"' in good

    def full(_: Path) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(safe_write, "_flush_file", full)
    monkeypatch.setattr(publish, "manual_as_one_file", lambda *_: type(made)("another", ()))
    with pytest.raises(OSError, match="No space"):
        write_one_file(house, None, MANUAL)
    assert file.read_bytes() == good
    assert [path.name for path in sorted(house.iterdir())] == ["manual.html", "site_data"]


def test_pictures_that_are_left_out_are_named(tmp_path: Path) -> None:
    told = one_file_lines(tmp_path / "manual.html", Made("x" * 5_960_000, ("photos/a.webp", "photos/b.webp")))
    assert told == [
        f"The manual stands in {tmp_path / 'manual.html'}, one file of 6.0 MB. Workings and sheets are not in it.",
        "2 pictures had no room below 6 MB: photos/a.webp, photos/b.webp.",
    ]


def test_one_file_and_a_web_server_are_two_commands(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys, "argv", ["trayside", "build", "--one-file", "--served"])
    with pytest.raises(SystemExit) as end:
        cli.main()
    assert end.value.code == 2
    assert "--one-file goes with neither --served nor -f" in capsys.readouterr().err

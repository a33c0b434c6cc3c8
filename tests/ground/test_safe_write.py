"""A file is written whole or not at all."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from macros.ground.disk.safe_write import write_whole


def test_a_new_file_and_its_folder(tmp_path: Path) -> None:
    write_whole(tmp_path / "a" / "b.json", b"new")
    assert (tmp_path / "a" / "b.json").read_bytes() == b"new"
    assert [one.name for one in (tmp_path / "a").iterdir()] == ["b.json"]


def test_who_may_read_the_old_file_may_read_the_new_one(tmp_path: Path) -> None:
    file = tmp_path / "b.yml"
    file.write_bytes(b"old")
    file.chmod(0o640)
    write_whole(file, b"new")
    assert (file.read_bytes(), file.stat().st_mode & 0o777) == (b"new", 0o640)


@pytest.mark.parametrize("broken", ["fsync", "replace"])
def test_when_writing_fails_the_old_file_is_as_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, broken: str
) -> None:
    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    file = tmp_path / "b.yml"
    file.write_bytes(b"old")
    monkeypatch.setattr(os, "fsync", full) if broken == "fsync" else monkeypatch.setattr(
        Path, "replace", full
    )
    with pytest.raises(OSError, match="No space left"):
        write_whole(file, b"new")
    assert file.read_bytes() == b"old"
    assert [one.name for one in tmp_path.iterdir()] == ["b.yml"]

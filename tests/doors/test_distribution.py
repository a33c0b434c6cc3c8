"""The wheel and the sdist: built, installed away from the checkout, and used there from a new house to a sheet."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import tarfile
import zipfile
from dataclasses import dataclass
from pathlib import Path

import pytest

from macros.ground.version import VERSION
from tests.making import PROCEDURES, ROOT, quiet_environment


def built(source: Path, target: Path, *kinds: str) -> list[Path]:
    """The wheel or sdist of a source folder, made with the build backend that pyproject.toml names."""
    command = [
        sys.executable,
        "-m",
        "hatchling",
        "build",
        "-d",
        str(target),
        *(f"-t{kind}" for kind in kinds),
    ]
    subprocess.run(command, cwd=source, check=True, capture_output=True)
    return sorted(target.iterdir())


@dataclass(frozen=True)
class Installed:
    """The program installed from the wheel into a folder, and an empty folder to work in."""

    wheel: Path
    sdist: Path
    program: Path
    room: Path

    def run(self, *arguments: str) -> subprocess.CompletedProcess[str]:
        """A command of the installed program. -P keeps the folder it is run in off the path."""
        environment = {**quiet_environment(), "PYTHONPATH": str(self.program)}
        command = [sys.executable, "-P", "-m", "macros", *arguments]
        return subprocess.run(
            command, cwd=self.room, env=environment, capture_output=True, text=True, check=False
        )


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Installed:
    folder = tmp_path_factory.mktemp("distribution")
    sdist, wheel = sorted(
        built(ROOT, folder / "dist", "wheel", "sdist"), key=lambda file: file.suffix != ".gz"
    )
    program, room = folder / "program", folder / "room"
    pip = [sys.executable, "-m", "pip", "install", "-q", "--no-deps", "--no-index", "--no-compile"]
    subprocess.run([*pip, "--target", str(program), str(wheel)], check=True, capture_output=True)
    room.mkdir()
    return Installed(wheel, sdist, program, room)


def contents(wheel: Path) -> dict[str, bytes]:
    with zipfile.ZipFile(wheel) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def test_the_sdist_builds_the_same_wheel(installed: Installed, tmp_path: Path) -> None:
    with tarfile.open(installed.sdist) as archive:
        archive.extractall(tmp_path, filter="data")
    (source,) = tmp_path.iterdir()
    (wheel,) = built(source, tmp_path / "dist", "wheel")
    assert contents(wheel) == contents(installed.wheel)


def test_the_wheel_holds_what_a_house_needs_and_no_house(installed: Installed) -> None:
    names = set(contents(installed.wheel))
    pages = {f"macros/starter/procedures/{page.name}" for page in PROCEDURES.glob("sop-*.md")}
    assert len(pages) > 20
    assert pages | {"macros/starter/mkdocs.yml", "macros/starter/README.md"} <= names
    assert {name.partition("/")[0] for name in names} == {"macros", f"trayside-{VERSION}.dist-info"}
    assert not [name for name in names if "tests" in name or name.endswith(".pyc") or "issued.yml" in name]


def test_installed_from_the_wheel_it_works_without_the_checkout(installed: Installed) -> None:
    """The commands of an owner in their order, each in an empty folder away from here."""
    where = subprocess.run(
        [sys.executable, "-P", "-c", "import macros; print(macros.__file__)"],
        env={**os.environ, "PYTHONPATH": str(installed.program)},
        cwd=installed.room,
        capture_output=True,
        text=True,
        check=True,
    )
    assert Path(where.stdout.strip()).is_relative_to(installed.program)
    assert installed.run("--version").stdout == f"trayside, version {VERSION}\n"

    new = installed.run("new", "house")
    assert new.returncode == 0, new.stderr
    house = installed.room / "house"

    check = installed.run("check", "--house", "house")
    assert check.returncode == 0, check.stderr
    *notes, summary, last = check.stdout.splitlines()
    assert summary.endswith(f"no error, 0 warnings, {len(notes)} to measure or fill in.")
    assert last == "There is no earlier build to compare with."
    assert all(": measure this: " in line or ": fill this in: " in line for line in notes)

    build = installed.run("build", "--house", "house")
    assert build.returncode == 0, build.stderr
    site = house / "site"
    page = (site / "p" / "sop-08-a.html").read_text(encoding="utf-8")
    assert str(ROOT) not in page
    for asset in ("assets/site.css", "assets/ticks.js", "assets/vendor/iframe-worker-shim.js"):
        assert asset in page
        assert (site / asset).is_file()

    amounts = installed.run("amounts", "--json", "--house", "house")
    assert json.loads(amounts.stdout) == json.loads((site / "amounts.json").read_text(encoding="utf-8"))


def test_a_sheet_is_printed_where_there_is_a_browser(installed: Installed) -> None:
    """Without a browser, or without the extra [pdf], the same pack is left as HTML and the status is 1."""
    assert installed.run("new", "printing").returncode == 0
    pack = installed.run("pack", "page", "SOP-08", "--house", "printing", "-o", "sheet.pdf")
    if browser_is_there():
        assert pack.returncode == 0, pack.stderr
        assert (installed.room / "sheet.pdf").read_bytes().startswith(b"%PDF")
    else:
        assert pack.returncode == 1
        assert "SOP-08-A" in (installed.room / "sheet.html").read_text(encoding="utf-8")


def browser_is_there() -> bool:
    try:
        import playwright  # noqa: F401 - belongs to an extra
        import pypdf  # noqa: F401
    except ImportError:
        return False
    return shutil.which("chromium") is not None

"""A house folder of somebody else: no code of it runs, nothing outside of it is read, nothing in it makes us wait."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

import pytest

from macros.doors import publish as publishing
from macros.doors.last_build import changes_since_last_build
from macros.ground import pdf
from macros.ground.house_files import MAX_BYTES
from macros.ground.yaml_source import read_yaml
from macros.house import load_house
from macros.html.environment import compiled_templates
from macros.manual.procedures.house_overrides import with_own_pages
from macros.manual.procedures.load_files import MAX_PAGE_BYTES
from macros.site.site import Site
from tests.making import PROCEDURES, ROOT, bytes_below, made_house, quiet_environment

RUN = 'import pathlib, os; pathlib.Path(os.environ["MARK"], "{name}").touch()\n'

CONFIG = """\
site_name: !ENV [MARK, "name"]
docs_dir: !!python/object/apply:os.system ["touch $MARK/tag"]
site_dir: ../elsewhere
theme: {name: material, custom_dir: theme}
hooks: [hook.py]
plugins: [search, trayside, hostile]
markdown_extensions:
  - pymdownx.superfences: {custom_fences: [{format: !!python/name:hostile.fence}]}
"""

MODULES = (
    "hook",
    "hostile",
    "sitecustomize",
    "usercustomize",
    "yaml",
    "jinja2",
    "click",
    "mkdocs",
    "macros/__init__",
)
"""What Python would find first, if a run looked into the current folder."""


@pytest.fixture
def house(tmp_path: Path) -> Path:
    """A made house, which each test makes hostile."""
    return made_house(tmp_path, name="fifth")


def test_a_build_runs_no_code_of_the_house(house: Path, tmp_path: Path) -> None:
    mark = tmp_path / "mark"
    mark.mkdir()
    (house / "mkdocs.yml").write_text(CONFIG, encoding="utf-8")
    modules = [house / f"{name}.py" for name in MODULES]
    modules += [
        house / folder / "conftest.py" for folder in ("theme", "site_data", "site_data/log", "procedures")
    ]
    for path in modules:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(RUN.format(name=path.stem), encoding="utf-8")
    (house / "theme" / "main.html").write_text(
        "{{ cycler.__init__.__globals__.os.system('touch $MARK/theme') }}"
    )
    shutil.copy(PROCEDURES / "sop-08-reservoir-change.md", house / "procedures" / "own.md")
    command = [str(Path(sys.executable).with_name("trayside")), "build"]
    environment = {**quiet_environment(), "MARK": str(mark)}
    run = subprocess.run(command, cwd=house, env=environment, capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stderr
    assert run.stderr == (
        "mkdocs.yml is not used: such a file can run code. Where it is yours, build with -f mkdocs.yml.\n"
    )
    assert list(mark.iterdir()) == []
    assert sorted(path.name for path in tmp_path.iterdir()) == ["house", "mark"]
    names = bytes_below(house / "site")
    assert any(name.startswith("p/sop-08") for name in names)
    assert not any(name.endswith(".py") for name in names)
    subprocess.run([sys.executable, "hook.py"], cwd=house, env=environment, check=True)
    assert [path.name for path in mark.iterdir()] == ["hook"], "code that runs leaves its mark"


def test_check_reads_no_config_of_the_house(house: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def never(config: Path) -> Path:
        raise AssertionError(f"{config} was read")

    (house / "mkdocs.yml").write_text(CONFIG, encoding="utf-8")
    monkeypatch.setattr(publishing, "site_folder", never)
    assert changes_since_last_build(house, Site(), "site") == ["There is no earlier build to compare with."]


def test_the_config_of_the_program_is_told_of_by_no_line() -> None:
    assert publishing.own_config() == ROOT / "mkdocs.yml"
    assert publishing.unused_config(ROOT, None) == ""


def test_the_same_config_as_the_program_s_needs_no_word(house: Path) -> None:
    config = house / "mkdocs.yml"
    shutil.copy(publishing.own_config(), config)
    assert publishing.unused_config(house, None) == ""
    config.write_text(config.read_text(encoding="utf-8") + "# mine\n", encoding="utf-8")
    assert publishing.unused_config(house, None).startswith(f"{config} is not used: ")


def test_a_config_the_owner_names_is_used(house: Path) -> None:
    config = house / "mkdocs.yml"
    config.write_text(CONFIG, encoding="utf-8")
    assert publishing.unused_config(house, config) == ""


# What a folder can hold beside files. --------------------------------------------------------------------------


def link_out(path: Path) -> None:
    house = next(parent for parent in path.parents if parent.name == "house")
    outside = house.parent / "outside.txt"
    outside.write_text("secret: of somebody\n", encoding="utf-8")
    path.symlink_to(outside)


def endless(path: Path) -> None:
    path.symlink_to("/dev/zero")


def link_to_nothing(path: Path) -> None:
    path.symlink_to("nothing.yml")


def link_to_itself(path: Path) -> None:
    path.symlink_to(path.name)


LEADS_OUT = "file: this is a link that leads out of the house, to "
NO_FILE = (
    "file: this is no file (a folder, a pipe, a device or a link to nothing). Every name with this ending is read. "
    "Rename it or take it away."
)
KINDS: dict[str, tuple[Callable[[Path], object], str]] = {
    "link out": (link_out, LEADS_OUT),
    "endless": (
        endless,
        f"{LEADS_OUT}/dev/zero. A house is read from its own folder alone. Put the file itself here",
    ),
    "pipe": (os.mkfifo, NO_FILE),
    "folder": (Path.mkdir, NO_FILE),
    "link to nothing": (link_to_nothing, NO_FILE),
    "link to itself": (link_to_itself, NO_FILE),
}


def told(house: Path) -> list[str]:
    """Every problem of the house and its own pages."""
    _, problems = load_house(house)
    _, of_pages = with_own_pages(PROCEDURES, house / "procedures")
    return [str(problem) for problem in problems + of_pages if problem.severity == "error"]


@pytest.mark.parametrize("kind", KINDS)
def test_what_is_no_file_of_the_house_is_refused_by_name(house: Path, kind: str) -> None:
    make, message = KINDS[kind]
    names = ("site_data/more.yml", "site_data/log/2031.csv", "procedures/own.md")
    for name in names:
        (house / name).parent.mkdir(exist_ok=True)
        make(house / name)
    found = told(house)
    assert len(found) == 3
    shown = ("house/procedures/own.md", "site_data/log/2031.csv", "site_data/more.yml")
    for text, name in zip(sorted(found), shown, strict=True):
        assert text.startswith(f"{name}:1: {message}")
        assert "secret" not in text


@pytest.mark.parametrize("folder", ["site_data", "site_data/log", "procedures"])
def test_a_folder_that_is_a_link_out_is_refused_file_by_file(
    house: Path, tmp_path: Path, folder: str
) -> None:
    outside = tmp_path / "outside"
    if (house / folder).exists():
        (house / folder).rename(outside)
    outside.mkdir(exist_ok=True)
    (outside / "a.csv").write_text("date,system\n", encoding="utf-8")
    (outside / "a.md").write_text("---\nid: SOP-08\n---\n", encoding="utf-8")
    (house / folder).symlink_to(outside)
    found = told(house)
    assert found
    assert any(LEADS_OUT + str(outside) in text for text in found)


def test_a_link_inside_the_house_is_read(house: Path) -> None:
    file = house / "site_data" / "house.yml"
    file.rename(house / "facts.txt")
    file.symlink_to("../facts.txt")
    assert told(house) == []


def test_names_with_a_dot_before_are_left_alone(house: Path) -> None:
    """Editors lock with a link to nothing, file managers leave a file of their own beside each."""
    (house / "site_data" / ".#house.yml").symlink_to("grower@machine.1234")
    (house / "site_data" / "._house.yml").write_bytes(b"\x00\x05\x16\x07")
    (house / "site_data" / "log").mkdir()
    (house / "site_data" / "log" / "._2031.csv").write_bytes(b"\xff")
    assert told(house) == []


def test_large_files_are_refused(house: Path) -> None:
    sizes = {
        "site_data/a.yml": MAX_BYTES,
        "site_data/log/a.csv": MAX_BYTES,
        "procedures/a.md": MAX_PAGE_BYTES,
    }
    for name, most in sizes.items():
        (house / name).parent.mkdir(exist_ok=True)
        (house / name).write_text("#" * (most + 1), encoding="utf-8")
    assert sorted(told(house)) == [
        "house/procedures/a.md:1: file: the file is too large. At most 200000 bytes are read. Make two pages of it.",
        "site_data/a.yml:1: file: the file is too large. At most 1000000 bytes are read. "
        "Split it; every *.yml in the folder is read.",
        "site_data/log/a.csv:1: file: the file is too large. At most 1000000 bytes are read. Start a new file a year.",
    ]


@pytest.mark.parametrize("name", [b"\x1b[2Ja.yml", b"a\nb.yml", b"\xff.yml"])
def test_a_name_that_turns_the_terminal_is_refused_and_not_repeated(house: Path, name: bytes) -> None:
    path = Path(os.fsdecode(os.fsencode(house / "site_data") + b"/" + name))
    path.write_text("room: {}\n", encoding="utf-8")
    (text,) = told(house)
    assert text.isprintable()
    assert text.endswith(
        "the file's name holds a character nobody sees. Letters, digits and marks. Rename it."
    )


def test_a_file_nobody_may_read_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refused(*arguments: object, **named: object) -> None:
        raise PermissionError(13, "Permission denied")

    path = tmp_path / "a.yml"
    path.touch()
    monkeypatch.setattr("macros.ground.house_files.os.open", refused)
    assert str(read_yaml(path, "a.yml")[1][0]) == (
        "a.yml:1: file: the file cannot be read (Permission denied). Check its permissions."
    )


# What a run could find in the current folder. --------------------------------------------------------------------


def test_no_compiled_template_is_taken_from_the_current_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where no temporary folder can be written, Python offers the current one."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    assert compiled_templates.__wrapped__() is None
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("kind", ["of others", "link", "file"])
def test_no_compiled_template_is_taken_from_a_folder_of_others(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, kind: str
) -> None:
    """Jinja's own guard, of which we make sure: the folder is no link and only this user may enter it."""
    place = tmp_path / f"_jinja2-cache-{os.getuid()}"
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    if kind == "of others":
        place.mkdir()
        real = os.getuid()
        monkeypatch.setattr(os, "getuid", lambda: real + 1)
        place.rename(tmp_path / f"_jinja2-cache-{real + 1}")
    elif kind == "link":
        (tmp_path / "elsewhere").mkdir()
        place.symlink_to(tmp_path / "elsewhere")
    else:
        place.touch()
    assert compiled_templates.__wrapped__() is None


def test_a_full_temporary_folder_costs_only_time(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from jinja2 import DictLoader, Environment

    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    store = compiled_templates.__wrapped__()
    shutil.rmtree(tmp_path / f"_jinja2-cache-{os.getuid()}")
    environment = Environment(loader=DictLoader({"a": "whole"}), bytecode_cache=store, autoescape=True)
    assert environment.get_template("a").render() == "whole"


def test_no_browser_is_taken_from_the_current_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "chromium").touch(mode=0o755)
    monkeypatch.setenv("PATH", f".{os.pathsep}{tmp_path}")
    assert pdf.find_chromium({}) == str(tmp_path / "chromium")
    monkeypatch.chdir(tmp_path)
    with pytest.raises(pdf.NoBrowser, match="no Chromium is installed"):
        pdf.find_chromium({})

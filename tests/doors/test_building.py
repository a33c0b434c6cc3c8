"""Building: the site is swapped whole, and any mistake of ours leaves the last good site byte for byte."""

from __future__ import annotations

import math
import re
import shutil
import subprocess
import sys
import time
import urllib.request
from collections.abc import Callable
from pathlib import Path

import pytest

from macros.doors import cli
from tests.benchmarks.projects import bare_project, project_of
from tests.benchmarks.speed import build
from tests.making import ROOT, bytes_below, made_house, quiet_environment

PYTHON = sys.executable

BROKEN_TEXT = ('inside_length: "0.50 m"', 'inside_length: "0.50"')


def trayside(*arguments: str) -> subprocess.CompletedProcess[str]:
    command = [PYTHON, "-m", "macros", *arguments]
    return subprocess.run(
        command, capture_output=True, text=True, check=False, env=quiet_environment(), cwd=ROOT
    )


Asked = Callable[..., subprocess.CompletedProcess[str]]


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Asked:
    """A command that only reads, run within this process: a process of its own costs a second."""
    monkeypatch.delenv("SOURCE_DATE_EPOCH", raising=False)

    def run(*arguments: str) -> subprocess.CompletedProcess[str]:
        monkeypatch.setattr(sys, "argv", ["trayside", *arguments])
        status = 0
        try:
            cli.main()
        except SystemExit as end:
            status = int(end.code or 0)
        told = capsys.readouterr()
        return subprocess.CompletedProcess(arguments, status, told.out, told.err)

    return run


def mkdocs(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    command = [PYTHON, "-m", "mkdocs", *arguments]
    return subprocess.run(
        command, capture_output=True, text=True, check=False, env=quiet_environment(), cwd=folder
    )


def made_project(folder: Path, name: str) -> Path:
    """A made-up house with its own procedures and mkdocs.yml, as an owner would have it."""
    return project_of(made_house(folder, name=name))


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A project built once by plain mkdocs; tests work on copies of it."""
    house = made_project(tmp_path_factory.mktemp("built"), "first")
    run = mkdocs(house, "build", "--quiet")
    assert run.returncode == 0, run.stderr
    return house


@pytest.fixture
def project(built: Path, tmp_path: Path) -> Path:
    """A copy of the built project that the test may damage."""
    return Path(shutil.copytree(built, tmp_path / "house"))


def damage_data(house: Path) -> None:
    file = house / "site_data" / "house.yml"
    file.write_text(file.read_text(encoding="utf-8").replace(*BROKEN_TEXT), encoding="utf-8")


def damage_page(house: Path, old: str, new: str) -> None:
    page = house / "procedures" / "sop-08-reservoir-change.md"
    text = page.read_text(encoding="utf-8")
    assert old in text
    page.write_text(text.replace(old, new, 1), encoding="utf-8")


DAMAGES = {
    "data": (damage_data, 'site_data/house.yml:19: systems[K].reservoir.inside_length: "0.50" has no unit.'),
    "page": (
        lambda house: damage_page(house, "id: SOP-08", "id: [SOP-08"),
        "procedures/sop-08-reservoir-change.md:2: file: the bracket [ is not closed. Write ] where the values in it end.",
    ),
    "template": (
        lambda house: damage_page(house, "place('drain_for_waste')", "plaice('drain_for_waste')"),
        'before[0].say: "plaice" is no word of this text. Allowed: amount,'
        " every, fact, high, in_units, keeps, low, meter, number, pen_note, phone, place, "
        "responsible, rinse_strip, scale, strong_waste, system, unit_of. Did you mean place?",
    ),
    "link": (
        lambda house: damage_page(
            house, "The dose is for the mark on", "[The](nowhere.html) dose is for the mark on"
        ),
        "link: nowhere.html leads nowhere: no such page is built.",
    ),
}


@pytest.mark.parametrize("kind", DAMAGES)
def test_plain_mkdocs_leaves_the_old_site(project: Path, kind: str) -> None:
    before = bytes_below(project / "site")
    damage, message = DAMAGES[kind]
    damage(project)
    run = mkdocs(project, "build")
    assert run.returncode == 1
    assert message in run.stderr
    assert "Traceback" not in run.stderr
    assert bytes_below(project / "site") == before


@pytest.mark.parametrize("kind", DAMAGES)
def test_trayside_build_leaves_the_old_site(project: Path, kind: str) -> None:
    before = bytes_below(project / "site")
    damage, message = DAMAGES[kind]
    damage(project)
    run = trayside("build", "--house", str(project))
    assert run.returncode == 1
    assert message in run.stderr
    assert "Traceback" not in run.stderr
    assert bytes_below(project / "site") == before
    assert not list(project.glob(".site-*"))


def test_build_from_another_folder_resolves_paths_against_the_config(project: Path, tmp_path: Path) -> None:
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    run = mkdocs(elsewhere, "build", "--quiet", "-f", str(project / "mkdocs.yml"))
    assert run.returncode == 0, run.stderr
    assert (project / "site" / "p" / "sop-08-k.html").is_file()


def test_check_ends_with_what_changed_since_the_last_build(project: Path, asked: Asked) -> None:
    assert asked("check", "--house", str(project)).stdout.splitlines()[-1] == (
        "No printed value changed since the last build."
    )
    file = project / "site_data" / "house.yml"
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace('flow_at_tap: "8 L/min"', 'flow_at_tap: "6 L/min"'), encoding="utf-8")
    lines = asked("check", "--house", str(project)).stdout.splitlines()
    assert lines[-2:] == [
        "1 printed value changed since the last build:",
        "  tap_fill_time[system=K]: 8 min -> 10 min (because of water_source.flow_at_tap)",
    ]


def test_amounts_json_is_the_same_twice_and_is_what_the_site_holds(project: Path, asked: Asked) -> None:
    first = trayside("amounts", "--json", "--house", str(project)).stdout
    assert first == asked("amounts", "--json", "--house", str(project)).stdout
    assert first == (project / "site" / "amounts.json").read_text(encoding="utf-8")


def test_one_amount_tells_its_whole_working(project: Path, asked: Asked) -> None:
    text = asked("amounts", "tap_fill_time", "--house", str(project)).stdout
    assert "60 L / 8 L/min = 7.5 min" in text
    assert "water_source.flow_at_tap = 8 L/min  (site_data/house.yml:14)" in text


def test_an_amount_this_house_is_not_given_leads_to_the_reason(project: Path, asked: Asked) -> None:
    run = asked("amounts", "water_use_logged", "--house", str(project))
    assert run.returncode == 1
    assert (
        "water_use_logged is not worked out for this house. `trayside amounts --withheld` says why."
        in run.stderr
    )


def test_unknown_amount_is_told_with_the_ids_there_are(project: Path, asked: Asked) -> None:
    run = asked("amounts", "tap_fil_time", "--house", str(project))
    assert run.returncode == 1
    assert "tap_fil_time is not an amount of this house. Ids: " in run.stderr


def test_export_writes_pages_sheets_and_data(project: Path, tmp_path: Path) -> None:
    run = trayside("export", str(tmp_path / "out"), "--house", str(project))
    assert run.returncode == 0, run.stderr
    names = set(bytes_below(tmp_path / "out"))
    assert {"index.md", "p/sop-08-k.md", "sheets/sop-08-k.html", "amounts.json"} <= names
    assert "{{" not in (tmp_path / "out" / "p" / "sop-08-k.md").read_text(encoding="utf-8")


def test_no_template_braces_are_left_in_the_site(project: Path) -> None:
    for name, content in bytes_below(project / "site").items():
        if name.endswith(".html"):
            assert b"{{" not in content, name
            assert b"{%" not in content, name


def test_server_shows_the_problems_and_goes_on(project: Path) -> None:
    port = 8751
    command = [PYTHON, "-m", "mkdocs", "serve", "--dev-addr", f"127.0.0.1:{port}"]
    server = subprocess.Popen(
        command, cwd=project, env=quiet_environment(), stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    )
    try:
        assert "Test Loft" in _until(port, "Test Loft")
        good = (project / "site_data" / "house.yml").read_text(encoding="utf-8")
        damage_data(project)
        assert "has no unit" in _until(port, "has no unit")
        (project / "site_data" / "house.yml").write_text(good, encoding="utf-8")
        assert "has no unit" not in _until(port, "Test Loft")
        assert server.poll() is None
    finally:
        server.terminate()
        server.wait(timeout=10)


def _until(port: int, wanted: str, seconds: float = 20) -> str:
    """The start page as soon as it holds the wanted text; the last page read when time is up."""
    text, end = "", time.monotonic() + seconds
    while time.monotonic() < end:
        try:
            with urllib.request.urlopen(f"http://127.0.0.1:{port}/", timeout=5) as answer:
                text = answer.read().decode()
        except OSError:
            text = ""
        if wanted in text:
            return text
        time.sleep(0.3)
    return text


def test_real_manual_builds_strictly(tmp_path: Path) -> None:
    """The one test on the real house: it builds, and nothing of it is taken as an expected value."""
    run = mkdocs(ROOT, "build", "--quiet", "--strict", "--site-dir", str(tmp_path / "site"))
    assert run.returncode == 0, run.stderr
    first = (tmp_path / "site" / "index.html").read_text(encoding="utf-8")
    assert 'role="dialog" aria-label="Search"' in first  # added to the theme's own words
    assert '<img src="assets/icons/icon.svg" alt="logo">' in first


MOST = 4 / 3


def test_building_takes_at_most_a_third_more_than_a_bare_build_of_the_same_pages(tmp_path: Path) -> None:
    """User plus system seconds of whole processes, in pairs until one keeps the bound, five at most.

    On one machine in one hour the ratio of the same two builds was seen from 1.11 to 1.47: what other programs take from
    the processor's store strikes the longer of them more. `tests/benchmarks/speed.md` has the figures of a quiet machine.
    """
    project = made_project(tmp_path, "fourth")
    bare, _, _ = bare_project(project, tmp_path / "bare")
    caches = tmp_path / "caches"
    caches.mkdir()
    build(project, caches)
    ratios: list[float] = []
    while min(ratios, default=math.inf) > MOST and len(ratios) < 5:
        ratios.append(build(project, caches).cpu / build(bare, caches).cpu)
    assert min(ratios) <= MOST, ratios


def test_a_file_broken_between_two_readings_is_told_as_any_other(
    asked: Asked, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With a config of the owner the house is read once by the command and again by the generator."""
    project = made_project(tmp_path, "first")
    real = cli.publishing.build_and_swap

    def broken_first(house: Path, *given: object, **named: object) -> Path:
        facts = house / "site_data" / "house.yml"
        facts.write_text(facts.read_text(encoding="utf-8").replace(*BROKEN_TEXT), encoding="utf-8")
        return real(house, *given, **named)  # type: ignore[arg-type]

    monkeypatch.setattr(cli.publishing, "build_and_swap", broken_first)
    run = asked("build", "--house", str(project), "-f", str(project / "mkdocs.yml"))
    assert run.returncode == 1
    folder, first, *_, last = run.stderr.splitlines()
    assert folder == f"In {project}:"
    assert re.match(
        r'site_data/house\.yml:\d+: systems\[K\]\.reservoir\.inside_length: "0\.50" has no unit', first
    )
    assert last == f"1 problem. No site was made in {project / 'site'}."

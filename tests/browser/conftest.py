"""A Chromium of the machine, and the sample site the browser tests look at."""

from __future__ import annotations

import fcntl
import functools
import http.server
import os
import re
import shutil
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from playwright.sync_api import Browser, sync_playwright

from macros.doors.publish import build_and_swap

ROOT = Path(__file__).parents[2]
HOUSES = Path(__file__).parents[1] / "houses"


def one_of_a_kind(paths: list[Path]) -> list[Path]:
    """Of pages that differ by their system only, the first: `p/sop-08-n.html` stands for `p/sop-08-s.html`."""
    kinds: dict[str, Path] = {}
    for path in paths:
        document = re.match(r"sop-\d\d|check|[a-z]+", path.stem)
        assert document is not None, path
        kinds.setdefault(f"{path.parent.name}/{document.group(0)}", path)
    return list(kinds.values())


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """The installed Chromium; a machine without one fails here and is told so."""
    executable = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    assert executable, "no Chromium found: install the package chromium"
    with sync_playwright() as playwright:
        running = playwright.chromium.launch(executable_path=executable, args=["--no-sandbox"])
        yield running
        running.close()


OPENED: dict[str, tuple[str, ...] | None] = {
    "second": ("sop-03", "sop-08"),
    "fourth": None,
}
"""Which kinds of page are opened in which house: every kind once, US units on a few."""

FEW = ("index", "sop-03", "sop-08", "sop-20")
"""Kinds that stand for the others where each look costs seconds."""


def opened(paths: list[Path], site: Path) -> list[Path]:
    """The pages or sheets of a site a test opens, one of a kind."""
    only = OPENED[house_of(site)]
    return [path for path in one_of_a_kind(paths) if only is None or path.stem.startswith(only)]


def house_of(site: Path) -> str:
    """`fourth` for the site built of that house."""
    return site.parent.name.rstrip("0123456789")


@pytest.fixture(scope="session", params=list(OPENED))
def site(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The built site of each house made for the tests, built once for all processes of a run."""
    run = tmp_path_factory.getbasetemp()
    folder = (run.parent if "PYTEST_XDIST_WORKER" in os.environ else run) / request.param
    with alone(run.parent / f"{request.param}.lock"):
        if not (folder / "site").is_dir():
            build_and_swap(HOUSES / request.param, None, ROOT / "mkdocs.yml", folder / "site")
    return folder / "site"


@pytest.fixture(scope="session")
def served_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The site of one house built for a web server, once for all processes of a run: who changes it copies it."""
    run = tmp_path_factory.getbasetemp()
    folder = (run.parent if "PYTEST_XDIST_WORKER" in os.environ else run) / "fourth-served"
    with alone(run.parent / "fourth-served.lock"):
        if not folder.is_dir():
            build_and_swap(HOUSES / "fourth", None, ROOT / "mkdocs.yml", folder, served=True)
    return folder


class Quiet(http.server.SimpleHTTPRequestHandler):
    """A static server as any, without its log."""

    def log_message(self, *_: object) -> None:
        """Nothing is told."""


@contextmanager
def serving(folder: Path) -> Iterator[str]:
    """The address a folder is served at, on a port of its own."""
    server = http.server.ThreadingHTTPServer(
        ("127.0.0.1", 0), functools.partial(Quiet, directory=str(folder))
    )
    threading.Thread(target=server.serve_forever, daemon=True).start()
    try:
        yield f"http://127.0.0.1:{server.server_address[1]}/"
    finally:
        server.shutdown()
        server.server_close()


@contextmanager
def alone(lock: Path) -> Iterator[None]:
    """Only one process of the machine is inside at a time."""
    with lock.open("w") as held:
        fcntl.flock(held, fcntl.LOCK_EX)
        yield


@pytest.fixture(scope="session")
def pictures(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where pictures are put for a person to look at: `build/pictures` of the checkout."""
    folder = ROOT / "build" / "pictures"
    folder.mkdir(parents=True, exist_ok=True)
    return folder

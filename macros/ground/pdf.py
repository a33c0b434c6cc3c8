"""Prints a finished HTML document to PDF with a Chromium of this machine, and reads the PDF back.

The only importer of playwright and pypdf; both belong to the extra `pdf`. The browser keeps its profile in the system's
temporary folder and takes it away when it ends. What a killed run leaves there the system clears: we do not, for a profile
of that name may be in use by another program.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from playwright.sync_api import Browser

CHROMIUM = "TRAYSIDE_CHROMIUM"
"""Environment variable that names the browser to print with."""

NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
"""Where the variable is not set, the first of these on the path is taken."""

PAPER_SIZES = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
"""Width and height [mm]: ISO 216 and ANSI/ASME Y14.1 (A)."""

_POINT = 25.4 / 72
_TIMEOUT = 120_000.0
"""Milliseconds a page may take: a large pack on a slow machine, not a browser that hangs."""


class NoBrowser(Exception):  # noqa: N818 - told to whoever prints, with the remedy
    """There is nothing to print with: no Chromium, or the extra `pdf` is not installed. The message says which."""


class PrintFailed(Exception):  # noqa: N818
    """The browser could not print; the message is its own first line."""


@dataclass(frozen=True)
class Printed:
    """A printed PDF: how many pages, the size of each [mm], and the page each named place is on, counted from 1."""

    data: bytes
    sizes: tuple[tuple[float, float], ...]
    places: Mapping[str, int]

    @property
    def pages(self) -> int:
        """How many pages it has."""
        return len(self.sizes)


def find_chromium(environment: Mapping[str, str]) -> str:
    """The browser to print with.

    Raises
    ------
    NoBrowser
        none is found, or the one the environment names is not there.
    """
    named = environment.get(CHROMIUM)
    if named:
        found = shutil.which(named)
        if found is None:
            raise NoBrowser(f"{CHROMIUM} names {named}, which is no program on this machine")
        return found
    # Windows looks into the current folder first, which may be a house of somebody else with a program in it.
    found = next((path for path in map(shutil.which, NAMES) if path and not _in_current_folder(path)), None)
    if found is None:
        raise NoBrowser(f"no Chromium is installed (looked for {', '.join(NAMES)}, and at {CHROMIUM})")
    return found


def _in_current_folder(program: str) -> bool:
    return Path(program).absolute().parent == Path.cwd()


class Printer:
    """A running Chromium. It prints documents that need no other file; it never reaches a network."""

    def __init__(self, browser: Browser) -> None:
        self._browser = browser

    def print(self, html: Path, *, rough: bool = False) -> Printed:
        """The document as a tagged PDF with bookmarks, on the paper its own CSS names.

        `rough` leaves tags, bookmarks and backgrounds out: the pages are the same, in a part of the time.

        Raises
        ------
        PrintFailed
            the browser gave up.
        """
        from playwright.sync_api import Error

        try:
            context = self._browser.new_context(offline=True, java_script_enabled=False)
            context.set_default_timeout(_TIMEOUT)
            page = context.new_page()
            page.goto(html.resolve().as_uri())
            # A face that only the running heads use is not asked for by the page itself.
            page.evaluate("Promise.all([...document.fonts].map(face => face.load()))")
            data = page.pdf(
                prefer_css_page_size=True, print_background=not rough, tagged=not rough, outline=not rough
            )
            context.close()
        except Error as error:
            raise PrintFailed(str(error).splitlines()[0]) from error
        return read_back(data)


@contextmanager
def printer(environment: Mapping[str, str]) -> Iterator[Printer]:
    """A Chromium for as long as the block runs.

    Raises
    ------
    NoBrowser
        there is none, or the extra `pdf` is missing.
    PrintFailed
        it does not start.
    """
    executable = find_chromium(environment)
    try:
        import pypdf  # noqa: F401 - the print is read back
        from playwright.sync_api import Error, sync_playwright
    except ImportError as error:
        raise NoBrowser(f"the Python package {error.name} is not installed") from error
    arguments = ["--no-sandbox"] if getattr(os, "geteuid", lambda: 1)() == 0 else []
    with sync_playwright() as playwright:
        try:
            browser = playwright.chromium.launch(executable_path=executable, args=arguments)
        except Error as error:
            raise PrintFailed(str(error).splitlines()[0]) from error
        try:
            yield Printer(browser)
        finally:
            with suppress(Error):
                browser.close()


def read_back(data: bytes) -> Printed:
    """What stands in a PDF: page sizes and named places."""
    from io import BytesIO

    from pypdf import PdfReader

    reader = PdfReader(BytesIO(data))
    sizes = tuple(
        (float(page.mediabox.width) * _POINT, float(page.mediabox.height) * _POINT) for page in reader.pages
    )
    places = {}
    for name, destination in reader.named_destinations.items():
        number = reader.get_destination_page_number(destination)
        if number is not None:
            places[name.removeprefix("/")] = number + 1
    return Printed(data, sizes, places)

"""A manual served while its facts are edited: every answer is made of the files as they are at that moment.

A procedure page is worked out by itself and shown at once. Meanwhile another process works the whole manual out; as soon as it
is done, the browser gets the page with the whole menu, or the list of what is to be mended.
"""

from __future__ import annotations

import hashlib
import mimetypes
import multiprocessing
import os
import re
import threading
import time
from contextlib import suppress
from dataclasses import dataclass
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from pathlib import Path
from urllib.parse import unquote, urlsplit

from macros.doors.mkdocs_plugin import ThemedSite
from macros.ground.house_files import read_bytes
from macros.ground.problems import DataProblems, first_lines
from macros.html.content_policy import HEADERS
from macros.manual.pages.page_markdown import problems_page
from macros.page_model.addresses import source_address
from macros.site.one_page import one_page
from macros.site.site import Site, prepare_site

STATE = "preview-state"
SCRIPT = "preview.js"
HOST = "127.0.0.1"
ASKING = 0.02
"""Seconds between two looks at whether the whole manual is worked out."""

PATIENCE = 30
"""Seconds a connection may say nothing."""

_RELOAD = """const shown = new URL(document.currentScript.src).search.slice(1);
setInterval(async () => {
  try {
    if (await (await fetch("/preview-state")).text() !== shown) location.reload();
  } catch { /* the server was stopped */ }
}, 200);
"""
_PROCEDURE = re.compile(r"p/[\w-]+\.html")


@dataclass(frozen=True)
class Answer:
    """What a browser gets."""

    status: int
    kind: str
    content: bytes


@dataclass(frozen=True)
class Inputs:
    """The folders a manual is made of, and the day it is for."""

    house: Path
    procedures: Path
    day: str | None

    def fingerprint(self) -> str:
        """Of the names and contents of all files; two equal ones mean the same manual."""
        digest = hashlib.sha256()
        for folder in (self.house / "site_data", self.house / "procedures", self.procedures):
            house = self.procedures if folder == self.procedures else self.house
            for here, folders, names in os.walk(folder):
                folders.sort()
                for file in (Path(here, name) for name in sorted(names)):
                    digest.update(os.fsencode(file) + b"\0" + _state(file, house))
        return digest.hexdigest()

    def whole(self) -> Site:
        """The whole manual without what only our own process needs."""
        return prepare_site(self.house, self.procedures, self.day, os.environ).published()


def _state(file: Path, house: Path) -> bytes:
    """What tells one state of a file from another: its content, and of what is not read its size and time."""
    content, _ = read_bytes(file, file.name, house)
    if content is not None:
        return hashlib.sha256(content).digest()
    with suppress(OSError):
        there = file.lstat()
        return f"{there.st_size} {there.st_mtime_ns}".encode()
    return b""


class _Worker:
    """Another process that works out whole manuals, one after another, and is ended where one is no longer wanted."""

    def __init__(self, inputs: Inputs) -> None:
        self._inputs = inputs
        self._process: BaseProcess | None = None
        self._busy = False
        self.files = ""
        """Fingerprint of the files it was set to work on."""

    def begin(self, files: str) -> None:
        """Work out the manual of these files, whatever it is at now."""
        if self._busy:
            self.stop()
        if self._process is None:
            context = multiprocessing.get_context("spawn")
            self._connection, theirs = context.Pipe()
            self._process = context.Process(target=_work, args=(theirs, self._inputs), daemon=True)
            self._process.start()
            theirs.close()
        self.files, self._busy = files, True
        self._connection.send(True)

    def done(self) -> Site | list[str] | None:
        """The manual of `files` or what is wrong with them, once; None as long as there is neither."""
        if not self._busy or not self._connection.poll():
            return None
        try:
            before, found, after = self._connection.recv()
        except EOFError:
            self.stop()
            return ["The manual could not be worked out. What happened stands where the preview was started."]
        self._busy = False
        if not before == after == self.files:
            self.begin(self.files)
            return None
        manual: Site | list[str] = found
        return manual

    def stop(self) -> None:
        """End the process."""
        if self._process is not None:
            self._process.terminate()
            self._process.join()
            self._connection.close()
        self._process, self._busy = None, False


def _work(connection: Connection, inputs: Inputs) -> None:
    with suppress(EOFError, BrokenPipeError):  # the preview was ended
        while connection.recv():
            before = inputs.fingerprint()
            found: Site | list[str]
            try:
                found = inputs.whole()
            except DataProblems as problems:
                found = first_lines(problems.problems)
            connection.send((before, found, inputs.fingerprint()))


class Preview:
    """Answers for one house. Every public method may be called from any thread."""

    def __init__(self, house: Path, config_file: Path, day: str | None) -> None:
        options = {"house": str(house.resolve()), **({"date": day} if day else {})}
        self._themed = ThemedSite(config_file, options)
        self._inputs = Inputs(house.resolve(), self._themed.procedures, day)
        self._worker = _Worker(self._inputs)
        self._lock = threading.Lock()
        self._whole = ""
        """Fingerprint of the files whose whole manual the theme holds now."""
        self._problems: list[str] = []
        self._pages: dict[str, Answer] = {}
        """Pages worked out by themselves from the files of the worker's task."""

    def answer(self, address: str) -> Answer:
        """What stands at the address, by the files as they are; waits where the whole manual is needed for it."""
        while True:
            with self._lock:
                before = self._inputs.fingerprint()
                answer = self._answer(address or "index.html", before)
                if answer is not None and self._inputs.fingerprint() == before:
                    return answer
            time.sleep(ASKING)

    def close(self) -> None:
        """End the other process."""
        self._worker.stop()

    def _answer(self, address: str, files: str) -> Answer | None:
        self._look(files)
        state = files + ("" if self._whole == files else "-page")
        if address == STATE:
            return Answer(200, "text/plain", state.encode())
        if address == SCRIPT:
            return Answer(200, "text/javascript", _RELOAD.encode())
        if address.startswith("assets/"):
            return self._from_theme(address, state)
        if self._whole == files:
            if self._problems and address.endswith(".html"):
                return self._listed(address, self._problems, state)
            return self._from_theme(address, state)
        if _PROCEDURE.fullmatch(address):
            if address not in self._pages:
                self._pages[address] = self._alone(address, state)
            return self._pages[address]
        return None

    def _look(self, files: str) -> None:
        """Set the other process to work on changed files, and take what it is done with."""
        if self._worker.files != files:
            self._pages.clear()
            self._whole = ""
            self._worker.begin(files)
        found = self._worker.done()
        if found is not None:
            self._problems = found if isinstance(found, list) else []
            self._themed.show(found if isinstance(found, Site) else Site())
            self._whole = files

    def _alone(self, address: str, state: str) -> Answer:
        inputs = self._inputs
        try:
            site = one_page(address, inputs.house, inputs.procedures, inputs.day, os.environ)
        except DataProblems as found:
            return self._listed(address, first_lines(found.problems), state)
        self._themed.show(site or Site())
        return self._from_theme(address, state)

    def _listed(self, address: str, problems: list[str], state: str) -> Answer:
        source = source_address(address)
        page = problems_page(problems)
        self._themed.show(Site("Problems to mend", {source: page}, navigation=[{"Problems": source}]))
        return self._from_theme(address, state)

    def _from_theme(self, address: str, state: str) -> Answer:
        content = self._themed.file(address)
        if content is None:
            return Answer(404, "text/plain", b"There is no such page.")
        kind = mimetypes.guess_type(address)[0] or "application/octet-stream"
        if kind == "text/html":
            script = f'<script src="/{SCRIPT}?{state}"></script></body>'.encode()
            content = script.join(content.rsplit(b"</body>", 1))
        return Answer(200, kind, content)


def server_of(preview: Preview, port: int) -> ThreadingHTTPServer:
    """A web server on this machine alone, at the port or at a free one for 0. `serve_forever` begins."""

    class Handler(BaseHTTPRequestHandler):
        timeout = PATIENCE

        def do_GET(self) -> None:  # the name the library calls
            if (self.headers["Host"] or "").partition(":")[0] not in (HOST, "localhost"):
                self.send_error(403)  # a page elsewhere that goes by the name of this machine
                return
            try:
                address = unquote(urlsplit(self.path).path).lstrip("/")
            except ValueError:  # no address at all, as http://[
                self.send_error(400)
                return
            answer = preview.answer(address)
            self.send_response(answer.status)
            text = answer.kind.startswith("text/")
            self.send_header("Content-Type", answer.kind + ("; charset=utf-8" if text else ""))
            self.send_header("Content-Length", str(len(answer.content)))
            for name, value in {**HEADERS, "Cache-Control": "no-store"}.items():
                self.send_header(name, value)
            with suppress(ConnectionError):  # the browser has gone on to another page
                self.end_headers()
                self.wfile.write(answer.content)

        def log_message(self, format: str, *arguments: object) -> None:
            """Nothing: a line for each look at the files would hide what matters."""

    return ThreadingHTTPServer((HOST, port), Handler)

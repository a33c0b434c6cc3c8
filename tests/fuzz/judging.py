"""What a run on damaged input may do: work, or tell problems by file, line and words; never anything else."""

from __future__ import annotations

import gc
import os
import re
import signal
import sys
import time
import traceback
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from macros.ground.problems import MOST_TOLD, DataProblems, Problem

LONGEST = 10.0
"""Seconds of the processor one case may take."""
MOST_SHOWN = 1_500
"""Characters one message may have: what was read is quoted, never poured out."""

_OF_THE_LANGUAGE = re.compile(
    r"Traceback|<class '|object at 0x|NoneType|\b(?:dict|tuple|int|float|str|list)' object|unhashable|"
    r"\b(?:Key|Type|Value|Attribute|Index|Recursion|Overflow|Assertion|Validation)Error\b|Errno|maximum recursion"
)


class TooSlow(BaseException):
    """The case ran over its time; no handler of ordinary errors may swallow this."""


@dataclass
class Watched:
    """What the process tried to do while a case ran."""

    on: bool = False
    seen: list[str] = field(default_factory=list)


_watched = Watched()
_STORE = "_jinja2-cache"
"""Part of the name of the folder of compiled templates, which only this user can write."""
_WRITES = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC | os.O_APPEND
_NEVER = frozenset(
    {
        "socket.connect",
        "socket.getaddrinfo",
        "subprocess.Popen",
        "os.system",
        "os.exec",
        "os.posix_spawn",
        "os.fork",
    }
)
_MOVES = frozenset(
    {"os.rename", "os.remove", "os.mkdir", "os.rmdir", "os.link", "os.symlink", "shutil.rmtree", "os.chmod"}
)


def _audit(event: str, arguments: tuple[Any, ...]) -> None:
    if not _watched.on:
        return
    if event in _NEVER:
        _watched.seen.append(event)
        return
    writes = event == "open" and isinstance(arguments[2], int) and arguments[2] & _WRITES
    if (event in _MOVES or writes) and _STORE not in str(arguments[0]):
        _watched.seen.append(f"{event} {arguments[0]}")


sys.addaudithook(_audit)


@contextmanager
def watched() -> Iterator[list[str]]:
    """Everything written, started or asked of the network inside the block."""
    _watched.on, _watched.seen = True, []
    try:
        yield _watched.seen
    finally:
        _watched.on = False


@contextmanager
def within(seconds: float) -> Iterator[None]:
    """Stops the block with `TooSlow` after so many seconds of the processor: other work on the machine does not count."""

    def stop(number: int, frame: object) -> None:
        raise TooSlow

    before = signal.signal(signal.SIGPROF, stop)
    gc.disable()  # an exception that meets the collector's own hooks would be lost there
    signal.setitimer(signal.ITIMER_PROF, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)
        gc.enable()


@dataclass
class Outcome:
    """How one case ended: `fault` is empty where all is well."""

    refused: bool = False
    seconds: float = 0.0
    fault: str = ""
    messages: list[str] = field(default_factory=list)


def judged(run: Callable[[], list[Problem]]) -> Outcome:
    """Runs one case and judges it. `run` gives the problems it returned; those it raises are taken as well."""
    outcome = Outcome()
    began = time.process_time()
    problems: list[Problem] = []
    with watched() as seen:
        try:
            with within(LONGEST):
                problems = run()
        except DataProblems as found:
            problems, outcome.refused = found.problems, True
            if len(str(found).splitlines()) > MOST_TOLD + 1:
                outcome.fault = f"{len(str(found).splitlines())} lines are told"
        except TooSlow:
            outcome.fault = f"over {LONGEST:.0f} s"
        except BaseException as error:
            outcome.fault = f"{type(error).__name__}: {str(error)[:200]} at {_ours(error)}"
    outcome.seconds = time.process_time() - began
    outcome.refused = outcome.refused or any(problem.severity == "error" for problem in problems)
    outcome.messages = [str(problem) for problem in problems]
    if not outcome.fault and seen:
        outcome.fault = f"did what it may not: {seen[:3]}"
    if not outcome.fault:
        outcome.fault = next(filter(None, map(_fault_of, problems)), "")
    return outcome


def _ours(error: BaseException) -> str:
    """The last place in our own code on the way to the error."""
    frames = traceback.extract_tb(error.__traceback__)
    frame = next((one for one in reversed(frames) if "/macros/" in one.filename), frames[-1])
    return f"{Path(frame.filename).name}:{frame.lineno}"


def _fault_of(problem: Problem) -> str:
    """What is wrong with a message: no place, no words, too long, or in the language of the program."""
    text = str(problem)
    if not problem.place.file or problem.place.line < 1:
        return f"no place: {text[:200]}"
    if len(problem.what.split()) < 2:
        return f"no words: {text[:200]}"
    if len(text) > MOST_SHOWN:
        return f"a message of {len(text)} characters: {text[:200]}"
    if "\n" in text:
        return f"a message of several lines: {text[:200]!r}"
    found = _OF_THE_LANGUAGE.search(text)
    return f"speaks of {found.group()}: {text[:300]}" if found else ""

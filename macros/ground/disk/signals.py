"""Turns the signals that ask a run to end into an exception, so that it tidies up and says how things stand."""

from __future__ import annotations

import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

_ASKED = tuple(
    getattr(signal, name) for name in ("SIGINT", "SIGTERM", "SIGHUP", "SIGBREAK") if hasattr(signal, name)
)
"""Ctrl-C, the system's plea to end, a closed terminal; each where the system knows it."""


class Stopped(BaseException):
    """Somebody or the system asked this run to end. Like KeyboardInterrupt, no ordinary handler takes it."""

    def __init__(self, number: int) -> None:
        self.number = number
        super().__init__(f"Stopped by {signal.Signals(number).name}.")

    @property
    def status(self) -> int:
        """The exit status shells expect: 128 and the number of the signal."""
        return 128 + self.number


@contextmanager
def stoppable() -> Iterator[None]:
    """Raise `Stopped` in the block on such a signal. A signal the caller ignores (as under nohup) stays ignored."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    found = {number: signal.getsignal(number) for number in _ASKED}
    before = {number: handler for number, handler in found.items() if handler not in (None, signal.SIG_IGN)}
    for number in before:
        signal.signal(number, _stop)
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


def _stop(number: int, frame: FrameType | None) -> None:
    raise Stopped(number)

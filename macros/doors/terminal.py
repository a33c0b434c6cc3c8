"""What is said on the terminal: words of others cannot turn it, and a terminal that cannot take them ends no command."""

from __future__ import annotations

import io
import os
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import click

from macros.ground.seen import visible


def say(words: object, *, err: bool = False, nl: bool = True) -> None:
    """Words for the terminal. What others wrote into them cannot turn it."""
    click.echo(visible(str(words)), err=err, nl=nl)


def prepare_output() -> None:
    """A stream that was closed swallows what is said; a letter a terminal cannot print is written out, and ends no command."""
    for name in ("stdout", "stderr"):
        stream = getattr(sys, name)
        if stream is None:
            setattr(sys, name, Path(os.devnull).open("w", encoding="utf-8"))  # noqa: SIM115 - to the end of the run
        elif isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")


@contextmanager
def progress(label: str, stages: int) -> Iterator[Callable[[str], None]]:
    """Tells each of so many stages: as a bar on a terminal, else as a line; on stderr either way."""
    if not sys.stderr.isatty():
        yield lambda stage: say(f"{stage} ...", err=True)
        return
    with click.progressbar(
        length=stages, label=label, file=sys.stderr, item_show_func=lambda stage: stage
    ) as bar:
        told: list[str] = []

        def tell(stage: str) -> None:
            bar.update(1 if told else 0, stage)
            told.append(stage)

        yield tell
        bar.update(1, "")

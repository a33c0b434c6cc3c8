"""Published values: facts that change when a source changes, never when a house does. One YAML file a topic."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

from macros.problems import DataProblems
from macros.source import read_yaml

_FOLDER = Path(__file__).parent


@cache
def load(topic: str) -> Any:
    """The file `published/<topic>.yml` as plain data, scalars as text. Treat it as read-only.

    Raises
    ------
    DataProblems
        the file is not readable YAML.
    """
    source, problems = read_yaml(_FOLDER / f"{topic}.yml", f"macros/published/{topic}.yml")
    if source is None or problems:
        raise DataProblems(problems)
    return source.data


def number(text: Any) -> float:
    """A number of a published file. A text that is none is our own fault and keeps its traceback."""
    return float(text)

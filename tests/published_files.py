"""Published files as they would read with another text, for a while."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from unittest import mock

import macros.published
from macros.ground.problems import Problem
from macros.ground.yaml_source import Source, read_yaml_text
from macros.house.rules import plausible_ranges as rules_ranges
from macros.manual.cautions import cautions_of_step
from macros.manual.pages import formula_shapes as formulas

FOLDER = Path(macros.published.__file__).parent


@contextmanager
def written(topic: str, text: str) -> Iterator[None]:
    """`macros/published/<topic>.yml` holds this text; what was worked out of it is forgotten before and after."""
    try:
        with mock.patch.object(macros.published, "read_yaml", reading(topic, text)):
            forget()
            yield
    finally:
        forget()


def reading(topic: str, text: str) -> Callable[[Path, str], tuple[Source | None, list[Problem]]]:
    """Reads every file as it was read before, but this one."""
    before = macros.published.read_yaml

    def read(path: Path, shown: str) -> tuple[Source | None, list[Problem]]:
        return read_yaml_text(text, shown) if path.stem == topic else before(path, shown)

    return read


def text_of(topic: str) -> str:
    """The file as it stands."""
    (path,) = FOLDER.rglob(f"{topic}.yml")
    return path.read_text(encoding="utf-8")


def replaced(topic: str, old: str, new: str) -> str:
    """The text of the file with one piece replaced, which stands there once."""
    text = text_of(topic)
    assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in {topic}.yml"
    return text.replace(old, new)


def forget() -> None:
    """Nothing is known of any published file."""
    modules = [module for name, module in sys.modules.items() if name.startswith("macros.published")]
    for module in (*modules, rules_ranges, cautions_of_step, formulas):
        for held in list(vars(module).values()):
            if hasattr(held, "cache_clear"):
                held.cache_clear()

"""The requirements on pages, as published: what each asks, whether it is a must, and who judges it."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType
from typing import Annotated, Literal

from pydantic import AfterValidator

from macros.ground.field_types import Flag, Identifier, Text
from macros.ground.package import PACKAGE
from macros.ground.records import Record, mistake, nearest
from macros.published import published

Judge = Literal["page", "build", "print", "eye"]

_ROOT = PACKAGE.parent
_NO_FILE = ("the one page template", "the one form template", "the one caution template", "the register of amounts",
            "the check of links", "the one set of fonts, macros/html/theme/assets/fonts")  # fmt: skip


def _stands(by: str) -> str:
    """A file of the program or its tests, or one of a few words. An installed program has no tests to look at."""
    installed = by.startswith("tests/") and not (_ROOT / "tests").is_dir()
    file = _ROOT / by
    if by in _NO_FILE or installed or (by.startswith(("macros/", "tests/")) and file.is_file()):
        return by
    near = nearest(by, (*_NO_FILE, *(one.relative_to(_ROOT).as_posix() for one in file.parent.glob("*.*"))))
    allowed = f"A file below macros/ or tests/, or {', '.join(_NO_FILE)}"
    raise mistake(f'"{by}" is no file of the program', allowed, near or "Choose one")


class Requirement(Record):
    """One line of `requirements.yml`. A broken must is an error, any other a warning; `by` says where it is held.

    `asks_less` says in one sentence what of the line is not held here, and why; it stands on the page of requirements.
    """

    id: Identifier
    must: Flag
    judged: Judge
    text: Text
    source: Text
    by: Annotated[str, AfterValidator(_stands)] | None = None
    asks_less: Text | None = None


class Requirements(Record):
    """`requirements.yml`."""

    requirements: tuple[Requirement, ...]


@cache
def requirements() -> Mapping[str, Requirement]:
    """Every requirement by its id, in the order of the published list."""
    return MappingProxyType({one.id: one for one in published(Requirements, "requirements").requirements})

"""Changes made to a test house, its pages and the program, to see how each is judged."""

from __future__ import annotations

import copy
import json
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from functools import cache
from pathlib import Path
from typing import Any

import pytest

import macros.published
from macros.amounts import Register, compute_amounts
from macros.control.documents.issued_copies import Snapshot, snapshot_of
from macros.ground.problems import errors_in
from macros.house import load_house
from macros.manual.checklists.checklists import checklists_of
from macros.manual.pages.build_page import build_pages
from macros.manual.procedures.load_files import ProcedureFile, load_procedures
from macros.manual.procedures.write_text import TextWriter
from macros.page_model.page import PageView
from macros.published import source_of
from tests.making import HOUSES, PROCEDURES, made_house, views_of
from tests.published_files import forget, reading

Changes = tuple[tuple[str, str], ...]
"""(old text, new text); an old text stands there once."""


@dataclass(frozen=True)
class Case:
    """One change, and how it has to be judged after the requirement named.

    Parameters
    ----------
    house, page : what is replaced in the house file, and in the procedure of the page judged
    program : what is replaced in the program or the published values while the page is made anew
    kinds : kinds of difference that must be found, at least
    linked : the pages it leads to are made with it, so that it prints its links
    """

    name: str
    rule: str
    verdict: str
    house: Changes = ()
    page: Changes = ()
    program: Callable[[pytest.MonkeyPatch], None] | None = None
    kinds: frozenset[str] = field(default_factory=frozenset)
    retrain: bool = False
    document: str = "SOP-08"
    checklist: bool = False
    linked: bool = False

    @property
    def item(self) -> tuple[str, bool, bool]:
        """What is judged: a document, its page or its checklist, made with the pages it leads to or alone."""
        return self.document, self.checklist, self.linked


@cache
def shipped(document: str) -> tuple[Path, str]:
    """The procedure file of a document, and its text."""
    path = next(PROCEDURES.glob(f"{document.lower()}-*.md"))
    return path, path.read_text(encoding="utf-8")


@cache
def others() -> tuple[ProcedureFile, ...]:
    """Every shipped procedure, so that links between pages lead somewhere."""
    return tuple(load_procedures(PROCEDURES)[0])


def procedure(folder: Path, document: str, changes: Changes) -> ProcedureFile:
    """A shipped procedure with some of its text replaced."""
    path, text = shipped(document)
    for old, new in changes:
        assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in {path.name}"
        text = text.replace(old, new)
    folder.mkdir(parents=True, exist_ok=True)
    (folder / path.name).write_text(text, encoding="utf-8")
    (found,), problems = load_procedures(folder)
    assert errors_in(problems) == [], [str(problem) for problem in problems]
    return found


def register_of(house_folder: Path) -> Register:
    """The amounts of a house; the mistakes a change makes in it are none of the judge's business."""
    house, problems = load_house(house_folder)
    assert house is not None, [str(problem) for problem in problems]
    assert house.house.as_of is not None
    return compute_amounts(house, house.house.as_of, house.house.place("as_of"))


def page_of(file: ProcedureFile, register: Register, linked: bool = False) -> PageView:
    """One page of the first system; alone it leads to no other page."""
    files = [without_links(other) for other in others() if other.id in file.data.see_also] if linked else []
    files.append(file if linked else without_links(file))
    pages, problems = build_pages(files, register, TextWriter())
    found = [view for view in views_of(pages, register) if view.document == file.id]
    assert found, [str(problem) for problem in problems]
    return found[0]


def without_links(file: ProcedureFile) -> ProcedureFile:
    """A procedure that leads to no other, nor names one in what was read of its file."""
    data = file.data.model_copy(update={"see_also": ()})
    source = replace(file.data.read_from, data={**file.data.read_from.data, "see_also": []})
    data._origin = (source, file.data.path)
    return replace(file, data=data)


def snapshot_after(folder: Path, case: Case, patch: pytest.MonkeyPatch) -> Snapshot:
    """The item of a case once the change is made."""
    with changed_program(patch, case.program):
        house = made_house(folder, *case.house, name="fifth") if case.house else HOUSES / "fifth"
        register = register_of(house)
        page = page_of(procedure(folder / "procedures", case.document, case.page), register, case.linked)
        if not case.checklist:
            return snapshot_of(page, 1, register)
        (view,) = [one for one in checklists_of([page], register.house) if one.key == f"CHECK-{page.key}"]
        return snapshot_of(view, 1, register)


@contextmanager
def changed_program(
    patch: pytest.MonkeyPatch, change: Callable[[pytest.MonkeyPatch], None] | None
) -> Iterator[None]:
    """The program or a published value changed for a while; what was worked out of it is forgotten before and after."""
    if change is None:
        yield
        return
    with patch.context() as inside:
        change(inside)
        forget()
        yield
    forget()


def caution(id_: str, **fields: Any) -> Callable[[pytest.MonkeyPatch], None]:
    """Other fields of one entry of the caution catalogue."""

    def apply(patch: pytest.MonkeyPatch) -> None:
        data = copy.deepcopy(source_of("cautions").data)
        entry = next(one for one in data["cautions"] if one["id"] == id_)
        assert all(entry.get(name) != value for name, value in fields.items())
        entry.update(fields)
        patch.setattr(macros.published, "read_yaml", reading("cautions", json.dumps(data)))

    return apply

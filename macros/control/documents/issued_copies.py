"""What an item printed when it was issued, kept in the house folder: `site_data/issued/SOP-08-A-1.json`.

A snapshot is written once and never changed. It belongs to the entry under `issued` whose values code it has.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, cast

from macros.amounts import Register
from macros.amounts.engine.amount import plain
from macros.amounts.engine.explain import input_text
from macros.ground.house_files import damaged, files_of, read_json
from macros.ground.problems import Problem
from macros.house.records.people import Issued
from macros.manual.pages.printed_lines import LineKind, PrintedLine, printed_lines
from macros.manual.pages.values_code import lines_code
from macros.page_model.card import CardView
from macros.page_model.checklist import ChecklistView
from macros.page_model.page import PageContent, PageView

FOLDER = "site_data/issued"
"""Where the snapshots lie below the house folder."""

MAX_BYTES = 2_000_000
"""A snapshot of the longest page is a twentieth of it; past it lies a file made to hang us."""

MOST_COPIES = 50_000
"""Files the folder may hold: fifty pages issued every week for twenty years."""

_SAFE_NAME = re.compile(r"[A-Za-z0-9_-]+")


@dataclass(frozen=True)
class AmountTaken:
    """The unrounded value of an amount, and the names of the facts it was worked out from."""

    exact: Any
    inputs: tuple[str, ...]


@dataclass(frozen=True)
class Snapshot:
    """One item as it was issued.

    Parameters
    ----------
    key, revision, title : of the item
    code : its values code
    lines : what it printed, in order
    formulas : shape by name of what its numbers were worked out with
    amounts : by key, the unrounded values
    inputs : fact by name, as `0.8 m`
    """

    key: str
    revision: int
    title: str
    code: str
    lines: tuple[PrintedLine, ...]
    formulas: Mapping[str, str] = field(default_factory=dict)
    amounts: Mapping[str, AmountTaken] = field(default_factory=dict)
    inputs: Mapping[str, str] = field(default_factory=dict)

    def as_json(self) -> str:
        """The text of its file: keys sorted, one line of the page a line, the same bytes on every run."""
        rows = ",\n".join(
            f"  {json.dumps([one.place, one.kind, one.text], ensure_ascii=False)}" for one in self.lines
        )
        parts = {
            "amounts": {key: [one.exact, list(one.inputs)] for key, one in self.amounts.items()},
            "code": self.code,
            "formulas": dict(self.formulas),
            "inputs": dict(self.inputs),
            "key": self.key,
            "lines": None,
            "revision": self.revision,
            "title": self.title,
        }
        shown = {name: _block(value) for name, value in parts.items()} | {"lines": f"[\n{rows}\n ]"}
        return "{\n" + ",\n".join(f' "{name}": {text}' for name, text in shown.items()) + "\n}\n"


def snapshot_of(view: PageView | ChecklistView | CardView, revision: int, register: Register) -> Snapshot:
    """The item as it is now, as revision `revision`."""
    lines = printed_lines(view)
    if not isinstance(view, PageView):
        return Snapshot(view.key, revision, view.title, lines_code(lines, {}), lines)
    code, taken = lines_code(lines, view.formulas), values_taken(view, register)
    return Snapshot(view.key, revision, view.title, code, lines, view.formulas, *taken)


def values_taken(view: PageContent, register: Register) -> tuple[dict[str, AmountTaken], dict[str, str]]:
    """The unrounded amounts behind a page by their keys, and the facts they were worked out from by their names."""
    amounts: dict[str, AmountTaken] = {}
    inputs: dict[str, str] = {}
    for key in view.worked_from:
        amount = register.of_key(key)
        if amount is not None:
            amounts[key] = AmountTaken(plain(amount.exact), tuple(one.name for one in amount.inputs))
            inputs |= {one.name: input_text(one) for one in amount.inputs}
    return amounts, inputs


def snapshot_names(issues: Sequence[Issued]) -> list[str]:
    """The file of each issue of one page, oldest first: a correction that keeps the revision adds its number."""
    names: list[str] = []
    corrections: dict[int, int] = {}
    for issue in issues:
        number = corrections[issue.revision] = corrections.get(issue.revision, -1) + 1
        names.append(f"{issue.page}-{issue.revision}{f'-note-{number}' if number else ''}.json")
    return names


class Archive:
    """The snapshots of a house folder. One that is missing, cannot be read or has another code counts as none; `problems`
    tells what lies there and could not be read, as it is met."""

    def __init__(self, house_folder: Path) -> None:
        self.folder = house_folder / FOLDER
        self._house = house_folder
        found, unread = files_of(self.folder, ".json", FOLDER, house_folder, most=MOST_COPIES)
        self._there = {path.name for path in found}
        self._problems = dict.fromkeys(unread)

    @property
    def problems(self) -> list[Problem]:
        """What lies in the folder and could not be read, each once."""
        return list(self._problems)

    def of(self, issue: Issued, issues: Sequence[Issued]) -> Snapshot | None:
        """The snapshot of one issue of a page; `issues` are all of that page, oldest first."""
        if not self._there or not _SAFE_NAME.fullmatch(issue.page):
            return None
        name = next(name for one, name in zip(issues, snapshot_names(issues), strict=True) if one is issue)
        if name not in self._there:
            return None
        found, unread = read_snapshot(self.folder / name, self._house)
        self._problems |= dict.fromkeys(unread)
        return found if found is not None and found.code == issue.values_code else None


def read_snapshot(path: Path, house: Path) -> tuple[Snapshot | None, list[Problem]]:
    """The snapshot in a file whose code fits its lines; None where there is none or it was changed, with the reason."""
    shown = f"{FOLDER}/{path.name}"
    data, problems = read_json(path, shown, house, MAX_BYTES)
    if data is None:
        return None, problems
    try:
        found = _snapshot(data)
        if lines_code(found.lines, found.formulas) == found.code:
            return found, []
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        pass
    return None, [damaged(shown)]


def _snapshot(data: Any) -> Snapshot:
    return Snapshot(
        key=str(data["key"]),
        revision=int(data["revision"]),
        title=str(data["title"]),
        code=str(data["code"]),
        lines=tuple(
            PrintedLine(str(place), cast(LineKind, str(kind)), str(text))
            for place, kind, text in data["lines"]
        ),
        formulas={str(name): str(text) for name, text in data["formulas"].items()},
        amounts={
            str(key): AmountTaken(exact, tuple(str(one) for one in inputs))
            for key, (exact, inputs) in data["amounts"].items()
        },
        inputs={str(name): str(text) for name, text in data["inputs"].items()},
    )


def _block(value: Any) -> str:
    """A value as JSON; the entries of a mapping one a line."""
    if not isinstance(value, dict) or not value:
        return json.dumps(value, ensure_ascii=False)
    rows = (
        f"  {json.dumps(name, ensure_ascii=False)}: {json.dumps(value[name], ensure_ascii=False, sort_keys=True)}"
        for name in sorted(value)
    )
    return "{\n" + ",\n".join(rows) + "\n }"

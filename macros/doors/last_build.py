"""What prints otherwise than in the site that was built last, by its `amounts.json`: a file anybody can have changed."""

from __future__ import annotations

import json
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from macros.ground.house_files import is_there, read_json
from macros.ground.seen import visible_line
from macros.site.site import Site

LEDGER = "amounts.json"
MAX_BYTES = 50_000_000
"""A house of 40 systems takes a tenth of it; past it lies a file made to hang us."""
MOST_SHOWN = 200
"""Characters of a value that are shown."""


@dataclass(frozen=True)
class _Row:
    """One amount as it was printed, and the facts behind it with their units."""

    key: str
    printed: str
    visible: str
    inputs: Mapping[str, str]


def changes_since_last_build(house: Path, site: Site, folder: str) -> list[str]:
    """One line for each printed value that differs from the site built last into `folder`: old value, new value, why."""
    shown = f"{folder}/{LEDGER}"
    if not is_there(house / folder / LEDGER):
        return ["There is no earlier build to compare with."]
    old = _kept(house, folder, shown)
    if isinstance(old, str):
        return [old]
    new = _rows([amount.as_json() for amount in site.register.all()])
    lines = [f"  new: {key} = {new[key].printed}" for key in sorted(new.keys() - old.keys())]
    lines += [f"  gone: {key} (was {old[key].printed})" for key in sorted(old.keys() - new.keys())]
    for key in sorted(new.keys() & old.keys()):
        if old[key].visible != new[key].visible:
            lines.append(f"  {key}: {old[key].printed} -> {new[key].printed}{_why(old[key], new[key])}")
    if not lines:
        return ["No printed value changed since the last build."]
    count = "1 printed value" if len(lines) == 1 else f"{len(lines)} printed values"
    return [f"{count} changed since the last build:", *lines]


def _kept(house: Path, folder: str, shown: str) -> dict[str, _Row] | str:
    """The amounts of the ledger by their keys, or the line that says why there are none."""
    data, problems = read_json(house / folder / LEDGER, shown, house, MAX_BYTES)
    why = f" ({visible_line(problems[0].what)})" if problems else ""
    if not problems:
        with suppress(ValueError, KeyError, TypeError, AttributeError, RecursionError):
            return _rows(data)
    return f"{shown} cannot be read{why}; build again to compare from then on."


def _rows(data: Any) -> dict[str, _Row]:
    """Every amount by its key; an error of Python for what no build of ours writes."""
    if not isinstance(data, list):
        raise TypeError("a ledger is a list")
    rows = [_row(one) for one in data]
    return {row.key: row for row in rows}


def _row(row: Any) -> _Row:
    of = ",".join(f"{name}={value}" for name, value in sorted(row["of"].items()))
    # What a reader can see of an amount: its text, its pours, and for a table or band its figures.
    figures = row["value"] if row["kind"] in ("table", "band", "map") else None
    return _Row(
        visible_line(f"{row['id']}[{of}]" if of else str(row["id"]), MOST_SHOWN),
        visible_line(str(row["printed"]), MOST_SHOWN),
        json.dumps([row["printed"], row["pours"], figures], sort_keys=True),
        {str(one["name"]): json.dumps([one["value"], one["unit"]]) for one in row["inputs"]},
    )


def _why(old: _Row, new: _Row) -> str:
    """The facts that differ between two builds of one amount."""
    names = old.inputs.keys() | new.inputs.keys()
    changed = sorted(name for name in names if old.inputs.get(name) != new.inputs.get(name))
    said = visible_line(", ".join(changed), MOST_SHOWN)
    return f" (because of {said})" if changed else " (because the program changed)"

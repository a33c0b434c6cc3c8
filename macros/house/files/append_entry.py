"""Adds entries to a list of a house file and leaves every other byte as it was: comments, order, line ends."""

from __future__ import annotations

import re
from collections.abc import Sequence

from macros.ground.yaml_source import read_yaml_text


class NotAppended(ValueError):  # noqa: N818 - named for what it tells
    """The list is written in a form that cannot be added to; the message says which, and what to do."""


def with_entries(text: str, section: str, entries: Sequence[str], shown: str) -> str:
    """The text with `entries`, each a mapping in braces, at the end of the list `section`.

    The list is one entry a dash below `section:`; where the text has no such section it is added at the end. What comes
    out is read again: the list must hold the new entries and all else must be as before.

    Raises
    ------
    NotAppended
        the section is written in another form.
    """
    newline = "\r\n" if "\r\n" in text else "\n"
    lines = [line.removesuffix("\r") for line in text.split("\n")]
    head = next((n for n, line in enumerate(lines) if re.match(rf"{section}\s*:", line)), None)
    if head is None:
        body = text if text.endswith("\n") or not text else text + newline
        result = body + newline.join((f"{section}:", *(f"  - {entry}" for entry in entries), ""))
    else:
        at, indent = _end_of_list(lines, head, section, shown)
        added = [f"{indent}- {entry}" for entry in entries]
        parts = text.split("\n")
        last = parts[at - 1].removesuffix("\r")
        before = "\n".join([*parts[: at - 1], last]) if at > 1 else last
        after = "\n".join(parts[at:])
        result = before + newline + newline.join(added) + newline + after
    _check(text, result, section, entries, shown)
    return result


def _end_of_list(lines: Sequence[str], head: int, section: str, shown: str) -> tuple[int, str]:
    """The number of lines up to the end of the list's last entry, and the indent of its dashes."""
    value = lines[head].partition(":")[2].strip()
    if value and not value.startswith("#"):
        raise NotAppended(
            f"{shown}:{head + 1}: {section} is written on one line. Write it as a list, one entry a dash on lines of its "
            f"own below {section}:, then issue again."
        )
    indent, end = "  ", head + 1
    seen = False
    for number, line in enumerate(lines[head + 1 :], start=head + 2):
        if not line.strip() or line.lstrip().startswith("#"):
            continue
        if not re.match(r"[ \t]|-(\s|$)", line):
            break
        if not seen:
            indent, seen = line[: len(line) - len(line.lstrip())], True
        end = number
    return end, indent


def _check(old: str, new: str, section: str, entries: Sequence[str], shown: str) -> None:
    """Read both again; anything but the new entries that differs is refused."""
    before, _ = read_yaml_text(old, shown)
    after, problems = read_yaml_text(new, shown)
    added, _ = read_yaml_text("\n".join(f"- {entry}" for entry in entries), shown)
    was = (before.data if before is not None else None) or {}
    now = after.data if after is not None and not problems else None
    wanted = {**was, section: [*(was.get(section) or []), *(added.data if added is not None else [])]}
    if now != wanted:
        raise NotAppended(
            f"{shown}: the list {section} is written in a form that cannot be added to. Write it as a list, one entry a "
            f"dash on lines of its own below {section}:, then issue again."
        )

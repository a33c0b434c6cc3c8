"""Writes facts into the text of a house file and leaves every other byte as it was: comments, order, line ends.

What an owner would do by hand: put another value in the place of one; take the # off a fact that is switched off, or add a
line where there is none; put the # before one; add an entry at the end of a list. What comes out is read again and held against what was meant.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from macros.ground.yaml_source import Path_, read_yaml_text
from macros.ground.yaml_spans import Span, spans_of

Value = str | tuple[str, ...]
"""One value as text, or a list of single values."""
Entry = Mapping[str, Any]
"""Names with values, and with entries below them."""

_PLAIN = re.compile(r"-?\d+(\.\d+)?|\d{4}-\d\d-\d\d|[A-Za-z][A-Za-z0-9_-]*")
_STEP = "  "


class NotChanged(ValueError):  # noqa: N818 - named for what it tells
    """The text is written in a form that cannot be changed here; the message says where, and what to do."""


def as_yaml(value: Value) -> str:
    """A value as it stands in a file: numbers, days and single words plain, else in quotes; a list in brackets."""
    if not isinstance(value, str):
        return f"[{', '.join(as_yaml(one) for one in value)}]"
    if _PLAIN.fullmatch(value) and value.lower() not in ("null", "true", "false"):
        return value
    return '"' + value.replace("\\", "\\\\").replace('"', '\\"') + '"'


def with_facts(text: str, facts: Mapping[Path_, Value | None]) -> str:
    """The text with each value at its path, written over an older one or where there was none.

    Parameters
    ----------
    facts : path -> value; None switches a fact off. The records above a path may be missing, the entries of a list must
        be there

    Raises
    ------
    NotChanged
        a place cannot be changed in the form it is written in. Nothing of the text was changed.
    """
    result = text
    for path, value in facts.items():
        result = _switched_off(result, path) if value is None else _placed(result, path, as_yaml(value))
    _refuse_other(text, result, facts, {})
    return result


def with_entry(text: str, path: Path_, entry: Entry) -> str:
    """The text with one more entry at the end of the list at `path`, which is made where there is none.

    Raises
    ------
    NotChanged
        as `with_facts`.
    """
    result = _with_entry(text, path, entry)
    _refuse_other(text, result, {}, {path: entry})
    return result


def _with_entry(text: str, path: Path_, entry: Entry) -> str:
    spans = spans_of(text)
    span = spans.get(path)
    if span is None:
        above = _switched_on(text, path, spans)
        if above is not None:
            return _with_entry(above, path, entry)
        return _placed(text, path, f"[{_flow(entry)}]")
    if span.kind == "scalar" and span.start == span.end:
        column = _column(text, spans, path)
        return _after_line(text, span.end, _block(entry, column + len(_STEP)))
    if span.kind != "list":
        raise _not_changed(text, span)
    if span.flow:
        inner = text[span.start + 1 : span.end - 1].strip()
        return f"{text[: span.end - 1]}{', ' if inner else ''}{_flow(entry)}{text[span.end - 1 :]}"
    return _after_line(text, _with_its_comments(text, span), _block(entry, span.column))


def _with_its_comments(text: str, span: Span) -> int:
    """The end of a list with the comments and switched-off facts of its last entry, which stand further right."""
    end = span.end
    while (stop := text.find("\n", end)) >= 0:
        line = text[stop + 1 :].partition("\n")[0]
        if not line.lstrip().startswith("#") or len(line) - len(line.lstrip()) <= span.column:
            break
        end = stop + 1 + len(line.rstrip("\r"))
    return end


def _block(entry: Entry, indent: int) -> list[str]:
    """An entry as lines, a dash before the first."""
    lines = _lines(entry, indent + len(_STEP))
    return [f"{' ' * indent}- {lines[0].lstrip()}", *lines[1:]]


def _lines(entry: Entry, indent: int) -> list[str]:
    found: list[str] = []
    for name, value in entry.items():
        head = f"{' ' * indent}{name}:"
        if isinstance(value, Mapping):
            found += [head, *_lines(value, indent + len(_STEP))]
        else:
            found.append(f"{head} {as_yaml(value)}")
    return found


def _flow(value: Entry | Value) -> str:
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{name}: {_flow(one)}" for name, one in value.items()) + "}"
    return as_yaml(value)


def _placed(text: str, path: Path_, written: str) -> str:
    spans = spans_of(text)
    if path in spans:
        return _replaced(text, spans[path], written)
    switched = _switched_on(text, path, spans)
    if switched is not None:
        return _placed(switched, path, written)
    depth = max((n for n in range(len(path)) if path[:n] in spans), default=0)
    rest = path[depth:]
    if any(isinstance(step, int) for step in rest):
        raise NotChanged(f"there is no entry {'.'.join(map(str, path))} to write in")
    for name in reversed(rest[1:]):
        written = f"{{{name}: {written}}}"
    return _added(text, spans, path[:depth], f"{rest[0]}: {written}")


def _added(text: str, spans: Mapping[Path_, Span], path: Path_, line: str) -> str:
    """The text with a new name and its value in the record at `path`."""
    above = spans.get(path)
    newline = _newline(text)
    if above is None:  # a file without any fact
        return f"{text}{'' if text.endswith(chr(10)) or not text else newline}{line}{newline}"
    if above.flow and above.kind == "mapping":
        inner = text[above.start + 1 : above.end - 1].strip()
        return f"{text[: above.end - 1]}{', ' if inner else ''}{line}{text[above.end - 1 :]}"
    if above.kind == "scalar" and above.start == above.end:
        return _after_line(text, above.end, [f"{' ' * (_column(text, spans, path) + len(_STEP))}{line}"])
    if above.kind == "mapping":
        return _after_line(text, above.end, [f"{' ' * above.column}{line}"])
    raise _not_changed(text, above)


def _replaced(text: str, span: Span, written: str) -> str:
    if span.kind == "scalar" or span.flow:
        old = text[span.start : span.end]
        before = " " if not old and text[span.start - 1 : span.start] == ":" else ""
        after = _newline(text) if span.block and old.endswith("\n") else ""
        return f"{text[: span.start]}{before}{written}{after}{text[span.end :]}"
    if span.kind != "list" or span.after_name is None:
        raise _not_changed(text, span)
    colon = text.index(":", span.after_name) + 1
    if "#" in re.sub(r'"[^"\n]*"', "", text[colon : span.end]):
        raise _not_changed(text, span)
    return f"{text[:colon]} {written}{text[span.end :]}"


def _switched_on(text: str, path: Path_, spans: Mapping[Path_, Span]) -> str | None:
    """The text with the # taken off the line of the first name on the path that is not there; None where none is off."""
    depth = next((n for n in range(1, len(path) + 1) if path[:n] not in spans), len(path))
    name, record = path[depth - 1], path[: depth - 1]
    above = spans.get(record)
    if isinstance(name, int) or (above is not None and (above.flow or above.kind == "list")):
        return None
    start, end = _region(text, record, spans)
    for match in re.finditer(rf"^( *)#(?={re.escape(name)}:(?: |$|\r))", text[start:end], re.MULTILINE):
        if _may_stand(len(match.group(1)), above, spans, record, text):
            off = start + match.end() - 1
            return text[:off] + text[off + 1 :]
    return None


def _may_stand(
    indent: int, above: Span | None, spans: Mapping[Path_, Span], record: Path_, text: str
) -> bool:
    """Whether a name of a record stands in this column; below a name without anything, further right than that name."""
    if above is None:
        return indent == 0
    return indent == above.column if above.kind == "mapping" else indent > _column(text, spans, record)


def _switched_off(text: str, path: Path_) -> str:
    """The text with a # before the line of a fact; one of several lines, or beside another, is not changed."""
    spans = spans_of(text)
    span = spans.get(path)
    if span is None:
        return text
    if span.after_name is None or spans[path[:-1]].flow:
        raise _not_changed(text, span)
    start = text.rfind("\n", 0, span.after_name) + 1
    begin = start + len(text[start : span.after_name]) - len(text[start : span.after_name].lstrip(" "))
    if text[begin] == "-" or "\n" in text[begin : span.end]:
        raise _not_changed(text, span)
    return f"{text[:begin]}#{text[begin:]}"


def _region(text: str, path: Path_, spans: Mapping[Path_, Span]) -> tuple[int, int]:
    """From the begin of a record to the line before the next fact that is none of it."""
    span = spans.get(path)
    if span is None or not path:
        return 0, len(text)
    later = (one for other, one in spans.items() if other[: len(path)] != path and one.start >= span.end)
    following = min((one.start for one in later), default=len(text))
    line = text.rfind("\n", 0, following) + 1 if following < len(text) else len(text)
    return text.rfind("\n", 0, span.start) + 1, max(line, span.end)


def _column(text: str, spans: Mapping[Path_, Span], path: Path_) -> int:
    """The column of the name a value stands under."""
    name = spans[path].after_name
    if not path or name is None:
        return -len(_STEP)
    line = text.rfind("\n", 0, name) + 1
    beside = spans.get(path[:-1])
    return beside.column if beside is not None else len(re.match(r" *", text[line:]).group())  # type: ignore[union-attr]


def _after_line(text: str, end: int, lines: list[str]) -> str:
    """The text with lines after the one in which `end` lies."""
    newline = _newline(text)
    stop = text.find("\n", max(end - 1, 0) if text[max(end - 1, 0) : end] == "\n" else end)
    if stop < 0:
        return f"{text}{newline}{newline.join(lines)}{newline}"
    return f"{text[: stop + 1]}{newline.join(lines)}{newline}{text[stop + 1 :]}"


def _newline(text: str) -> str:
    return "\r\n" if "\r\n" in text else "\n"


def _not_changed(text: str, span: Span) -> NotChanged:
    line = text.count("\n", 0, span.start) + 1
    return NotChanged(
        f"line {line} is written in a form that is not changed here. Write the value there yourself, in an editor"
    )


def _refuse_other(
    old: str, new: str, facts: Mapping[Path_, Value | None], entries: Mapping[Path_, Entry]
) -> None:
    """Read both texts; anything else that differs is refused."""
    before, _ = read_yaml_text(old.removeprefix("\ufeff"), "")
    after, problems = read_yaml_text(new.removeprefix("\ufeff"), "")
    wanted = before.data if before is not None else None
    for path, value in facts.items():
        wanted = _put(wanted, path, list(value) if isinstance(value, tuple) else value)
    for path, entry in entries.items():
        wanted = _put(wanted, path, [*(_at(wanted, path) or []), _as_read(entry)])
    if problems or after is None or _filled(after.data) != _filled(wanted):
        raise NotChanged(
            "the place is written in a form that is not changed here. Write the value there yourself, in an editor"
        )


def _as_read(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {name: _as_read(one) for name, one in value.items()}
    return value if isinstance(value, str) else list(value)


def _at(data: Any, path: Path_) -> Any:
    for step in path:
        data = (
            data.get(step) if isinstance(data, dict) else data[int(step)] if isinstance(data, list) else None
        )
    return data


def _put(data: Any, path: Path_, value: Any) -> Any:
    if not path:
        return value
    if isinstance(path[0], int):
        items = list(data)
        items[path[0]] = _put(items[path[0]], path[1:], value)
        return items
    below = data or {}
    return {**below, path[0]: _put(below.get(path[0]), path[1:], value)}


def _filled(data: Any) -> Any:
    """The data without names under which nothing stands."""
    if isinstance(data, dict):
        return {name: _filled(one) for name, one in data.items() if one is not None}
    return [_filled(one) for one in data] if isinstance(data, list) else data

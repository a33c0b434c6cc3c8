"""The word `checked` in a comment behind a fact: it reads as the starter's, or its record is assumed, and yet is true.

`inside_length: "0.60 m"  # checked` says it of the line; where several facts stand on one line they are named:
`{name: "red jug", capacity: "1 L"}  # checked: capacity`. An owner may write or take away the word by hand.
"""

from __future__ import annotations

import re

from macros.ground.yaml_source import Path_
from macros.ground.yaml_spans import spans_of

_WORD = re.compile(r"#.*\bchecked\b(?::([\w, ]*))?")


def is_checked(line: str, field: str) -> bool:
    """Whether a line of a house file says of this field that it was checked."""
    match = _WORD.search(line)
    if match is None:
        return False
    named = match.group(1)
    return named is None or field in re.split(r"[,\s]+", named)


def with_checked(text: str, path: Path_) -> str:
    """The text with the word behind the value at `path`, which stands there; the rest as it was."""
    spans = spans_of(text)
    span, above = spans[path], spans[path[:-1]]
    at = span.start if span.after_name is None else span.after_name
    start, stop = text.rfind("\n", 0, at) + 1, text.find("\n", at)
    stop = len(text) if stop < 0 else stop
    line, field = text[start:stop].rstrip("\r"), str(path[-1])
    if is_checked(line, field):
        return text
    if not above.flow:
        return f"{text[: start + len(line)]}{_joined(line, span.end - start, 'checked')}{text[start + len(line) :]}"
    match = _WORD.search(line)
    if match is not None and match.group(1) is not None:
        end = start + match.end()
        return f"{text[:end].rstrip()}, {field}{text[end:]}"
    inner = max(
        (one.end - start for one in spans.values() if start <= one.end <= start + len(line)), default=0
    )
    return (
        f"{text[: start + len(line)]}{_joined(line, inner, f'checked: {field}')}{text[start + len(line) :]}"
    )


def _joined(line: str, value_end: int, word: str) -> str:
    """What goes behind a line: a comment, or more of the one that is there."""
    return f"; {word}" if "#" in line[max(value_end, 0) :] else f"  # {word}"

"""Where each value of a YAML text begins and ends, so that one can be changed and every other byte stays."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import accumulate
from typing import Literal

from macros.ground.yaml_source import Mark, Path_, marks_of


@dataclass
class Span:
    """A value from character `start` to `end`; a block ends with the last value in it.

    `column` is where its first name or dash stands, `after_name` the end of the name it stands under (a list's item has
    none). `flow` is written in brackets, `block` as lines of text.
    """

    kind: Literal["scalar", "mapping", "list"]
    start: int
    end: int
    column: int
    after_name: int | None
    flow: bool = False
    block: bool = False


def spans_of(text: str) -> dict[Path_, Span]:
    """The span of each value of a text that could be read, by its path."""
    starts = [0, *accumulate(len(line) + 1 for line in text.split("\n"))]
    found: dict[Path_, Span] = {}
    marks = marks_of(text)
    first = next(marks, None)
    if first is not None:
        _value(first, marks, (), None, starts, found)
    return found


def _value(
    mark: Mark,
    marks: Iterator[Mark],
    path: Path_,
    name: int | None,
    starts: list[int],
    found: dict[Path_, Span],
) -> int:
    """Note what begins with this mark; its end is returned."""

    def at(point: tuple[int, int]) -> int:
        return starts[point[0]] + point[1]

    assert mark.kind != "end"
    span = Span(mark.kind, at(mark.start), at(mark.end), mark.start[1], name, mark.flow, mark.block)
    found[path] = span
    if mark.kind == "scalar":
        return span.end
    count = 0
    while (inner := next(marks)).kind != "end":
        if mark.kind == "list":
            span.end = _value(inner, marks, (*path, count), None, starts, found)
            count += 1
        else:
            span.end = _value(next(marks), marks, (*path, inner.text), at(inner.end), starts, found)
    if mark.flow:
        span.end = at(inner.end)
    return span.end

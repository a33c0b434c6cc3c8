"""The owner's words for photographs of the room; the pictures themselves lie in `photos/`."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Annotated

from pydantic import WithJsonSchema

from macros.ground.field_types import Name, reader
from macros.ground.records import Record, mistake

Shape = tuple[float, ...]


def _percents(count: int, allowed: str) -> Callable[[str, bool], Shape]:
    def read(text: str, us: bool) -> Shape:
        words = text.split()
        numbers = tuple(float(word) for word in words if re.fullmatch(r"\d{1,3}(\.\d+)?", word))
        if len(words) != count or len(numbers) != count or max(numbers) > 100:
            raise mistake(f'"{text}" says no place on a picture', allowed, "Count from the upper left corner")
        return numbers

    return read


_ARROW = (
    "Four numbers from 0 to 100 with blanks between: across and down where it begins, and where it points"
)
_CIRCLE = (
    "Three numbers from 0 to 100 with blanks between: across and down to its middle, and its radius across"
)
Arrow = Annotated[
    Shape, reader(_percents(4, _ARROW)), WithJsonSchema({"type": "string", "description": _ARROW})
]
Circle = Annotated[
    Shape, reader(_percents(3, _CIRCLE)), WithJsonSchema({"type": "string", "description": _CIRCLE})
]


class PhotoWords(Record):
    """The words of one photograph.

    `file` is its name below `photos/`, as `sop-06/circulate.jpg`; `alt` says what is seen to whoever does not see it;
    `arrows` and `circles` point in percent of width and height from the upper left corner.
    """

    file: Name
    alt: Name
    caption: Name | None = None
    arrows: tuple[Arrow, ...] = ()
    circles: tuple[Circle, ...] = ()

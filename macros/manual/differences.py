"""What differs between two prints of one thing, line by line: where, what stood there, what stands there now."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import zip_longest

from macros.manual.printed import PrintedLine

ORDER = "order of the lines"


@dataclass(frozen=True)
class Difference:
    """One line that differs; `old` is empty for a line that is new, `new` for one that is gone."""

    place: str
    kind: str
    old: str
    new: str


def differences(old: Sequence[PrintedLine], new: Sequence[PrintedLine]) -> tuple[Difference, ...]:
    """Every line that differs, in the order of the new print. Lines that only moved are told as one."""
    found = tuple(_by_place(old, new))
    moved = [line.text for line in old] != [line.text for line in new]
    return found or ((Difference(ORDER, "order", "as before", "otherwise"),) if moved else ())


def _by_place(old: Sequence[PrintedLine], new: Sequence[PrintedLine]) -> Iterator[Difference]:
    kinds = {line.place: line.kind for line in (*old, *new)}
    for place in dict.fromkeys(line.place for line in (*new, *old)):
        before = [line.text for line in old if line.place == place]
        after = [line.text for line in new if line.place == place]
        both = Counter(before) & Counter(after)
        for text_before, text_after in zip_longest(_without(before, both), _without(after, both), fillvalue=""):
            yield Difference(place, kinds[place], text_before, text_after)


def _without(texts: Sequence[str], taken: Counter[str]) -> list[str]:
    left = Counter(taken)
    found = []
    for text in texts:
        if left[text]:
            left[text] -= 1
        else:
            found.append(text)
    return found

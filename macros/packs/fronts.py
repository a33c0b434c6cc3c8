"""Paper printed on both sides: which sheets get a page for notes before them, so that they begin on a front."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from macros.html.paper import Part


def before_fronts(parts: Sequence[Part], pages: Mapping[str, int], total: int, most: int) -> list[str]:
    """Keys of the sheets of several pages that would begin on a back, as far as `most` pages are kept to.

    Parameters
    ----------
    parts : the sheets in order
    pages : key of each sheet -> the page it begins on, counted from 1
    total : pages in all
    most : pages there may be with those for notes
    """
    ends = [*(pages[part.key] for part in parts[1:]), total + 1]
    found: list[str] = []
    for part, end in zip(parts, ends, strict=True):
        begins, takes = pages[part.key] + len(found), end - pages[part.key]
        if takes > 1 and begins % 2 == 0 and total + len(found) < most:
            found.append(part.key)
    return found

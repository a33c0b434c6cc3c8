"""Places of a printed line in the words of the page they are on: step numbers and names of amounts instead of ids."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace

from macros.control.documents.judge_change import Difference
from macros.manual.pages.printed_lines import in_words
from macros.page_model.page import PageContent

_STEP = re.compile(r"\b(step|before) ([\w.-]+)")
_AMOUNT = re.compile(r"\bamount (\w+)(, measured with|, system)?(?: \((\d+)\))?")


def told_of(found: Iterable[Difference], view: object) -> tuple[Difference, ...]:
    """Differences with their places in words. A step that is gone keeps its id: no page numbers it any more."""
    return tuple(replace(one, place=place_in_words(one.place, view)) for one in found)


def place_in_words(place: str, view: object) -> str:
    """A place with the numbers and names a reader sees: `step 7: Water to fill in` for `step fill: amount res_fill`."""
    if not isinstance(view, PageContent):
        return in_words(place)
    numbers = {step.id: step.number for step in view.steps}
    inside = _STEP.search(place)
    amounts = [amount for step in view.steps if inside and step.id == inside[2] for amount in step.amounts]

    def label(found: re.Match[str]) -> str:
        """One step can hold an amount several times, as of each part of the feed; the later ones are numbered."""
        alike = [one.label for one in amounts or view.amounts if one.amount_id == found[1]]
        which = int(found[3] or 1)
        return alike[which - 1] + (found[2] or "") if which <= len(alike) else found[0]

    place = _STEP.sub(
        lambda found: (
            f"{'step' if found[1] == 'step' else 'before step'} {numbers[found[2]]}"
            if found[2] in numbers
            else found[0]
        ),
        place,
    )
    return in_words(_AMOUNT.sub(label, place))

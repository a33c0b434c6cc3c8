"""Every label of a house: batches, decanted stock, bottles, sowings, trays, tanks, packed food."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from macros.amounts import Register
from macros.manual.pages.photographs import photo_view
from macros.page_model.page import PageView
from macros.paper.labels.bought_bottles import stock_labels
from macros.paper.labels.food import food_labels
from macros.paper.labels.label import LabelView
from macros.paper.labels.own_containers import batch_labels, decanted_labels
from macros.paper.labels.tanks import tank_labels
from macros.paper.labels.trays import sowing_labels, tray_labels
from macros.photographs import NO_PHOTOGRAPHS, Photographs

_MAKERS: dict[str, Callable[[Register, Sequence[PageView]], Iterator[LabelView]]] = {
    "batch": batch_labels,
    "decanted": decanted_labels,
    "stock": stock_labels,
    "sowing": sowing_labels,
    "tray": tray_labels,
    "tank": tank_labels,
    "food": food_labels,
}

LABEL_KINDS = tuple(_MAKERS)
"""Every kind, in the order they are printed."""


def house_labels(
    register: Register,
    views: Sequence[PageView],
    system: str | None = None,
    kinds: Sequence[str] = (),
    photographs: Photographs = NO_PHOTOGRAPHS,
) -> list[LabelView]:
    """The labels of a house.

    Parameters
    ----------
    system : only those of this system; bottles and decanted stock belong to the room and stay
    kinds : only these of `LABEL_KINDS`; none means all. KeyError for an unknown one
    photographs : of the house; a plant that is taken for another carries that of its leaf
    """
    wanted = [_MAKERS[kind] for kind in (LABEL_KINDS if not kinds else dict.fromkeys(kinds))]
    found = [label for make in wanted for label in make(register, views)]
    return [
        _with_photo(label, photographs) for label in found if system is None or label.badge in (system, "")
    ]


def _with_photo(label: LabelView, photographs: Photographs) -> LabelView:
    """Without its caption: the label says what it shows."""
    found = photographs.of(*label.shows)
    return replace(label, photo=replace(photo_view(found), caption="")) if found else label

"""The page of photographs that are missing, worth first."""

from __future__ import annotations

from collections.abc import Sequence

from macros.house import House
from macros.manual.pages.shot_list import shot_list
from macros.page_model.page import PageView
from macros.page_model.table import Table, TablePage
from macros.photographs import Photographs


def shots_page(house: House, views: Sequence[PageView], photographs: Photographs) -> TablePage:
    """Every photograph this house has not, by the name it would be found under."""
    shots = shot_list(house, views, tuple(photographs.by_subject))
    rows = tuple((shot.shows, shot.where, f"{shot.name}.jpg", shot.why) for shot in shots)
    return TablePage(
        "Photographs to take",
        f"{len(photographs.by_subject)} photographs are shown, {len(shots)} are missing. The first rows spare the worst "
        "mistakes. Save each under its name in photos/ of the house and write what is seen under photos: in site_data. "
        "trayside pack photos prints the first to walk round with. No face, no name on paper.",
        (Table("Missing, worth first", ("Show", "Where", "Save as", "Worth it"), rows),),
    )

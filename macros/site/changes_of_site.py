"""Puts the change list of a finished site together, and what `trayside issue` keeps of it afterwards."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import chain

from macros.control.changes.baseline import Baseline, renewed
from macros.control.changes.changes import ChangeList, item_thing
from macros.control.changes.uncontrolled_things import PrintedThing
from macros.control.changes.visible_text import site_pages, site_things
from macros.manual.pages.values_code import last_issue
from macros.site.site import Site


def site_changes(site: Site, baseline: Baseline | None = None) -> ChangeList:
    """All that a publication of the site changes, with the initials of those it touches: for the owner alone.

    `baseline` is one that was kept after the site was worked out.
    """
    compared = site.compared if baseline is None else site.compared.with_baseline(baseline)
    return compared.changes(
        site.controlled_documents, _things(site), site_pages(site.pages, site.files), names=True
    )


def new_baseline(site: Site, issued: Iterable[str] | None) -> Baseline:
    """What is kept once `issued` items are issued; None keeps all that waits for no issue."""
    now = None if issued is None else set(issued)
    house = site.register.house
    waiting = []
    for item in site.controlled_documents:
        last = last_issue(house, item.key)
        if item.key not in (now or ()) and (last is None or last.values_code != item.control.values_code):
            waiting.append(item.key)
    everything = chain(
        map(item_thing, site.controlled_documents), _things(site), site_pages(site.pages, site.files)
    )
    compared = site.compared
    return renewed(compared.baseline, everything, compared.inputs, now, waiting)


def _things(site: Site) -> Iterator[PrintedThing]:
    return site_things(site.register, site.views, site.questions, site.files, site.photographs)

"""The table of the kinds of sheet: every kind is made in some house, every pack it names is one, no other passes."""

from __future__ import annotations

import pytest

from macros.control.changes.sheet_kinds import SHEET_KINDS, listed, page_sheets
from macros.control.changes.uncontrolled_things import Printed
from macros.control.changes.visible_text import site_things
from macros.published.paper.packs import packs
from macros.site.site import Site


def test_each_kind_is_printed_somewhere_and_by_a_pack_there_is(sites: dict[str, Site]) -> None:
    seen: set[str] = set()
    for site in sites.values():
        for thing in site_things(site.register, site.views, site.questions, site.files):
            seen.add(thing.kind)
            named = {words.split()[0] for words in SHEET_KINDS[thing.kind].packs(thing.key, thing.pages)}
            assert named <= set(packs().packs), thing.key
        for view in site.views:
            assert [address for _, address in page_sheets(view) if address not in site.files] == []
    assert seen == set(SHEET_KINDS)


def test_a_kind_that_no_list_of_changes_would_name_is_refused() -> None:
    strange = Printed("X-1", "poster", "A poster", "", (), ())
    with pytest.raises(ValueError, match=r"^poster is no kind of sheet: enter it in sheet_kinds\.py$"):
        list(listed(iter([strange])))

"""A page says where a step is done, at each step that is done elsewhere than the one before."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from macros.manual.pages.printed_lines import printed_lines
from macros.site.site import Site


@pytest.mark.parametrize("name", ["second", "fourth"])
def test_a_place_is_told_where_it_changes_and_nowhere_else(sites: Mapping[str, Site], name: str) -> None:
    told = 0
    for view in sites[name].views:
        before = ""
        for step in view.steps:
            assert step.new_place == ("" if step.where == before else step.where), f"{view.key} {step.number}"
            before, told = step.where, told + bool(step.new_place)
    assert told > 100


def test_the_page_prints_it_behind_the_action(all_kinds: Site) -> None:
    """SOP-08 begins at the rack, goes to the tank and comes back to the bench to rinse the measure."""
    (view,) = (one for one in all_kinds.views if one.key == "SOP-08-K")
    page = all_kinds.pages[view.page_address.replace(".html", ".md")]
    first, second, third = page.split('<div class="sop-step"')[1:4]
    assert 'Unplug the pump and the air pump.<span class="sop-more">Where: rack</span>' in first
    assert '<span class="sop-more">Where: tank</span>' in second
    assert "Where:" not in third
    lines = {line.place: line.text for line in printed_lines(view)}
    assert lines["step unplug: where"] == "rack"
    assert "step mop_heel: where" not in lines or lines["step mop_heel: where"] == ""

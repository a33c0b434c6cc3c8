"""Where work may rest, the page says where it goes on: at the next step, or nowhere after the last."""

from __future__ import annotations

from tests.making import manual_of


def test_a_rest_after_the_last_step_leads_to_no_step() -> None:
    site, seen = manual_of("fourth"), set()
    for view in site.views:
        text = site.pages[view.page_address.replace(".html", ".md")]
        rests = [step for step in view.steps if step.safe_to_leave]
        for step in rests:
            last = step is view.steps[-1]
            assert step.safe_to_leave
            assert step.safe_to_leave.go_on_at == (None if last else step.number + 1)
            seen.add(last)
        ends = bool(rests) and rests[-1] is view.steps[-1]
        assert text.count("This page is done.") == ends, view.key
        assert f"Go on at step&nbsp;{len(view.steps) + 1}" not in text
    assert seen == {True, False}

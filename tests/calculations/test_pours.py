"""Pours: examples worked by hand, and what must hold for any amount and any tools."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from macros.calculations.pours import NoTool, Tool, plan_pours, plan_together, ratio_error

JUG = Tool("jug 1 L", 1000, 20, 200)
CYLINDER = Tool("cylinder 250 mL", 250, 2, 50)
SYRINGE_60 = Tool("syringe 60 mL", 60, 1, 10)
SYRINGE_10 = Tool("syringe 10 mL", 10, 0.2, 1)


@pytest.mark.parametrize(
    ("amount", "tools", "direction", "limit", "volumes"),
    [
        (3401, (JUG, CYLINDER), "up", 0.05, [1000, 1000, 1000, 420]),
        (1893, (JUG, CYLINDER), "up", 0.05, [1000, 900]),
        (98.3, (JUG, CYLINDER), "up", 0.05, [100]),
        (245.9, (JUG, CYLINDER), "up", 0.05, [246]),
        (27.9, (SYRINGE_10,), "down", 0.10, [10, 10, 7.8]),
        (13.5, (SYRINGE_10,), "down", 0.10, [10, 3.4]),
        (149.6, (SYRINGE_60, CYLINDER, SYRINGE_10), "nearest", 0.05, [150]),
    ],
)
def test_worked_examples_of_the_owner(amount, tools, direction, limit, volumes) -> None:  # type: ignore[no-untyped-def]
    """Source: arithmetic, checked by hand."""
    plan = plan_pours(amount, tools, direction, limit)
    assert [pour.volume for pour in plan.pours] == volumes
    assert plan.total == pytest.approx(sum(volumes))


def test_parts_are_poured_with_one_tool_so_that_their_ratio_holds() -> None:
    """Source: arithmetic, checked by hand: 149.6, 108.8 and 190.4 mL become 150, 108 and 190."""
    plans = plan_together([149.6, 108.8, 190.4], (SYRINGE_60, CYLINDER, SYRINGE_10), "nearest", 0.05)
    assert [plan.total for plan in plans] == [150, 108, 190]
    assert ratio_error([149.6, 108.8, 190.4], plans) <= 0.03


def test_no_tool_is_told_with_the_tool_to_buy() -> None:
    """Source: wording of the owner's refusal E24; 0.1 of 1.6 is 6 %, over the limit of 5 %."""
    with pytest.raises(NoTool) as refused:
        plan_pours(1.6, (SYRINGE_10,), "nearest", 0.05)
    assert refused.value.told("mL") == (
        "1.6 mL to measure: smallest usable tool is 'syringe 10 mL' (from 1 mL; half a mark is 0.1 mL = 6% of the dose, "
        "limit 5%)",
        "Buy one with marks of 0.16 mL or finer that holds 3.2 mL",
    )


def test_no_tool_at_all() -> None:
    with pytest.raises(NoTool, match="the house owns no tool for this liquid"):
        plan_pours(5, (), "up", 0.05)


def test_too_many_pours_are_refused() -> None:
    with pytest.raises(NoTool, match="over 60 pours"):
        plan_pours(5000, (SYRINGE_10,), "up", 0.05)


tools = st.builds(
    lambda capacity, parts, least: Tool(
        "tool", capacity, round(capacity / parts, 6), round(capacity / parts * least, 6)
    ),
    st.sampled_from([10.0, 25.0, 60.0, 250.0, 1000.0]),
    st.sampled_from([10, 20, 50, 125]),
    st.integers(1, 5),
)


@settings(max_examples=200, deadline=None)
@given(
    st.floats(1, 5000),
    st.lists(tools, min_size=1, max_size=3),
    st.sampled_from(["up", "down", "nearest"]),
    st.floats(0.02, 0.1),
)
def test_every_plan_keeps_the_rules(amount, owned, direction, limit) -> None:  # type: ignore[no-untyped-def]
    owned = [Tool(f"tool {n}", t.capacity, t.mark, t.smallest_use) for n, t in enumerate(owned)]
    try:
        plan = plan_pours(amount, owned, direction, limit)
    except NoTool:
        return
    by_name = {tool.name: tool for tool in owned}
    assert plan.total == pytest.approx(sum(pour.volume for pour in plan.pours))
    for pour in plan.pours:
        tool = by_name[pour.tool]
        assert tool.smallest_use - 1e-6 <= pour.volume <= tool.capacity + 1e-6
        assert abs(pour.volume / tool.mark - round(pour.volume / tool.mark)) < 1e-6
        assert tool.mark / 2 <= limit * amount * (1 + 1e-6)
    if direction == "up":
        assert plan.total >= amount - 1e-6
    if direction == "down":
        assert plan.total <= amount + 1e-6

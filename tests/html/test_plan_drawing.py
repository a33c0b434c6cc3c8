"""The crop plan as bars: each stands over its days, and what is overbooked is said and told apart without colour."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest

from macros.html.plan_drawing import in_words, plan_drawing
from macros.page_model.figure import Bar, BarsView
from macros.reference.plan_bars import plan_bars
from tests.making import HOUSES, made_house, made_register, manual_of

HALF_A_MILLIMETRE = 5.0
"""In units of the drawing: ten of them are a millimetre on paper."""
LEFT, WIDTH, TOP, ROW = 460, 1420, 60, 46
"""Where the template's columns and rows stand, written here anew."""


def drawn(html: str, kind: str) -> set[tuple[int, int, int]]:
    """(row, left, right) of every bar of a kind."""
    found = re.search(rf'<path d="([^"]+)" class="b-{kind}"', html)
    boxes = re.findall(r"M(\d+) (\d+)H(\d+)v", found[1]) if found else []
    return {((int(y) - TOP) // ROW, int(x), int(end)) for x, y, end in boxes}


def test_a_bar_stands_over_its_days() -> None:
    # By hand: 14 days on 1420 are 101.43 a day from 460 on. Days 2 to 4 reach from 662.9 to 967.1; day 13 ends at 1880.
    view = BarsView(
        "The crop plan",
        date(2026, 3, 9),
        14,
        (
            ("viola", (Bar(2, 4, "plugs"), Bar(5, 13, "harvest"))),
            ("domes, 2 owned", (Bar(0, 6, "use", "2"), Bar(7, 9, "over", "3"))),
        ),
    )
    html = str(plan_drawing(view))
    assert drawn(html, "plugs") == {(0, 663, 967)}
    assert drawn(html, "harvest") == {(0, 967, 1880)}
    assert drawn(html, "over") == {(1, 1170, 1474)}
    assert 'class="dover"><text x="1322" y="134">3!</text>' in html
    assert in_words(view).endswith("Overbooked: 3 domes, 2 owned from 16 Mar to 18 Mar.")


@pytest.mark.parametrize("name", ["third", "fourth", "fifth"])
def test_bars_of_a_house_stand_over_the_days_of_its_amounts(name: str) -> None:
    register = made_register(HOUSES / name)
    view = plan_bars(register)
    assert view is not None
    assert view.start.weekday() == 0
    html, names = str(plan_drawing(view)), [row for row, _ in view.rows]

    def place(day: date) -> float:
        return LEFT + WIDTH * (day - view.start).days / view.days

    varieties = [one for one in register.house.varieties if one.spoken in names]
    assert bool(varieties) == bool(register.of_id("harvest_first"))
    plan = register.house.crop_plan
    assert plan is not None
    days = {plan.cleanout_system: plan.cleanout_day}
    days |= {one.system: one.cleanout_day for one in plan.other_systems}
    found = re.search(r'<path d="([^"]+)" class="b-cleanout"', html)
    assert found is not None
    tips = {((int(y) - TOP) // ROW, int(x)) for x, y in re.findall(r"M(\d+) (\d+)l16", found[1])}
    assert len(tips) == len(days)
    for system, day in days.items():
        assert day is not None
        (tip,) = (x for row, x in tips if row == names.index(f"Rack {system}"))
        assert tip == pytest.approx(place(day) + WIDTH / view.days / 2, abs=HALF_A_MILLIMETRE)
    in_use = drawn(html, "use") | drawn(html, "over")
    rows = register.get("plan_use").exact["rows"]
    assert len(in_use) == len(rows)
    for thing, first, last, *_ in rows:
        at = next(number for number, row in enumerate(names) if row.startswith(f"{thing}, "))
        assert any(
            row == at
            and abs(x - place(date.fromisoformat(first))) < HALF_A_MILLIMETRE
            and abs(end - place(date.fromisoformat(last)) - WIDTH / view.days) < HALF_A_MILLIMETRE
            for row, x, end in in_use
        )


def test_days_with_more_in_use_than_owned_are_drawn_and_said(tmp_path: Path) -> None:
    register = made_register(
        made_house(tmp_path, ("nursery: {trays: 3}", "nursery: {trays: 2}"), name="fourth")
    )
    view = plan_bars(register)
    assert view is not None
    over = {name for name, bars in view.rows for bar in bars if bar.kind == "over"}
    assert over == {"nursery trays, 2 owned"}
    assert "Overbooked: 3 nursery trays, 2 owned from " in in_words(view)
    assert len(drawn(str(plan_drawing(view)), "over")) == 1


def test_a_house_without_a_plan_has_no_bars() -> None:
    assert plan_bars(manual_of("second").register) is None

"""The page of the crop plan and the stocks, and the forms that carry the reorder point of a sanitizer."""

from __future__ import annotations

import re

from tests.making import manual_of


def page(name: str) -> str:
    text = manual_of(name).pages["reference/plan.md"].replace("\u00a0", " ").replace("\n", "")
    return re.sub(r' data-label="[^"]*"|</?span[^>]*>', "", text)


def test_the_page_shows_each_thing_week_and_stock() -> None:
    text = page("fourth")
    for title in (
        "What the plan takes of each thing",
        "What may be promised in which week",
        "When to order each stock",
        "How long rack K may stand without a flood",
    ):
        assert title in text
    trays = '<th scope="row">nursery trays</th><td>2031-05-30</td><td>2031-06-09</td><td>3</td><td>3</td>'
    assert trays in text
    assert '<th scope="row">2031-04-28</th><td>0</td><td>0</td><td>0</td>' in text
    dip = "<td>2 of 5.0 L</td><td>not given</td><td>none in six months</td><td>0</td><td>not short</td>"
    assert f'<th scope="row">part 1 (calcium)</th>{dip}' in text
    assert '<th scope="row">peroxide, food-contact grade</th><td>4 of 1 L</td><td>2032-01-01</td>' in text


def test_a_house_without_a_plan_has_no_such_page() -> None:
    assert "reference/plan.md" not in manual_of("first").pages


def test_the_weekly_check_says_when_to_order_a_sanitizer() -> None:
    site = manual_of("fourth")
    printed = site.register.get("reorder_point", chemical="perox").printed
    (address,) = [view.page_address for view in site.views if view.document == "SOP-17"]
    assert printed in site.pages[address.replace(".html", ".md")].replace("\u00a0", " ")

"""A day that passes moves no issued page, sheet or card while its stock is in use; expiry and reviews are told."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest

from macros.amounts import Amount, compute_amounts
from macros.ground.problems import DataProblems
from macros.site.site import Site, prepare_site
from tests.controlling import issued_lines
from tests.making import PROCEDURES, made_house, pages_that_differ

KEEPS = (
    "opened: 2031-06-09, expires: 2032-01-01, loss_per_month_after_opening: 0",
    "opened: 2031-06-09, expires: 2033-01-01, loss_per_month_after_opening: 0.01",
)
"""Its strength falls to 0.85 after ln 0.85 / ln 0.99 = 16.17 months: it is used until 2032-10-13."""
LOOK_AHEAD = {"promise_weeks", "stock_forecast"}
"""They look weeks and months ahead from the day of the build, and stand on no issued page."""
ISSUED = date(2031, 6, 10)
"""The day after the cleanout: from here on the amounts are for the day of the build."""


def on(house: Path, day: date) -> Site:
    return prepare_site(house, PROCEDURES, day.isoformat(), {})


@pytest.fixture(scope="module")
def house(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The fourth house, everything issued on the day after its cleanout."""
    folder = tmp_path_factory.mktemp("year")
    plain = made_house(folder / "plain", KEEPS, name="fourth")
    file = plain / "site_data" / "house.yml"
    facts = file.read_text(encoding="utf-8")
    for _ in range(
        2
    ):  # the sign-off card prints the revisions of the pages, so its code is that after their issue
        before = on(plain, ISSUED)
        lines = "\n".join(f"{item.key} 1 {ISSUED}" for item in before.controlled_documents)
        file.write_text(facts + issued_lines(before, lines, ()), encoding="utf-8")
    return plain


@pytest.fixture(scope="module")
def issued(house: Path) -> Site:
    return on(house, ISSUED)


def told(amount: Amount) -> tuple[str, str, str]:
    return amount.key, amount.printed, amount.working


def drafts(site: Site) -> dict[str, tuple[str, ...]]:
    found = {item.key: tuple(item.control.draft_reasons) for item in site.controlled_documents}
    return {key: reasons for key, reasons in found.items() if reasons}


@pytest.mark.parametrize("days", [1, 180, 364])
def test_a_year_of_days_takes_nothing_out_of_its_issue(house: Path, issued: Site, days: int) -> None:
    assert len(issued.controlled_documents) > 40
    assert drafts(issued) == {}
    later = on(house, ISSUED + timedelta(days=days))
    assert drafts(later) == {}
    assert pages_that_differ(issued, later) == set()


def test_no_amount_of_any_day_of_the_year_is_another(issued: Site) -> None:
    register = issued.register
    first = [told(amount) for amount in register.all() if amount.id not in LOOK_AHEAD]
    for days in range(0, 366, 9):
        later = compute_amounts(register.house, ISSUED + timedelta(days=days), register.day_place)
        assert [told(amount) for amount in later.all() if amount.id not in LOOK_AHEAD] == first


def test_a_review_that_is_due_is_told_and_takes_no_page_out_of_its_issue(house: Path) -> None:
    """Due every 12 months in this house."""
    later = on(house, ISSUED + timedelta(days=366))
    assert drafts(later) == {}
    assert "review due since 2032-06-10" in later.pages["p/sop-01.md"]


def test_the_end_of_a_stock_is_told_and_no_batch_is_made_of_it(house: Path) -> None:
    """Opened 2031-06-09; 16.17 months of 365.25 / 12 days are 492 days: 2032-10-13 is the last."""
    assert on(house, date(2032, 10, 13)).views
    with pytest.raises(DataProblems, match="perox has lost more than its discard fraction"):
        on(house, date(2032, 10, 14))

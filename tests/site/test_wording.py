"""Wordings that were printed once and that nobody says: none of them stands on a page, a sheet or a form again."""

from __future__ import annotations

import re
from html import unescape

import pytest

from macros.page_model.clock_times import spoken_time
from tests.making import manual_of

NOBODY_SAYS = (
    r"\babove nothing\b",
    r"\bto (?:floor|sink|yard) drain\b",
    r"\bLevel:? 1 to 1\b",
    r"(?<![\d.])(\d[\d.]*) to \1 (?:mg/L|mL|L|min|mS/cm)",
    r"\bthe action is \w+_\w+",
    r"\blast day nobody wrote down\b",
    r"\b\w+_\w+ is (?:yes|no|not known)\b",
)


@pytest.mark.parametrize("house", ["second", "third", "fourth", "fifth"])
def test_no_page_says_what_nobody_says(house: str) -> None:
    manual = manual_of(house)
    assert len(manual.pages) > 20
    for address, text in {**manual.pages, **manual.files}.items():
        plain = unescape(re.sub(r"<[^>]+>", " ", text)).replace("\u00a0", " ")
        plain = re.sub(r" +", " ", plain)
        for pattern in NOBODY_SAYS:
            found = re.search(pattern, plain)
            assert found is None, f"{address}: {found and plain[found.start() - 40 : found.end() + 40]}"


@pytest.mark.parametrize("house", ["fourth", "fifth"])
def test_the_length_of_a_shadow_run_is_whole_minutes_or_hours(house: str) -> None:
    path = manual_of(house).pages["training/path.md"]
    cells = re.findall(r'data-label="Each shadow run">([^<]*)<', path)
    assert len(cells) > 5
    for cell in cells:
        assert re.fullmatch(r"none|\d{1,3} min|\d+ h(?: \d{1,2} min)?", cell.replace("\u00a0", " ")), cell


@pytest.mark.parametrize(
    ("minutes", "said"),
    [(14.25, "15 min"), (119, "119 min"), (120, "2 h"), (409, "6 h 49 min"), (151.5, "2 h 32 min")],
)
def test_a_time_is_said_as_a_person_says_it(minutes: float, said: str) -> None:
    """By hand: 409 = 6 x 60 + 49; a part of a minute is a minute more, for work is never promised shorter."""
    assert spoken_time(minutes) == said

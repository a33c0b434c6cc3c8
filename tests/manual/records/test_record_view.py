"""What a phone needs of a value: ends of its limits as numbers, its unit, its column of the house log."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from macros.ground.problems import DataProblems
from macros.html.site_text import SiteText
from macros.manual.records.readings_page import readings_text
from macros.page_model.page import PageView, StepView
from tests.making import OWN_PAGE, made_house, made_site, manual_of


def step_of(views: list[PageView], document: str, step: str) -> StepView:
    view = next(one for one in views if one.document == document)
    return next(one for one in view.steps if one.id.startswith(step))


def test_a_top_up_goes_to_the_log_in_the_units_of_the_house() -> None:
    """The band on the page and its two ends are one amount; the column is in the unit that is printed."""
    for house, level, added in (("fourth", "level_cm", "added_L"), ("second", "level_in", "added_gal")):
        views = manual_of(house).views
        for step, column in (
            ("level", level), ("water", added), ("read_ec", "ec_mS_cm"), ("read_again", "ec_after_mS_cm"),
            ("read_ph", "ph"), ("acid", "acid_mL"), ("prove_ph", "ph_after"),
        ):  # fmt: skip
            view = step_of(views, "SOP-09", step)
            assert view.record is not None
            reading = view.record.reading
            assert reading is not None
            assert reading.column == column, (house, step)
            assert reading.note == "top-up"
            assert reading.system
            if step in ("read_ec", "read_ph", "prove_ph"):
                assert [reading.least, reading.most] == [
                    float(n) for n in re.findall(r"[\d.]+", view.record.limits)
                ]


def test_the_step_carries_its_limits() -> None:
    site = manual_of("fourth")
    view = next(one for one in site.views if one.document == "SOP-16")
    text = site.pages["p/sop-16.md"]
    floor = re.search(r'<div class="sop-step"[^>]*data-step-id="floor"[^>]*>', text)
    assert floor is not None
    assert (
        'data-label="Floor: wet places, count" data-limits="0" data-outside="stay out: SOP-20"'
        in floor.group()
    )
    assert 'data-number="yes" data-high="0"' in floor.group()
    assert "data-column" not in floor.group()
    warm = re.search(
        r'<div class="sop-step"[^>]*data-step-id="read_again"[^>]*>', site.pages["p/sop-09-k.md"]
    )
    assert warm is not None
    signs = re.findall(r"<tr data-out><th[^>]*>(.*?)</th>", site.pages["p/sop-09-k.md"])
    told = re.search(r'data-wrong="([\d ]+)"', warm.group())
    assert told is not None
    assert [signs[int(number)].split()[0] for number in told.group(1).split()] == ["EC", "EC"]
    assert text.count("data-record") == sum(step.record is not None for step in view.steps)


def test_the_form_has_every_value_and_every_column_that_is_filled() -> None:
    site = manual_of("second")
    text: SiteText = readings_text(site.views)
    found = re.search(r'<script id="readings-data" type="application/json">(.*?)</script>', text.text)
    assert found is not None
    data = json.loads(found.group(1))
    for view in site.views:
        rows = [page["rows"] for page in data["pages"] if page["key"] == view.key]
        assert sum(map(len, rows)) == len(view.records)
    used = {row["column"] for page in data["pages"] for row in page["rows"] if "column" in row}
    assert used <= set(data["log"])
    assert {"date", "time", "system", "acid_chemical", "by", "note"} <= set(data["log"])
    assert "level_cm" not in data["log"]


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        (
            'most: "about 3"',
            '"about 3" is no number. A plain number. Write the number alone, or leave it out',
        ),
        ("log: ec", 'the log has no ec in "". Units: mS/cm. Write the unit under unit.'),
        ("most_fact: sanitizing.rinse.residu", "residue_allowed"),
        ("log: vpd", '"vpd" is not one of the words for this.'),
    ],
)
def test_limits_that_are_no_numbers_are_refused(tmp_path: Path, fields: str, words: str) -> None:
    house = made_house(tmp_path, name="fourth")
    text = OWN_PAGE.read_text(encoding="utf-8")
    old = re.search(r"record: \{quantity: .*\}", text)
    assert old is not None
    (house / "procedures").mkdir()
    file = house / "procedures" / OWN_PAGE.name
    file.write_text(text.replace(old.group(), f"{old.group()[:-1]}, {fields}}}", 1), encoding="utf-8")
    with pytest.raises(DataProblems) as refused:
        made_site(house, file.parent)
    assert any(words in str(one) for one in refused.value.problems), [
        str(one) for one in refused.value.problems
    ]

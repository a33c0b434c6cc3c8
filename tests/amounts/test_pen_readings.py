"""EC pens that do not compensate, or show ppm: the table and the words on the pages, and what is refused."""

from __future__ import annotations

from pathlib import Path

import pytest

from macros.house import load_house
from tests.facts import register_of, source_of
from tests.making import made_house, made_register, made_site

AS_IT_IS = 'resolution: "0.01 mS/cm", accuracy: "0.05 mS/cm", calibrate_every: "30 day", standard: "1.413 mS/cm at 25 degC", compensates: yes'
COLD = AS_IT_IS.replace("compensates: yes", "compensates: no")
PPM = AS_IT_IS.replace("0.01 mS/cm", "10 ppm").replace("0.05 mS/cm", "20 ppm")
TABLE = "EC pen: divide the reading by the number beside the temperature"
EC_PAGES = {"sop-08", "sop-09", "sop-16"}
"""SOP-12 reads EC as well, in a house with a feed of its nursery; this one has none."""


def pages_with(text: str, pages: dict[str, str]) -> set[str]:
    return {
        name.rpartition("/")[2][:6] for name, page in pages.items() if text in page and "/sop-" in f"/{name}"
    }


def test_a_pen_that_does_not_compensate_is_turned_by_a_table_on_each_page_that_reads_ec(
    tmp_path: Path,
) -> None:
    """1.35 mS/cm read at 15 degC is 1.67 at 25: Standard Methods 2510 B, by hand 1.35 / (1 - 0.191)."""
    house = made_house(tmp_path, (AS_IT_IS, COLD), name="fourth")
    table = made_register(house).get("ec_divisor")
    rows = dict(table.value["rows"])
    assert (min(rows), max(rows), len(rows)) == (10, 30, 21)
    assert 1.35 / float(rows[15]) == pytest.approx(1.67, abs=0.005)
    assert rows[25] == "1.000"
    site = made_site(house)
    assert pages_with(TABLE, site.pages) == {*EC_PAGES, "sop-12"}
    assert pages_with("reading divided by the table at the temperature of the cup", site.pages) == EC_PAGES


def test_a_pen_that_compensates_has_no_table(tmp_path: Path) -> None:
    site = made_site(made_house(tmp_path, name="fourth"))
    assert pages_with(TABLE, site.pages) == pages_with("ppm shown", site.pages) == set()


def test_a_us_house_reads_its_own_degrees() -> None:
    source = source_of("second")
    next(one for one in source.data["meters"] if "standard" in one)["compensates"] = "no"
    rows = dict(register_of(source).get("ec_divisor").value["rows"])
    assert (min(rows), max(rows)) == (50, 86)
    assert rows[68] == "0.905"  # 20 degC: 1 - 0.0191 x 5


def test_a_ppm_pen_says_what_its_reading_is_divided_by(tmp_path: Path) -> None:
    house = made_house(tmp_path, (AS_IT_IS, PPM + ", scale: 500"), name="fourth")
    register = made_register(house)
    assert register.get("ec_scale").printed == "500"
    (meter,) = (one for one in register.house.meters if one.measures == "ec")
    assert (meter.last_digit, meter.reads_off) == (0.02, 0.04)  # 10 and 20 ppm over 500
    assert pages_with("ppm shown / 500", made_site(house).pages) == EC_PAGES


def test_a_ppm_pen_that_does_not_compensate_is_turned_in_one_step() -> None:
    source = source_of("fourth")
    meter = next(one for one in source.data["meters"] if "standard" in one)
    meter |= {"resolution": "10 ppm", "scale": "700", "compensates": "no"}
    assert dict(register_of(source).get("ec_divisor").value["rows"])[15] == "566"  # 700 x 0.809


@pytest.mark.parametrize(
    ("pen", "words"),
    [
        (PPM, "meters[EC meter].scale: EC meter shows ppm, and its scale is not told. 500 or 700 ppm for 1 mS/cm: water of 1.35 mS/cm reads 675 or 945. Look at its sheet and write scale: 500 or scale: 700."),
        (AS_IT_IS + ", scale: 500", 'meters[EC meter].scale: EC meter has a scale of 500 ppm, and its resolution is no ppm. A scale is that of a pen that shows ppm. Take scale away, or write the resolution as "10 ppm".'),
        (PPM + ", scale: 442", 'meters[EC meter].scale: "442" is not one of the words for this. Allowed: 500 or 700. Choose one.'),
        (AS_IT_IS.replace(", compensates: yes", ""), "warning: meters[EC meter].compensates: it is not told whether EC meter compensates for temperature; the pages take it that it does. Without, it reads 1.35 mS/cm in water of 15 degC (59 degF) that has 1.67, and too much feed goes in. Dip it in one standard cold and warm: the same number twice is compensates: yes, else no."),
    ],
)  # fmt: skip
def test_what_a_pen_shows_must_be_known(tmp_path: Path, pen: str, words: str) -> None:
    told = [str(problem) for problem in load_house(made_house(tmp_path, (AS_IT_IS, pen), name="fourth"))[1]]
    assert [line.partition(": ")[2] for line in told] == [words]

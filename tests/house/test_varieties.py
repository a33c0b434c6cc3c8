"""What a variety is given of its own: what is refused, what is told, by its words; and what it is held against."""

from __future__ import annotations

from pathlib import Path

import pytest

from macros.ground.problems import errors_in
from macros.house import load_house
from macros.published.amounts.growing import growing_of
from tests.making import made_house

ROCKET = "{id: rocket, botanical: Eruca vesicaria,"
LETTUCE = "{id: lettuce, botanical: Lactuca sativa,"
BASIL = "{id: rocket, botanical: Ocimum basilicum,"
POLICIES = "policies: {"
EDIBLE = "{botanical: Eruca vesicaria, parts: [leaf]}"


def told(folder: Path, *changes: tuple[str, str]) -> list[str]:
    """What the fourth house says after changes that it did not say before; errors alone where there are any."""
    house = made_house(folder, name="fourth")
    before = {str(problem) for problem in load_house(house)[1]}
    file = house / "site_data" / "house.yml"
    text = file.read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new, 1)
    file.write_text(text, encoding="utf-8")
    problems = load_house(house)[1]
    return [str(one) for one in errors_in(problems) or problems if str(one) not in before]


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ([(ROCKET, ROCKET + ' ec_low: "1.0 mS/cm",')],
         "varieties[rocket].ec_low: ec_low of rocket stands without ec_high. A band has two ends. Write ec_high, or leave out both."),
        ([(ROCKET, ROCKET + ' ph_low: 6.4, ph_high: 6.0,')],
         "varieties[rocket].ph_low: ph_low 6.4 is not under ph_high 6.0. low < high. Mend the band."),
        ([(ROCKET, ROCKET + " thin_to: 3,")],
         "varieties[rocket].thin_to: 3 stems are to stay of 1 seeds a plug. As many stems as seeds at most. Sow more, or thin to fewer."),
        ([(ROCKET, ROCKET + ' storage_temperature: "40 degF",')], ""),
        ([(ROCKET, ROCKET + ' storage_temperature: "40 degC",')],
         'varieties[rocket].storage_temperature: "40 degC" is no temperature to keep cut plants at. -0.5 to 20 degC. '
         "Look at the unit and the decimal point."),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused(tmp_path: Path, changes: list[tuple[str, str]], words: str) -> None:
    found = told(tmp_path, *changes)
    assert any(words in line for line in found) if words else found == []


TANK_M = "both stand on tank M. Plants of one tank share one solution. Plant one of them on another tank."


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ([(ROCKET, BASIL), (EDIBLE, "{botanical: Ocimum basilicum, parts: [leaf]}"), (POLICIES, POLICIES + 'cold_store: "4 degC", ')],
         "varieties[rocket].id: rocket is kept at 4 degC. Ocimum basilicum is harmed under 12 degC ("),
        ([(ROCKET, BASIL + ' storage_temperature: "50 degF",'), (EDIBLE, "{botanical: Ocimum basilicum, parts: [leaf]}")],
         "varieties[rocket].storage_temperature: rocket is kept at 50 degF. Ocimum basilicum is harmed under 53.6 degF ("),
        ([(ROCKET, ROCKET + ' ec_low: "1.6 mS/cm", ec_high: "1.9 mS/cm",'), (LETTUCE, LETTUCE + ' ec_low: "0.9 mS/cm", ec_high: "1.4 mS/cm",')],
         f"varieties[rocket].ec_low: rocket wants EC 1.6 to 1.9 mS/cm, lettuce 0.9 to 1.4 mS/cm, and {TANK_M}"),
        ([(ROCKET, ROCKET + " ph_low: 6.5, ph_high: 6.9,"), (LETTUCE, LETTUCE + " ph_low: 5.5, ph_high: 6.2,")],
         f"varieties[rocket].ph_low: rocket wants pH 6.5 to 6.9, lettuce 5.5 to 6.2, and {TANK_M}"),
        ([(ROCKET, ROCKET + " ph_low: 6.2, ph_high: 6.8,")],
         "nutrients.stages.leafy.ph_target: tank M aims at pH 6. Its plants share 6.2 to 6.8. Aim inside it."),
        ([(ROCKET, ROCKET + " germination_days: 5,")],
         "varieties[rocket].dome_days: the dome comes off rocket after 4 days, and it is up after 5. Seed that dries before it "
         "is up is lost. Leave it on 5 days or more."),
        ([(POLICIES, POLICIES + 'daily_log_kept_for: "18 month", ')],
         "policies.daily_log_kept_for: records are kept for 18 month. 2 years at least, as the page of requirements says (G-09). "
         "Keep them 2 years, or as long as your inspector asks where that is more."),
        ([('spacing: "120 mm"', 'spacing: "75 mm"')],
         "varieties[rocket].spacing: rocket stand 75 mm apart. 80 mm at least ("),
        ([(ROCKET, ROCKET + ' ec_low: "1.1 mS/cm", ec_high: "2.6 mS/cm",')],
         "varieties[rocket].ec_high: ec_high 2.6 mS/cm is unusual for Eruca vesicaria. 0.8 to 2 mS/cm ("),
    ],
)  # fmt: skip
def test_what_is_unwise_is_told(tmp_path: Path, changes: list[tuple[str, str]], words: str) -> None:
    found = told(tmp_path, *changes)
    assert any(f"warning: {words}" in line for line in found), found


@pytest.mark.parametrize(
    "changes",
    [
        [(ROCKET, BASIL + ' storage_temperature: "13 degC",'), (EDIBLE, "{botanical: Ocimum basilicum, parts: [leaf]}"), (POLICIES, POLICIES + 'cold_store: "4 degC", ')],
        [(POLICIES, POLICIES + 'cold_store: "4 degC", ')],
        [(POLICIES, POLICIES + 'daily_log_kept_for: "2 year", ')],
        [(ROCKET, ROCKET + " germination_days: 4,")],
        [(ROCKET, ROCKET + ' ec_low: "1.2 mS/cm", ec_high: "1.9 mS/cm", ph_low: 5.8, ph_high: 6.6,'), (LETTUCE, LETTUCE + ' ec_low: "0.9 mS/cm", ec_high: "1.4 mS/cm", ph_low: 5.6, ph_high: 6.2,')],
    ],
)  # fmt: skip
def test_what_fits_is_not_told(tmp_path: Path, changes: list[tuple[str, str]]) -> None:
    assert told(tmp_path, *changes) == []


def test_a_plant_that_grows_into_its_lamp_is_told(tmp_path: Path) -> None:
    """Lamps 0.30 m over the tray leave 200 mm; both racks of the house have the same lamps."""
    lamps = ("canopy_ppfd:", 'hung_above_tray: "0.30 m", canopy_ppfd:')
    viola = "{id: viola, botanical: Viola cornuta,"
    (line,) = told(tmp_path, lamps, (viola, viola + ' grown_height: "210 mm",'))
    assert (
        "warning: systems[K].lights.hung_above_tray: the lamps of system K hang 0.30 m over the tray; viola 210 mm high. "
        "Between leaf and lamp 100 mm stay free (our own limit). Hang the lamps higher, plant a lower kind, or keep it "
        "cut back." in line
    )
    assert told(tmp_path / "low", lamps, (viola, viola + ' grown_height: "200 mm",')) == []


def test_without_a_height_the_least_published_counts(tmp_path: Path) -> None:
    """Borage is 450 mm or more (garden references): it cannot stand under lamps at 0.50 m."""
    borage = ("botanical: Viola cornuta, part: flower", "botanical: Borago officinalis, part: flower")
    edible = ("{botanical: Viola cornuta, parts", "{botanical: Borago officinalis, parts")
    found = told(tmp_path, borage, edible, ("canopy_ppfd:", 'hung_above_tray: "0.50 m", canopy_ppfd:'))
    assert any("hang 0.50 m over the tray; viola 450 mm high." in line for line in found)


def test_ranges_are_of_the_nearest_name() -> None:
    """Basil chills under about 12 degC: UC Davis Postharvest Technology, fresh culinary herbs, from memory."""
    basil, mizuna = growing_of("Ocimum basilicum"), growing_of("Brassica rapa subsp. nipposinica")
    assert basil is not None
    assert basil.chills_below == 12
    assert mizuna is not None
    assert mizuna.botanical == "Brassica rapa"
    assert growing_of("Ocimum tenuiflorum") is None
    assert growing_of("Violax grandis") is None

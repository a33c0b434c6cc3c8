"""Slots, printed numbers and edges."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from macros.manual.cautions.cautions_of_page import CautionProblem, page_cautions
from macros.manual.cautions.step_facts import Lift, StepFacts
from macros.manual.cautions.wording import printed_strength, printed_value
from macros.published.safety.bands import band_at
from macros.published.safety.cautions import Slot, cautions
from macros.published.safety.substances import Handling
from tests.making import manual_of


@pytest.mark.parametrize(("percent", "printed"), [
    (11.9, "11.9 %"), (3.0, "3 %"), (2.9712, "2.97 %"), (8.0, "8 %"), (35.0, "35 %"), (100.0, "100 %"),
    (7.96, "7.96 %"),    # two figures would print 8.0, the next band
    (7.9996, "7.9996 %"),  # three and four figures would print 8, the next band
    (24.98, "24.98 %"),  # of no edge of peroxide at 24.98 but 25 is one: three figures would cross it
])  # fmt: skip
def test_a_printed_strength_never_crosses_an_edge(percent: float, printed: str) -> None:
    # edges of hydrogen peroxide: 5, 8, 20, 25, 30, 35, 50, 70 % (bands.yml, CLP Annex VI)
    assert printed_strength(Handling("hydrogen_peroxide", percent)) == printed


def test_the_strength_of_bleach_says_active_chlorine() -> None:
    assert printed_strength(Handling("sodium_hypochlorite", 0.06)) == "0.06 % active chlorine"
    assert printed_strength(Handling("sodium_hypochlorite", None)) == ""


MASS = Slot(comes_from="lift", unit="kg", edges=(3.0, 5.0, 10.0, 23.0))


@pytest.mark.parametrize(("value", "printed"), [
    (19.0, "19 kg"), (18.4, "18 kg"), (5.6, "5.6 kg"), (22.4, "22 kg"),
    (22.7, "22.7 kg"),   # 23 would be the weight of a WARNING
    (22.97, "22.97 kg"),  # 23.0 too
    (9.97, "9.97 kg"),   # 10.0 would cross 10 kg
])  # fmt: skip
def test_a_printed_mass_never_crosses_an_edge(value: float, printed: str) -> None:
    assert printed_value(value, MASS) == printed


def test_us_units_in_slots() -> None:
    # 19 kg x 2.20462 = 41.9 lb; 60 degC = 140 degF; 18 L / 3.78541 = 4.755 gal
    assert printed_value(19.0, MASS, "us") == "42 lb"
    assert printed_value(60.0, cautions().slots["temperature"], "us") == "140 °F"
    assert printed_value(18.0, cautions().slots["volume_lifted"], "us") == "4.8 gal"


def test_directions_of_rounding() -> None:
    assert printed_value(10.2, Slot(comes_from="pump_minimum_depth_cm", unit="cm", direction="up")) == "11 cm"
    assert printed_value(119.9, cautions().slots["shelf_rating"]) == "119 kg"  # a rating is never rounded up
    assert printed_value(120.0, cautions().slots["shelf_rating"]) == "120 kg"


def test_filled_texts_of_a_lift() -> None:
    # 18 L x 1.0 kg/L + 1 kg = 19 kg, as in the catalogue's own case
    lift = Lift.of_water("bucket", 18.0, 1.0, from_below_knee=True)
    (shown,) = page_cautions([StepFacts("a", "carry", lifts=(lift,))]).before["a"]
    assert shown.hazard == "Bucket holding 18 L weighs about 19 kg and shifts when carried."


def test_what_is_not_known_stands_in_the_text() -> None:
    (shown,) = page_cautions([StepFacts("a", "load_tier")]).before["a"]
    assert shown.id == "RACK-TIP"
    assert shown.hazard.startswith("A flooded rack weighs an amount not known,")
    assert shown.not_known == ("mass of the rack with water in", "shelf rating, from the maker's plate")


def test_a_printed_text_given_for_a_slot_wins() -> None:
    step = StepFacts("a", "dose_ph", solution_volume_l=136.0, slots={"volume": "35.9 gal"})
    (shown,) = page_cautions([step]).before["a"]
    assert shown.hazard == "The dose is for 35.9 gal. In any other volume it is wrong."


def test_an_unlisted_acid_is_called_by_its_own_name() -> None:
    acid = Handling("other_acid", 60, "formic acid", sds_codes=("H314",), also=("ph_down",))
    (shown,) = page_cautions([StepFacts("a", "pour", (acid,), persons_in_room=2)]).before["a"]
    assert shown.hazard.startswith("pH-down (formic acid, 60 %) burns")
    assert shown.label_line == "Label of formic acid 60 %: Danger. H314 severe skin burns and eye damage."


@given(st.floats(min_value=0.0, max_value=100.0), st.sampled_from(("hydrogen_peroxide", "nitric_acid")))
def test_the_printed_strength_lies_in_the_band_of_the_real_one(percent: float, substance: str) -> None:
    printed = float(printed_strength(Handling(substance, percent)).removesuffix(" %"))
    assert band_at(substance, printed) == band_at(substance, percent)


@given(st.floats(min_value=0.0, max_value=100.0))
def test_any_strength_of_peroxide_has_its_boxes_or_lies_below_the_floor(percent: float) -> None:
    # bands (CLP): from 8 % the box of the stock, from 35 % that of skin and airways too; ours: from 0.1 % the weak one
    expected = ["CHEM-PEROXIDE-CONC"] if percent >= 8 else ["CHEM-PEROXIDE-DILUTE"] if percent >= 0.1 else []
    expected += ["CHEM-PEROXIDE-STRONG"] if percent >= 35 else []
    assume(min(abs(percent - edge) for edge in (35, 8, 0.1)) > 1e-6)
    step = StepFacts("a", "pour", (Handling("hydrogen_peroxide", percent),), persons_in_room=2)
    assert [one.id for one in page_cautions([step]).before["a"]] == expected


def test_a_limit_on_who_eats_it_that_is_not_known_is_said_and_a_known_one_needs_its_words() -> None:
    unknown = StepFacts("a", "pack_leaf")
    (shown,) = page_cautions([unknown]).before["a"]
    assert shown.id == "FOOD-SPECIES-LIMIT"
    assert shown.hazard == "This plant: a limit on who may eat it is not known."
    assert shown.not_known == ("whether this plant is limited in who eats it",)
    known = StepFacts("a", "pack_leaf", species_has_caution=True, slots={"species_harm": "Borage: harm"})
    with pytest.raises(
        CautionProblem, match='who eats it" prints the species caution, which this page cannot know'
    ):
        page_cautions([known])


def test_a_strength_no_density_turns_into_w_w_prints_as_on_its_label() -> None:
    """30 g in 100 mL of peroxide are 27 % w/w (density 1.10): only the label's own figure is told."""
    assert printed_strength(Handling("hydrogen_peroxide", 30.0, label="30 % w/v")) == "30 % w/v"


def test_the_water_over_a_pump_is_told_as_it_is_measured() -> None:
    """The house measures its pump minimum from the floor of the tank: 5 cm in this one."""
    system = manual_of("fourth").register.house.system("K")
    assert system.reservoir.pump_minimum_height.to("cm") == pytest.approx(5)
    pages = [page.replace("\xa0", " ") for page in manual_of("fourth").pages.values()]
    assert sum("5 cm deep over the floor of the tank" in page for page in pages) > 2
    assert not any("over the intake" in page for page in pages)

"""Bands: edges, codes, label words. Expected values are those of the sources named in bands.yml."""

from __future__ import annotations

import itertools

import pytest

from macros.ground.problems import RangeProblem
from macros.published import published
from macros.published.safety.bands import (
    Bands,
    band_at,
    band_of,
    bands_of,
    codes_of,
    hazard_text,
    label_word_of,
    weak_ppe,
)
from macros.published.safety.sanitizers import sanitizer_kinds
from macros.published.safety.substances import Handling

# Regulation (EC) 1272/2008 Annex VI specific concentration limits, as the sources in bands.yml give them;
# phosphoric and potassium hydroxide from their registration dossiers. Written here by hand.
EDGES = [
    ("hydrogen_peroxide", 4.9, (), ""),
    ("hydrogen_peroxide", 5, ("H319",), "Warning"),
    ("hydrogen_peroxide", 7.999, ("H319",), "Warning"),
    ("hydrogen_peroxide", 8, ("H318", "H272"), "Danger"),
    ("hydrogen_peroxide", 35, ("H318", "H315", "H335", "H272", "H302", "H332"), "Danger"),
    ("hydrogen_peroxide", 50, ("H314", "H335", "H272", "H302", "H332"), "Danger"),
    ("hydrogen_peroxide", 100, ("H314", "H271", "H335", "H302", "H332"), "Danger"),
    ("phosphoric_acid", 9.9, (), ""),
    ("phosphoric_acid", 10, ("H315", "H319"), "Warning"),
    ("phosphoric_acid", 24.9, ("H315", "H319"), "Warning"),
    ("phosphoric_acid", 25, ("H314",), "Danger"),
    ("nitric_acid", 0.9, (), ""),
    ("nitric_acid", 3, ("H315", "H318"), "Danger"),
    ("nitric_acid", 5, ("H314", "H332", "H290"), "Danger"),  # GisChem, nitric acid
    ("nitric_acid", 20, ("H314", "H332", "H290", "EUH071"), "Danger"),
    ("nitric_acid", 26, ("H314", "H331", "H290", "EUH071"), "Danger"),
    ("sulfuric_acid", 15, ("H314",), "Danger"),
    ("acetic_acid", 90, ("H314",), "Danger"),
    ("potassium_hydroxide", 0.4, (), ""),
    ("potassium_hydroxide", 0.5, ("H315", "H319"), "Warning"),
    ("potassium_hydroxide", 2, ("H314",), "Danger"),
    ("potassium_hydroxide", 5, ("H314", "H302"), "Danger"),
    ("sodium_hydroxide", 2, ("H314",), "Danger"),
    ("sodium_hypochlorite", 0.9, (), ""),
    ("sodium_hypochlorite", 2.5, ("H315", "H319", "H411", "EUH206"), "Warning"),
    ("sodium_hypochlorite", 5, ("H314", "H318", "H411", "EUH031", "EUH206"), "Danger"),
]


@pytest.mark.parametrize(("substance", "percent", "codes", "word"), EDGES)
def test_codes_and_label_word_at_the_edges(
    substance: str, percent: float, codes: tuple[str, ...], word: str
) -> None:
    handled = Handling(substance, percent)
    assert codes_of(handled) == codes
    assert label_word_of(handled) == word


def test_an_edge_missed_by_computing_alone_is_the_edge() -> None:
    nearly = 0.08 * 100 - 1e-12
    assert nearly < 8
    band = band_at("hydrogen_peroxide", nearly)
    assert band is not None
    assert band.percent_min == 8
    real = band_at("hydrogen_peroxide", 7.999999)
    assert real is not None
    assert real.percent_min == 5


@pytest.mark.parametrize("substance", list(published(Bands, "bands").substances))
def test_bands_join_without_gap_up_to_the_pure_substance(substance: str) -> None:
    rows = bands_of(substance)
    assert rows[-1].percent_max == 100
    for lower, upper in itertools.pairwise(rows):
        assert lower.percent_max == upper.percent_min
    for row in rows:
        assert row.percent_min < row.percent_max
        precautions = row.p_set and published(Bands, "bands").p_sets[row.p_set]
        assert bool(row.codes) == bool(row.label_word) == bool(precautions)
        assert row.text


@pytest.mark.parametrize("substance", list(published(Bands, "bands").substances))
def test_a_band_with_a_danger_code_says_danger(substance: str) -> None:
    # CLP Annex III label elements (from memory): H314, H318, H331, H271 carry Danger; the others Warning
    for row in bands_of(substance):
        if row.codes:
            danger = bool({"H314", "H318", "H331", "H271"} & set(row.codes))
            assert row.label_word == ("Danger" if danger else "Warning")


def test_every_code_has_a_meaning() -> None:
    for substance in published(Bands, "bands").substances:
        for row in bands_of(substance):
            for code in row.codes:
                assert hazard_text(code) != "see the label"
    assert hazard_text("H999") == "see the label"


def test_active_chlorine_by_molar_masses() -> None:
    # Cl2 70.906 g/mol, NaOCl 74.442 g/mol: 5 % x 70.906 / 74.442 = 4.762 %
    # Ca(OCl)2 142.98 g/mol holds two of them: 65 % x 2 x 70.906 / 142.98 = 64.47 %
    bleach = sanitizer_kinds()["hypochlorite"]
    assert bleach.read_on_strip(5.0, "sodium hypochlorite") == pytest.approx(4.7625, abs=0.0005)
    assert bleach.read_on_strip(65.0, "calcium hypochlorite") == pytest.approx(64.47, abs=0.005)
    assert bleach.read_on_strip(5.0, "available chlorine") == 5.0


def test_strengths_that_cannot_be() -> None:
    with pytest.raises(RangeProblem, match="phosphoric acid at -1 % is no strength: 0 to 100 % by mass"):
        band_at("phosphoric_acid", -1)
    with pytest.raises(RangeProblem, match=r"at 100\.1 %"):
        band_at("phosphoric_acid", 100.1)


def test_what_has_no_band_and_what_is_not_known() -> None:
    assert band_at("copper", 50) is None
    assert codes_of(Handling("hydrochloric_acid", 30, sds_codes=("H314",))) == ("H314",)
    unknown = band_of(Handling("potassium_hydroxide", None))
    assert unknown is not None
    assert unknown.codes == ("H314", "H302")
    assert band_of(Handling("vinegar", 12)) == band_at("acetic_acid", 12)


def test_equipment_for_any_strength_of_peroxide() -> None:
    assert weak_ppe(Handling("hydrogen_peroxide", 0.01)) == ("goggles", "gloves_chem")
    assert weak_ppe(Handling("hydrogen_peroxide", 0.0)) == ()
    assert weak_ppe(Handling("phosphoric_acid", 0.01)) == ()

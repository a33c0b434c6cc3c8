"""Which cautions stand where: the catalogue's own cases and many more, each with its reason."""

from __future__ import annotations

from dataclasses import fields
from pathlib import Path
from typing import Any, get_args

import pytest

from macros.ground.problems import RangeProblem
from macros.ground.yaml_source import read_yaml
from macros.manual.cautions.cautions_of_page import CautionProblem, page_cautions
from macros.manual.cautions.check_rendered import check_page, unlabelled_solutions
from macros.manual.cautions.step_facts import Lift, StepFacts
from macros.published.safety.cautions import catalogue
from macros.published.safety.conditions import NumberFact, WordFacts, YesNoFact
from macros.published.safety.pairs import HousePair
from macros.published.safety.signal_words import worst_first
from macros.published.safety.substances import Handling

HARMLESS: dict[str, Any] = {
    "mains_device_present": False, "timer_controlled": False, "crop_present": False,
    "children_possible": False, "lamp_risk_group": 0, "lamp_emits_uv": False, "lamp_distance_m": 0.5,
    "tier_mass_fraction": 0.1, "rack_mass_kg": 150.0, "shelf_rating_kg": 100.0, "seed_treatment": "untreated",
    "species_has_caution": False,
    "persons_in_room": 2, "solution_volume_l": 100.0, "drained_volume_l": 90.0, "pump_minimum_depth_cm": 6.0,
}  # fmt: skip
SLOTS = {
    "species_caution": "Borage: garnish amounts",
    "species_harm": "Borage: liver poisons",
}


def facts(step_id: str = "s1", action: str = "inspect", **more: Any) -> StepFacts:
    """A step of which everything is known and nothing harmful, but for what is said."""
    return StepFacts(step_id, action, **{**HARMLESS, "slots": SLOTS, **more})


def _cases() -> list[dict[str, Any]]:
    source, problems = read_yaml(Path(__file__).with_name("caution_cases.yml"), "caution_cases.yml")
    assert source is not None
    assert problems == []
    return list(source.data["cases"])


CASES = _cases()
YES_NO = {"yes": True, "no": False}


def _handling(row: dict[str, Any]) -> Handling:
    percent = float(row["percent"]) if "percent" in row else None
    return Handling(row["substance"], percent, sds_codes=tuple(row.get("sds", ())))


def _lift(row: dict[str, Any]) -> Lift:
    return Lift(
        row["container"],
        float(row["volume"]),
        float(row["mass"]),
        row.get("from_below_knee") == "yes",
        row.get("above_shoulder") == "yes",
    )


def _value(name: str, text: Any) -> Any:
    if isinstance(text, list):
        return tuple(text)
    if text in ("unknown", "unknown_to_house"):
        return None
    if text in YES_NO:
        return YES_NO[text]
    if name in ("material", "state", "finding", "seed_treatment"):
        return text
    number = float(text)
    return int(number) if name in ("lamp_risk_group", "nutrient_parts", "persons_in_room") else number


def _step(index: int, row: dict[str, Any]) -> StepFacts:
    plain = {
        key: _value(key, value)
        for key, value in row.items()
        if key not in ("action", "handles", "lifts", "shows", "words")
    }
    return facts(
        f"s{index}",
        row["action"],
        handlings=tuple(map(_handling, row.get("handles", ()))),
        lifts=tuple(map(_lift, row.get("lifts", ()))),
        **plain,
    )


def _read(case: dict[str, Any]) -> dict[str, Any]:
    return {
        "steps": [_step(index, row) for index, row in enumerate(case["steps"])],
        "elsewhere": [_handling(row) for row in case.get("elsewhere", ())],
    }


def test_there_are_the_eleven_of_the_catalogue_and_forty_more_each_with_a_reason() -> None:
    assert len(CASES) >= 51
    assert len({case["case"] for case in CASES}) == len(CASES)
    assert all(len(case["reason"]) > 10 for case in CASES)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["case"].replace(" ", "-"))
def test_case(case: dict[str, Any]) -> None:
    page = page_cautions(**_read(case))
    for row, placed in zip(case["steps"], page.before.values(), strict=True):
        assert [one.id for one in placed] == list(row["shows"]), case["reason"]
        words = {one.id: one.word for one in placed}
        for caution, word in row.get("words", {}).items():
            assert words[caution] == word, case["reason"]


def test_the_cases_reach_every_caution_of_the_catalogue() -> None:
    reached = {one for case in CASES for row in case["steps"] for one in row["shows"]}
    assert set(catalogue()) - reached == {"CHEM-HOUSE-PAIR"}  # it needs a house's own pair; see below


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["case"].replace(" ", "-"))
def test_the_check_accepts_the_right_page_and_finds_each_removed_and_each_added_caution(
    case: dict[str, Any],
) -> None:
    page = page_cautions(**_read(case))
    right = {f"s{index}": list(row["shows"]) for index, row in enumerate(case["steps"])}
    assert check_page(right, page) == []
    for step_id, ids in right.items():
        for gone in ids:
            broken = {**right, step_id: [one for one in ids if one != gone]}
            messages = check_page(broken, page)
            assert len(messages) == 1
            assert messages[0].startswith(f"step {step_id}: {gone} (")
            assert "is missing; " in messages[0]
        needless = next(one for one in ("DUST-MINERAL-WOOL", "WATER-HOT") if one not in ids)
        messages = check_page({**right, step_id: [*ids, needless]}, page)
        assert messages == [f"step {step_id}: {needless} is shown, but its trigger is not met here"]


def test_the_check_says_why_a_caution_is_missing() -> None:
    page = page_cautions(
        [facts("pour_stock", "pour", handlings=(Handling("hydrogen_peroxide", 11.9, "stock"),))]
    )
    assert check_page({}, page) == [
        "step pour_stock: CHEM-PEROXIDE-CONC (WARNING) is missing; stock 11.9 %, 8 % or more is handled"
    ]


def test_the_check_finds_wrong_order_repeats_and_unknown_names() -> None:
    page = page_cautions([facts("a", "wash_rack"), facts("b", "wash_rack")])
    assert check_page({"a": ["FLOOR-WET", "ELEC-WATER"]}, page) == [
        "step a: the order is FLOOR-WET, ELEC-WATER; worst first is ELEC-WATER, FLOOR-WET"
    ]
    assert check_page({"a": ["ELEC-WATER", "FLOOR-WET"], "b": ["FLOOR-WET"]}, page) == [
        "step b: FLOOR-WET is shown again with the same words as before"
    ]
    assert check_page({"a": ["ELEC-WATER", "FLOOR-WET", "FLOOR-WET"]}, page) == [
        "step a: FLOOR-WET is shown 2 times, 1 wanted"
    ]
    assert check_page({"a": ["ELEC-WATER", "FLOOR-WET", "FLOOD"], "c": []}, page) == [
        "step c shows cautions but is no step of this page",
        "step a: FLOOD is no caution of the catalogue",
    ]


def test_a_caution_shown_too_late_is_missing_before_its_first_step() -> None:
    page = page_cautions([facts("a", "hose"), facts("b", "hose")])
    assert check_page({"b": ["FLOOR-WET"]}, page) == [
        "step a: FLOOR-WET (CAUTION) is missing; the action is hose",
        "step b: FLOOR-WET is shown again with the same words as before",
    ]


@pytest.mark.quick
def test_worst_stands_first_before_every_step_and_in_the_summary() -> None:
    steps = [
        facts("a", "drain_reservoir"),
        facts("b", "wash_rack", uses=("ladder",)),
        facts("c", "pour", handlings=(Handling("sodium_hypochlorite", 4), Handling("phosphoric_acid", 40))),
    ]
    page = page_cautions(steps)
    for shown in (*page.before.values(), page.summary):
        ranks = [worst_first(one.word) for one in shown]
        assert ranks == sorted(ranks)
    assert page.summary[0].word == "DANGER"
    assert page.summary[-1].word == "NOTICE"
    assert len({one.id for one in page.summary}) == len(page.summary)


def test_the_summary_takes_the_worst_word_and_the_strongest_strength() -> None:
    weak, strong = (Handling("hydrogen_peroxide", percent) for percent in (1.0, 3.0))
    light, heavy = (Lift.of_water("bucket", volume, 1.0) for volume in (10.0, 23.0))
    page = page_cautions(
        [
            facts("a", "pour", handlings=(weak,), lifts=(light,)),
            facts("b", "pour", handlings=(strong,), lifts=(heavy,)),
        ]
    )
    shown = {one.id: one for one in page.summary}
    assert "3 %" in shown["CHEM-PEROXIDE-DILUTE"].hazard
    assert shown["LIFT-WATER"].word == "WARNING"
    assert "24 kg" in shown["LIFT-WATER"].hazard


def test_what_is_not_known_is_met_for_injury_and_named() -> None:
    step = StepFacts("reach", "reach_into_reservoir", persons_in_room=2)
    (shown,) = page_cautions([step]).before["reach"]
    assert shown.id == "ELEC-WATER"
    assert shown.not_known == ("whether a mains pump or heater hangs in this water",)
    assert shown.not_known_lines == (
        "whether a mains pump or heater hangs in this water: not known, measure this",
    )


def test_nothing_known_of_the_house_does_not_flood_a_plain_page() -> None:
    # wash hands, read, count, write: none of these opens, lifts, wets, lights or harvests anything
    steps = [
        StepFacts(one, one) for one in ("wash_hands", "read", "count", "write", "inspect", "wait", "call")
    ]
    assert page_cautions(steps).summary == ()


def test_a_strength_not_known_counts_as_the_strongest() -> None:
    page = page_cautions([facts("a", "pour", handlings=(Handling("hydrogen_peroxide", None),))])
    shown, strongest = page.before["a"]
    assert [shown.id, strongest.id] == ["CHEM-PEROXIDE-CONC", "CHEM-PEROXIDE-STRONG"]
    assert shown.not_known == ("strength of the chemical",)
    assert page.flush_point


def test_sheet_codes_not_known_count_as_burning() -> None:
    (shown,) = page_cautions(
        [facts("a", "pour", handlings=(Handling("citric_acid", 50, sds_codes=None),))]
    ).before["a"]
    assert shown.id == "CHEM-ACID-CONC"
    assert shown.not_known == ("hazard codes on the safety data sheet",)


def test_a_house_pair_is_added_and_a_published_one_is_not_doubled() -> None:
    feed, base = Handling("nutrient_concentrate", name="feed"), Handling("potassium_hydroxide", 10, "pH-up")
    pair = HousePair(
        frozenset({"nutrient_concentrate"}), frozenset({"potassium_hydroxide"}), "chemicals.yml:7"
    )
    page = page_cautions([facts("a", "pour", handlings=(feed,))], elsewhere=[base], house_pairs=[pair])
    (shown,) = page.before["a"]
    assert shown.id == "CHEM-HOUSE-PAIR"
    assert shown.hazard == "This house's list says feed and pH-up must never meet."
    assert shown.why == ("feed with pH-up (chemicals.yml:7)",)
    peroxide = Handling("hydrogen_peroxide", 3)
    known = HousePair(frozenset({"hydrogen_peroxide"}), frozenset({"nutrient_concentrate"}))
    met = page_cautions([facts("a", "pour", handlings=(feed,))], elsewhere=[peroxide], house_pairs=[known])
    assert [one.id for one in met.before["a"]] == ["CHEM-PEROXIDE-PRESSURE"]


def test_equipment_first_aid_and_flushing_water_follow_from_the_cautions() -> None:
    # nitric acid from 26 %: face shield (catalogue); H314 asks for flushing water (29 CFR 1910.151(c))
    page = page_cautions([facts("a", "pour", handlings=(Handling("nitric_acid", 30, "pH-down N"),))])
    assert page.ppe == ("goggles", "face_shield", "gloves_chem", "apron")
    assert page.first_aid == ("eye", "skin", "swallowed", "inhaled")
    assert page.flush_point
    below = page_cautions([facts("a", "pour", handlings=(Handling("nitric_acid", 25.9),))])
    assert "face_shield" not in below.ppe


def test_a_dose_below_the_floor_shows_no_box_but_the_equipment() -> None:
    page = page_cautions([facts("a", "flood", handlings=(Handling("hydrogen_peroxide", 0.05),))])
    assert page.summary == ()
    assert page.ppe == ("goggles", "gloves_chem")
    assert not page.flush_point


def test_label_lines_hold_the_word_and_codes_of_the_strength_handled() -> None:
    stock, made = (
        Handling("hydrogen_peroxide", 11.9, "stock"),
        Handling("hydrogen_peroxide", 6, "batch"),
    )
    page = page_cautions([facts("a", "pour", handlings=(stock,)), facts("b", "spray", handlings=(made,))])
    shown = [one for placed in page.before.values() for one in placed]
    assert [*dict.fromkeys(one.label_line for one in shown if one.label_line)] == [
        "Label of stock 11.9 %: Danger. H318 serious eye damage; H272 may make a fire worse, oxidiser.",
        "Label of batch 6 %: Warning. H319 serious eye irritation.",
    ]
    weak = page_cautions([facts("a", "spray", handlings=(Handling("hydrogen_peroxide", 3),))])
    assert [one.label_line for one in weak.before["a"]] == [""]  # below 5 % no code applies


def test_the_label_word_is_apart_from_the_word_of_the_step_and_never_lowered() -> None:
    # the label of 24 % phosphoric acid says Warning, its step CAUTION; a strict sheet raises the label alone
    acid = Handling("phosphoric_acid", 24, "pH-down", sds_codes=("H314",))
    (shown,) = page_cautions([facts("a", "pour", handlings=(acid,))]).before["a"]
    assert shown.word == "CAUTION"
    assert shown.label_line == (
        "Label of pH-down 24 %: Danger. H315 skin irritation; H319 serious eye irritation; "
        "H314 severe skin burns and eye damage."
    )


def test_a_substance_without_wording_is_reported() -> None:
    page = page_cautions([facts("a", "pour", handlings=(Handling("alcohol", 70),))])
    assert page.uncovered == ("alcohol",)


def test_a_kept_solution_needs_a_label_step() -> None:
    decant, label = facts("fill", "decant"), facts("mark", "label")
    assert unlabelled_solutions([decant, label]) == []
    assert unlabelled_solutions([label, decant]) == [
        "step fill (decant) fills a container, and no later step labels it"
    ]


def test_open_slots_are_refused_all_at_once() -> None:
    steps = [facts("drain", "drain_reservoir", pump_minimum_depth_cm=None, drained_volume_l=None)]
    with pytest.raises(CautionProblem) as caught:
        page_cautions(steps)
    assert caught.value.messages == (
        'step drain: its caution "Pump running dry" prints the least water depth over the pump intake, which this page cannot '
        "know. Write for_each: system at its top, so that the tank is known, or choose an action that moves no water of a tank",
        'step drain: its caution "Spent solution and used sanitizer" prints the litres drained, which this page cannot know. Write '
        "for_each: system at its top, so that the tank is known, or choose an action that moves no water of a tank",
    )


def test_an_impossible_strength_is_refused() -> None:
    with pytest.raises(RangeProblem, match="hydrogen peroxide at 119 % is no strength: 0 to 100 % by mass"):
        page_cautions([facts("a", "pour", handlings=(Handling("hydrogen_peroxide", 119),))])


def test_every_fact_of_a_step_can_be_asked_by_its_kind_and_no_other_can() -> None:
    held = {one.name: str(one.type) for one in fields(StepFacts)}
    assert {name for name, of in held.items() if of.startswith("bool")} == {*get_args(YesNoFact)}
    assert {name for name, of in held.items() if of.startswith(("float", "int"))} == {*get_args(NumberFact)}
    assert {*WordFacts.model_fields} == {
        name for name, of in held.items() if of.startswith(("str", "tuple[str"))
    } - {"step_id", "action"}

"""A misspelt word of the files on training, questions, requirements and words of the pages is told, in these words."""

from __future__ import annotations

import shutil
from contextlib import ExitStack
from functools import cache
from pathlib import Path

import pytest

from macros.ground.problems import DataProblems
from macros.manual.procedures.load_files import ProcedureFile, load_procedures
from macros.published.training.training import training_units
from macros.site.published_words import published_mistakes
from macros.site.site import read_house
from tests.making import HOUSES, PROCEDURES
from tests.published_files import replaced, text_of, written

TASKS = "Allowed: tray_spray, parts_soak, tool_dip, loop_circulate."

CASES = (
    # file, what stands there, what is written in its place, line of the first, what is told after file and line
    ("questions", "read_with: level", "read_with: levle", 'templates[volume_at_refill].read_with: "levle" is not one of the words for this. Allowed: level, ph, ec, nutrients, acids, bases, sanitizer, water, pours or shown. Did you mean level?'),
    ("questions", "for_each: meter", "for_each: metre", 'templates[pen_trusted].for_each: "metre" is not one of the words for this. Allowed: room, system, part, variety, first_sown, block, pair or meter. Did you mean meter?'),
    ("questions", "module: M5_seed_and_nursery", "module: M5_seed_nursery", 'templates[too_heavy].module: "M5_seed_nursery" is no training unit. Allowed: M1_hygiene, M2_room_tour_and_emergencies, M3_daily_check, M4_meters, M5_seed_and_nursery, M6_harvest_packing, M7_mixing, M8_cleanout, M9_faults_drill. Did you mean M5_seed_and_nursery? [E31]'),
    ("questions", "SOP-13 count*", "SOP-13 cuont*", 'templates[plants_in_block].tests[0]: "SOP-13/cuont" is no step. Allowed: SOP-13/unplug, SOP-13/map, SOP-13/cups, SOP-13/holes, SOP-13/plant, SOP-13/label, SOP-13/count, SOP-13/plug_in, SOP-13/flood, SOP-13/second_reader. Did you mean SOP-13/count? [E31]'),
    ("questions", "caution LIFT-WATER", "caution LIFT-WATTER", 'templates[too_heavy].tests[0]: "LIFT-WATTER" is no caution of cautions.yml. ... Did you mean LIFT-WATER? [E31]'),
    ("questions", "SOP-03 prove-parts_soak", "SOP-03 prove-part_soak", f'templates[strip_under_band].tests[0]: "part_soak" is no sanitizing task. {TASKS} Did you mean parts_soak? [E31]'),
    ("questions", 'amount("reentry_wait")', 'amount("rentry_wait")', 'templates[back_after_mist].answer: "rentry_wait" is no amount of checked_by.yml. ... Did you mean reentry_wait? [E31]'),
    ("questions", 'fewest("trips")', 'fewst("trips")', 'templates[tank_by_hose].given.trips: "fewst" is no name of this sum. ... Did you mean fewest? [E31]'),
    ("questions", 'fact("lifting.one_person_limit")', 'fact("lifting.one_person_limt")', 'templates[too_heavy].given.limit: "one_person_limt" is no fact below lifting. ... Did you mean one_person_limit? [E31]'),
    ("questions", '"plumbing.flood_order") == "staggered"', '"plumbing.flood_order") == "stagered"', 'templates[flood_lowers_staggered].if: "stagered" is no word for flood_order. Allowed: simultaneous, staggered. Did you mean staggered? [E31]'),
    ("questions", 'amount("dew_point", time="lights_off")', 'amount("dew_point", time="light_off")', 'templates[wall_tonight].given.point: "light_off" is no time of the lamps. Allowed: lights_on, lights_off. Did you mean lights_off? [E31]'),
    ("questions", 'amount("batch_life_end", task="parts_soak")', 'amount("batch_life_end", tsk="parts_soak")', 'templates[soak_last_load].given.life: "tsk" is no key of an amount. Allowed: task, time. Did you mean task? [E31]'),
    ("questions", "number('air_changes')", "number('air_chnges')", 'templates[back_after_mist].why: "air_chnges" is no amount of checked_by.yml. ... Did you mean air_changes? [E31]'),
    ("questions", "{{ block.plates }}", "{{ block.plate }}", 'templates[plants_in_block].text: "block.plate" is no name of this text. Allowed: planted, wait_least, block.variety, block.plates, block.plants, amount, number, unit_of, low, high, fact, place, phone, every, meter, pen_note, scale, keeps, responsible, rinse_strip, strong_waste, in_units. Did you mean block.plates? [E31]'),
    ("questions", "answer: 'spare > 0'", "answer: 'spare > '", 'templates[may_flood_at_refill].answer: "spare > " is no sum. Numbers, texts, names, calls as amount("res_fill"), + - * /, comparisons, and, or, not, if. Mend it. [E01]'),
    ("questions", "answer: 'spare > 0'", "answer: 'spare.value > 0'", 'templates[may_flood_at_refill].answer: "spare.value > 0" is no sum. Numbers, texts, names, calls as amount("res_fill"), + - * /, comparisons, and, or, not, if. Mend it. [E01]'),
    ("questions", '    says: "cool water"\n', "", "templates[water_first]: an answer is a sum or a text. answer: or says:, one of the two. Write one. [E01]"),
    ("training", "needs: [M2_room_tour_and_emergencies, M3_daily_check]", "needs: [M2_room_tour_and_emergencies, M3_daly_check]", 'modules[8].needs[1]: "M3_daly_check" is no training unit. Allowed: M1_hygiene, M2_room_tour_and_emergencies, M3_daily_check, M4_meters, M5_seed_and_nursery, M6_harvest_packing, M7_mixing, M8_cleanout, M9_faults_drill. Did you mean M3_daily_check? [E31]'),
    ("training", "teaches: [SOP-16, SOP-27]", "teaches: [SOP-61]", 'modules[2].teaches[0]: "SOP-61" is no procedure. ... Did you mean SOP-26? [E31]'),
    ("training", "{runs} good runs", "{rusn} good runs", 'run.text: "rusn" is no gap of this text. Allowed: runs, unannounced. Did you mean runs? [E31]'),
    ("training", "    hydrogen_peroxide:", "    hydrogen_peroxid:", 'chemicals.noticed.hydrogen_peroxid: "hydrogen_peroxid" is no substance of substances.yml. ... Did you mean hydrogen_peroxide? [E31]'),
    ("training", "work_practice:", "work_practise:", "chemicals.work_practise: work_practise is not a known field. Did you mean chemicals.work_practice? [E31]"),
    ("training_units", "units:", "unit:", "unit: unit is not a known section. Did you mean units? [E31]"),
    ("sign_off", "good_runs: 2", "good_runs: two", 'good_runs: "two" is not a count. A whole number, 0 or more, without a unit. Count and write it. [E01]'),
    ("requirements", "{id: P-11, must: no", "{id: P-11, must: now", 'requirements[P-11].must: "now" is neither yes nor no. yes, no, true or false. Choose one. [E01]'),
    ("requirements", "judged: eye", "judged: eys", 'requirements[P-11].judged: "eys" is not one of the words for this. Allowed: page, build, print or eye. Did you mean eye?'),
    ("requirements", "macros/manual/pages/supplies.py", "macros/manual/pages/suplies.py", 'requirements[P-06].by: "macros/manual/pages/suplies.py" is no file of the program. ... Did you mean macros/manual/pages/supplies.py? [E01]'),
    ("requirements", '"the check of links"', '"the chek of links"', 'requirements[A-10].by: "the chek of links" is no file of the program. A file below macros/ or tests/, or the one page template, the one form template, the one caution template, the register of amounts, the check of links, the one set of fonts, macros/html/theme/assets/fonts. Did you mean the check of links? [E01]'),
    ("requirements", "{id: P-05,", "{id: P-55,", 'requirements[P-55].id: "P-55" is no requirement with judged: page. Allowed: ... Did you mean P-15? [E31]'),
    ("glossary", "not: [tier, tiers, deck]", "nto: [tier, tiers, deck]", "terms.shelf.nto: nto is not a known field. Did you mean terms.shelf.not? [E31]"),
    ("language", "[air, bag,", "[airr, bag,", 'verbs_that_are_things[0]: "airr" is no verb of actions.yml. ... Did you mean air? [E31]'),
    ("language", "modal:", "modals:", "modals: modals is not a known section. Did you mean modal? [E31]"),
    ("sources", "obtained: computed", "obtained: compuetd", 'davies-closed-carbonate.obtained: "compuetd" is no way of documents.yml. ... Did you mean computed? [E31]'),
    ("things", "things:", "thing:", "thing: thing is not a known section. Did you mean things? [E31]"),
    ("frequencies", "policies.reservoir_change_every", "policies.reservoir_chang_every", 'frequencies.tank_change.fact: "reservoir_chang_every" is no fact below policies. ... Did you mean reservoir_change_every? [E31]'),
    ("frequencies", "meter: ph", "meter: hp", 'frequencies.ph_pen.meter: "hp" is not one of the words for this. Allowed: ph or ec. Did you mean ph?'),
    ("frequencies", "every 6 months", "every 6 moons", 'frequencies.drill.text: "every 6 moons" is no rhythm in words. Allowed: every 7 days, every 12 months. Did you mean every 12 months? [E31]'),
    ("frequencies", "every 6 months\"}", "every 6 months\", source: drills}", "frequencies.drill.source: source is not a known field. Known: task, text, fact, meter. [E31]"),
)  # fmt: skip


@cache
def pages() -> tuple[ProcedureFile, ...]:
    files, problems = load_procedures(PROCEDURES)
    assert problems == []
    return tuple(files)


def told() -> list[str]:
    return [str(problem) for problem in published_mistakes(pages())]


@pytest.mark.parametrize(
    ("topic", "right", "wrong", "message"), CASES, ids=[f"{case[0]}-{case[2]}" for case in CASES]
)
def test_a_misspelt_word_is_told(topic: str, right: str, wrong: str, message: str) -> None:
    text = text_of(topic)
    line = text[: text.index(right)].count("\n") + 1
    begins, _, ends = message.partition(" ... ")
    with written(topic, text.replace(right, wrong, 1)):
        mistakes = told()
    found = [
        one for one in mistakes if one.partition(": ")[2].startswith(begins) and one.endswith(ends or begins)
    ]
    assert found, mistakes
    assert f"/{topic}.yml:" in found[0]
    if wrong:
        assert int(found[0].split(":")[1]) - line in (0, 1), found


def test_all_are_told_in_one_run() -> None:
    """Unknown words and what does not fit its type, of several files."""
    with ExitStack() as files:
        for topic, right, wrong in (
            ("training", "{runs}", "{rusn}"),
            ("sources", ": excerpt", ": excrept"),
            ("questions", ": level", ": levle"),
            ("pairs", "CHEM-HOUSE-PAIR", "CHEM-HOUSE-PIAR"),
        ):
            files.enter_context(written(topic, text_of(topic).replace(right, wrong)))
        mistakes = told()
    stems = {line.split(".yml:")[0].rpartition("/")[2] for line in mistakes}
    assert stems >= {"training", "sources", "questions", "pairs"}
    assert len(mistakes) > 15


def test_they_are_told_with_the_mistakes_of_the_house(tmp_path: Path) -> None:
    shutil.copytree(HOUSES / "first", tmp_path / "house")
    room = tmp_path / "house" / "site_data" / "house.yml"
    room.write_text(room.read_text(encoding="utf-8") + "colour: green\n", encoding="utf-8")
    with (
        written("pairs", replaced("pairs", "CHEM-HOUSE-PAIR", "CHEM-HOUSE-PIAR")),
        pytest.raises(DataProblems) as found,
    ):
        read_house(tmp_path / "house", PROCEDURES, None, {})
    said = str(found.value)
    assert '"CHEM-HOUSE-PIAR" is no caution of cautions.yml.' in said
    assert "colour is not a known section." in said


def test_a_name_the_house_is_read_by_is_told_and_no_key_error() -> None:
    wrong = text_of("bands").replace("  sodium_hypochlorite:", "  sodium_hypochlorit:", 1)
    with written("bands", wrong), pytest.raises(DataProblems, match='"sodium_hypochlorit" is no substance'):
        read_house(HOUSES / "fourth", PROCEDURES, None, {})


def test_as_shipped_nothing_is_told() -> None:
    assert told() == []


def test_what_is_loaded_cannot_be_changed() -> None:
    with pytest.raises(TypeError, match="does not support item assignment"):
        training_units()["M1_hygiene"] = "other"  # type: ignore[index]

"""Published files are read strictly: every mistake is told with file and line, all in one run."""

from __future__ import annotations

import json

import jsonschema
import pytest
from click.testing import CliRunner

from macros.control.changes.baseline import SCHEMA_HINT
from macros.doors.cli import commands
from macros.ground.problems import DataProblems
from macros.house import load_house
from macros.published import published
from macros.published.index.schema import FOLDER as SCHEMAS
from macros.published.index.schema import schema_text
from macros.published.index.topics import OF_ROWS, TOPICS, all_published_problems
from macros.published.safety.cautions import Caution, catalogue
from tests.house.test_schema import as_editors_read
from tests.making import HOUSES
from tests.published_files import FOLDER, replaced, written

MISSPELT = [
    ("cautions", "- caution: [CHEM-PEROXIDE-CONC,", "- caution: [CHEM-PEROXIDE-CON,",
     '"CHEM-PEROXIDE-CON" is no caution of cautions.yml. Allowed: '),
    ("cautions", "- is: {crop_present: yes}", "- is: {crop_presnt: yes}", "Did you mean crop_present?"),
    ("cautions", "- is: {crop_present: yes}", "- is: {crop_present: yep}", '"yep" is neither yes nor no.'),
    ("cautions", "- action: [work_in_standing_water]", "- acton: [work_in_standing_water]", "Did you mean cautions[ELEC-FLOODED-FLOOR].trigger.any[0].action?"),
    ("cautions", "crop_present: \"whether", "crop_pres: \"whether", "Did you mean crop_present?"),
    ("cautions", "unit: L, unknown", "unit: LL, unknown", 'Allowed: , kg, L, degC, m or cm. Did you mean L?'),
    ("cautions", "Drained water ({volume_drained})", "Drained water ({volume_draind})", '"volume_draind" is no gap of this text.'),
    ("cautions", "helper_flags: [pollen_allergy]", "helper_flags: [pollen_alergy]", "Did you mean pollen_allergy?"),
    ("pairs", "b: [hydrogen_peroxide, peracetic_acid], gives", "b: [hydrogen_peroxid, peracetic_acid], gives", "Did you mean hydrogen_peroxide?"),
    ("bands", "danger_codes: [H271,", "danger_codes: [H721,", '"H721" is no code under h_text in bands.yml.'),
    ("bands", "H290: may eat metal", "H209O: may eat metal", '"H209O" is not a hazard statement. As H314 or EUH031.'),
    ("signal_words", "{severity: no_injury, likelihood: any", "{severity: no_injry, likelihood: any", "Did you mean no_injury?"),
    ("ppe", "aliases: {nitrile_gloves: gloves_chem}", "aliases: {nitrile_gloves: glove_chem}", "Did you mean gloves_chem?"),
    ("edible", 'Viola cornuta, name: "viola", parts: [flower]', 'Viola cornuta, name: "viola", parts: [flowr]', "Did you mean flower?"),
    ("edible", "{table: currey, botanical: Viola cornuta", "{table: curey, botanical: Viola cornuta", "Did you mean currey?"),
    ("poisonous", "{table: memory, genus: Adonis", "{table: memry, genus: Adonis", '"memry" is no table of poisonous.yml.'),
    ("chemistry", "  CaSO4:", "  CaS04:", "Did you mean pairs.CaSO4?"),
    ("plausible", 'field: "room.length", unit: m', 'field: "room.length", unit: mtr', '"mtr" is not a unit.'),
    ("first_aid", "Call {emergency_number}. Start resuscitation", "Call {emergncy_number}. Start resuscitation", "Did you mean emergency_number?"),
]  # fmt: skip


@pytest.mark.parametrize(("topic", "old", "new", "told"), MISSPELT)
def test_a_misspelt_word_is_told_with_its_line(topic: str, old: str, new: str, told: str) -> None:
    text = replaced(topic, old, new)
    with written(topic, text):
        found = [str(problem) for problem in all_published_problems()]
    line = text[: text.index(new)].count("\n") + 1
    assert any(f"/{topic}.yml:{line}: " in one and told in one for one in found), found


def test_every_writing_of_yes_is_yes() -> None:
    for word in ("yes", "true", "True"):
        with written(
            "cautions", replaced("cautions", "- is: {crop_present: yes}", f"- is: {{crop_present: {word}}}")
        ):
            (_, asked) = catalogue()["FOOD-SANITIZER-RESIDUE"].trigger.all or ()
            assert asked.fact == ("crop_present", True)


def test_a_severity_without_a_word_is_told() -> None:
    text = replaced("cautions", 'likelihood: any\n    why: "glare', 'likelihood: will\n    why: "glare')
    with written("cautions", text):
        (problem,) = all_published_problems()
    assert "will gives no signal word with minor_or_moderate. Allowed: any." in str(problem)


def test_two_rows_of_one_id_are_told() -> None:
    with written("pairs", replaced("pairs", "{id: PAIR-CL-PEROXIDE,", "{id: PAIR-CL-ACID,")):
        told = [str(problem) for problem in all_published_problems()]
    assert any("pairs: PAIR-CL-ACID stands here twice. Each id once. Rename one." in one for one in told)


def test_two_kinds_in_one_condition_are_told() -> None:
    text = replaced("cautions", "trigger: {pair: HOUSE}", "trigger: {pair: HOUSE, action: [pour]}")
    with written("cautions", text):
        (problem,) = all_published_problems()
    assert "action and pair stands here. One kind of condition." in str(problem)


def test_check_tells_the_mistakes_of_all_files_at_once() -> None:
    pairs = replaced("pairs", "house_pair_caution: CHEM-HOUSE-PAIR", "house_pair_caution: CHEM-HOUSE-PAR")
    ppe = replaced("ppe", "aliases: {nitrile_gloves: gloves_chem}", "alias: {nitrile_gloves: gloves_chem}")
    with written("pairs", pairs), written("ppe", ppe):
        result = CliRunner().invoke(commands, ["check", "--house", str(HOUSES / "first")])
    assert isinstance(result.exception, DataProblems)
    told = str(result.exception)
    assert "macros/published/safety/pairs.yml:" in told
    assert "macros/published/safety/ppe.yml:" in told
    assert "aliases" in told


def test_a_bound_of_a_field_no_house_has_is_told() -> None:
    text = replaced("plausible", '"systems[].pump.derate"', '"systems[].pump.derat"')
    with written("plausible", text):
        told = [str(one) for one in load_house(HOUSES / "first")[1]]
    assert any(
        one.startswith("macros/published/amounts/plausible.yml:")
        and "no house has derat there. Did you mean derate?" in one
        for one in told
    ), told


def test_what_is_loaded_cannot_be_changed() -> None:
    caution = catalogue()["LIGHT-BRIGHT"]
    with pytest.raises(Exception, match="frozen"):
        caution.title = "x"
    with pytest.raises(TypeError):
        catalogue()["LIGHT-BRIGHT"] = caution  # type: ignore[index]
    bright = (caution.trigger.all or ())[0]
    with pytest.raises(TypeError):
        bright.is_["lamps_on"] = False  # type: ignore[index]
    assert isinstance(caution, Caution)


@pytest.mark.parametrize("topic", sorted(TOPICS))
def test_the_schema_for_editors_is_current_takes_the_file_and_is_named_in_its_head(topic: str) -> None:
    assert (SCHEMAS / f"{topic}.json").read_text(encoding="utf-8") == schema_text(topic), (
        "run python -m macros.published.index.schema"
    )
    (path,) = FOLDER.rglob(f"{topic}.yml")
    assert path.read_text(encoding="utf-8").startswith(SCHEMA_HINT.format(topic))
    jsonschema.validate(as_editors_read(path), json.loads(schema_text(topic)))


def test_every_topic_is_read_without_a_problem() -> None:
    assert all_published_problems() == []
    assert published(TOPICS["ppe"], "ppe").place("aliases").file == "macros/published/safety/ppe.yml"
    assert set(TOPICS) >= OF_ROWS

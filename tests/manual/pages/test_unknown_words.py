"""A word of a page that nothing has is an error with its line, in a house that has nothing of what the word is for."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from macros.amounts import Register
from macros.amounts.engine.amount import OF_KEYS
from macros.amounts.room.climate import TIMES
from macros.amounts.water.watering import STAGES
from macros.ground.problems import Problem
from macros.house import House
from macros.house.records.chemicals import Chemical
from macros.house.records.crops import Nursery
from macros.house.records.systems import Reservoir
from macros.manual.pages.build_page import build_pages
from macros.manual.pages.unknown_words import unknown_words
from macros.manual.procedures.house_overrides import with_own_pages
from macros.manual.procedures.known_words import KnownWords
from macros.manual.procedures.load_files import load_procedures
from macros.manual.procedures.write_text import TextWriter
from macros.published import load
from macros.published.amounts.amount_ids import known_amount_ids
from macros.published.pages.page_words import page_words
from tests.making import HOUSES, PROCEDURES, made_register

AMOUNTS = "The list is macros/published/amounts/checked_by.yml."
SOURCES = "The list is macros/published/pages/sources.yml."
THINGS = "A measuring tool, meter or strip of the house, or a thing of macros/published/pages/things.yml, letter for letter."
FORMS = (
    "One of sanitizer, acid, base, cleaner, strip, amount:<id>, fact:<path of the house>, system:<path of the page's own "
    "system>."
)
KEYS = "Known: chemical, circuit, container, feed_stage, growth_stage, part, place, sheet, system, task, time, tray, variety."

# (page, what is replaced, by what, key, the words of the message)
SLIPS = [
    ("08", "only_with: acid", "only_with: acidd", "steps[acid].only_with", f"acidd is not known. {FORMS} Did you mean acid?"),
    ("08", "only_with: acid", "only_with: fcat:meters", "steps[acid].only_with", f"fcat:meters is not known. {FORMS} Write one that is known."),
    ("08", "only_with: acid", "only_with: no amount:res_fil", "steps[acid].only_with", f"res_fil is not a known amount. {AMOUNTS} Did you mean res_fill?"),
    ("08", "only_with: acid", "only_with: fact:metres", "steps[acid].only_with", "metres is no fact. Known: {house}. Did you mean meters?"),
    ("08", "only_with: acid", "only_with: system:reservoir.drian_valve", "steps[acid].only_with", "reservoir.drian_valve is no fact: there is no drian_valve below reservoir. Known: {reservoir}. Did you mean drain_valve?"),
    ("07", "only_with: \"fact:sanitizing.tasks.tool_dip.wet_time\"", "only_with: \"system:timer\"", "steps[jar].only_with", "the page is for the room, so it has no system of its own. for_each: system on the page, or repeat: system on the step. Use fact: with a fact of the house."),
    ("08", "{chemical: acid, at: stock}", "{chemical: acidd, at: stock}", "steps[acid].handles[0].chemical", "acidd is not a chemical or role. Known: acid, base, cleaner, down, sanitizer, up. Did you mean acid?"),
    ("08", "{chemical: acid, at: stock}", "{chemical: part, at: stock}", "steps[acid].handles[0].chemical", "part is not a chemical or role. Known: acid, base, cleaner, down, sanitizer, up. Write one that is known."),
    ("08", "{chemical: acid, at: stock}", "{chemical: acid, at: stok}", "steps[acid].handles[0].at", "stok is not a strength. Known: made:loop_circulate, made:parts_soak, made:tool_dip, made:tray_spray, stock. Did you mean stock?"),
    ("04", "at: \"made:tray_spray\"", "at: \"made:tray_spary\"", "steps[spray].handles[0].at", "made:tray_spary is not a strength. Known: made:loop_circulate, made:parts_soak, made:tool_dip, made:tray_spray, stock. Did you mean made:tray_spray?"),
    ("08", "amount: res_fill", "amount: res_fil", "steps[fill_to_mark].amount", f"res_fil is not a known amount. {AMOUNTS} Did you mean res_fill?"),
    ("06", "{id: loop_volume, task: loop_circulate}", "{id: loop_volume, tsak: loop_circulate}", "steps[line].amount", f"tsak is not a key of amounts. {KEYS} Did you mean task?"),
    ("06", "{id: loop_volume, task: loop_circulate}", "{id: loop_volume, task: lop_circulate}", "steps[line].amount", "lop_circulate is not a known task. Known: loop_circulate, parts_soak, tool_dip, tray_spray. Did you mean loop_circulate?"),
    ("09", "amount: topup_volume}", "amount: topup_volum}", "tables[0].amount", f"topup_volum is not a known amount. {AMOUNTS} Did you mean topup_volume?"),
    ("09", "by: growth_stage", "by: growth_stag", "tables[1].by", "growth_stag is not a key of rows. " + KEYS.replace("sheet,", "seed_lot, sheet,") + " Did you mean growth_stage?"),
    ("09", "amount: water_use_day}", "amount: water_use_dya}", "tables[1].columns[0].amount", f"water_use_dya is not a known amount. {AMOUNTS} Did you mean water_use_day?"),
    ("21", "of: {growth_stage: young}", "of: {growth_stage: yuong}", "tables[0].columns[1].amount", "yuong is not a known growth stage. Known: full, half, young. Did you mean young?"),
    ("02", "fact: density}", "fact: denstiy}", "tables[0].columns[2].fact", "denstiy is no fact. Known: {chemical}. Did you mean density?"),
    ("09", "amount: water_use_day}", "fact: water}", "tables[1].columns[0].fact", "water is not a fact of rows by growth_stage. Known: none. Mend it."),
    ("08", "uses: [sponge, bucket]", "uses: [sponeg, bucket]", "steps[mop_heel].uses", f"sponeg is not in the inventory. {THINGS} Did you mean sponge?"),
    ("08", "where: tank", "where: tnak", "steps[drain].where", "tnak is not a place of the work. A place of macros/published/pages/page_words.yml, or one the house names under house.places or inventory. Did you mean tank?"),
    ("19", "container: \"bag of mix\"", "container: \"bga of mix\"", "steps[bag].lifts[0].container", "bga of mix is not a load this house knows. Known: bag, bag of mix, cylinder 100 mL, stick, syringe 20 mL. Did you mean bag of mix?"),
    ("08", "M7_mixing]", "M7_mixnig]", "units", "M7_mixnig is not a training unit. Known: {units}. Did you mean M7_mixing?"),
    ("06", "job: cleanout", "job: cleanuot", "job", "cleanuot is not a job of a day. Known: cleanout, solution_change. Did you mean cleanout?"),
    ("08", "see_also: [SOP-09,", "see_also: [SPO-09,", "see_also", "SPO-09 is not a procedure here. Known: {documents}. Did you mean SOP-09?"),
    ("08", "references: [davies-closed-carbonate", "references: [davies-closed-carbonaet", "references", f"davies-closed-carbonaet is not a known source. {SOURCES} Did you mean davies-closed-carbonate?"),
    ("08", "source: acid-half-first", "source: acid-hlaf-first", "outside_figures[4].source", f"acid-hlaf-first is not a known source. {SOURCES} Did you mean acid-half-first?"),
    ("08", "see_also: [", "waive: [{line: S-99, reason: \"It is not for this page.\"}]\nsee_also: [", "waive[0].line", "S-99 is not a requirement a page can waive. Known: {judged}. Did you mean S-19?"),
    ("08", "{{ amount('tap_fill_time') }} at most, staying", "{{ amount('tap_fil_time') }} at most, staying", "steps[fill_first].do", f'amount("tap_fil_time"): tap_fil_time is not known. {AMOUNTS} Did you mean tap_fill_time?'),
    ("08", "{{ number('ec_band') }}", "{{ number('ec_bnad') }}", "steps[read_ec].record.limits", f'number("ec_bnad"): ec_bnad is not known. {AMOUNTS} Did you mean ec_band?'),
    ("08", "{{ unit_of('ec_band') }}", "{{ unit_of('ec_band', sytem='K') }}", "steps[read_ec].record.quantity", f"sytem is not a key of amounts. {KEYS} Did you mean system?"),
    ("17", "growth_stage='half'", "growth_stage='hafl'", "steps[thirst].record.limits", "hafl is not a known growth stage. Known: full, half, young. Did you mean half?"),
    ("12", "fact('nursery.feed_strength', 'half')", "fact('nursery.feed_strenght', 'half')", "before", "nursery.feed_strenght is no fact: there is no feed_strenght below nursery. Known: {nursery}. Did you mean feed_strength?"),
    ("12", "fact('nursery.feed_strength', 'half')", "fact('nursery', 'half')", "before", "nursery holds several facts. The path of one fact, as policies.spill_limit. Mend it."),
    ("08", "{{ place('eyewash') }}", "{{ place('eyewsah') }}", "if_wrong[5].act", 'place("eyewsah"): eyewsah is not known. Known: breaker_panel, drain_for_waste, eyewash, first_aid, gas_shutoff, handwash, spill_kit, street_address, water_shutoff. Did you mean eyewash?'),
    ("09", "phone('owner_phone')", "phone('owner_phnoe')", "if_wrong[9].act", 'phone("owner_phnoe"): owner_phnoe is not known. Known: ambulance_fire, owner_phone, poison_line. Did you mean owner_phone?'),
    ("08", "every('tank_change')", "every('tank_chagne')", "when", 'every("tank_chagne"): tank_chagne is not known. Known: {frequencies}. Did you mean tank_change?'),
    ("08", "{{ meter('ph') }} and", "{{ meter('hp') }} and", "before", 'meter("hp"): hp is not known. Known: ec, ph. Write one that is known.'),
    ("08", "{% if system.drain_valve %}Open", "{% if system.drian_valve %}Open", "steps[drain].do", "system.drian_valve is not a word of this text. Known: air_stones, drain_valve, flood_order, floods, id, lights, name, tray_count. Did you mean drain_valve?"),
    ("08", "{{ part.name }} into", "{{ task.name }} into", "steps[add_part].do", "task is not a word of this text. Known: amount, every, fact, high, low, meter, number, part, phone, place, responsible, scale, system, unit_of. Write one that is known."),
    ("08", "{{ scale() }}.", "{{ scael() }}.", "done_when", "scael is not a word of this text. Known: amount, every, fact, high, low, meter, number, phone, place, responsible, scale, system, unit_of. Did you mean scale?"),
    ("08", "{{ scale() }}.", "{{ scale }}.", "done_when", "scale cannot stand like this. As scale(...). Mend it."),
    ("08", "every('tank_change')", "every(system.id)", "when", "every(...) names something that is worked out. Each name as a text in quotes, so that it can be checked for every house. Mend it."),
    ("08", "every('tank_change')", "every('tank_change', 'x', 'y')", "when", "every(...) is asked with too few, too many or other texts. Known: name. Write one that is known."),
    ("08", "minutes: 1\n    critical", "minutes: 1x\n    critical", "steps[unplug].minutes", '"1x" is not a number of minutes. A number, or an amount in minutes. Write the hands-on minutes.'),
    ("08", "section: Tank and feed", "section: Tnak and feed", "section", "Tnak and feed is not a section. Known: Chemicals, Cleaning, Faults, Room and people, Rounds, Seed and plants, Tank and feed. Did you mean Tank and feed?"),
    ("08", "action: unplug", "action: unplgu", "steps[unplug].action", "unplgu is not a known action. The list is macros/published/safety/actions.yml. Did you mean unplug?"),
]  # fmt: skip


LISTS = {
    "house": House.model_fields,
    "reservoir": Reservoir.model_fields,
    "chemical": Chemical.model_fields,
    "nursery": Nursery.model_fields,
    "units": load("training_units")["units"],
    "documents": [f"SOP-{number:02}" for number in range(1, 27)],
    "judged": [one["id"] for one in load("requirements")["requirements"] if one["judged"] == "page"],
    "frequencies": load("frequencies")["frequencies"],
}
"""What stands for a long list in the messages above."""


@cache
def bare() -> Register:
    """A house with no sanitizer, nursery or helpers."""
    return made_register(HOUSES / "first")


@cache
def known() -> KnownWords:
    files, _ = load_procedures(PROCEDURES)
    return KnownWords(bare(), tuple(file.id for file in files))


def told(folder: Path, text: str) -> list[Problem]:
    (folder / "page.md").write_text(text, encoding="utf-8")
    (file,), problems = load_procedures(folder)
    return [*problems, *unknown_words(file, known(), TextWriter())]


def shipped(number: str) -> str:
    (file,) = PROCEDURES.glob(f"sop-{number}-*.md")
    return file.read_text(encoding="utf-8")


@pytest.mark.parametrize(("page", "old", "new", "key", "message"), SLIPS)
def test_a_slip_is_told_with_its_line(
    tmp_path: Path, page: str, old: str, new: str, key: str, message: str
) -> None:
    text = shipped(page)
    assert old in text
    line = 1 + text[: text.index(old)].count("\n")
    for name, words in LISTS.items():
        message = message.replace(f"{{{name}}}", ", ".join(sorted(words)))
    assert [str(one) for one in told(tmp_path, text.replace(old, new, 1))] == [
        f"procedures/page.md:{line}: {key}: {message}"
    ]


@pytest.mark.parametrize("path", sorted(PROCEDURES.glob("sop-*.md")), ids=lambda path: path.name)
def test_a_shipped_page_has_no_unknown_word(tmp_path: Path, path: Path) -> None:
    """Also where the house lacks the sanitizer, the nursery or the meters that the page is about."""
    assert told(tmp_path, path.read_text(encoding="utf-8")) == []


def test_a_body_is_looked_through(tmp_path: Path) -> None:
    text = shipped("08") + "\nThe {% if system.lights %}{{ amount('res_fil', '') }}{% endif %} lamp.\n"
    assert [str(one) for one in told(tmp_path, text)] == [
        f"procedures/page.md:{text.count(chr(10))}: text: "
        f'amount("res_fil"): res_fil is not known. {AMOUNTS} Did you mean res_fill?'
    ]


def own_page(folder: Path, only_with: str, action: str = "drain_reservoir") -> tuple[list[str], list[str]]:
    """The steps and the errors of a house's own page of the solution change, one of whose steps is `only_with` something."""
    own = folder / "house" / "procedures"
    own.mkdir(parents=True)
    text = shipped("08")
    changed = text.replace(
        f"    action: {action}\n", f"    action: {action}\n    only_with: {only_with}\n", 1
    )
    (own / "own.md").write_text(changed, encoding="utf-8")
    files, problems = with_own_pages(PROCEDURES, own)
    assert problems == []
    pages, problems = build_pages(files, bare(), TextWriter(), "p/sop-08-k.html")
    steps = [step.id for page in pages for step in page.content.steps]
    return steps, [str(one) for one in problems if one.severity == "error"]


@pytest.mark.quick
def test_a_page_of_the_house_may_not_drop_a_critical_step_by_a_slip(tmp_path: Path) -> None:
    steps, errors = own_page(tmp_path, "sanitzier", "unplug")
    line = shipped("08").splitlines().index("    action: unplug") + 2
    assert steps == []
    assert errors == [
        f"house/procedures/own.md:{line}: steps[unplug].only_with: sanitzier is not known. {FORMS} "
        "Did you mean sanitizer?"
    ]


def test_a_step_may_hang_on_a_fact_of_the_system_of_the_page(tmp_path: Path) -> None:
    steps, errors = own_page(tmp_path, "system:reservoir.fill_mark_height")
    assert errors == []
    assert "drain" in steps


def test_a_step_may_be_for_systems_that_lack_a_fact(tmp_path: Path) -> None:
    steps, errors = own_page(tmp_path, "no system:reservoir.fill_mark_height")
    assert errors == []
    assert steps
    assert "drain" not in steps


def test_a_known_role_that_the_house_lacks_leaves_the_step_out(tmp_path: Path) -> None:
    steps, errors = own_page(tmp_path, "sanitizer")
    assert errors == []
    assert steps
    assert "drain" not in steps


def test_the_published_words_are_words_the_program_knows() -> None:
    assert set(page_words().of) <= set(OF_KEYS)
    assert set(page_words().of["task"]) == set(load("cards")["task_names"])
    assert set(page_words().of["growth_stage"]) == {stage.name for stage in STAGES}
    assert set(page_words().of["time"]) == set(TIMES)


@pytest.mark.parametrize("house", ["first", "second", "third", "fourth", "fifth"])
def test_every_amount_of_a_house_has_a_known_id(house: str) -> None:
    ids = made_register(HOUSES / house).ids()
    assert ids
    assert set(ids) <= known_amount_ids()

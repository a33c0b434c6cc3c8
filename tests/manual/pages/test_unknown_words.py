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
from macros.published import source_of
from macros.published.amounts.amount_ids import known_amount_ids
from macros.published.pages.page_words import page_words
from tests.making import HOUSES, PROCEDURES, made_register

FORMS = (
    "Allowed: sanitizer, acid, base, cleaner, strip, amount:<id>, fact:<path of the house>, system:<path of the page's "
    "own system>, rinse:last, grows:<botanical name>, part:weighed."
)

# (page, what is replaced, by what, key, the words of the message: `…` stands for the middle of a long list)
SLIPS = [
    ("08", "only_with: acid", "only_with: acidd", "steps[rinse_acid].only_with", "\"acidd\" is no form of only_with. Allowed: sanitizer, acid, base, cleaner, strip, amount:<id>, fact:<path of the house>, system:<path of the page's own system>, rinse:last, grows:<botanical name>, part:weighed. Did you mean acid? [E31]"),
    ("08", "only_with: acid", "only_with: fcat:meters", "steps[rinse_acid].only_with", "\"fcat:meters\" is no form of only_with. Allowed: sanitizer, acid, base, cleaner, strip, amount:<id>, fact:<path of the house>, system:<path of the page's own system>, rinse:last, grows:<botanical name>, part:weighed. Choose one. [E31]"),
    ("08", "only_with: acid", "only_with: no amount:res_fil", "steps[rinse_acid].only_with", '"res_fil" is no amount of checked_by.yml. Allowed: …. Did you mean res_fill? [E31]'),
    ("08", "only_with: acid", "only_with: fact:metres", "steps[rinse_acid].only_with", '"metres" is no fact. Allowed: {house}. Did you mean meters? [E31]'),
    ("08", "only_with: acid", "only_with: system:reservoir.drian_valve", "steps[rinse_acid].only_with", '"drian_valve" is no fact below reservoir. Allowed: {reservoir}. Did you mean drain_valve? [E31]'),
    ("07", 'only_with: "fact:sanitizing.tasks.tool_dip.wet_time"', 'only_with: "system:timer"', "steps[jar].only_with", '"system:timer" is no question to a page for the room, which has no system of its own. Allowed: for_each: system on the page, repeat: system on the step, fact: with a fact of the house. Choose one. [E31]'),
    ("08", "{chemical: acid, at: stock}", "{chemical: acidd, at: stock}", "steps[acid].handles[0].chemical", '"acidd" is no chemical or role. Allowed: acid, base, cleaner, down, sanitizer, up. Did you mean acid? [E31]'),
    ("08", "{chemical: acid, at: stock}", "{chemical: part, at: stock}", "steps[acid].handles[0].chemical", '"part" is no chemical or role. Allowed: acid, base, cleaner, down, sanitizer, up. Choose one. [E31]'),
    ("08", "{chemical: acid, at: stock}", "{chemical: acid, at: stok}", "steps[acid].handles[0].at", '"stok" is no strength. Allowed: made:loop_circulate, made:parts_soak, made:tool_dip, made:tray_spray, stock. Did you mean stock? [E31]'),
    ("04", 'at: "made:tray_spray"', 'at: "made:tray_spary"', "steps[spray].handles[0].at", '"made:tray_spary" is no strength. Allowed: made:loop_circulate, made:parts_soak, made:tool_dip, made:tray_spray, stock. Did you mean made:tray_spray? [E31]'),
    ("08", "{id: res_fill,", "{id: res_fil,", "steps[fill_to_mark].amount[res_fil].id", '"res_fil" is no amount of checked_by.yml. Allowed: …. Did you mean res_fill? [E31]'),
    ("06", "{id: loop_volume, task: loop_circulate,", "{id: loop_volume, tsak: loop_circulate,", "steps[line].amount", '"tsak" is no key of amounts. Allowed: chemical, circuit, container, feed_stage, growth_stage, part, place, planting, sheet, system, task, time, tray, variety. Did you mean task? [E31]'),
    ("06", "{id: loop_volume, task: loop_circulate,", "{id: loop_volume, task: lop_circulate,", "steps[line].amount", '"lop_circulate" is no task. Allowed: loop_circulate, parts_soak, tool_dip, tray_spray. Did you mean loop_circulate? [E31]'),
    ("12", "amount: nursery_recipe}", "amount: nursery_recip}", "tables[1].amount", '"nursery_recip" is no amount of checked_by.yml. Allowed: …. Did you mean nursery_recipe? [E31]'),
    ("12", "looks_up: [windows]", "looks_up: [window]", "steps[dome_off].looks_up", '"window" is no table of this page. Allowed: ec_divisor, nursery_recipe, windows. Did you mean windows? [E31]'),
    ("09", "by: growth_stage", "by: growth_stag", "tables[1].by", '"growth_stag" is no key of rows. Allowed: chemical, circuit, container, feed_stage, growth_stage, part, place, planting, seed_lot, sheet, system, task, time, tray, variety. Did you mean growth_stage? [E31]'),
    ("09", "amount: water_use_day}", "amount: water_use_dya}", "tables[1].columns[0].amount", '"water_use_dya" is no amount of checked_by.yml. Allowed: …. Did you mean water_use_day? [E31]'),
    ("21", "of: {growth_stage: young}", "of: {growth_stage: yuong}", "tables[hours].columns[1].amount", '"yuong" is no growth stage. Allowed: full, half, young. Did you mean young? [E31]'),
    ("02", "fact: density}", "fact: denstiy}", "tables[chemicals].columns[2].fact", '"denstiy" is no fact. Allowed: {chemical}. Did you mean density? [E31]'),
    ("09", "amount: water_use_day}", "fact: water}", "tables[1].columns[0].fact", '"water" is no fact of rows by growth_stage. Mend it. [E31]'),
    ("09", '{head: "Use a day", amount: water_use_day}', '{head: "Use a day"}', "tables[1].columns[0].head", '"Use a day" is no column with an amount or a fact. Allowed: amount: <id>, fact: <path>. Choose one. [E31]'),
    ("08", "uses: [sponge, bucket]", "uses: [sponeg, bucket]", "steps[mop_heel].uses[0]", '"sponeg" is no thing of the inventory. Allowed: …. Did you mean sponge? [E31]'),
    ("08", "where: tank", "where: tnak", "steps[drain].where", '"tnak" is no place of the work. Allowed: …. Did you mean tank? [E31]'),
    ("19", 'container: "bag of mix"', 'container: "bga of mix"', "steps[bag].lifts[0].container", '"bga of mix" is no load this house knows. Allowed: acid syringe 20 mL, bag, bag of mix, base syringe 20 mL, cylinder 100 mL, stick. Did you mean bag of mix? [E31]'),
    ("08", "M7_mixing]", "M7_mixnig]", "units[2]", '"M7_mixnig" is no training unit. Allowed: {units}. Did you mean M7_mixing? [E31]'),
    ("06", "job: cleanout", "job: cleanuot", "job", '"cleanuot" is no job of jobs.yml. Allowed: cleanout, solution_change. Did you mean cleanout? [E31]'),
    ("08", "see_also: [SOP-09,", "see_also: [SPO-09,", "see_also[0]", '"SPO-09" is no procedure. Allowed: {documents}. Did you mean SOP-09? [E31]'),
    ("08", "references: [davies-closed-carbonate", "references: [davies-closed-carbonaet", "references[0]", '"davies-closed-carbonaet" is no source of sources.yml. Allowed: …. Did you mean davies-closed-carbonate? [E31]'),
    ("08", "source: acid-half-first", "source: acid-hlaf-first", "outside_figures[3].source", '"acid-hlaf-first" is no source of sources.yml. Allowed: …. Did you mean acid-half-first? [E31]'),
    ("09", "see_also: [", 'waive: [{line: S-99, reason: "It is not for this page."}]\nsee_also: [', "waive[0].line", '"S-99" is no requirement a page can waive. Allowed: {judged}. Did you mean S-19? [E31]'),
    ("08", "{{ amount('tap_fill_time') }} at most, staying", "{{ amount('tap_fil_time') }} at most, staying", "steps[fill_first].do", '"tap_fil_time" is no amount of checked_by.yml. Allowed: …. Did you mean tap_fill_time? [E31]'),
    ("08", "{{ number('ec_band') }}", "{{ number('ec_bnad') }}", "steps[read_ec].record.limits", '"ec_bnad" is no amount of checked_by.yml. Allowed: …. Did you mean ec_band? [E31]'),
    ("08", "{{ unit_of('ec_band') }}", "{{ unit_of('ec_band', sytem='K') }}", "steps[read_ec].record.quantity", '"sytem" is no key of amounts. Allowed: chemical, circuit, container, feed_stage, growth_stage, part, place, planting, sheet, system, task, time, tray, variety. Did you mean system? [E31]'),
    ("08", "{{ amount('tap_fill_time') }} at most, staying", "{{ amount('tap_fill_time', sytem='K') }} at most, staying", "steps[fill_first].do", '"sytem" is no key of amounts. Allowed: chemical, circuit, container, feed_stage, growth_stage, part, place, planting, sheet, system, task, time, tray, variety. Did you mean system? [E31]'),
    ("12", "fact('nursery.canopy_ppfd', ", "fact('chemicals', ", "steps[light].expect", '"chemicals" is no path of one fact, as policies.spill_limit: it holds several. Mend it. [E31]'),
    ("12", "fact('nursery.canopy_ppfd', ", "fact('sign_offs', ", "steps[light].expect", '"sign_offs" is no path of one fact, as policies.spill_limit: it holds several. Mend it. [E31]'),
    ("17", "growth_stage='half'", "growth_stage='hafl'", "steps[thirst].record.limits", '"hafl" is no growth stage. Allowed: full, half, young. Did you mean half? [E31]'),
    ("12", "fact('nursery.canopy_ppfd', ", "fact('nursery.canopy_pfpd', ", "steps[light].expect", '"canopy_pfpd" is no fact below nursery. Allowed: {nursery}. Did you mean canopy_ppfd? [E31]'),
    ("12", "fact('nursery.canopy_ppfd', ", "fact('nursery', ", "steps[light].expect", '"nursery" is no path of one fact, as policies.spill_limit: it holds several. Mend it. [E31]'),
    ("08", "{{ place('eyewash') }}", "{{ place('eyewsah') }}", "if_wrong[5].act", '"eyewsah" is no place of emergency things. Allowed: handwash, eyewash, first_aid, breaker_panel, water_shutoff, spill_kit, drain_for_waste, street_address, gas_shutoff. Did you mean eyewash? [E31]'),
    ("09", "phone('owner_phone')", "phone('owner_phnoe')", "if_wrong[9].act", '"owner_phnoe" is no telephone number. Allowed: ambulance_fire, poison_line, owner_phone. Did you mean owner_phone? [E31]'),
    ("08", "every('tank_change')", "every('tank_chagne')", "when", '"tank_chagne" is no rhythm of frequencies.yml. Allowed: {frequencies}. Did you mean tank_change? [E31]'),
    ("08", "{{ meter('ph') }} and", "{{ meter('hp') }} and", "before[1].say", '"hp" is no meter. Allowed: ph, ec. Did you mean ph? [E31]'),
    ("08", "{% if keeps('phosphoric_acid') %}", "{% if keeps('phosforic_acid') %}", "steps[card].expect", '"phosforic_acid" is no substance of substances.yml. Allowed: …. Did you mean phosphoric_acid? [E31]'),
    ("08", "{% if system.drain_valve %}Open", "{% if system.drian_valve %}Open", "steps[drain].do", '"system.drian_valve" is no word of this text. Allowed: system.air_stones, system.drain_valve, system.flood_order, system.floods, system.id, system.lights, system.name, system.plates, system.pump_minimum, system.refill_mark, system.sets, system.tray_count. Did you mean system.drain_valve? [E31]'),
    ("08", "{{ part.name }} round", "{{ task.name }} round", "steps[add_part].do", '"task" is no word of this text. Allowed: amount, every, fact, high, in_units, keeps, low, meter, number, part, pen_note, phone, place, responsible, rinse_strip, scale, strong_waste, system, unit_of. Choose one. [E31]'),
    ("08", "{{ scale() }}.", "{{ scael() }}.", "done_when", '"scael" is no word of this text. Allowed: amount, every, fact, high, in_units, keeps, low, meter, number, pen_note, phone, place, responsible, rinse_strip, scale, strong_waste, system, unit_of. Did you mean scale? [E31]'),
    ("08", "{{ scale() }}.", "{{ scale }}.", "done_when", '"scale" is no word that stands like this. Allowed: scale(...). Did you mean scale(...)? [E31]'),
    ("08", "every('tank_change')", "every(system.id)", "when", '"every(...)" is no word with each name as a text in quotes, to be checked for every house. Mend it. [E31]'),
    ("08", "every('tank_change')", "every('tank_change', 'x', 'y')", "when", '"every(...)" is no word with these texts in its brackets. Allowed: every(name). Did you mean every(name)? [E31]'),
    ("08", "minutes: 1\n    critical", "minutes: 1x\n    critical", "steps[unplug].minutes", '"1x" is not a number of minutes. A number, or an amount in minutes. Write the hands-on minutes.'),
    ("08", "section: Tank and feed", "section: Tnak and feed", "section", '"Tnak and feed" is no section. Allowed: Room and people, Chemicals, Cleaning, Tank and feed, Seed and plants, Rounds, Faults. Did you mean Tank and feed? [E31]'),
    ("08", "action: unplug", "action: unplgu", "steps[unplug].action", '"unplgu" is no action of actions.yml. Allowed: …. Did you mean unplug? [E31]'),
]  # fmt: skip


LISTS = {
    "house": House.model_fields,
    "reservoir": Reservoir.model_fields,
    "chemical": Chemical.model_fields,
    "nursery": Nursery.model_fields,
    "units": source_of("training_units").data["units"],
    "documents": [f"SOP-{number:02}" for number in range(1, 28)],
    "judged": [
        one["id"] for one in source_of("requirements").data["requirements"] if one["judged"] == "page"
    ],
    "frequencies": source_of("frequencies").data["frequencies"],
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
        message = message.replace(f"{{{name}}}", ", ".join(words))
    begins, long_list, ends = message.partition("…")
    (problem,) = [str(one) for one in told(tmp_path, text.replace(old, new, 1))]
    assert problem.startswith(f"procedures/page.md:{line}: {key}: {begins}")
    assert problem.endswith(ends)
    assert long_list or problem == f"procedures/page.md:{line}: {key}: {message}"


@pytest.mark.parametrize("path", sorted(PROCEDURES.glob("sop-*.md")), ids=lambda path: path.name)
def test_a_shipped_page_has_no_unknown_word(tmp_path: Path, path: Path) -> None:
    """Also where the house lacks the sanitizer, the nursery or the meters that the page is about."""
    assert told(tmp_path, path.read_text(encoding="utf-8")) == []


def test_a_body_is_looked_through(tmp_path: Path) -> None:
    text = shipped("08") + "\nThe {% if system.lights %}{{ amount('res_fil', '') }}{% endif %} lamp.\n"
    (problem,) = [str(one) for one in told(tmp_path, text)]
    line = text.count(chr(10))
    assert problem.startswith(f'procedures/page.md:{line}: text: "res_fil" is no amount of checked_by.yml. ')
    assert problem.endswith(" Did you mean res_fill? [E31]")


def own_page(
    folder: Path, only_with: str, action: str = "drain_reservoir", drops: str = ""
) -> tuple[list[str], list[str]]:
    """The steps and the errors of a house's own page of the solution change, one of whose steps is `only_with` something."""
    own = folder / "house" / "procedures"
    own.mkdir(parents=True)
    text = shipped("08")
    changed = text.replace(
        f"    action: {action}\n", f"    action: {action}\n    only_with: {only_with}\n", 1
    )
    (own / "own.md").write_text(changed.replace("\nsteps:\n", f"\n{drops}steps:\n", 1), encoding="utf-8")
    files, problems = with_own_pages(PROCEDURES, own)
    if problems:
        return [], [str(one) for one in problems]
    pages, problems = build_pages(files, bare(), TextWriter(), "p/sop-08-k.html")
    steps = [step.id for page in pages for step in page.content.steps]
    return steps, [str(one) for one in problems if one.severity == "error"]


@pytest.mark.quick
def test_a_page_of_the_house_may_not_drop_a_critical_step_by_a_slip(tmp_path: Path) -> None:
    line = shipped("08").splitlines().index("    action: unplug") + 2
    steps, errors = own_page(tmp_path / "no reason", "sanitzier", "unplug")
    assert steps == []
    assert errors == [
        f"house/procedures/own.md:{line}: steps[unplug].only_with: the step unplug of procedures/sop-08-reservoir-change.md is "
        "critical, and only_with is sanitzier instead of not given. A page that replaces another keeps what its critical steps "
        "and holds do, or says under drops: {step, reason} why not. Keep it as it is there, or give the reason; it is printed on "
        "the page."
    ]
    drops = 'drops: [{step: unplug, reason: "Only where a sanitizer is kept."}]\n'
    line += 1
    steps, errors = own_page(tmp_path / "a reason", "sanitzier", "unplug", drops)
    assert steps == []
    assert errors == [
        f'house/procedures/own.md:{line}: steps[unplug].only_with: "sanitzier" is no form of only_with. {FORMS} '
        "Did you mean sanitizer? [E31]"
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
    assert set(page_words().of["task"]) == set(source_of("cards").data["task_names"])
    assert set(page_words().of["growth_stage"]) == {stage.name for stage in STAGES}
    assert set(page_words().of["time"]) == set(TIMES)


@pytest.mark.parametrize("house", ["first", "second", "third", "fourth", "fifth"])
def test_every_amount_of_a_house_has_a_known_id(house: str) -> None:
    ids = made_register(HOUSES / house).ids()
    assert ids
    assert set(ids) <= known_amount_ids()


def test_a_step_of_another_rinse_than_the_last_is_no_form(tmp_path: Path) -> None:
    _, errors = own_page(tmp_path, "rinse:first")
    assert [error.partition(".only_with: ")[2] for error in errors] == [
        f'"rinse:first" is no form of only_with. {FORMS} Did you mean rinse:last? [E31]'
    ]

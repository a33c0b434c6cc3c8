"""A misspelt word of the published files on work and paper is told: file, line, what was read, allowed, did you mean."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from macros.ground.problems import in_order
from macros.manual.procedures.house_overrides import with_own_pages
from macros.manual.procedures.load_files import ProcedureFile, load_procedures
from macros.published.labour.jobs import day_facts
from macros.site.published_words import published_mistakes
from tests.making import PROCEDURES
from tests.published_files import text_of, written


@cache
def shipped() -> list[ProcedureFile]:
    """The shipped procedures."""
    return load_procedures(PROCEDURES)[0]


def told(topic: str, old: str, new: str) -> tuple[int, list[str]]:
    """The line where one text of a published file now stands for another, and what is told of the file."""
    text = text_of(topic)
    assert old in text
    before, _, after = text.partition(old)
    with written(topic, before + new + after):
        return before.count("\n") + 1, [
            str(problem).rpartition("macros/published/")[2].partition("/")[2]
            for problem in in_order(published_mistakes(shipped()))
        ]


CASES = [
    (
        "jobs",
        ("steps: [unplug], after: [harvest]", "steps: [unplugg], after: [harvset]"),
        'LINE: jobs.cleanout.pages[1].parts[plugs_out].after: "harvset" is no part of this job. Allowed: '
        "harvest_open, harvest, …, last_look, replant. Did you mean harvest? [E31]",
        'LINE: jobs.cleanout.pages[1].parts[plugs_out].steps[0]: "SOP-24/unplugg" is no step. Allowed: '
        "SOP-24/answer, …. Did you mean SOP-24/unplug? [E31]",
    ),
    (
        "jobs",
        ("together: yes", "togehter: yes"),
        "LINE: jobs.cleanout.pages[0].parts[harvest_open].togehter: togehter is not a known field. "
        "Did you mean jobs.cleanout.pages[0].parts[harvest_open].together? [E31]",
    ),
    (
        "jobs",
        ("together: yes", "together: yse"),
        'LINE: jobs.cleanout.pages[0].parts[harvest_open].together: "yse" is neither yes nor no. '
        "yes, no, true or false. Choose one. [E01]",
    ),
    (
        "jobs",
        ("stage: drain,", "stage: drian,"),
        'LINE: jobs.cleanout.pages[1].parts[waste_order].stage: "drian" is no stage of this job. Allowed: '
        "harvest_and_strip, drain, rinse_all, spray_trays, soak_parts, wash_trays, loop_circulate, refill_mix, "
        "leak_and_timer_test, replant. Did you mean drain? [E31]",
    ),
    (
        "jobs",
        ("during: {SOP-04/rewet", "during: {SOP-04/rewt"),
        'LINE: rules.during.SOP-04/rewt: "SOP-04/rewt" is no step. Allowed: SOP-04/lamps_out, …, SOP-04/dry. '
        "Did you mean SOP-04/rewet? [E31]",
    ),
    (
        "jobs",
        ("timer: [SOP-15/", "timer: [SOP-51/"),
        'LINE: rules.timer[0]: "SOP-51" is no procedure. Allowed: SOP-01, …, SOP-27. Did you mean SOP-25? [E31]',
    ),
    (
        "jobs",
        ("amount: batch_life_end, task: tray_spray", "amount: batch_lfe_end, task: tray_spary"),
        'LINE: rules.within[2].amount: "batch_lfe_end" is no amount of checked_by.yml. Allowed: acid_demand, …. '
        "Did you mean batch_life_end? [E31]",
        'LINE: rules.within[2].task: "tray_spary" is no sanitizing task. '
        "Allowed: tray_spray, parts_soak, tool_dip, loop_circulate. Did you mean tray_spray? [E31]",
    ),
    (
        "jobs",
        ("amount: batch_life_end, task: tray_spray", "task: tray_spray"),
        "LINE: rules.within[2]: it says not once how long it may last. Either most or amount. Write one of them. [E01]",
    ),
    (
        "jobs",
        ("capacity: {rack: 2}", "capacity: {rakc: 2}"),
        'LINE: capacity.rakc: "rakc" is no place or thing. Allowed: EC standard, any place, …. Did you mean rack? [E31]',
    ),
    (
        "packs",
        ("parts: [readiness]", "parts: [readyness]"),
        'LINE: packs.readiness.parts[0].made: "readyness" is no maker of sheets. Allowed: cover, readiness, plan, '
        "checklist, sheets, log, photographs, measure, ledger, cards, week_sheets, month, labels, training, questions, key, "
        "naming, control, copies, roster. Did you mean readiness? [E31]",
    ),
    (
        "packs",
        ("amount: res_fill", "amount: res_fil"),
        'LINE: ledger.before[0].amount: "res_fil" is no amount of checked_by.yml. Allowed: acid_demand, …. Did you mean res_fill? [E31]',
    ),
    (
        "packs",
        ("each: rinse_volume", "each: rinse_volum"),
        'LINE: ledger.after[2].each: "rinse_volum" is no amount of checked_by.yml. Allowed: acid_demand, …. '
        "Did you mean rinse_volume? [E31]",
    ),
    (
        "cards",
        ("  dilution:", "  dilutoin:"),
        'LINE: cards.dilutoin: "dilutoin" is no wall card. Allowed: emergency, plants, round, signoff, dilution, level, '
        "feed, ph, flood, lifting. Did you mean dilution? [E31]",
    ),
    (
        "cards",
        ("each: room", "each: roem"),
        'LINE: cards.emergency.each: "roem" is not one of the words for this. Allowed: room or system. '
        "Did you mean room?",
    ),
    (
        "calendar",
        ("page: SOP-13", "page: SOP-93"),
        'LINE: kinds.planting.page: "SOP-93" is no procedure. Allowed: SOP-01, …, SOP-27. Did you mean SOP-23? [E31]',
    ),
    (
        "calendar",
        ("dome_off: dome_off", "dome_off: dom_of"),
        'LINE: amounts.dome_off: "dom_of" is no kind of entry. Allowed: cleanout, planting, …, level_reading, '
        "dome_check. Did you mean dome_off? [E31]",
    ),
    (
        "calendar",
        ("ph_pen: calibration", "ph_pne: calibration"),
        'LINE: rhythms.ph_pne: "ph_pne" is no rhythm of frequencies.yml. Allowed: daily_check, …, closed_look. '
        "Did you mean ph_pen? [E31]",
    ),
    (
        "week",
        ("every_day: [daily_check", "every_day: [dialy_check"),
        'LINE: every_day[0]: "dialy_check" is no kind of entry. Allowed: cleanout, …, dome_check. '
        "Did you mean daily_check? [E31]",
    ),
    (
        "label_stocks",
        ("  decanted:", "  decnated:"),
        'LINE: kinds.decnated: "decnated" is no kind of label. Allowed: batch, decanted, stock, sowing, tray, tank, food. '
        "Did you mean decanted? [E31]",
    ),
    (
        "type_widths",
        ("  bold:", "  blod:"),
        'LINE: weights.blod: "blod" is no weight of the type. Allowed: regular, bold. Did you mean bold? [E31]',
    ),
    (
        "control",
        ("ask {who}", "ask {hwo}"),
        'LINE: note.never: "hwo" is no gap of this text. Allowed: who. Did you mean who? [E31]',
    ),
    (
        "judgement",
        ("  caution:", "  cuation:"),
        'LINE: kinds.cuation: "cuation" is no kind of difference. Allowed: amount, limit, …. '
        "Did you mean caution? [E31]",
    ),
    (
        "reckoners",
        ("  two_ways:", "  two_way:"),
        "LINE: reading.two_way: two_way is not a known field. Did you mean reading.two_ways? [E31]",
    ),
    (
        "reckoners",
        ("{rim}", "{rmi}"),
        'LINE: level.over_rim: "rmi" is no gap of this text. Allowed: allowed, amount, …, who, whole, why. '
        "Did you mean rim? [E31]",
    ),
    (
        "checks",
        ("largest_percent: 0.67", "largest_percnt: 0.67"),
        "LINE: [0].largest_percnt: largest_percnt is not a known field. Did you mean [0].largest_percent? [E31]",
    ),
    (
        "checks",
        ("conductivity.ec_at_25", "conductivity.ec_ta_25"),
        'LINE: [41].function: "conductivity.ec_ta_25" is no calculation. Allowed: …. '
        "Did you mean conductivity.ec_at_25? [E31]",
    ),
    (
        "checked_by",
        ("volumes.height_for_volume", "volumes.hight_for_volume"),
        'LINE: fill_first.by[0]: "volumes.hight_for_volume" is no calculation of checks.yml. Allowed: …. '
        "Did you mean volumes.height_for_volume? [E31]",
    ),
]


@pytest.mark.parametrize(("topic", "change", "expected"), [(t, c, e) for t, c, *e in CASES])
def test_a_misspelt_word_is_told(topic: str, change: tuple[str, str], expected: list[str]) -> None:
    """The whole wording; `LINE` is the line of the changed word, and of long lists of what is allowed `…` is the middle."""
    line, found = told(topic, *change)
    assert len(found) == len(expected), found
    for problem, wording in zip(found, expected, strict=True):
        begins, long_list, ends = f"{topic}.yml:{wording.replace('LINE', str(line))}".partition("…")
        assert problem.startswith(begins)
        assert problem.endswith(ends)
        assert long_list or problem == begins


def test_every_word_of_the_published_files_names_something() -> None:
    assert published_mistakes(shipped()) == []


def test_what_a_page_of_the_house_lacks_is_no_mistake(tmp_path: Path) -> None:
    """Its page stands in the place of ours, without the steps our jobs name."""
    own = tmp_path / "procedures"
    own.mkdir()
    text = (PROCEDURES / "sop-06-loop.md").read_text(encoding="utf-8")
    (own / "sop-06-loop.md").write_text(text.replace("id: run\n", "id: run_long\n"), encoding="utf-8")
    files, _ = with_own_pages(PROCEDURES, own)
    steps = next([step.id for step in file.data.steps] for file in files if file.id == "SOP-06")
    assert "run" not in steps
    assert published_mistakes(files) == []


def test_what_was_read_cannot_be_changed() -> None:
    with pytest.raises(TypeError, match="does not support item assignment"):
        day_facts().capacity["rack"] = 3  # type: ignore[index]

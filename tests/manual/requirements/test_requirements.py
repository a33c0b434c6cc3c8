"""A page with one fault: the message names the file, the line, the requirement and what to do."""

from __future__ import annotations

import re
from datetime import date
from functools import cache
from pathlib import Path

import pytest

from macros.amounts import Register, compute_amounts
from macros.ground.problems import Place, Problem, in_order
from macros.house import House, load_house
from macros.house.records.day import resolve_day
from macros.manual.pages.build_page import build_pages
from macros.manual.procedures.load_files import load_procedures
from macros.manual.procedures.write_text import TextWriter
from macros.manual.requirements.judge import requirements
from macros.manual.requirements.rules import RULES
from macros.site.site import Site
from tests.making import HOUSES, OWN_PAGE, made_site

TEXT = OWN_PAGE.read_text(encoding="utf-8")


def site_with(folder: Path, text: str) -> Site:
    (folder / OWN_PAGE.name).write_text(text, encoding="utf-8")
    return made_site(HOUSES / "third", folder)


@cache
def register() -> Register:
    """The amounts of the made-up house: the same for every fault of a page."""
    house, _ = load_house(HOUSES / "third")
    assert house is not None
    return compute_amounts(house, *resolved(house))


def resolved(house: House) -> tuple[date, Place]:
    found = resolve_day(None, {}, house)
    assert not isinstance(found, Problem)
    return found


def told(folder: Path, text: str) -> list[str]:
    """Errors and warnings of the one page this text is."""
    (folder / OWN_PAGE.name).write_text(text, encoding="utf-8")
    files, problems = load_procedures(folder)
    _, more = build_pages(files, register(), TextWriter())
    return [str(problem) for problem in in_order([*problems, *more])]


# (requirement or code, what is replaced, by what, the text of the line named, the words of the message)
MUTATIONS = [
    ("P-05", "units: [M2_room_tour_and_emergencies, M8_cleanout]", "units: []", "who: 2", "no training unit is named"),
    ("", "M8_cleanout]", "M8_cleaning]", "units: [", '"M8_cleaning" is no training unit'),
    ("E31", "cleaning:\n  take_apart", "cleanin:\n  take_apart", "cleanin:", "cleanin is not a known section. Did you mean cleaning?"),
    ("P-07", TEXT[TEXT.index("cleaning:\n") : TEXT.index("outside_figures:")], "", "section: Cleaning", "a cleaning page does not say how things come apart"),
    ("P-08", 'done_when:\n  - "The strip reads {{ fact(\'sanitizing.rinse.residue_allowed\') }} or less."', 'done_when:\n  - "The tray looks clean."', "The tray looks clean", '"looks clean" cannot be checked'),
    ("P-08", 'done_when:\n  - "The strip reads {{ fact(\'sanitizing.rinse.residue_allowed\') }} or less."', "done_when: []", "done_when: []", "nothing says when the work is done"),
    ("P-09", "{kind: spill, sign", "{kind: other, sign", "if_wrong:", "no line of the kind spill under if_wrong, but step spray handles a chemical"),
    ("P-09", "{kind: exposure, sign", "{kind: other, sign", "if_wrong:", "no line of the kind exposure"),
    ("P-09", "{kind: out_of_range, sign", "{kind: other, sign", "if_wrong:", "no line of the kind out_of_range under if_wrong, but step spray reads a value with limits"),
    ("P-09", "{kind: interrupted, sign", "{kind: other, sign", "if_wrong:", "no line of the kind interrupted under if_wrong, but step spray waits"),
    ("P-09", 'do: "Rinse the tray with water."\n    action: rinse', 'do: "Start the pump."\n    action: start_pump', "if_wrong:", "no line of the kind power_loss under if_wrong, but step rinse runs the pump"),
    ("E31", 'who: 2, record: "how much"}', "who: 2}", "{kind: spill", "if_wrong[0].record: this is missing"),
    ("E31", 'act: "Keep people out.", ', "", "{kind: spill", "if_wrong[0].act: this is missing"),
    ("P-10", "and {{ every('shelf_check') }}.", "and every 3 weeks.", "when:", '"every 3 weeks" is a second figure for a frequency'),
    ("P-10", "and {{ every('shelf_check') }}.", "and monthly.", "when:", '"monthly" is a second figure'),
    ("", "every('shelf_check')", "every('shelves')", "when:", '"shelves" is no rhythm of frequencies.yml. Allowed: daily_check'),
    ("P-14", 'not_for: "A tray with plants in it."', 'not_for: "None."', "not_for:", '"None." excludes nothing'),
    ("P-15", 'do: "Spray every face until', 'do: "Spray every face of the flood table until', "do: \"Spray", '"flood table" is called tray here'),
    ("P-15", "the tank is drained", "the reservoir is drained", "The crop is out", '"reservoir" is called tank here'),
    ("P-15", "wet it with sanitizer and rinse it", "wet it with disinfectant and rinse it", "purpose:", '"disinfectant" is called sanitizer here'),
    ("P-16", 'expect: "water runs off"', 'expect: "water runs off for 2 min"', "expect: \"water", '"2 min" has no source'),
    ("P-16", '{figure: "24 h", source', '{figure: "25 h", source', "safe_to_leave: {for", '"24 h" has no source'),
    ("P-16", '{figure: "24 h", source', '{figure: "25 h", source', '{figure: "25 h"', '"25 h" stands nowhere on the page'),
    ("", "source: practice-wet-time", "source: practice-dry-time", "practice-dry-time", '"practice-dry-time" is no source of sources.yml'),
    ("S-01", "Rinse the tray with water.", "Rinse the tray and dry it.", "do: \"Rinse", '"and dry" makes a second action'),
    ("S-01", "Rinse the tray with water.", "Rinse the tray, then tilt it.", "do: \"Rinse", "the step does one thing, then another"),
    ("S-01", "Unplug the pump.", "Unplug the pump; hang up the plug.", "do: \"Unplug", "the step does one thing, then another"),
    ("S-02", "Rinse the tray with water.", "The tray is rinsed.", "do: \"The tray", 'the step begins with "The"'),
    ("S-02", "Rinse the tray with water.", "Polish the tray.", "do: \"Polish", 'the step begins with "Polish"'),
    ("S-03", "Rinse the tray with water.", "Rinse the tray when it foams.", "do: \"Rinse", '"when" comes after the verb'),
    ("S-03", 'act: "Rinse once more."', 'act: "Rinse once more if it reads high."', "{kind: out_of_range", '"if" comes after the verb'),
    ("S-03", "Unplug the pump.", "Unplug the pump unless it is dry.", "do: \"Unplug", '"unless" comes after the verb'),
    ("S-05", "after: [unplug]", "after: [residue]", "after: [residue]", "residue does not stand before this step"),
    ("E32", "- id: bring\n", "- id: unplug\n", "- id: unplug", "two steps are named unplug"),
    ("S-06", '    critical: yes\n    hold: yes\n    expect: "the plug hangs in sight"', "    critical: yes\n    hold: yes", "critical: yes", "a critical step without what is seen or read"),
    ("S-07", '    doer: "One carries, the other holds the door."\n', "", "hands: 2", "two people work, but who does what is not said"),
    ("S-08", ', missed: "Wet it again and start anew."', "", "wait: {least", "the wait does not say missed"),
    ("E31", ', then: "rinse"', "", "wait: {least", "steps[spray].wait.then: this is missing"),
    ("S-09", '    until: "no foam is left"\n', "", "do: \"Repeat", "the step repeats without an end"),
    ("S-10", '    one_of: ["by hand with a soft brush", "with the plastic scraper"]\n', "", "do: \"Brush", "the step offers a choice without a list"),
    ("S-10", "in ONE of these ways:", "by hand.", "do: \"Brush", "one_of stands without the words ONE of"),
    ("S-11", '    record: {quantity: "Lot", limits: "as on the bottle"}\n', "", "do: \"Write", "the step says to write, but there is no place to write it"),
    ("S-13", "Rinse the tray with water.", "Rinse the tray with water from the hose at the sink on the left of the door until you see that no foam of any kind is left.", "do: \"Rinse", "a sentence of 28 words"),
    ("S-13", "Mop the floor dry.", "You should mop the floor.", "You should", '"should" leaves it open'),
    ("S-13", "Mop the floor dry.", "A floor is not unsafe dry.", "A floor", '"not un" negates twice'),
    ("S-14", "Dirt spends the sanitizer. So the tray is washed first.", "Accumulated contamination inevitably compromises antimicrobial functionality, necessitating preliminary decontamination of horticultural installations, particularly recirculating configurations incorporating considerable interstitial surfaces. " * 4, "title:", "the reading grade of the page is"),
    ("S-15", "Rinse the tray with water.", "Rinse the tray properly.", "do: \"Rinse", '"properly" is vague'),
    ("S-15", "Mop the floor dry.", "Mop the floor as needed.", "Mop the floor", '"as needed" is vague'),
    ("S-15", "Keep people out.", "Keep people out for a while.", "{kind: spill", '"a while" is vague'),
    ("S-16", "uses: [hose]", "uses: [\"garden {{ phone('owner_phone') }}\"]", "uses: [\"garden", '" is not in the inventory'),
    ("", "uses: [bucket]", "uses: [pail]", "uses: [pail]", '"pail" is no thing of the inventory'),
    ("S-17", 'action: rinse\n    amount: [rinse_trays, rinse_count_trays]', 'action: rinse\n    critical: yes\n    amount: [rinse_trays, rinse_count_trays]', "critical: yes", "a critical step with neither a caution before it nor a hold"),
    ("S-18", 'expect: "{{ fact(\'sanitizing.rinse.residue_allowed\') }} or less"\n    record: {quantity: "Residue, mg/L", limits: "{{ fact(\'sanitizing.rinse.residue_allowed\') }} at most"}\n', "\n", "hold: yes", "nothing says what releases the hold"),
    ("S-19", '    safe_to_leave: {for: "24 h", as: "dry, covered"}\n', "", "- id: spray", "step spray can be interrupted, but no step of the page is safe to leave"),
    ("A-01", 'expect: "water runs off"', 'expect: "the scale reads 7"', "expect: \"the scale", '"7" has no unit'),
    ("A-02", "amount: [rinse_trays, rinse_count_trays]\n    uses: [hose]", "amount: res_usable\n", "amount: res_usable", "res_usable is measured with nothing"),
    ("A-13", 'greatest: "30 min"', 'greatest: "30min"', "wait: {least", "no space before the unit"),
    ("A-13", 'expect: "water runs off"', 'expect: ".5 L runs off"', "expect: \".5", "a number without its leading zero"),
    ("A-13", 'expect: "water runs off"', 'expect: "2.0 L run off"', "expect: \"2.0", "a trailing zero"),
    ("C-06", 'expect: "water runs off"', 'reason: "WARNING: wear goggles."', "reason: \"WARNING", '"WARNING" is typed on the page'),
    ("C-06", "Dirt spends the sanitizer.", "NOTICE: dirt spends the sanitizer.", "", '"NOTICE" is typed on the page'),
    ("G-03", 'record: {quantity: "Wet from, to", limits: "{{ fact(\'sanitizing.tasks.tray_spray.wet_time\') }} at least"}', 'record: {quantity: "Colour", limits: "clear"}', "action: spray_sanitizer", "the page sanitizes but does not record the times of the wet time"),
    ("G-03", '{quantity: "Residue, mg/L"', '{quantity: "Drops, mg/L"', "action: spray_sanitizer", "the page sanitizes but does not record what the rinse left"),
    ("G-03", "does: {rinse: tray_faces}", "does: {make: yes}", "action: rinse", "the page makes a batch but does not record the proof of its strength"),
    ("G-06", '    record: {quantity: "Residue, mg/L", limits: "{{ fact(\'sanitizing.rinse.residue_allowed\') }} at most"}', '    record: {quantity: "Residue, mg/L", limits: ""}', "record: {quantity: \"Residue", "Residue, mg/L has no limits"),
    ("L-18", 'do: "Unplug the pump."', 'do: "Unplug the pump of the tray that stands in front of the window."', "do: \"Unplug", "13 words to read aloud from the checklist"),
    ("L-18", 'do: "Unplug the pump."', 'do: "Unplug the pump."\n    short: "Pump of the tray in front of the window: plug out."', "short: \"Pump", "11 words to read aloud from the checklist"),
    ("L-06", "uses: [bucket]\n    where: rack", "uses: [bucket]\n    easily_missed: yes\n    where: rack", "do: \"Carry", "an item of the checklist without a state to see or a value to write"),
    ("L-06", 'expect: "the plug hangs in sight"', 'expect: "all OK"', 'expect: "all OK"', '"all OK" says nothing of what is seen'),
    ("E31", "checklist: read_do", "checklist: aloud", "checklist: aloud", "aloud"),
    ("", "{{ fact('sanitizing.tasks.tray_spray.wet_time') }}\", greatest", "{{ fact('sanitizing.tasks.tray.wet_time') }}\", greatest", "wait: {least", '"tray" is no fact below sanitizing.tasks'),
]  # fmt: skip


def lines_of(text: str, fragment: str) -> set[int]:
    return {number for number, line in enumerate(text.splitlines(), start=1) if fragment in line}


def test_the_page_itself_meets_every_requirement(tmp_path: Path) -> None:
    assert told(tmp_path, TEXT) == []


def test_there_are_sixty_faults() -> None:
    assert len(MUTATIONS) >= 60
    assert len({code for code, *_ in MUTATIONS}) >= 25


@pytest.mark.parametrize(("code", "old", "new", "at", "message"), MUTATIONS)
def test_a_fault_is_told_with_file_line_and_requirement(
    tmp_path: Path, code: str, old: str, new: str, at: str, message: str
) -> None:
    assert TEXT.count(old) >= 1, old
    changed = TEXT.replace(old, new, 1)
    lines = told(tmp_path, changed)
    found = [line for line in lines if message in line]
    assert found, lines
    number = re.match(rf"procedures/{re.escape(OWN_PAGE.name)}:(\d+): ", found[0])
    assert number, found[0]
    if at:
        assert int(number.group(1)) in lines_of(changed, at), found[0]
    if code in requirements():
        expected = f"[{code}]" if code in RULES else ""
        assert found[0].endswith(expected), found[0]


def test_every_requirement_said_to_be_judged_has_a_rule() -> None:
    assert {one.id for one in requirements().values() if one.judged == "page"} == set(RULES)


def test_a_waiver_lets_one_requirement_pass_and_is_listed(tmp_path: Path) -> None:
    faulty = TEXT.replace("Rinse the tray with water.", "Rinse the tray when it foams.")
    waived = faulty.replace(
        "see_also: []", 'see_also: []\nwaive: [{line: S-03, reason: "The foam is seen while rinsing only."}]'
    )
    site = site_with(tmp_path, waived)
    page = site.pages["reference/requirements.md"]
    assert "waived" in page
    assert "The foam is seen while rinsing only." in page


def test_a_needless_waiver_is_refused(tmp_path: Path) -> None:
    lines = told(
        tmp_path,
        TEXT.replace(
            "see_also: []", 'see_also: []\nwaive: [{line: S-03, reason: "It is not needed at all."}]'
        ),
    )
    assert any(
        "S-03 is waived, but the page meets it. A waiver stands only where it is needed. Take it out." in x
        for x in lines
    )


def test_what_is_not_judged_cannot_be_waived_nor_without_reason(tmp_path: Path) -> None:
    lines = told(tmp_path, TEXT.replace("see_also: []", 'see_also: []\nwaive: [{line: C-09, reason: "no"}]'))
    assert any('"C-09" is no requirement a page can waive. Allowed: ' in line for line in lines)
    lines = told(tmp_path, TEXT.replace("see_also: []", 'see_also: []\nwaive: [{line: S-03, reason: "no"}]'))
    assert any('"no" is no reason.' in line for line in lines)

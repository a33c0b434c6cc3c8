"""A page that only one house has: its cautions from its steps, its own rhythm and source; and a helper with a first day."""

from __future__ import annotations

import re
import shutil
from html import unescape
from pathlib import Path

import pytest

from macros.house import load_house
from macros.manual.cautions.own_cautions import own_caution_problems
from macros.manual.procedures.load_files import load_procedures
from macros.site.site import Site
from tests.making import PROCEDURES, ROOT, made_house, made_site

OWN = ROOT / "tests" / "pages" / "sop-91-empty-the-dehumidifier.md"
FACTS = """\
own_frequencies: {dehumidifier: "every 14 days"}
own_sources: {maker_booklet: "Booklet of the dehumidifier, page 4."}
own_cautions:
  - {id: OWN-HUM, word: WARNING, title: "Humming machine", hazard: "It starts by itself.", consequence: "A wheel cuts.",
     avoidance: "Wait until it hums no more.", before: [SOP-91 unplug, SOP-91 empty, SOP-16 floor]}
  - {id: OWN-SLIP, word: NOTICE, title: "Wet floor", hazard: "The way is wet.", consequence: "Boots mark it.",
     avoidance: "Mop.", before: [SOP-91 empty]}
issued:
  - {page: SOP-16, revision: 1, effective: 2031-04-01, approved_by: owner, why: first, values_code: 0000 0000}
sign_offs:
  - {who: JK, procedure: SOP-16, revision: 1, by: owner, when: 2031-05-01}
"""
OWNER = "  - {role: owner, may: [all]}"
HELPER = "  - {role: helper, may: [daily], sign_off_level: 1}"
STARTS = "  - {role: helper, sign_off_level: 2, initials: JK, starts: 2031-05-01}"


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Site:
    """The fourth house with a page of its own that pulls a plug, and one that names nothing a caution knows."""
    house = made_house(
        tmp_path_factory.mktemp("own"), (HELPER, STARTS), ("margins: {", f"{FACTS}margins: {{"), name="fourth"
    )
    own = house / "procedures"
    own.mkdir()
    shutil.copy(OWN, own)
    plain = (
        OWN.read_text(encoding="utf-8")
        .replace("SOP-91", "SOP-92")
        .replace("Empty the dehumidifier", "Look at the shelf")
    )
    for action, does in (("unplug", "out"), ("plug_in", "in")):
        plain = plain.replace(f"action: {action}\n    does: {{dehumidifier: {does}}}", "action: inspect")
    plain = plain.replace("Unplug the", "Look at the").replace(
        "Plug the dehumidifier in", "Look at the dehumidifier"
    )
    (own / "sop-92-look.md").write_text(plain, encoding="utf-8")
    return made_site(house)


def words(site: Site, address: str) -> str:
    return unescape(re.sub(r"\s+", " ", re.sub("<[^>]*>", " ", site.pages[address])))


def hazards(site: Site, address: str) -> str:
    return words(site, address).partition("## Hazards ")[2].partition(" ## ")[0]


def test_a_step_at_a_plug_brings_caution_and_protection(site: Site) -> None:
    told = hazards(site, "p/sop-91.md")
    assert told.startswith("DANGER Mains and water: a shock kills. Unplug first. Keep plugs dry.")
    assert "Wear: closed shoes with wet-grip soles, steps 1 to 3." in told


def test_cautions_of_the_house_stand_beside_ours_before_their_steps(site: Site) -> None:
    before = {
        key: {step.id: [(one.word, one.id) for one in step.cautions] for step in view.steps}
        for key in ("SOP-91", "SOP-16")
        for view in site.views
        if view.key == key
    }
    assert before["SOP-91"] == {
        "unplug": [("DANGER", "ELEC-WATER"), ("WARNING", "OWN-HUM")],
        "empty": [("NOTICE", "OWN-SLIP")],
        "plug": [],
    }
    assert ("WARNING", "OWN-HUM") in before["SOP-16"]["floor"]
    told = hazards(site, "p/sop-91.md")
    assert "WARNING It starts by itself. A wheel cuts. Wait until it hums no more." in told
    assert "WARNING It starts by itself. A wheel cuts. Wait until it hums no more." in unescape(
        re.sub(r"\s+", " ", re.sub("<[^>]*>", " ", site.files["sheets/sop-91.html"]))
    )


OWN_CAUTION = """own_cautions:
  - {id: ID, word: WARNING, title: t, hazard: "Hot.", consequence: "Burns.", avoidance: "Wait.", before: [STEP]}
"""


@pytest.mark.parametrize(
    ("id_", "step", "message"),
    [
        ("ELEC-WATER", "SOP-16 floor", 'own_cautions[ELEC-WATER].id: "ELEC-WATER" is no name of a caution of your own. OWN- and '
         "capital letters, digits or hyphens: it stands beside the cautions of the manual and replaces none. Write it so, as OWN-FAN."),
        ("OWN-HOT", "", "own_cautions[OWN-HOT].before: OWN-HOT stands before no step. A page and a step, as SOP-91 unplug. Name the "
         "step it guards."),
        ("OWN-HOT", "SOP-99 unplug", 'own_cautions[OWN-HOT].before: OWN-HOT stands before "SOP-99 unplug", which is no step. Pages: SOP-01, '),
        ("OWN-HOT", "SOP-16 unplugg", 'own_cautions[OWN-HOT].before: OWN-HOT stands before "SOP-16 unplugg", which is no step. Steps of SOP-16: '),
    ],
)  # fmt: skip
def test_a_caution_of_the_house_that_guards_nothing_or_takes_our_name_is_refused(
    tmp_path: Path, id_: str, step: str, message: str
) -> None:
    facts = OWN_CAUTION.replace("ID", id_).replace("STEP", step)
    house, problems = load_house(made_house(tmp_path, ("margins: {", f"{facts}margins: {{"), name="fourth"))
    if house is not None:
        problems = list(own_caution_problems(house, load_procedures(PROCEDURES)[0]))
    found = [str(one) for one in problems if "own_cautions" in str(one)]
    assert len(found) == 1
    assert found[0].partition(": ")[2].startswith(message), found
    assert re.match(r"site_data/house\.yml:\d+: ", found[0])


def test_an_own_page_without_a_known_hazard_says_that_none_is_stated(site: Site) -> None:
    told = hazards(site, "p/sop-92.md")
    assert told.startswith(
        "Not stated: this page is the house's own, and its steps name no plug, load, chemical,"
    )
    assert "None" not in told


def test_a_page_names_rhythm_and_source_of_its_house(site: Site) -> None:
    page = words(site, "p/sop-91.md")
    assert "every 14 days" in page
    assert "Booklet of the dehumidifier, page 4. (obtained: this house's own)" in page
    assert "dehumidifier every 14 days this house, own_frequencies.dehumidifier" in words(
        site, "reference/frequencies.md"
    )
    assert "maker_booklet Booklet of the dehumidifier, page 4. this house's own SOP-91" in words(
        site, "reference/sources.md"
    )


def test_initials_tied_to_a_role_stand_once_on_the_roster(site: Site) -> None:
    roster = words(site, "training/roster.md")
    heads = roster.partition("Page Least level ")[2][:40]
    assert heads.startswith("owner helper SOP-"), heads
    assert "known by initials" not in roster


def test_the_first_day_of_a_helper_stands_in_the_calendar(site: Site) -> None:
    told = {name for name, text in {**site.pages, **site.files}.items() if "First day of helper" in str(text)}
    assert any("calendar" in name for name in told), told


@pytest.mark.parametrize(
    ("owner", "helper", "message"),
    [
        ("Jane Kent", "JK", 'people[owner].initials: "Jane Kent" is no initials. 2 to 4 capital letters, as QM or Q.M.; a full '
         "name stays out of the file. Write them so."),
        ("JK", "J.K.", "people[helper].initials: J.K. stands for owner and for helper. Initials are of one person. Add a digit: "
         "QM2. [E32]"),
    ],
)  # fmt: skip
def test_initials_are_initials_of_one_person(tmp_path: Path, owner: str, helper: str, message: str) -> None:
    tied = [
        (line, line.replace("}", f", initials: {name}}}"))
        for line, name in ((OWNER, owner), (HELPER, helper))
    ]
    _, problems = load_house(made_house(tmp_path, *tied, name="fourth"))
    assert [str(one).partition(": ")[2] for one in problems if "initials" in str(one)] == [message]

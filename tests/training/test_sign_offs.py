"""Sign-offs: what each is worth on the day, told by hand-counted dates; the roster; the calendar; what is refused."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from macros.calendar.events import Event, known_events
from macros.day_plan.who import kept_from_b
from macros.house import load_house
from macros.page_model.table import Table
from macros.site.site import Site
from macros.training.path.paper import roster_part
from macros.training.path.roster import example, roster_page, roster_tables
from macros.training.path.sign_offs import Standing, sign_off_problems, standings
from tests.making import made_site, pages_that_differ
from tests.signing import SIGNED, fourth_with, issued, register_with


@pytest.fixture(scope="module")
def signed(sites: Mapping[str, Site], tmp_path_factory: pytest.TempPathFactory) -> Site:
    """The whole manual of the house with sign-offs."""
    gone = "  - {page: SOP-40, revision: 1, effective: 2030-01-05, approved_by: owner, why: first, values_code: x}\n"
    kept = "  - {who: helper, procedure: SOP-40, revision: 1, by: owner, when: 2030-02-01}\n"
    text = issued(sites["fourth"].views) + gone + SIGNED + kept
    return made_site(fourth_with(tmp_path_factory.mktemp("signed"), text))


def the(site: Site, who: str, page: str) -> Standing:
    (one,) = (s for s in standings(site.register, site.views) if (s.entry.who, s.page.key) == (who, page))
    return one


def test_in_force_until_a_year_is_over(signed: Site) -> None:
    one = the(signed, "helper", "SOP-01")
    assert (one.state, one.may, one.due, one.why_due) == (
        "in force", "alone", date(2031, 6, 1), "every 12 months",
    )  # fmt: skip
    assert not one.changed


def test_due_on_the_day_itself_and_not_the_day_before(signed: Site) -> None:
    assert (the(signed, "QM", "SOP-07").state, the(signed, "QM", "SOP-07").due) == ("due", date(2031, 5, 1))
    assert (the(signed, "ZV", "SOP-07").state, the(signed, "ZV", "SOP-07").due) == (
        "in force", date(2031, 5, 2),
    )  # fmt: skip


def test_due_sooner_where_the_runs_stopped_three_months_ago(signed: Site) -> None:
    """2031-01-15 and three months are 2031-04-15, passed; 2031-02-10 and three months are 2031-05-10."""
    late, soon = the(signed, "QM", "SOP-03-K"), the(signed, "QM", "SOP-03-M")
    assert (late.state, late.due, late.why_due) == ("due", date(2031, 4, 15), "not done for 3 months")
    assert (soon.state, soon.due) == ("in force", date(2031, 5, 10))


def test_a_reissue_voids_unless_it_says_no_training(signed: Site) -> None:
    """T-09: the sign-off of SOP-08 revision 1 is void on K, where revision 2 asks for training, and holds on M."""
    void = the(signed, "QM", "SOP-08-K")
    assert (void.state, [issue.revision for issue in void.voided_by]) == ("void", [2])
    assert the(signed, "QM", "SOP-08-M").state == "in force"
    assert the(signed, "helper", "SOP-10").state == "void"  # revision 2 does not say: the safe side
    assert [issue.revision for issue in the(signed, "QM", "SOP-16").voided_by] == [2]
    assert the(signed, "ZV", "SOP-16").state == "in force"


def test_what_a_sign_off_allows(signed: Site) -> None:
    """SOP-08 is done alone from level 3 upwards."""
    assert the(signed, "helper", "SOP-08-K").may == "beside somebody"
    assert the(signed, "ZV", "SOP-16").may == "trains"


def test_a_page_that_changed_since_is_to_be_looked_at(signed: Site) -> None:
    assert [s.page.key for s in standings(signed.register, signed.views) if s.changed] == ["SOP-18"]


def test_the_last_sign_off_counts(sites: Mapping[str, Site], tmp_path: Path) -> None:
    lines = (
        "sign_offs:\n"
        "  - {who: helper, procedure: SOP-01, revision: 1, by: owner, when: 2031-02-01}\n"
        "  - {who: helper, procedure: SOP-01, revision: 1, by: owner, when: 2030-02-01}\n"
    )
    views = sites["fourth"].views
    register = register_with(sites["fourth"], tmp_path, issued(views) + lines)
    assert [(s.state, s.due) for s in standings(register, views)] == [("in force", date(2032, 2, 1))]


def test_the_house_sets_its_own_refresher(sites: Mapping[str, Site], tmp_path: Path) -> None:
    lines = (
        "frequencies: {refresher: every 6 months}\n"
        "sign_offs:\n  - {who: helper, procedure: SOP-01, revision: 1, by: owner, when: 2031-01-31}\n"
    )
    views = sites["fourth"].views
    register = register_with(sites["fourth"], tmp_path, issued(views) + lines)
    assert [s.due for s in standings(register, views)] == [date(2031, 7, 31)]


# ------------------------------------------------------------------ roster


def tables(site: Site, names: bool) -> dict[str, Table]:
    return {table.title: table for table in roster_tables(site.register, site.views, names)}


def row(table: Table, page: str) -> dict[str, str]:
    (found,) = (one for one in table.rows if str(one[0]).startswith(page))
    return dict(zip(table.heads, map(str, found), strict=True))


def test_the_matrix_says_who_may_do_what(signed: Site) -> None:
    table = tables(signed, names=True)["Who may do which page now"]
    assert table.heads == ("Page", "Least level", "owner", "helper", "QM", "ZV")
    assert list(row(table, "SOP-07").values())[2:] == [
        "trains", "not signed", "refresh first, due 2031-05-01", "alone until 2031-05-02",
    ]  # fmt: skip
    shared = [one[0] for one in table.rows if str(one[0]).startswith("SOP-08")]
    assert [str(name)[-3:] for name in shared] == [", K", ", M"]  # the systems differ, so each has its row
    assert row(table, "SOP-16")["QM"] == "void since revision 2"
    assert row(table, "SOP-16")["ZV"] == "trains until 2031-08-01"
    assert row(table, "SOP-18")["helper"] == "alone until 2032-03-31; look: the page changed"
    assert row(table, "SOP-13")["helper"] == "not signed"
    assert str(row(table, "SOP-13")["Page"]).endswith(", K and M")


def test_an_emergency_page_waits_for_no_sign_off(signed: Site) -> None:
    table = tables(signed, names=True)["Who may do which page now"]
    assert row(table, "SOP-20")["helper"] == "anybody; refresh first, due 2031-02-01"
    assert row(table, "SOP-21")["helper"] == "anybody"


HELPER = "  - {role: helper, may: [daily], sign_off_level: 1}"


def test_nobody_is_on_the_roster_planned_or_trainer_before_the_first_day(
    sites: Mapping[str, Site], tmp_path: Path
) -> None:
    """The fourth house stands on 2031-05-01; a second trainer comes a day later, or on that day."""
    site, told = sites["fourth"], {}
    for day in ("2031-05-02", "2031-05-01"):
        trainer = f"{HELPER}\n  - {{role: lead, may: [all], starts: {day}}}"
        register = register_with(site, tmp_path / day, "", (HELPER, trainer))
        found = {table.title: table for table in roster_tables(register, site.views, False)}
        matrix = found["Who may do which page now"]
        words = [word for word, _ in found["What the words mean"].rows]
        told[day] = (
            {row(matrix, page)["lead"] for page in ("SOP-07", "SOP-21")},
            "starts on and a day" in words,
            [who for who, _ in found["Who may train"].rows],
            bool(kept_from_b(site.views, replace(register, day=date(2031, 5, 1)))),
        )
    assert told["2031-05-02"] == ({"starts on 2031-05-02"}, True, ["owner"], True)
    assert told["2031-05-01"] == ({"trains"}, False, ["owner", "lead"], False)


def test_lists_of_the_roster(signed: Site) -> None:
    found = tables(signed, names=True)
    assert ("QM", "SOP-03-K", "2031-01-01", "2031-04-15", "not done for 3 months", "refresh first") in found[
        "To be refreshed"
    ].rows
    days = [one[3] for one in found["To be refreshed"].rows]
    assert days == sorted(days)
    assert found["Void by a re-issue: brief and sign anew"].rows == (
        ("QM", "SOP-08-K", "revision 1", "revision 2, 2031-03-01", "revision 2: acid after <b>feed</b> {{ 7 * 7 }}"),
        ("helper", "SOP-10", "revision 1", "revision 2, 2031-03-01", "revision 2: new buffer"),
        ("QM", "SOP-16", "revision 1", "revision 2, 2030-06-01", "revision 2: level in cm"),
    )  # fmt: skip
    assert found["To be looked at: the page changed since"].rows == (
        ("helper", "SOP-18", "revision 1", "2031-03-31"),
    )
    assert found["Who may train"].rows == (("owner", "every page"), ("ZV", "SOP-16"))


def test_initials_stay_off_the_site(signed: Site) -> None:
    """Nothing that is published names them: no page, sheet, calendar, search text or data file."""
    texts = {**signed.pages, **signed.files}
    assert [address for address, text in texts.items() if "QM" in text or "ZV" in text] == []
    table = tables(signed, names=False)["Who may do which page now"]
    assert table.heads[-1] == "by initials"
    assert row(table, "SOP-07")["by initials"] == "1 of 2 in force"
    assert row(table, "SOP-01")["by initials"] == "not signed"
    roster = signed.pages["training/roster.md"]
    assert "Initials stand on the printed roster only." in roster
    assert "acid after &lt;b&gt;feed&lt;/b&gt; &#123;&#123; 7 * 7 &#125;&#125;" in roster
    assert "<b>feed" not in roster
    printed = str(roster_part(signed.register, signed.views).html)
    assert ">QM</th>" in printed
    assert "<b>feed" not in printed


def test_a_house_may_publish_initials(sites: Mapping[str, Site], tmp_path: Path) -> None:
    views = sites["fourth"].views
    made = fourth_with(tmp_path, issued(views) + SIGNED, ("policies: {", "policies: {publish_names: yes, "))
    house, _ = load_house(made)
    assert house is not None
    page = roster_page(replace(sites["fourth"].register, house=house), views)
    assert page.tables[0].heads == ("Page", "Least level", "owner", "helper", "QM", "ZV")
    assert "printed roster" not in page.intro


@pytest.mark.parametrize("name", ["second", "fourth", "fifth"])
def test_a_house_without_sign_offs_is_told_how_to_enter_one(sites: Mapping[str, Site], name: str) -> None:
    site = sites[name]
    text = site.pages["training/roster.md"]
    assert "No sign-off is entered yet. Write the lines below into a file under site_data" in text.replace(
        "&nbsp;", " "
    )
    assert "sign_offs:" in text
    assert 'href="../reference/roles.html"' in text
    assert 'href="../training/roster.html"' in site.pages["reference/roles.md"]
    assert ("SOP-01" in text) == (name != "second")  # a house without people has no matrix


def test_the_example_is_a_sign_off_that_passes(sites: Mapping[str, Site], tmp_path: Path) -> None:
    site = sites["fourth"]
    register = register_with(site, tmp_path, issued(site.views) + example(site.register, site.views))
    found = [str(problem) for problem in sign_off_problems(register, site.views)]
    assert len(register.house.sign_offs) == len(found) == 2
    page = register.house.sign_offs[0].procedure
    assert all(f"{page} has not been issued" in line for line in found)


def test_the_example_names_a_page_that_takes_a_sign_off(sites: dict[str, Site]) -> None:
    """The first page over level 1; without one the first page there is, and without pages SOP-01."""
    site = sites["fourth"]
    high = next(view for view in site.views if view.level > 1)
    anybodys = [replace(view, level=number % 2) for number, view in enumerate(site.views[:4])]
    for views, page in (([*anybodys, high], high.key), (anybodys, anybodys[0].key), ([], "SOP-01")):
        assert example(site.register, views).count(f"procedure: {page}, revision: 1") == 2


def test_the_page_is_in_the_menu(signed: Site) -> None:
    (training,) = (entry["Training"] for entry in signed.navigation if "Training" in entry)
    assert {"Roster": "training/roster.md"} in training


def test_a_changed_amount_changes_the_roster_lines_of_its_pages_only(
    sites: Mapping[str, Site], tmp_path: Path
) -> None:
    """D-07: every page issued and signed; another hold after spraying re-opens the pages that print it, no other."""
    views = sites["fourth"].views
    lines = "\n".join(f"{view.key} 1 2030-06-01 yes | first issue" for view in views)
    signs = "sign_offs:\n" + "".join(
        f"  - {{who: helper, procedure: {view.key}, revision: 1, by: owner, when: 2030-06-01}}\n" for view in views
    )  # fmt: skip
    text = issued(views, lines, other=()) + signs
    hold = 'harvest_hold_after_any_spray: "{} day and rinse passed"'
    before = sites["fourth"]
    after = made_site(fourth_with(tmp_path / "after", "", (hold.format(1), hold.format(2))))
    touched = pages_that_differ(before, after)
    assert 0 < len(touched) < len(views) / 2
    house = register_with(before, tmp_path / "issued", text).house
    old, new = (replace(site.register, house=house) for site in (before, after))
    assert [s for s in standings(old, before.views) if s.changed] == []
    assert {s.page.key for s in standings(new, after.views) if s.changed} == touched
    was, now = (
        {t.title: t for t in roster_tables(*of, True)} for of in ((old, before.views), (new, after.views))
    )
    assert {str(one[1]) for one in now["To be looked at: the page changed since"].rows} == touched
    assert was["To be refreshed"] == now["To be refreshed"]
    rows = {one for one in now["Who may do which page now"].rows if "look: the page changed" in str(one)}
    unchanged = set(was["Who may do which page now"].rows) & set(now["Who may do which page now"].rows)
    assert rows
    assert rows.isdisjoint(unchanged)
    assert len(unchanged) > len(rows)


# ------------------------------------------------------------------ calendar


def entries(site: Site, kind: str) -> Iterator[Event]:
    return (e for e in known_events(site.register, site.views) if e.kind == kind)


def test_asking_again_after_1_7_30_and_90_days(signed: Site) -> None:
    """T-10, from 2031-04-20 and 2031-03-31; what a re-issue voided is not asked, it is trained anew."""
    found = {(str(e.day), e.title, e.page_key) for e in entries(signed, "recall")}
    title = "Ask the questions again: helper, day {} after sign-off on 2031-04-20"
    for days, day in ((1, "2031-04-21"), (7, "2031-04-27"), (30, "2031-05-20"), (90, "2031-07-19")):
        assert (day, title.format(days), "SOP-08-K") in found
    assert (
        "2031-04-30",
        "Ask the questions again: helper, day 30 after sign-off on 2031-03-31",
        "SOP-18",
    ) in found
    assert not any("2031-01-10" in name and page != "SOP-08-M" for _, name, page in found)


def test_refreshing_stands_in_the_calendar_and_is_told_when_it_is_late(signed: Site) -> None:
    found = [(str(e.day), e.title, e.detail) for e in entries(signed, "sign_off_refresh")]
    assert ("2031-06-01", "Refresh sign-off: helper, by 2031-06-01", "SOP-01") in found
    assert ("2031-05-02", "Refresh sign-off: by initials, by 2031-05-02", "SOP-07") in found
    late = "Overdue: Refresh sign-off: by initials, by 2031-04-15"
    assert ("2031-05-01", late, "due on 2031-04-15; SOP-03-K") in found
    assert not any("SOP-10" in detail for _, _, detail in found)


# ------------------------------------------------------------------ what is refused

OWN = "  - {who: helper, procedure: SOP-01, revision: 1, by: owner, when: 2031-02-01}"
PEOPLE_CASES = {
    "a full name": (
        [OWN.replace("helper", "Quintus <b>")],
        'sign_offs[0].who: "Quintus <b>" is no role under people and no initials. Roles are owner, helper; initials are 2 '
        "to 4 capital letters, as QM or Q.M. Write one of them; a full name stays out of the file.",
    ),
    "a trainer nobody knows": (
        [OWN.replace("owner", "uncle")],
        'sign_offs[0].by: "uncle" is no role under people and no initials.',
    ),
    "who signs for itself": (
        [OWN.replace("helper", "owner")],
        "sign_offs[0].by: owner signs for itself. A trainer watches and signs; nobody signs the own work. Name who watched.",
    ),
    "who may not train": (
        [OWN.replace("helper", "QM").replace("owner", "helper")],
        "sign_offs[0].by: nothing on file says that helper may train for SOP-01 on 2031-02-01. A trainer is a role of level "
        "4 under people, or has an earlier sign-off of level 4 for the page. Name another, or enter the trainer's own "
        "sign-off first.",
    ),
    "two who make each other trainers": (
        [
            OWN.replace("helper", "QM").replace("owner", "ZV").replace("}", ", level: 4}"),
            OWN.replace("helper", "ZV").replace("}", ", level: 4}"),
        ],
        "sign_offs[0].by: nothing on file says that ZV may train for SOP-01 on 2031-02-01.",
    ),
    "a level there is not": (
        [OWN.replace("}", ", level: 5}")],
        "sign_offs[0].level: 5 is no level of a sign-off. 1 beginner, 2 helper, 3 lead, 4 "
        "trainer. Write one of them, or leave the line out.",
    ),
    "twice on a day": (
        [OWN, OWN],
        "sign_offs[1].when: helper is signed off for SOP-01 twice on 2031-02-01. One sign-off a day for a person and a page. "
        "Remove one. [E32]",
    ),
}


@pytest.mark.parametrize(("lines", "message"), PEOPLE_CASES.values(), ids=list(PEOPLE_CASES))
def test_people_of_a_sign_off_are_told(tmp_path: Path, lines: list[str], message: str) -> None:
    house, problems = load_house(fourth_with(tmp_path, "sign_offs:\n" + "\n".join(lines) + "\n"))
    assert house is None
    (found,) = (str(problem) for problem in problems)
    assert message in found
    assert found.startswith("site_data/house.yml:")


@pytest.mark.parametrize(
    ("role", "messages"),
    [
        (HELPER, [
            "sign_offs[0].when: 2031-02-01 is before 2031-02-03, the first day of helper. Nobody is signed off before the first "
            "day of work. Mend the date, or starts of helper under people.",
            "sign_offs[0].runs: 2031-02-02 is before 2031-02-03, the first day of helper. Nobody is signed off before the first "
            "day of work. Mend the date, or starts of helper under people.",
        ]),
        ("  - {role: owner, may: [all]}", ["sign_offs[0].by: nothing on file says that owner may train for SOP-01 on 2031-02-01."]),
    ],
    ids=["signed", "trainer"],
)  # fmt: skip
def test_nobody_is_signed_off_or_signs_before_the_first_day(
    tmp_path: Path, role: str, messages: list[str]
) -> None:
    signed_off = OWN.replace("}", ", runs: [2031-02-02, 2031-02-03]}")
    later = (role, role.replace("}", ", starts: 2031-02-03}"))
    _, problems = load_house(fourth_with(tmp_path, f"sign_offs:\n{signed_off}\n", later))
    found = [str(problem).partition(": ")[2] for problem in problems]
    assert len(found) == len(messages)
    assert all(one.startswith(message) for one, message in zip(found, messages, strict=True)), found


def test_a_trainer_by_initials_passes(tmp_path: Path) -> None:
    lines = [
        OWN.replace("helper", "Q.M.").replace("}", ", level: 4}"),
        OWN.replace("owner", "Q.M.").replace("2031-02-01", "2031-02-02"),
    ]
    house, problems = load_house(fourth_with(tmp_path, "sign_offs:\n" + "\n".join(lines) + "\n"))
    assert [str(problem) for problem in problems] == []
    assert house is not None


PAGE_CASES = {
    "an unknown page": (
        OWN.replace("SOP-01", "SOP-99"),
        "sign_offs[0].procedure: SOP-99 is no page of this house. There are SOP-01, SOP-02,",
    ),
    "half a name": (OWN.replace("SOP-01", "SOP-0"), "SOP-0 is no page of this house."),
    "a page not issued": (
        OWN.replace("SOP-01", "SOP-11"),
        "sign_offs[0].procedure: SOP-11 has not been issued, so nobody can be signed off for it. A sign-off is to a revision "
        "under issued. Issue the page first.",
    ),
    "a revision to come": (
        OWN.replace("revision: 1", "revision: 2"),
        "sign_offs[0].revision: revision 2 of SOP-01 was never issued. The last is 1, in force from 2030-01-05. Write the "
        "revision on the page that was signed.",
    ),
    "revision nought": (OWN.replace("revision: 1", "revision: 0"), "revision 0 of SOP-01 was never issued."),
    "systems that differ": (
        OWN.replace("SOP-01, revision: 1", "SOP-08, revision: 3"),
        "Write the revision on the page that was signed, and name one page where its systems differ.",
    ),
    "a day to come": (
        OWN.replace("2031-02-01", "2031-05-02"),
        "sign_offs[0].when: 2031-05-02 is after 2031-05-01, the day the manual is built for. A sign-off and its runs are in "
        "the past. Mend the date, or build for a later day.",
    ),
    "a run to come": (OWN.replace("}", ", runs: [2031-06-01]}"), "sign_offs[0].runs: 2031-06-01 is after"),
}


@pytest.mark.parametrize(("line", "message"), PAGE_CASES.values(), ids=list(PAGE_CASES))
def test_pages_and_days_of_a_sign_off_are_told(
    sites: Mapping[str, Site], tmp_path: Path, line: str, message: str
) -> None:
    views = sites["fourth"].views
    register = register_with(sites["fourth"], tmp_path, f"{issued(views)}sign_offs:\n{line}\n")
    found = [str(problem) for problem in sign_off_problems(register, views)]
    assert len(found) == (2 if "SOP-08" in line else 1)
    assert message in found[0]
    assert found[0].startswith("site_data/house.yml:")
    assert "warning" not in found[0]


def test_a_sign_off_of_a_page_no_longer_there_is_a_warning(sites: Mapping[str, Site], tmp_path: Path) -> None:
    views = [view for view in sites["fourth"].views if view.key != "SOP-01"]
    text = issued(sites["fourth"].views) + f"sign_offs:\n{OWN}\n"
    register = register_with(sites["fourth"], tmp_path, text)
    (found,) = (str(problem) for problem in sign_off_problems(register, views))
    assert (
        "warning: sign_offs[0].procedure: SOP-01 was issued once and is no page of this house now." in found
    )
    assert standings(register, views) == []
    unbuilt = sign_off_problems(register, views, ["SOP-01"])
    assert unbuilt == []  # the page has a mistake of its own, which is told


def test_the_build_tells_it(signed: Site) -> None:
    assert any(
        "sign_offs[12].procedure: SOP-40 was issued once" in str(problem) for problem in signed.warnings
    )


def test_same_roster_on_two_runs(signed: Site) -> None:
    first, again = (str(roster_part(signed.register, signed.views).html) for _ in range(2))
    assert first == again

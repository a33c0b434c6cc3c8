"""The change list: what it names is what prints otherwise, no more and no less, whatever changed."""

from __future__ import annotations

import json
import re
import shutil
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from click.testing import CliRunner

from macros import published
from macros.amounts.engine import number_format as printing
from macros.control.changes import baseline
from macros.control.changes.baseline import Inputs, read_baseline, renewed
from macros.control.changes.changes import ChangeList
from macros.control.changes.sheet_kinds import SHEET_KINDS
from macros.control.changes.terminal import around, change_lines, changes_json
from macros.control.changes.uncontrolled_things import PrintedThing
from macros.doors import cli
from macros.html import environment
from macros.manual.pages.printed_lines import PrintedLine
from macros.site.changes_of_site import site_changes
from macros.site.site import Site, prepare_site
from tests.making import HOUSES, made_house, manual_of
from tests.printing import everything, issued_house

SIGNED = """
sign_offs:
  - {who: helper, procedure: SOP-08-K, revision: 1, by: owner, when: 2031-04-20}
  - {who: QM, procedure: SOP-20, revision: 1, by: owner, when: 2031-04-21}
wall_copies:
  - {item: CARD-2-K, where: "sink", count: 2, printed: 1}
"""


@dataclass(frozen=True)
class Base:
    """The house as it was issued, and all that it printed then."""

    folder: Path
    printed: dict[str, str]


@pytest.fixture(scope="session")
def base(tmp_path_factory: pytest.TempPathFactory) -> Base:
    folder = tmp_path_factory.mktemp("issued")
    return Base(folder, everything(issued_house(folder, "fifth", SIGNED)))


@pytest.fixture
def copy(base: Base, tmp_path: Path) -> Path:
    """The issued house and its procedures, to be changed."""
    shutil.copytree(base.folder, tmp_path / "copy")
    return tmp_path / "copy"


def site_of(folder: Path) -> Site:
    return prepare_site(folder / "house", folder / "procedures", None, {})


def edit(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in {path.name}"
    path.write_text(text.replace(old, new), encoding="utf-8")


def facts(*changes: tuple[str, str]) -> Callable[[Path], None]:
    def change(folder: Path) -> None:
        for old, new in changes:
            edit(folder / "house" / "site_data" / "house.yml", old, new)

    return change


def fact(old: str, new: str) -> Callable[[Path], None]:
    return facts((old, new))


def procedure(name: str, old: str, new: str) -> Callable[[Path], None]:
    return lambda folder: edit(next((folder / "procedures").glob(f"{name}-*.md")), old, new)


def listed(changes: ChangeList, *, sheets: bool = False) -> set[str]:
    """Names of all on the list, as `everything` names it; with `sheets` a listed sheet names its page as well."""
    pages = {one.address: one.key for one in changes.items}
    named = {one.key if one.kind == "page" else one.address for one in changes.items}
    for thing in changes.things:
        by_address = SHEET_KINDS[thing.kind].on_site
        named.add(thing.address if by_address else thing.key)
        if sheets and thing.kind == "bench sheet":
            named.update(thing.waits_for)
    for page in changes.pages:
        found = re.fullmatch(r"p/(.*)\.html", page.address)
        named.add(found[1].upper() if found else page.address)
    assert not set(pages) & {page.address for page in changes.pages}
    return named


def different(base: Base, site: Site) -> set[str]:
    now = everything(site)
    return {name for name in base.printed.keys() | now.keys() if base.printed.get(name) != now.get(name)}


UNPRINTED = "what a person signs with"
KEPT_LONGER = ("harvest_hold_after", 'daily_log_kept_for: "3 year", harvest_hold_after')
# Facts and pages. Which are listed is not written here: it follows from the finished files.
EDITS = {
    "a comment, which moves lines": fact("systems:\n", "# the one rack\nsystems:\n"),
    "a typing error in the reasons": procedure("sop-08", "carries over into the new one", "caries over into the new one"),
    "a fact that prints the same": fact('altitude: "0 m"', 'altitude: "1 m"'),
    "the width of the tank": fact('inside_width: "0.40 m", inside_height: "0.40 m", fill', 'inside_width: "0.42 m", inside_height: "0.40 m", fill'),
    "a limit": fact("ph_high: 6.5", "ph_high: 6.4"),
    "the strength of a stock": fact('strength: "6 % w/w"', 'strength: "8 % w/w"'),
    "the name of a stock": fact('name: "plain chlorine bleach"', 'name: "plain bleach"'),
    "the name of the house": fact('name: "Test Pantry"', 'name: "Test Larder"'),
    "where a thing stands": fact('spill_kit: "blue bin"', 'spill_kit: "<i>red</i> bin {{ x }}"'),
    "a tool, a variety, a record": facts(
        ('name: "acid syringe 20 mL", capacity: "20 mL", mark: "0.5 mL"', 'name: "acid syringe 20 mL", capacity: "20 mL", mark: "1 mL"'),
        ("botanical: Viola cornuta, part: flower", "botanical: Viola cornuta, part: flower, leaf_look: ovate"),
        KEPT_LONGER,
    ),
    UNPRINTED: fact("{role: helper, may: [daily], sign_off_level: 1}", "{role: helper, may: [daily], sign_off_level: 1, sheets_signed: QMX}"),
    "the day": fact("as_of: 2031-05-01", "as_of: 2031-05-20"),
    "a step that is critical": procedure("sop-08", "    minutes: 1\n    easily_missed: yes\n    expect: \"no drip", "    minutes: 1\n    critical: yes\n    expect: \"no drip"),
    "a step added": procedure("sop-08", "  - id: shut_valve\n", "  - id: look\n    do: \"Inspect the tank.\"\n    action: inspect\n    where: tank\n    minutes: 1\n    expect: \"bare floor\"\n    reason: \"What is left carries over.\"\n  - id: shut_valve\n"),
    "a title that others lead to": procedure("sop-24", "title: Waste and drain-down\n", "title: Waste and draining\n"),
}  # fmt: skip


TWICE = "the width of the tank"
"""The change whose list is worked out twice."""


@dataclass(frozen=True)
class Seen:
    """The house after one change: its list, and the names of all that really reads otherwise."""

    changes: ChangeList
    different: set[str]
    lines: list[str]
    json: str
    page: str
    reference: list[dict[str, str]]


@pytest.fixture(scope="session")
def after(base: Base, tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Seen]:
    """The house after a change of `EDITS`, worked out once."""
    known: dict[str, Seen] = {}

    def seen(name: str) -> Seen:
        if name not in known:
            folder = tmp_path_factory.mktemp("changed") / "copy"
            shutil.copytree(base.folder, folder)
            EDITS[name](folder)
            site = site_of(folder)
            changes = site_changes(site)
            known[name] = Seen(
                changes,
                different(base, site),
                list(change_lines(changes, site.register.house)),
                changes_json(site_changes(site)) if name == TWICE else "",
                site.pages["reference/changes.md"],
                next(entry["Reference"] for entry in site.navigation if "Reference" in entry),
            )
        return known[name]

    return seen


@pytest.mark.parametrize("name", EDITS)
def test_the_list_is_what_prints_otherwise(after: Callable[[str], Seen], name: str) -> None:
    """D-07: the change list equals the difference of the two sites and of all their paper."""
    seen = after(name)
    assert listed(seen.changes) == seen.different
    assert bool(seen.different) == (name != UNPRINTED)  # each of the others changes something a reader sees


@pytest.fixture
def program(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A copy of the program's published lists and templates, used in place of its own."""
    package = Path(published.__file__).parents[1]
    for name in ("published", "html/templates"):
        shutil.copytree(package / name, tmp_path / "program" / name)
    monkeypatch.setattr(published, "_FOLDER", tmp_path / "program" / "published")
    monkeypatch.setattr(environment, "TEMPLATES", tmp_path / "program" / "html" / "templates")
    monkeypatch.setattr(baseline, "PACKAGE", tmp_path / "program")
    forget()
    yield tmp_path / "program"
    monkeypatch.undo()
    forget()


def forget() -> None:
    """Empty every store of what was read or worked out once."""
    for name, module in list(sys.modules.items()):
        if name.startswith("macros"):
            for thing in list(vars(module).values()):
                if hasattr(thing, "cache_clear"):
                    thing.cache_clear()


TEMPLATE = "a word of the sheet's template"
"""The sheets are printed again; no line of a page changed, so no page is issued anew."""
PROGRAM_EDITS: dict[str, tuple[tuple[str, str, str], ...]] = {
    "words of a caution, a question and a trainer's sheet": (
        ("published/safety/cautions.yml", "In any other volume it is wrong.", "Any other volume makes it wrong."),
        ("published/training/questions.yml", "the tank stands at {{ mark }}. How much is in it?", "the tank stands at {{ mark }}. How much is in?"),
        ("published/training/training.yml", "Food or a drink carried in by habit.", "Food or a drink carried in."),
    ),
    "the level of a caution": (
        (
            "published/safety/cautions.yml",
            'title: "Dose for another volume"\n    severity: no_injury',
            'title: "Dose for another volume"\n    severity: minor_or_moderate',
        ),
    ),
    TEMPLATE: (("html/templates/sheet.html.j2", "Bin this sheet.", "Bin this paper."),),
    "styling": (("html/templates/sheet.html.j2", '<span>Date</span>', '<span class="w"><b>Date</b></span>'),),
}  # fmt: skip


@pytest.mark.parametrize("name", PROGRAM_EDITS)
def test_a_change_of_the_program_is_listed_where_it_prints(
    base: Base, copy: Path, program: Path, name: str
) -> None:
    for file, old, new in PROGRAM_EDITS[name]:
        edit(program / file, old, new)
    site = site_of(copy)
    found = different(base, site)
    assert listed(site_changes(site), sheets=name == TEMPLATE) == found
    assert bool(found) == (name != "styling")  # D-06: styling is no change


def test_a_rounding_rule_asks_for_an_issue_where_nothing_prints_otherwise(
    base: Base, copy: Path, program: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """D-05 (5): a formula, constant or rounding rule counts even if the numbers of the page do not change."""
    monkeypatch.setitem(printing._STEPS, "L", 1.0)
    site = site_of(copy)
    changes, found = site_changes(site), different(base, site)
    assert found <= listed(changes)
    alike = listed(changes) - found
    assert alike
    told = {one.key: {told.means for told in one.differences} for one in changes.items}
    for name in alike:
        assert told[name] == {"a formula, constant or rounding rule changed"}


# ------------------------------------------------------------------ what the list says


def test_an_input_that_prints_the_same_is_one_line(after: Callable[[str], Seen]) -> None:
    """D-06."""
    told = after("a fact that prints the same").lines
    assert told[0] == "Nothing waits to be issued or printed again."
    assert re.fullmatch(
        r"room\.altitude \(site_data/house\.yml:\d+\): 0 m -> 1 m, and prints the same everywhere: no re-issue\.",
        told[2],
    )


def test_a_wider_tank_is_told_with_old_and_new_value_and_its_fact(after: Callable[[str], Seen]) -> None:
    told = after("the width of the tank").lines
    assert told[0].startswith("Waiting: ")
    at = told.index("SOP-08-K Solution change, K (revision 1): re-issue, training again")
    page = told[at : next(n for n in range(at + 1, len(told)) if not told[n].startswith(" "))]
    # 0.50 m x 0.40 m x 0.30 m = 60 L, and 0.42 m makes 63 L.
    (step,) = (one for one in page if one.startswith("  step 11: Tank at the fill mark: "))
    assert re.fullmatch(r".*: 60 L, in all;.* -> 63 L, in all;.*", step)
    line = 1 + next(
        n
        for n, text in enumerate(
            (HOUSES / "fifth" / "site_data" / "house.yml").read_text(encoding="utf-8").splitlines()
        )
        if 'inside_width: "0.40 m", inside_height: "0.40 m", fill' in text
    )
    assert page[-1] == (
        f"      because of systems[K].reservoir.inside_width (site_data/house.yml:{line}): 0.40 m -> 0.42 m"
    )
    assert "    Fill mark: Fill mark: 60 L, stick at 30.0 cm -> Fill mark: 63 L, stick at 30.0 cm" in told
    assert "  hangs: 2 at sink, revision 1" in told
    assert "Sign-offs that are void once the page is issued: helper on SOP-08-K, QM on SOP-20." in told
    assert told[told.index("Next:") + 1].startswith("  trayside issue --all --by owner --why")
    assert "  trayside pack control" in told


@pytest.mark.parametrize(
    ("name", "item", "verdict", "because"),
    [
        ("a typing error in the reasons", "SOP-08-K", "wording", "procedure SOP-08 (procedures/sop-08-reservoir-change.md) changed"),
        ("a step added", "SOP-08-K", "re-issue", "procedure SOP-08 (procedures/sop-08-reservoir-change.md) changed"),
        ("a limit", "SOP-08-K", "re-issue", "nutrients.stages.leafy.ph_high (site_data/house.yml:LINE): 6.5 -> 6.4"),
        ("where a thing stands", "SOP-22", "wording", "house.places.spill_kit (site_data/house.yml:LINE): blue bin -> <i>red</i> bin {{ x }}"),
        ("the name of a stock", "SOP-02", "re-issue", "chemicals[bleach].name (site_data/house.yml:LINE): plain chlorine bleach -> plain bleach"),
    ],
)  # fmt: skip
def test_each_difference_says_why(
    after: Callable[[str], Seen], name: str, item: str, verdict: str, because: str
) -> None:
    """The verdicts are those of D-05 (numbers, limits, steps) and D-06 (a typing error)."""
    found = next(one for one in after(name).changes.items if one.key == item)
    assert found.verdict == verdict
    told = {re.sub(r"yml:\d+", "yml:LINE", one.reasons.text) for one in found.differences}
    assert because in told


def test_the_list_is_the_same_on_every_run_and_readable_by_a_program(after: Callable[[str], Seen]) -> None:
    seen = after(TWICE)
    assert changes_json(seen.changes) == seen.json
    assert {one["key"] for one in json.loads(seen.json)["items"]} == {one.key for one in seen.changes.items}


def test_the_page_of_the_site_says_the_same_without_initials(after: Callable[[str], Seen]) -> None:
    seen = after("the width of the tank")
    page = seen.page
    assert "<span>was</span> 60\u00a0L</dd><dd><span>now</span> <strong>63\u00a0L</strong>" in page
    assert "by initials on SOP-20" in page
    assert "QM" not in page
    assert all(item.key in page for item in seen.changes.items)
    assert {"Changes": "reference/changes.md"} in seen.reference


def test_a_fact_of_a_person_stands_on_no_page_of_the_site(after: Callable[[str], Seen]) -> None:
    seen = after(UNPRINTED)
    assert any("sheets_signed" in line and "QMX" in line for line in seen.lines)
    assert "sheets_signed" in seen.page
    assert "QMX" not in seen.page


def test_the_page_says_when_nothing_waits(base: Base) -> None:
    page = site_of(base.folder).pages["reference/changes.md"]
    assert "Nothing waits: everything prints as it was issued. As of 2031-05-01." in page


def test_a_house_that_issued_nothing_has_nothing_to_compare_with() -> None:
    site = manual_of("first")
    told = list(change_lines(site_changes(site), site.register.house))
    assert told[1].startswith(
        "There is no earlier print to compare with: every sheet, card, label and question is new."
    )
    assert told[2].startswith("Never issued: SOP-01, ")
    assert "no earlier print to compare with" in site.pages["reference/changes.md"]


def test_text_of_a_house_stays_text_on_the_page(after: Callable[[str], Seen]) -> None:
    page = after("where a thing stands").page
    assert "&lt;i&gt;red&lt;/i&gt; bin &#123;&#123; x &#125;&#125;" in page
    assert "<i>red" not in page


def test_long_texts_are_cut_around_what_differs() -> None:
    words = "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen"
    old, new = around(f"{words} red {words}", f"{words} blue {words}")
    assert old == "... thirteen fourteen fifteen sixteen red one two three four five six seven ..."
    assert new == "... thirteen fourteen fifteen sixteen blue one two three four five six seven ..."
    assert around("short", "text") == ("short", "text")
    assert around(f"one red {words}", f"one blue {words}") == (
        "one red one two three four five six seven ...",
        "one blue one two three four five six seven ...",
    )
    assert around(f"{words} red", f"{words} blue") == (
        "... thirteen fourteen fifteen sixteen red",
        "... thirteen fourteen fifteen sixteen blue",
    )


# ------------------------------------------------------------------ nothing is lost from it


def thing(key: str, text: str, *pages: str) -> PrintedThing:
    return PrintedThing(key, "label", key, "", pages, (PrintedLine("row", "text", text),))


def test_a_label_of_two_changed_pages_stays_until_both_are_issued() -> None:
    then, now = Inputs("2031-05-01", {}, {}), Inputs("2031-05-02", {}, {})
    first = renewed(None, [thing("both", "old", "SOP-01", "SOP-02"), thing("room", "old")], then, None, [])
    new = [thing("both", "new", "SOP-01", "SOP-02"), thing("room", "new")]
    once = renewed(first, new, now, ["SOP-01"], ["SOP-02"])
    assert [one.lines[0].text for one in once.things.values()] == ["old", "old"]
    assert once.inputs.keys() == {then.code}
    twice = renewed(once, new, now, ["SOP-02"], [])
    assert [one.lines[0].text for one in twice.things.values()] == ["new", "new"]
    assert twice.all_from(now)


def test_what_waits_for_no_issue_stays_until_it_is_seen_to() -> None:
    then, now = Inputs("2031-05-01", {}, {}), Inputs("2031-05-02", {}, {})
    first = renewed(None, [thing("label", "old", "SOP-01"), thing("gone", "old", "SOP-01")], then, None, [])
    new = [thing("label", "new", "SOP-01")]
    other = renewed(first, new, now, ["SOP-02"], [])
    assert other.things == first.things
    waits = renewed(first, new, now, None, ["SOP-01"])
    assert waits.things == first.things
    seen = renewed(first, new, now, None, [])
    assert [one.lines[0].text for one in seen.things.values()] == ["new"]


def test_the_baseline_is_read_as_it_was_written(base: Base, tmp_path: Path) -> None:
    read, told = read_baseline(base.folder / "house")
    assert told == []
    assert read is not None
    text = (base.folder / "house" / baseline.FILE).read_text(encoding="utf-8")
    assert read.as_json() == text
    house = made_house(tmp_path)
    (house / "site_data" / "issued").mkdir()
    for broken in (
        "",
        "{",
        "[]",
        '{"inputs": {}, "things": {"a": []}}',
        text.replace('"pages"', "x")[: len(text) // 2],
    ):
        (house / baseline.FILE).write_text(broken, encoding="utf-8")
        found, told = read_baseline(house)
        assert found is None
        assert [str(one) for one in told] == [
            "site_data/issued/printed.json:1: warning: file: the file is damaged and counts as not there. This program writes "
            "it. Take back a copy of it, or delete it."
        ]


def run(*words: str) -> list[str]:
    done = CliRunner().invoke(cli.commands, words, catch_exceptions=False)
    assert done.exit_code == 0, done.output
    return done.output.splitlines()


def test_from_a_change_to_its_issue(copy: Path) -> None:
    """The commands an owner types, in their order: each takes off the list what it is about, and nothing else."""
    house = str(copy / "house")
    fact(
        'inside_width: "0.40 m", inside_height: "0.40 m", fill',
        'inside_width: "0.42 m", inside_height: "0.40 m", fill',
    )(copy)
    run("issue", "SOP-08-K", "--by", "owner", "--why", "a wider tank", "--house", house)
    told = run("changes", "--house", house)
    assert f"  trayside build --house {house}" in told
    assert not any(line.startswith("SOP-08-K ") or line == "  tank K" for line in told)
    assert any(line.startswith("SOP-09-K ") for line in told)
    fact(*KEPT_LONGER)(copy)  # it stands on forms alone, which no issue takes off
    run("issue", "--all", "--by", "owner", "--why", "a wider tank", "--house", house)
    told = run("changes", "--house", house)
    assert re.fullmatch(
        r"Waiting: \d+ record forms, 1 label, \d+ training records\.", told[0]
    )  # it alone prints the strength in ppm
    assert told[-1].startswith(f"  trayside changes --seen --house {house}")
    nothing = ["Nothing waits: everything prints as it was issued."]
    assert run("changes", "--seen", "--house", house) == nothing

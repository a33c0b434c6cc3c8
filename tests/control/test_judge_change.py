"""Each kind of change judged as requirements D-05 (re-issue), D-06 (no re-issue) and T-09 (brief anew) of the manual ask.

D-05 re-issue for: (1) a printed number, unit, limit or tolerance; (2) a step added, removed, re-ordered or reworded in
meaning; (3) a caution, its level, trigger or PPE; (4) a stock strength, product type, vessel, pump, tier count or tool
graduation; (5) a formula, constant or rounding rule, even if this page's numbers stay; (6) a cited limit, label or data
sheet; (8) the review date. D-06 no re-issue for a typing error, styling, an input that leaves every printed value the same.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from jinja2 import ChoiceLoader, DictLoader

from macros.amounts.engine.working import Working
from macros.amounts.feed import acidity
from macros.control.documents.issued_copies import Snapshot
from macros.control.documents.judge_change import judge_change, line_differences
from macros.html.environment import template_environment
from macros.manual.pages.page_markdown import procedure_page
from macros.manual.pages.printed_lines import PrintedLine, printed_lines
from macros.manual.pages.values_code import lines_code
from macros.manual.procedures import sources as references
from macros.site.site import Site
from tests.control.changes import Case, caution, others, page_of, register_of, snapshot_after
from tests.making import HOUSES


def rounded_otherwise(patch: pytest.MonkeyPatch) -> None:
    """The fill mark, 30.0 cm exactly, rounded to the nearest mark of the stick instead of down: the same print."""
    number = Working.number

    def other(self: Working, exact: float, unit: str, direction: Any, rule: str, **more: Any) -> Any:
        return number(self, exact, unit, "nearest" if self.id == "fill_level" else direction, rule, **more)

    patch.setattr(Working, "number", other)


def worked_otherwise(patch: pytest.MonkeyPatch) -> None:
    """The fill mark by another formula that gives the same number."""
    say = Working.add_line

    def other(self: Working, text: str, **units: Any) -> None:
        say(self, f"{text}, less the mud on the floor" if self.id == "fill_level" else text, **units)

    patch.setattr(Working, "add_line", other)


def other_constant(patch: pytest.MonkeyPatch) -> None:
    """The molar mass of nitric acid in its fifth digit: the dose prints the same."""
    patch.setattr(
        acidity, "MOLAR_MASS", {**acidity.MOLAR_MASS, "nitric": acidity.MOLAR_MASS["nitric"] + 0.001}
    )


def other_source(patch: pytest.MonkeyPatch) -> None:
    """The work a limit of the page is cited from, in another edition."""

    known = references.sources()
    entry = known["acid-half-first"]
    other = {**known, "acid-half-first": entry.model_copy(update={"text": f"{entry.text}, second edition"})}
    patch.setattr(references, "sources", lambda: other)


NEW_STEP = (
    '  - id: shut_valve\n    do: "{% if',
    '  - id: wipe_again\n    do: "Wipe the walls again."\n    action: wipe\n    where: tank\n    minutes: 0\n'
    '  - id: shut_valve\n    do: "{% if',
)
LID = """  - id: lid
    phase: Close
    do: "Shut the lid."
    action: close_up
    does: {lid: shut}
    where: tank
    minutes: 1
    easily_missed: yes
    expect: "no light falls on the water{% if system.air_stones %}; air on{% endif %}"
    reason: "Light on the solution grows algae."
"""
CARD = """  - id: card
    do: "Write the tank card."
    action: write
    uses: [tank card]
    where: tank
    minutes: 1
    easily_missed: yes
    expect: "{% if keeps('phosphoric_acid') %}it asks for pH again tomorrow: after phosphoric acid plain water climbs back to about pH 6.8{% elif keeps('nitric_acid') %}it asks for pH again tomorrow: after nitric acid plain water climbs back to pH 7.8 to 8.0{% elif keeps('sulfuric_acid') %}it asks for pH again tomorrow: after sulfuric acid plain water climbs back to pH 7.8 to 8.0{% endif %}"
    record: {quantity: "Level, {{ unit_of('fill_level') }}", limits: "{{ number('fill_level') }}", unit: "{{ unit_of('fill_level') }}", least: "{{ low('fill_level') }}", most: "{{ high('fill_level') }}", log: level}
    reason: "The card tells the next person what was mixed."
"""
FILL_TO_MARK = """  - id: fill_to_mark
    do: "Fill to the fill mark."
    action: fill
    reason: "The dose is for this mark. Over it, the water that comes home runs over the rim."
    does: {fill: fill_mark}
    expect: "the pump's plug still hangs in sight"
    easily_missed: yes
    amount: {id: res_fill, means: "in all; {{ amount('fill_first') }} and the parts are in"}
    uses: ["{{ scale() }}", hose]
    where: tank
    minutes: 3
"""
CASES = (
    # D-06: nothing that counts
    Case("an input that prints the same", "D-06", "none", house=(('calcium: "30 mg/L"', 'calcium: "30.1 mg/L"'),)),
    Case("a fact this page does not use", "D-06", "none", house=(('price: "0.30 EUR/kWh"', 'price: "0.31 EUR/kWh"'),)),
    Case("a comment in the house file", "D-06", "none", house=(("# A made-up", "# Our made-up"),)),
    Case("minutes that print the same in all", "D-06", "none", page=(("minutes: 10\n", "minutes: 11\n"),)),
    Case("an easily missed step, which only the checklist prints", "D-06", "none", page=(("easily_missed: yes\n    expect: \"no drip", "expect: \"no drip"),)),
    # D-06: wording alone
    Case("the place of a step, printed where it changes", "D-06", "wording", page=(("where: rack\n    minutes: 1\n    expect", "where: tank\n    minutes: 1\n    expect"),), kinds=frozenset({"text"})),
    Case("a typing error", "D-06", "wording", page=(("balanced solution", "ballanced solution"),), kinds=frozenset({"text"})),
    Case("the title", "D-06", "wording", page=(("title: Solution change", "title: Change of solution"),), kinds=frozenset({"text"})),
    Case("a link to another page", "D-06", "wording", linked=True, page=(("see_also: [SOP-09, ", "see_also: ["),), kinds=frozenset({"text"})),
    Case("a comma in the prose", "D-06", "wording", page=(("this tank, not", "this tank and not"),), kinds=frozenset({"text"})),
    # D-05 (1): a printed number, unit, limit or tolerance
    Case("an input that changes a print", "D-05 (1)", "re-issue", house=(('rates: {part_1: "1.5 mL/L"', 'rates: {part_1: "1.6 mL/L"'),), kinds=frozenset({"amount"}), retrain=True),
    Case("the unit style of the house", "D-05 (1)", "re-issue", house=(("unit_style: metric", "unit_style: us"),), kinds=frozenset({"amount"}), retrain=True),
    Case("a limit", "D-05 (1)", "re-issue", house=(("ph_high: 6.5", "ph_high: 6.4"),), kinds=frozenset({"limit"}), retrain=True),
    Case("a number in the prose", "D-05 (1)", "re-issue", page=(("EC is more than 15 % off", "EC is more than 20 % off"),), kinds=frozenset({"amount"}), retrain=True),
    Case("a unit in the prose", "D-05 (1)", "re-issue", page=(("draw {{ in_units('1 L', '1 quart') }} of tank", "draw {{ in_units('1 mL', '1 quart') }} of tank"),), kinds=frozenset({"amount"}), retrain=True),
    Case("a wait", "D-05 (1)", "re-issue", page=(('{least: "5 min", greatest: "1 h"', '{least: "10 min", greatest: "1 h"'),), kinds=frozenset({"wait"}), retrain=True),
    Case("minutes that change the print", "D-05 (1)", "re-issue", page=(("minutes: 10\n", "minutes: 30\n"),), kinds=frozenset({"amount"}), retrain=True),
    Case("an emergency number", "D-05 (1)", "re-issue", house=(('poison_line: "555-0101', 'poison_line: "555-0199'),), kinds=frozenset({"amount"}), retrain=True),
    # D-05 (2): a step
    Case("a step added", "D-05 (2)", "re-issue", page=(NEW_STEP,), kinds=frozenset({"step"}), retrain=True),
    Case("a step removed", "D-05 (2)", "re-issue", page=((FILL_TO_MARK, ""),), kinds=frozenset({"step"}), retrain=True),
    Case("two steps in another order", "D-05 (2)", "re-issue", page=((LID + CARD, CARD + LID),), kinds=frozenset({"order"}), retrain=True),
    Case("a step reworded in meaning", "D-05 (2)", "re-issue", page=(("on with the next part.\"}", "on without the next part.\"}"),), kinds=frozenset({"turned"}), retrain=True),
    Case("a step that is no longer critical", "D-05 (2)", "re-issue", page=(("    critical: yes\n    hold: yes\n    expect: \"each plug", "    hold: yes\n    expect: \"each plug"),), kinds=frozenset({"mark"}), retrain=True),
    Case("who decides", "D-05 (2)", "re-issue", house=(("responsible_person: owner", "responsible_person: gardener"),), kinds=frozenset({"who"})),
    # D-05 (3): a caution, its level, its trigger, what to wear
    Case("the level of a caution", "D-05 (3)", "re-issue", program=caution("FLOOR-WET", severity="death_or_serious", likelihood="could"), kinds=frozenset({"caution"}), retrain=True),
    Case("the wording of a caution", "D-05 (3)", "re-issue", program=caution("FLOOR-WET", avoidance="Stop the drip. Mop at once. Keep the sign up."), kinds=frozenset({"caution"}), retrain=True),
    Case("the source of a caution", "D-05 (3)", "re-issue", program=caution("ELEC-WATER", source="another book"), kinds=frozenset({"caution"}), retrain=True),
    Case("what to wear", "D-05 (3)", "re-issue", program=caution("CHEM-ACID-CONC", ppe=["goggles", "gloves_chem", "apron", "face_shield"]), kinds=frozenset({"ppe"}), retrain=True),
    # D-05 (4): strength, product, vessel, tool
    Case("the strength of a stock", "D-05 (4)", "re-issue", document="SOP-03", house=(('strength: "6 % w/w"', 'strength: "5.25 % w/w"'),), kinds=frozenset({"amount"}), retrain=True),
    Case("the product", "D-05 (4)", "re-issue", house=(('name: "pH-down, nitric acid", role: acid, active: "nitric acid"', 'name: "pH-down, phosphoric acid", role: acid, active: "phosphoric acid"'),), kinds=frozenset({"figure", "caution"}), retrain=True),
    Case("the name of a product alone", "D-05 (4)", "re-issue", document="SOP-03", house=(('name: "plain chlorine bleach"', 'name: "kitchen bleach"'),), kinds=frozenset({"supply"}), retrain=True),
    Case("the tank", "D-05 (4)", "re-issue", house=(('inside_length: "0.50 m", inside_width: "0.40 m", inside_height', 'inside_length: "0.55 m", inside_width: "0.40 m", inside_height'),), kinds=frozenset({"amount"}), retrain=True),
    Case("the marks of a tool, printing the same", "D-05 (4)", "re-issue", house=(('{name: "cylinder 100 mL", capacity: "100 mL", mark: "1 mL"', '{name: "cylinder 100 mL", capacity: "100 mL", mark: "2 mL"'),), kinds=frozenset({"formula"})),
    Case("the name of a tool", "D-05 (4)", "re-issue", house=(('{name: "cylinder 100 mL"', '{name: "glass cylinder 100 mL"'),), kinds=frozenset({"tool"})),
    Case("the number of trays", "D-05 (4)", "re-issue", house=(("trays: {count: 2,", "trays: {count: 3,"),), kinds=frozenset({"figure"}), retrain=True),
    Case("the pump", "D-05 (4)", "re-issue", document="SOP-15", house=(('bucket_test_at_top_tray: "12 L/min"', 'bucket_test_at_top_tray: "9 L/min"'),), retrain=True),
    # D-05 (5): a formula, constant or rounding rule, though the page prints the same
    Case("the direction of rounding", "D-05 (5)", "re-issue", program=rounded_otherwise, kinds=frozenset({"formula"})),
    Case("a formula with the same result", "D-05 (5)", "re-issue", program=worked_otherwise, kinds=frozenset({"formula"})),
    Case("a constant with the same print", "D-05 (5)", "re-issue", program=other_constant, kinds=frozenset({"formula"})),
    # D-05 (6): what is cited
    Case("a cited source", "D-05 (6)", "re-issue", program=other_source, kinds=frozenset({"source"})),
    Case("a reference added", "D-05 (6)", "re-issue", page=(("references: [davies-closed-carbonate, ", "references: ["),), kinds=frozenset({"source"})),
    Case("the label a house goes by", "D-05 (6)", "re-issue", document="SOP-03", house=(("photographed 2031-06-01", "photographed 2031-07-01"),), kinds=frozenset({"amount"}), retrain=True),
    # a checklist is judged by itself
    Case("an item of a checklist added", "D-05 (2)", "re-issue", checklist=True, page=(("    minutes: 1\n    expect: \"bubbles", "    minutes: 1\n    easily_missed: yes\n    expect: \"bubbles"),), kinds=frozenset({"step"}), retrain=True),
    Case("a reason no checklist prints", "D-06", "none", checklist=True, page=(("A timer starts the pump without warning.", "A timer starts it."),)),
)  # fmt: skip


@pytest.fixture(scope="module")
def issued(tmp_path_factory: pytest.TempPathFactory) -> dict[tuple[str, bool, bool], Snapshot]:
    """Each item judged here, as it was issued."""
    folder = tmp_path_factory.mktemp("issued")
    patch = pytest.MonkeyPatch()
    found = {}
    for case in CASES:
        if case.item not in found:
            unchanged = replace(case, house=(), page=(), program=None)
            found[case.item] = snapshot_after(folder / str(len(found)), unchanged, patch)
    return found


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name.replace(" ", "-"))
def test_each_change_is_judged_by_its_rule(
    case: Case,
    issued: dict[tuple[str, bool, bool], Snapshot],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    before = issued[case.item]
    now = snapshot_after(tmp_path, case, monkeypatch)
    judged = judge_change(before, now)
    told = "\n".join(map(str, judged.differences))
    assert judged.verdict == case.verdict, told
    assert {one.kind for one in judged.differences} >= case.kinds, told
    assert judged.retrain == case.retrain, told
    if case.verdict == "none":
        assert now.code == before.code  # nobody takes a sheet down for it
    elif case.name != "a constant with the same print":  # that shows by its unrounded value alone
        assert now.code != before.code


def test_the_table_holds_twenty_changes_and_more() -> None:
    assert len(CASES) >= 20
    assert len({case.name for case in CASES}) == len(CASES)


def test_styling_moves_no_code(
    issued: dict[tuple[str, bool, bool], Snapshot], monkeypatch: pytest.MonkeyPatch
) -> None:
    """D-06: another template writes another page of the same values."""
    register = register_of(HOUSES / "fifth")
    view = page_of(next(file for file in others() if file.id == "SOP-08"), register)
    plain = procedure_page(view, {view.page_address: view})
    environment = template_environment()
    source = environment.loader.get_source(environment, "procedure.md.j2")[0]  # type: ignore[union-attr]
    styled = DictLoader({"procedure.md.j2": source.replace('class="sop-step"', 'class="sop-step wide"')})
    monkeypatch.setattr(environment, "loader", ChoiceLoader([styled, environment.loader]))  # type: ignore[list-item]
    environment.cache.clear()  # type: ignore[union-attr]
    other = procedure_page(view, {view.page_address: view})
    environment.cache.clear()  # type: ignore[union-attr]
    assert plain.replace('class="sop-step"', 'class="sop-step wide"') == other != plain
    assert issued["SOP-08", False, False].code == view.control.values_code


def test_a_review_that_is_due_asks_for_an_issue(issued: dict[tuple[str, bool, bool], Snapshot]) -> None:
    """D-05 (8), D-10."""
    page = issued["SOP-08", False, False]
    judged = judge_change(page, page, (date(2032, 5, 1), date(2032, 5, 2)))
    assert judged.verdict == "re-issue"
    assert [str(one) for one in judged.differences] == [
        "review: due 2032-05-01 -> built for 2032-05-02 (the review is due)"
    ]


def test_a_limit_is_told_with_its_place_in_words(
    issued: dict[tuple[str, bool, bool], Snapshot], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    case = Case("", "", "", house=(("ph_high: 6.5", "ph_high: 6.4"),))
    judged = judge_change(issued["SOP-08", False, False], snapshot_after(tmp_path, case, monkeypatch))
    assert "limit of record step prove ph: 5.6 to 6.5 -> 5.6 to 6.4 (a limit changed)" in [
        str(one) for one in judged.differences
    ]


def lines(*texts: str, place: str = "supply") -> list[PrintedLine]:
    return [PrintedLine(f"{place} {n}", "text", text) for n, text in enumerate(texts, start=1)]


def test_a_line_put_into_a_list_is_one_difference() -> None:
    found = line_differences(lines("cup", "jug", "tape"), lines("bowl", "cup", "jug", "tape"))
    assert [(one.old, one.new) for one in found] == [("", "bowl")]


def test_rows_of_a_shifted_table_stand_beside_their_like() -> None:
    """A crop more on top, a table of sets gone, a supply for another: no row is beside a row of something else."""

    def table(number: int, title: str, *rows: str) -> list[PrintedLine]:
        heads = [PrintedLine(f"figure {number}: title", "text", title)]
        return heads + [
            PrintedLine(f"figure {number}: row {n}", "figure", row) for n, row in enumerate(rows, 1)
        ]

    def supplies(*texts: str) -> list[PrintedLine]:
        return [PrintedLine(f"supply {n}", "supply", text) for n, text in enumerate(texts, 1)]

    old = [
        *table(
            1, "Sowing", "mizuna | 3 May | 41 plugs", "mizuna | 10 May | 9 plugs", "basil | 4 May | 23 plugs"
        ),
        *table(2, "Sets of mizuna", "58 days | 9"),
        *table(3, "Sets of basil", "7 days | 5"),
        *supplies("Tools | jug | bench", "Tools | tape | box"),
    ]
    new = [
        *table(1, "Sowing", "cress | 1 May | 8 plugs", "mizuna | 10 May | 12 plugs", "mizuna | 2 May | 41 plugs", "basil | 5 May | 23 plugs"),
        *table(2, "Sets of basil", "7 days | 6"),
        *supplies("Tools | bowl | bench", "Tools | tape | shelf"),
    ]  # fmt: skip
    assert {(one.old, one.new) for one in line_differences(old, new)} == {
        ("", "cress | 1 May | 8 plugs"),
        ("mizuna | 10 May | 9 plugs", "mizuna | 10 May | 12 plugs"),
        ("mizuna | 3 May | 41 plugs", "mizuna | 2 May | 41 plugs"),
        ("basil | 4 May | 23 plugs", "basil | 5 May | 23 plugs"),
        ("Sets of mizuna", ""),
        ("58 days | 9", ""),
        ("7 days | 5", "7 days | 6"),
        ("Tools | jug | bench", ""),
        ("", "Tools | bowl | bench"),
        ("Tools | tape | box", "Tools | tape | shelf"),
    }


@pytest.mark.quick
def test_texts_that_change_places_are_a_difference() -> None:
    old = [PrintedLine("caution X before s: title", "caution", "a"), PrintedLine("caution Y before s: title", "caution", "b")]  # fmt: skip
    found = line_differences(old, [old[1], old[0]])
    assert [(one.kind, one.place) for one in found] == [("order", "caution Y before s: title")]


@pytest.mark.parametrize(
    ("old", "new", "kind"),
    [
        ("Wait 5 min.", "Wait 5 h.", "amount"),
        ("Wait 5 min.", "Wait  5 min", "text"),
        ("Add 1,5 L.", "Add 1.5 L.", "amount"),
        ("Two people lift.", "Four people lift.", "amount"),
        ("Do not open it.", "Do open it.", "turned"),
        ("Open the valve.", "Shut the valve.", "turned"),
        ("Colour the card.", "Color the card.", "text"),
    ],
)
def test_what_is_more_than_wording(old: str, new: str, kind: str) -> None:
    assert [one.kind for one in line_differences(lines(old), lines(new))] == [kind]


def test_every_difference_of_the_code_is_found_and_no_other(sites: Mapping[str, Site]) -> None:
    """Equal lines and formulas, equal codes, and no difference; each line taken out or changed moves all three."""
    for site in sites.values():
        for item in site.controlled_documents:
            printed = printed_lines(item.view)
            shown = item.view.formulas if item.kind == "page" else {}  # type: ignore[union-attr]
            assert lines_code(printed, shown) == item.control.values_code
            assert len({line.place for line in printed}) == len(printed)
            assert line_differences(printed, printed) == []
            for at in (0, len(printed) // 2, len(printed) - 1):
                changed = [
                    *printed[:at],
                    replace(printed[at], text=printed[at].text + "!"),
                    *printed[at + 1 :],
                ]
                assert len(line_differences(printed, changed)) == 1
                assert line_differences(printed, [*printed[:at], *printed[at + 1 :]])
                assert lines_code(changed, shown) != item.control.values_code

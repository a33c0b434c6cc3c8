"""A changed bottle, a second sanitizer: exactly the right amounts, words, equipment and codes follow, on the right pages."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from macros.ground.problems import DataProblems, errors_in
from macros.page_model.page import PageView
from macros.site.site import Site
from tests.making import HOUSES, PROCEDURES, made_house, made_site, manual_of, pages_that_differ

STOCK = 'strength: "10 % w/w", density: "1.035 g/mL",\n     container: "1 L", containers_in_stock: 4'
# Density of 34 % peroxide at 20 degC by the published cubic (Laliberte 2009): 1.1286 g/mL.
STRONG = 'strength: "34 % w/w", density: "1.129 g/mL",\n     container: "1 L", containers_in_stock: 4'
FINE_TOOL = (
    '{name: "red cylinder 100 mL", capacity: "100 mL", mark: "1 mL", smallest_use: "20 mL"',
    '{name: "red cylinder 100 mL", capacity: "100 mL", mark: "1 mL", smallest_use: "10 mL"',
)


def page(site: Site, key: str) -> PageView:
    return next(view for view in site.views if view.key == key)


def ids(view: PageView) -> set[str]:
    return {caution.id for step in view.steps for caution in step.cautions}


def test_a_stronger_bottle_moves_what_rests_on_it_and_nothing_else(tmp_path: Path) -> None:
    before = made_site(made_house(tmp_path / "before", FINE_TOOL, name="third"))
    after = made_site(made_house(tmp_path / "after", FINE_TOOL, (STOCK, STRONG), name="third"))
    old = {a.key: a.as_json() for a in before.register.all()}
    new = {a.key: a.as_json() for a in after.register.all()}
    moved = {
        key
        for key in old
        if old[key]["value"] != new[key]["value"] or old[key]["printed"] != new[key]["printed"]
    }
    reached = {
        key
        for key, row in old.items()
        if any(
            item["name"] in ("chemicals[perox].strength", "chemicals[perox].density")
            for item in row["inputs"]
        )
    }
    assert moved <= reached
    assert {
        f"stock_for_batch[system=K,task={t}]"
        for t in ("tray_spray", "parts_soak", "tool_dip", "loop_circulate")
    } <= moved
    codes = {view.key: view.control.values_code for view in before.views}
    changed = {view.key for view in after.views if view.control.values_code != codes[view.key]}
    anchors = {after.register.get(old[key]["id"], **old[key]["of"]).anchor for key in moved}
    shows = {view.key for view in after.views if tells(after, view, anchors)}
    assert changed <= shows
    assert changed == pages_that_differ(before, after)
    assert {"SOP-02", "SOP-03-K", "SOP-06-K", "SOP-24-K"} <= changed
    assert not changed & {"SOP-01", "SOP-08-K", "SOP-08-M", "SOP-13-K", "SOP-13-M", "SOP-16", "SOP-20"}
    strength = {view.key for view in after.views if "34 % w/w" in str(view)}
    assert strength <= changed


def tells(site: Site, view: PageView, anchors: set[str]) -> bool:
    """Whether a page prints the new strength, one of the moved amounts or a figure that rests on one."""
    printed = {amount.printed for amount in site.register.all() if amount.anchor in anchors}
    return "34 %" in str(view) or any(text in str(view) for text in printed)


def test_bands_words_and_equipment_follow_the_strength(tmp_path: Path) -> None:
    """Source of the bands: Regulation (EC) 1272/2008 Annex VI, hydrogen peroxide: eye damage from 8 %, irritant from 5 %;
    oxidiser and inhalation rows below 35 % from a statutory-insurance database, as cited in bands.yml."""
    weak = page(manual_of("third"), "SOP-03-K")
    strong = page(made_site(made_house(tmp_path, FINE_TOOL, (STOCK, STRONG), name="third")), "SOP-03-K")
    labels = [
        next(c.label_line for c in view.cautions if c.id == "CHEM-PEROXIDE-CONC") for view in (weak, strong)
    ]
    assert "H318" in labels[0]
    assert "H332" not in labels[0]
    assert "H332" in labels[1]
    assert "10 %" in next(c.hazard for c in weak.cautions if c.id == "CHEM-PEROXIDE-CONC")
    assert "34 %" in next(c.hazard for c in strong.cautions if c.id == "CHEM-PEROXIDE-CONC")
    assert {"chemical splash goggles (not spectacles)"} <= {item.name for item in strong.ppe}


def test_strength_changed_without_its_density_is_refused(tmp_path: Path) -> None:
    with pytest.raises(DataProblems) as found:
        made_site(
            made_house(
                tmp_path,
                ('strength: "10 % w/w", density: "1.035', 'strength: "34 % w/w", density: "1.035'),
                name="third",
            )
        )
    assert [p.code for p in found.value.problems] == ["E05"]
    assert (
        '"1.035 g/mL" does not go with 34 % w/w. The published density of peroxide of that strength is 1.129 g/mL'
        in str(found.value)
    )


BLEACH = (
    "chemicals:\n",
    'chemicals:\n  - {id: bleach, name: "chlorine bleach", role: sanitizer, active: "sodium hypochlorite", strength: "5 % w/w", '
    'density: "1.08 g/mL", container: "1 L", containers_in_stock: 3, opened: 2031-05-01, expires: 2031-12-01, store_with: bleach, '
    "ppe: [goggles, gloves_chem, apron]}\n",
)
LOOP = (
    'loop_circulate: {chemical: perox, target: "0.3 % w/v", ceiling: "0.6 % w/v"',
    'loop_circulate: {chemical: bleach, target: "0.01 % w/v", ceiling: "0.02 % w/v"',
)
CHLORINE = (
    "test_strips:\n",
    'test_strips:\n  - {id: chlorine, name: "chlorine strip", measures: free_chlorine, pads: ["0 mg/L", "50 mg/L", "100 mg/L", "200 mg/L"]}\n',
)
DRAIN = (
    'dilute_peroxide_below: "0.3 % w/v"',
    'dilute_peroxide_below: "0.3 % w/v", dilute_chlorine_below: "0.005 % w/v"',
)
RESIDUE = ('residue_allowed: "5 mg/L"', 'residue_allowed: "0.5 mg/L"')  # chlorine is among them
SMALL = FINE_TOOL


def test_peroxide_and_bleach_in_one_cleanout_warn_and_ask_for_a_full_rinse_on_both_pages(
    tmp_path: Path,
) -> None:
    site = made_site(made_house(tmp_path, BLEACH, LOOP, CHLORINE, DRAIN, RESIDUE, SMALL, name="third"))
    for key in ("SOP-03-K", "SOP-06-K"):
        view = page(site, key)
        assert "CHEM-PEROXIDE-BLEACH" in ids(view), key
        lines = [line for line in view.before if line.startswith("Full rinse between")]
        assert len(lines) == 1
        assert "peroxide, food-contact grade" in lines[0]
        assert "chlorine bleach" in lines[0]
        assert lines[0].endswith(
            "drain and rinse until the strip reads 0.5 mg/L or less before the other is opened."
        )
    alone = manual_of("third")
    assert all("CHEM-PEROXIDE-BLEACH" not in ids(view) for view in alone.views)


def test_the_same_without_a_rinse_is_refused(tmp_path: Path) -> None:
    no_rinse = (
        'run_time: "60 min", level: pump_minimum_plus_flood, rinse: yes',
        'run_time: "60 min", level: pump_minimum_plus_flood, rinse: no',
    )
    with pytest.raises(DataProblems) as found:
        made_site(made_house(tmp_path, BLEACH, LOOP, CHLORINE, DRAIN, RESIDUE, SMALL, no_rinse, name="third"))
    assert {p.code for p in errors_in(found.value.problems)} == {"E23"}
    assert "without a full rinse between them" in str(found.value)


def test_acid_stored_with_bleach_is_refused(tmp_path: Path) -> None:
    shelf = ('store_with: bleach, "', 'store_with: one_shelf, "')
    bleach = (BLEACH[0], BLEACH[1].replace("store_with: bleach", "store_with: one_shelf"))
    acid = (
        'strength: "10 % w/w", density: "1.0543 g/mL"',
        'store_with: one_shelf, strength: "10 % w/w", density: "1.0543 g/mL"',
    )
    del shelf
    with pytest.raises(DataProblems) as found:
        made_site(made_house(tmp_path, bleach, acid, name="third"))
    told = [str(p) for p in found.value.problems]
    assert len(told) == 1
    assert (
        "down is stored with bleach (one_shelf). They must never meet: chlorine bleach with pH-down, nitric acid: chlorine gas"
        in told[0]
    )


def test_whoever_opens_a_stock_is_warned_of_lone_work_and_asked_for_a_second_person(tmp_path: Path) -> None:
    """Within call is not in the room: the warning stands in either house, the condition where the house asks for it."""
    alone = ("peroxide_or_acid_alone_in_room: no", "peroxide_or_acid_alone_in_room: yes")
    asked = "A second person stays within call while any stock is open."
    for site, within_call in (
        (made_site(made_house(tmp_path, alone, name="third")), False),
        (manual_of("third"), True),
    ):
        view = page(site, "SOP-03-K")
        assert "LONE-WORK" in ids(view)
        assert (asked in view.before) == within_call


def test_shelf_load_not_known_counts_for_the_rack_and_says_so(tmp_path: Path) -> None:
    """The rating given: 0.80 x 0.40 x 0.09 m of water is 28.8 kg, under 80 % of 100 kg. Not given: not known."""
    known = page(manual_of("third"), "SOP-06-K")
    assert "RACK-TIP" not in ids(known)
    text = (HOUSES / "third" / "site_data" / "house.yml").read_text(encoding="utf-8")
    rack = 'rack: {empty_mass: "40 kg", shelf_rating: "100 kg", fixed_to_wall: yes}'
    house = made_house(tmp_path, name="third")
    (house / "site_data" / "house.yml").write_text(
        text.replace(rack, "rack: {fixed_to_wall: yes}"), encoding="utf-8"
    )
    unknown = page(made_site(house), "SOP-06-K")
    shown = next(c for step in unknown.steps for c in step.cautions if c.id == "RACK-TIP")
    assert any("not known, measure this" in line for line in shown.not_known_lines)


def test_every_caution_of_a_page_stands_in_its_summary_and_before_a_step() -> None:
    for house in ("first", "second", "third"):
        for view in manual_of(house).views:
            assert {c.id for c in view.cautions} == ids(view)


def test_supplies_are_what_the_steps_use_and_nothing_else() -> None:
    site = manual_of("third")
    view = page(site, "SOP-08-K")
    names = {item.name for item in view.supplies}
    used = {tool for step in view.steps for tool in step.tools}
    poured = {
        p.tool for a in site.register.all() if a.anchor in {v.anchor for v in view.amounts} for p in a.pours
    }
    assert used <= names
    assert poured <= names
    stocks = {"part 1 (calcium)", "part 2 (phosphate)", "pH-down, nitric acid", "pH-up, potassium hydroxide"}
    assert stocks <= names
    assert names - used - poured - stocks <= {"stick"}


def stepped(tmp_path: Path, extra: str) -> PageView:
    """SOP-05 of the third house with one more step."""
    procedures = tmp_path / "procedures"
    shutil.copytree(PROCEDURES, procedures)
    file = procedures / "sop-05-soak-parts.md"
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace("done_when:", f"{extra}done_when:", 1), encoding="utf-8")
    return page(made_site(HOUSES / "third", procedures), "SOP-05-K")


def test_a_full_bucket_from_the_floor_gets_its_lift_caution_with_its_mass(tmp_path: Path) -> None:
    """10 L of water and a bucket of 0.6 kg are 10.6 kg; from 10 kg on the catalogue asks for the caution."""
    step = (
        "  - {id: carry, do: Carry the bucket to the sink., action: carry, where: tub,\n"
        "     lifts: [{container: bucket 10 L, from: floor, to: waist}]}\n"
    )
    carried = [s for s in stepped(tmp_path, step).steps if s.id == "carry"]
    shown = next(c for s in carried for c in s.cautions if c.id == "LIFT-WATER")
    assert shown.word == "CAUTION"
    assert "about 11 kg" in shown.hazard  # a load is rounded up


def test_a_step_can_be_repeated_for_each_variety_of_the_system(tmp_path: Path) -> None:
    step = "  - {id: name_it, repeat: variety, do: 'Read the label of {{ variety.name }}.', action: read, where: rack, expect: its name}\n"
    assert [s.do for s in stepped(tmp_path, step).steps][-1] == "Read the label of viola."


def test_a_state_the_engine_does_not_know_is_refused(tmp_path: Path) -> None:
    step = "  - {id: look, do: Look at it., action: inspect, where: rack, state: {moon_full: yes}}\n"
    with pytest.raises(DataProblems, match="is not one of the words for this"):
        stepped(tmp_path, step)

"""The path of a helper: order, hours, pages, records, and what is told of a house's modules."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path

import pytest

from macros.amounts import Register
from macros.house import load_house
from macros.manual.pages.build_page import build_pages
from macros.manual.procedures.load_files import load_procedures
from macros.manual.procedures.write_text import TextWriter
from macros.published.training.training import Module, training, training_units
from macros.site.site import Site
from macros.training.path.markdown import training_parts
from macros.training.path.path import PathView, module_named, training_path, training_problems
from macros.training.path.sheets import trainer_view, training_record
from tests.making import HOUSES, OWN_PAGE, PROCEDURES, made_house, made_register, views_of


def path_of(site: Site) -> PathView:
    path = training_path(site.register, site.views)
    assert path is not None
    return path


@pytest.fixture(scope="module")
def register_of_one_page() -> Register:
    """The fifth house: M1 1.0 h, M2 2.0 h, two shadow runs."""
    return made_register(HOUSES / "fifth")


def test_modules_are_the_units_and_what_is_asked_for_comes_before() -> None:
    units = [module.unit for module in training().modules]
    assert units == list(training_units())
    for number, module in enumerate(training().modules):
        assert set(module.needs) <= set(units[:number]), f"{module.unit} would close a ring"
        assert module.level_before <= module.level_after <= 3


def test_what_a_module_teaches_asks_for_it() -> None:
    files, _ = load_procedures(PROCEDURES)
    units = {file.data.id: file.data.units for file in files}
    taught = [(module, document) for module in training().modules for document in module.teaches]
    assert len({document for _, document in taught}) == len(taught), "a page is worked in one module"
    assert [(m.unit, d) for m, d in taught if m.unit not in units[d]] == []
    trainers = {file.data.id for file in files if file.data.who == "4"}
    assert {document for _, document in taught} == units.keys() - trainers


@pytest.mark.parametrize("name", ["fourth", "fifth"])
def test_pages_of_a_module_are_those_that_ask_for_it(sites: Mapping[str, Site], name: str) -> None:
    files, _ = load_procedures(PROCEDURES)
    asked = {file.data.id: file.data.units for file in files}
    for module in path_of(sites[name]).modules:
        wanted = [v.key for v in sites[name].views if module.data.unit in asked[v.document]]
        assert [page.key for page in module.pages] == wanted
        assert wanted, module.title


def test_what_may_be_done_alone_asks_for_no_later_module_and_no_higher_level(
    sites: Mapping[str, Site],
) -> None:
    passed: list[Module] = []
    seen: list[str] = []
    for module in path_of(sites["fourth"]).modules:
        passed.append(module.data)
        names = {data.title for data in passed}
        for page in module.lets:
            assert set(page.units) <= names, page.key
            assert page.level <= max(data.level_after for data in passed), page.key
        seen += [page.key for page in module.lets]
    assert len(seen) == len(set(seen))
    assert set(seen) == {view.key for view in sites["fourth"].views if 0 < view.level < 4}


def test_hours_are_the_sum_by_hand(tmp_path: Path, register_of_one_page: Register) -> None:
    text = OWN_PAGE.read_text(encoding="utf-8")
    (tmp_path / "page.md").write_text(text.replace("uses: [low strip]", "uses: [chlorine strip]"))
    files, _ = load_procedures(tmp_path)
    pages, _ = build_pages(files, register_of_one_page, TextWriter())
    path = training_path(register_of_one_page, views_of(pages, register_of_one_page))
    assert path is not None
    # steps of the page: 1 + 2 + 5 + 3 + 4 + 5 + 2 + 1 = 23 min; 1.0 h + 2.0 h + 2 x 23 min = 3.77 h, up to 3.8 h
    assert module_named(path, "M8").shadow_minutes == 23
    assert path.total == "3.8 h"
    assert path.total_working == "3 h of modules + 2 x 23 min"
    assert path.untimed == ("M3", "M4", "M5", "M6", "M7", "M8", "M9")


def test_the_amount_of_the_register_is_printed_as_it_stands_there(sites: Mapping[str, Site]) -> None:
    site = sites["fifth"]
    path = path_of(site)
    assert path.cleanout is not None
    assert path.cleanout.printed == site.register.get("training_hours").printed
    text = site.pages["training/path.md"].replace("\u00a0", " ")
    assert f"<strong>{path.cleanout.printed}</strong>" in text
    assert f"<strong>{path.total}</strong>" in text


def test_a_house_that_trains_nobody_has_no_path(sites: Mapping[str, Site]) -> None:
    for name, there in (("second", False), ("fourth", True)):
        site = sites[name]
        found = [a for a in site.pages if re.fullmatch(r"training/(path|m\d.*|trainer-.*)\.md", a)]
        assert bool(found) is there
        section = next(entry["Training"] for entry in site.navigation if "Training" in entry)
        assert any("training/path.md" in entry.values() for entry in section) is there
    with pytest.raises(KeyError, match="this house says nothing under training"):
        training_parts(sites["second"].register, sites["second"].views, "M8")


@pytest.mark.parametrize(
    ("new", "told"),
    [
        ('modules: {M1: "1.0 h", M12_attic: "2.0 h"}',
         "training.modules.M12_attic: M12_attic is no module of the path. Modules are M1_hygiene, "),
        ('modules: {M1: "1.0 h", M1_hygiene: "2.0 h"}',
         "training.modules.M1_hygiene: M1 and M1_hygiene are one module. Modules are M1_hygiene, "),
        ('trainee_shadow_runs: 1, modules: {M1: "1.0 h"}',
         "warning: training.trainee_shadow_runs: 1 shadow runs before a sign-off. 2 good runs at least, then one "
         "unannounced (our own rule). Write 2 or more."),
    ],
)  # fmt: skip
def test_modules_the_path_has_not_are_told_with_their_line(tmp_path: Path, new: str, told: str) -> None:
    old = 'modules: {M1: "1.0 h", M2: "2.0 h"}'
    if new.startswith("trainee"):
        old = f"trainee_shadow_runs: 2, {old}"
    folder = made_house(tmp_path, (old, new), name="fifth")
    house, _ = load_house(folder)
    lines = (folder / "site_data" / "house.yml").read_text(encoding="utf-8").splitlines()
    (line,) = (number for number, text in enumerate(lines, 1) if new in text)
    assert house is not None
    found = [str(problem) for problem in training_problems(house)]
    assert len(found) == 1
    assert found[0].startswith(f"site_data/house.yml:{line}: ")
    assert told in found[0]


def test_the_trainers_sheet_has_four_lines_four_passes_and_the_dates(sites: Mapping[str, Site]) -> None:
    site = sites["fourth"]
    view = trainer_view(site.register, module_named(path_of(site), "M5"))
    # TWI: timetable, breakdown, everything ready, workplace as it should be kept; four passes; day 1, 7, 30, 90
    assert [head for head, _ in view.get_ready] == [
        "By when", "What you teach from", "Within reach", "The room",
    ]  # fmt: skip
    assert len(view.told.passes) == 4
    assert any("1, 7, 30 and 90 days" in line for line in view.follow_up)
    assert any("12 of 12" in line for line in view.mastered)
    assert any(line.startswith("2 good runs watched") and "1 more" in line for line in view.mastered)


def test_the_record_has_every_topic_with_unit_and_revision(sites: Mapping[str, Site]) -> None:
    site = sites["fourth"]
    module = module_named(path_of(site), "M8")
    record = training_record(site.register, module)
    for page in module.taught:
        assert any(
            key.split(",")[0] in (f"M8 {page.key}", f"M8 {page.document}-K")
            and (page.system in ("", "K") or f", -{page.system}" in key)
            and rev.startswith(page.control.revision)
            for key, _, rev in record.topics
        ), page.key
    assert record.runs == ("Run 1", "Run 2", "Unannounced")
    parts = training_parts(site.register, site.views, "M8_cleanout")
    html = str(parts[-1].html)
    # 21 CFR 112.30(b) asks for date, topics and person; trainer, method, result and signatures are our own
    for field in ("Name", "Trainer", "Topic", "Rev.", "Run 1, date", "Run 2, date", "Unannounced, date",
                  "Method of check", "Result", "Signed, helper", "Signed, trainer"):  # fmt: skip
        assert f">{field}<" in html, field


def test_the_paper_of_a_module_is_trainers_sheet_breakdowns_and_record(sites: Mapping[str, Site]) -> None:
    site = sites["fourth"]
    module = module_named(path_of(site), "m8")
    parts = training_parts(site.register, site.views, "M8")
    assert [part.key for part in parts] == ["M8-trainer", "M8-breakdown", "M8-record"]
    for sheet in module.sheets:
        assert f'data-key="{sheet.key}"' in parts[1].html
    assert len({part.key for part in parts}) == len(parts)
    with pytest.raises(KeyError, match="M0 is no module: there are M1, M2, M3, M4, M5, M6, M7, M8, M9"):
        training_parts(site.register, site.views, "M0")


@pytest.mark.parametrize("name", ["fourth", "fifth"])
def test_chemicals_of_the_house_are_told_before_the_first_use(sites: Mapping[str, Site], name: str) -> None:
    site = sites[name]
    house = site.register.house
    text = site.pages["training/m2-room-tour-and-emergencies.md"]
    # the items of 29 CFR 1910.1200(h)(3) and the times of (h)(1)
    for item in ("How a release is noticed", "do to body and room", "Way of working", "In an emergency",
                 "What to wear", "Labels and safety data sheets", "before the first use", "at each new hazard"):  # fmt: skip
        assert item in text, item
    assert house.chemicals
    for chemical in house.chemicals:
        assert text.count(f'<th scope="row">{chemical.name}') >= 3, chemical.name
        assert (chemical.sds_page or "not known: ask the owner") in text
    assert "Chemicals of this house" not in site.pages["training/m7-mixing.md"]
    record = training_record(site.register, module_named(path_of(site), "M2"))
    assert [text for key, text, _ in record.topics if key == "M2 chemicals"] == list(
        training().chemicals.topics
    )

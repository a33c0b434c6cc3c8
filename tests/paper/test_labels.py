"""What the labels of a house say: all of them, from the amounts, with the hazard words of the strength made."""

from __future__ import annotations

from pathlib import Path

import pytest

from macros.amounts import Register
from macros.manual.house_facts.chemicals_in_hand import made_handling, stock_handling
from macros.paper.labels.all_labels import LABEL_KINDS, house_labels
from macros.paper.labels.hazard_words import (
    NO_WORDS,
    UNLISTED,
    first_aid_rows,
    hazard_rows,
    never_with_row,
    wear_row,
)
from macros.paper.labels.label import LabelView
from macros.published.safety.substances import Handling
from tests.making import HOUSES, made_house, made_register

ALL = ("second", "fourth", "fifth")


@pytest.fixture(scope="module")
def registers() -> dict[str, Register]:
    """Of every house, computed once."""
    return {name: made_register(HOUSES / name) for name in ALL}


def text_of(label: LabelView) -> str:
    """All words of a label in reading order."""
    rows = [
        " ".join(
            filter(None, (row.word, row.head, row.text, *(f"{b.head} ____ {b.after}" for b in row.blanks)))
        )
        for row in label.rows
    ]
    return "\n".join((label.name, label.sub, *rows))


def labels_of(register: Register, kind: str) -> list[LabelView]:
    return house_labels(register, [], kinds=[kind])


@pytest.mark.parametrize("name", ALL)
def test_everything_has_its_label(registers: dict[str, Register], name: str) -> None:
    register = registers[name]
    house = register.house
    assert house.sanitizing is not None
    batches = labels_of(register, "batch")
    assert len(batches) == len(house.sanitizing.tasks) * len(house.systems)
    assert {
        (one.badge, task)
        for one in batches
        for task in house.sanitizing.tasks
        if task.replace("_", " ") in one.sub
    } == {(system.id, task) for system in house.systems for task in house.sanitizing.tasks}
    assert [one.name for one in labels_of(register, "decanted")] == [one.name for one in house.chemicals]
    bottles = {one.name for one in labels_of(register, "stock")}
    assert bottles == {one.name for one in house.chemicals} | {one.name for one in house.nutrients.parts}
    trays = {one.name for one in labels_of(register, "tray")}
    assert trays == {f"Tray {s.id}-{n}" for s in house.systems for n in range(1, s.trays.count + 1)}
    assert [one.badge for one in labels_of(register, "tank")] == [one.id for one in house.systems]
    sown = {name for sheet in house.sow_layout.values() for name in sheet}
    assert {one.name.rpartition(" (")[0] for one in labels_of(register, "sowing")} == sown
    assert len(house_labels(register, [])) == sum(len(labels_of(register, kind)) for kind in LABEL_KINDS)


def test_a_system_has_its_own_labels_and_those_of_the_room(registers: dict[str, Register]) -> None:
    labels = house_labels(registers["fourth"], [], system="M")
    assert {one.badge for one in labels} == {"M", ""}
    assert {one.kind for one in labels if one.badge == ""} == {"decanted", "stock"}
    assert {one.name for one in labels if one.kind == "sowing"} == {"rocket (Ro)", "lettuce (Le)"}


@pytest.mark.parametrize("name", ALL)
def test_figures_are_the_printed_ones(registers: dict[str, Register], name: str) -> None:
    register = registers[name]
    for label in labels_of(register, "batch"):
        task = next(t for t in register.house.sanitizing.tasks if t.replace("_", " ") in label.sub)  # type: ignore[union-attr]
        of = {"system": label.badge, "task": task}
        text = text_of(label)
        assert f"{register.get('strength_made', **of).printed} " in text
        assert f"Dead at ____ {register.get('batch_life_end', **of).printed} after made" in text
        assert "by ____" in text
    for label in labels_of(register, "tank"):
        text = text_of(label)
        for id_ in ("res_fill", "res_refill", "res_dead"):
            amount = register.get(id_, system=label.badge)
            assert f"{amount.printed}, {amount.tool}" in text
        for id_ in ("ec_band", "ph_band"):
            assert register.get(id_, system=label.badge).printed in text
        assert "not for the tank's catalogue size" in text
    for label in labels_of(register, "sowing"):
        text = text_of(label)
        name = label.name.rpartition(" (")[0]
        for id_ in ("sow_plugs", "sow_date", "dome_off", "window_opens", "window_closes"):
            assert register.get(id_, variety=name).printed in text
        assert f"Lot {name}-1." in text
    for chemical in register.house.chemicals:
        text = text_of(next(one for one in labels_of(register, "stock") if one.name == chemical.name))
        assert f"{chemical.strength.written} {chemical.active}" in text
        assert f"Discard on {register.get('discard_date', chemical=chemical.id).printed}" in text


def test_trays_name_what_stands_on_them_and_leave_the_mark_blank(registers: dict[str, Register]) -> None:
    """Expected by hand from the crop plan of the house: 8 violas, 170 mm apart, on both plates of K-1."""
    by_name = {one.name: text_of(one) for one in labels_of(registers["fourth"], "tray")}
    assert "8 viola (Vi), 170 mm apart" in by_name["Tray K-1"]
    assert "8 rocket (Ro), 120 mm apart" in by_name["Tray M-1"]
    assert "Planted ____" in by_name["Tray K-2"]
    assert all("Hand-flood mark ____" in text for text in by_name.values())
    assert all("Planted ____" in text_of(one) for one in labels_of(registers["second"], "tray"))


def test_look_alikes_are_told(registers: dict[str, Register]) -> None:
    by_name = {one.name: text_of(one) for one in labels_of(registers["fourth"], "sowing")}
    assert "Looks like: lettuce." in by_name["rocket (Ro)"]
    assert "Looks like: rocket." in by_name["lettuce (Le)"]
    assert "Looks like" not in by_name["viola (Vi)"]


# Regulation (EC) 1272/2008, Annex VI, entry 008-003-00-9 for peroxide, and the sources of bands.yml for hypochlorite:
# the words each strength must carry, and those it must not carry yet.
CROSSINGS = [
    ("hydrogen_peroxide", 3.0, "", "irritation"),
    ("hydrogen_peroxide", 4.9, "", "irritation"),
    ("hydrogen_peroxide", 5.0, "serious eye irritation", "eye damage"),
    ("hydrogen_peroxide", 8.0, "serious eye damage", "skin irritation"),
    ("hydrogen_peroxide", 35.0, "skin irritation; may irritate airways", "burns"),
    ("hydrogen_peroxide", 50.0, "severe skin burns and eye damage", "explosion"),
    ("hydrogen_peroxide", 70.0, "may cause fire or explosion", "no hazard words"),
    ("sodium_hypochlorite", 0.9, "", "irritation"),
    ("sodium_hypochlorite", 1.0, "serious eye irritation", "eye damage"),
    ("sodium_hypochlorite", 2.5, "toxic to water life", "contact with acids"),
    ("sodium_hypochlorite", 5.0, "contact with acids sets free toxic gas", "very toxic to water life"),
    ("sodium_hypochlorite", 10.0, "very toxic to water life", "no hazard words"),
    ("phosphoric_acid", 24.9, "skin irritation", "burns"),
    ("phosphoric_acid", 25.0, "severe skin burns", "no hazard words"),
    ("potassium_hydroxide", 0.5, "serious eye irritation", "burns"),
    ("potassium_hydroxide", 2.0, "severe skin burns", "swallowed"),
]


@pytest.mark.quick
@pytest.mark.parametrize(("substance", "percent", "words", "not_yet"), CROSSINGS)
def test_hazard_words_are_those_of_the_band(
    registers: dict[str, Register], substance: str, percent: float, words: str, not_yet: str
) -> None:
    rows = hazard_rows(Handling(substance, percent), registers["fourth"], "label", as_bought=False)
    codes = " ".join(row.text for row in rows if row.head == "At this strength:")
    assert words in codes
    assert bool(codes) == bool(words)
    assert not_yet not in codes


def test_a_stronger_dilution_crosses_into_another_band(
    tmp_path: Path, registers: dict[str, Register]
) -> None:
    """From 5 % peroxide irritates eyes (CLP); from 8 %, where it damages them, no batch is made."""
    weak = text_of(next(one for one in labels_of(registers["fourth"], "batch") if "tool dip" in one.sub))
    house = made_house(
        tmp_path,
        (
            'tool_dip: {chemical: perox, target: "3.0 % w/v", ceiling: "4.0 % w/v"',
            'tool_dip: {chemical: perox, target: "5.5 % w/v", ceiling: "6.5 % w/v"',
        ),
        name="fourth",
    )
    register = made_register(house)
    strong = text_of(next(one for one in labels_of(register, "batch") if "tool dip" in one.sub))
    assert register.get("strength_made", system="K", task="tool_dip").printed in strong
    assert "CAUTION Peroxide stings eyes" in weak
    assert "CAUTION Peroxide stings eyes" in strong
    assert "serious eye irritation" not in weak
    assert "At this strength: serious eye irritation." in strong


def test_only_the_stock_as_bought_carries_its_labels_own_word(registers: dict[str, Register]) -> None:
    for name in ALL:
        for label in house_labels(registers[name], []):
            own = "Its own label says" in text_of(label)
            assert own == (
                label.kind in ("decanted", "stock")
                and label.name in {c.name for c in registers[name].house.chemicals}
            )


def test_a_weak_batch_says_so_and_is_still_guarded(tmp_path: Path) -> None:
    """The loop of 0.01 % hypochlorite lies under the floor of the catalogue; what kills with acid still stands.

    Of a bleach that loses 3 % a month more is poured, and with fresh stock that lies over the floor.
    """
    keeps = ("discard_below_fraction: 0.8,", "discard_below_fraction: 0.8, loss_per_month_after_opening: 0,")
    register = made_register(made_house(tmp_path, keeps, name="fifth"))
    text = text_of(next(one for one in labels_of(register, "batch") if "loop" in one.sub))
    assert NO_WORDS in text
    assert "DANGER Bleach with acid, feed: gas kills." in text
    assert "Wear splash goggles, chemical gloves" in text
    assert "at least 30 min" in text


# Never together, by hand from pairs.yml and its sources (CLP Annex II 1.2; NIOSH guideline on peroxide).
NEVER = [
    ("fifth", "plain chlorine bleach", ("acids", "peroxide", "plant feed", "ammonia")),
    (
        "fourth",
        "peroxide, food-contact grade",
        ("acids", "bases", "chlorine bleach", "plant feed", "metals", "paper"),
    ),
    ("fourth", "pH-down, nitric acid", ("bases", "chlorine bleach", "peroxide")),
    ("fourth", "part 1 (calcium)", ("chlorine bleach", "peroxide", "part 2 (phosphate) undiluted")),
    ("fourth", "part 2 (phosphate)", ("chlorine bleach", "peroxide", "part 1 (calcium) undiluted")),
]


@pytest.mark.parametrize(("name", "bottle", "words"), NEVER)
def test_what_must_never_meet_stands_on_the_bottle(
    registers: dict[str, Register], name: str, bottle: str, words: tuple[str, ...]
) -> None:
    label = next(one for one in labels_of(registers[name], "stock") if one.name == bottle)
    never = next(row.text for row in label.rows if row.head == "Never with")
    assert [word for word in words if word not in never] == []


def test_measures_are_those_of_the_group(registers: dict[str, Register]) -> None:
    by_name = {one.name: one for one in labels_of(registers["fourth"], "stock")}
    measure = {
        name: next(r.text for r in one.rows if r.head == "Measure with") for name, one in by_name.items()
    }
    assert measure["pH-down, nitric acid"] == "acid syringe 20 mL: for this group only."
    assert measure["part 1 (calcium)"] == "cylinder 100 mL: for this group only."
    assert (
        measure["peroxide, food-contact grade"]
        == "red syringe 5 mL, red cylinder 100 mL, red jug 1 L: for this group only."
    )


def test_what_is_not_known_is_no_guess(tmp_path: Path) -> None:
    house = made_house(
        tmp_path,
        (
            'density: "1.0543 g/mL",\n     container: "1 L", containers_in_stock: 1, opened: 2031-01-10, expires: 2033-01-01',
            'density: "1.0543 g/mL",\n     container: "1 L", containers_in_stock: 1',
        ),
        ("  sow_weekday: Monday\n", ""),
        ('ec_per_ml_per_l: "0.30 mS/cm", contains: [phosphate, sulfate]', "contains: [phosphate, sulfate]"),
        (
            "  - {id: viola-1, variety: viola, treatment: untreated, tested: 2031-04-01, germination: 0.80, seeds_tested: 10}\n",
            "",
        ),
        name="fourth",
    )
    register = made_register(house)
    stock = {one.name: text_of(one) for one in labels_of(register, "stock")}
    assert "Opened ____" in stock["pH-down, nitric acid"]
    assert "Expires not known: read the bottle" in stock["pH-down, nitric acid"]
    assert "Store with not known: ask the owner." in stock["pH-down, nitric acid"]
    assert "EC not known: read the bottle" in stock["part 2 (phosphate)"]
    assert "Expires not known: read the bottle." in stock["part 1 (calcium)"]
    decanted = {one.name: text_of(one) for one in labels_of(register, "decanted")}
    assert "Use up by not known: read the bottle" in decanted["pH-down, nitric acid"]
    assert "Safety data sheet: not known: ask the owner" in decanted["pH-down, nitric acid"]
    viola = next(text_of(one) for one in labels_of(register, "sowing") if one.name == "viola (Vi)")
    assert "Sown ____" in viola
    assert "Dome off ____ 8 days after sowing" in viola
    assert "Plant out ____ at 20 to 30 days" in viola
    assert "Lot not known: copy it from the packet." in viola


def test_a_batch_without_a_strength_has_a_blank_and_the_words_of_its_target(tmp_path: Path) -> None:
    house = made_house(
        tmp_path,
        (
            'soak_tub: {inside_length: "0.50 m", inside_width: "0.40 m", working_depth: "0.20 m", packing_fraction: 0.60}\n',
            "",
        ),
        name="fourth",
    )
    label = next(one for one in labels_of(made_register(house), "batch") if "parts soak" in one.sub)
    text = text_of(label)
    assert "Strength made ____ hydrogen peroxide: not known: ask the owner" in text
    assert "CAUTION Peroxide stings eyes" in text


def test_an_unlisted_substance_is_guarded_most(registers: dict[str, Register]) -> None:
    register = registers["fourth"]
    assert [row.text for row in hazard_rows(None, register, "label", as_bought=False)] == [UNLISTED]
    assert never_with_row(None, register.house, "Never mix with").text == "anything"
    assert wear_row(None, register).text == "splash goggles, chemical gloves"
    assert "at least 30 min" in first_aid_rows(None, register.house)[0].text


def test_the_label_takes_the_strength_the_pages_take(registers: dict[str, Register]) -> None:
    """Hypochlorite counts as active chlorine: 70.906 / 74.442 of its mass, from molar masses of Cl2 and NaOCl."""
    register = registers["fifth"]
    bleach = register.house.chemical("bleach")
    stock, made = stock_handling(bleach), made_handling(register, bleach, "parts_soak", "K")
    assert stock is not None
    assert made is not None
    assert stock.percent_by_mass == pytest.approx(6 * 70.906 / 74.442, rel=1e-3)
    exact = register.get("strength_made", system="K", task="parts_soak").exact
    assert made.percent_by_mass == pytest.approx(exact * 70.906 / 74.442, rel=1e-3)


def test_an_unknown_kind_is_our_own_fault(registers: dict[str, Register]) -> None:
    with pytest.raises(KeyError):
        house_labels(registers["fifth"], [], kinds=["sticker"])

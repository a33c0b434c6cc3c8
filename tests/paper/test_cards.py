"""Wall cards: each is there or told why not, its figures are the register's, and no card holds a number nobody rings."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import Path

import pytest

from macros.amounts.engine.amount import Amount
from macros.house import load_house
from macros.manual.house_facts.fact_text import fact_text
from macros.manual.house_facts.sign_off_levels import LEVELS
from macros.manual.pages.figures import amount_table
from macros.page_model.card import CardTable, CardView, Facts, Frames, Sentences
from macros.paper.cards import figures as card_figures
from macros.paper.cards import people_and_plants as card_people
from macros.paper.cards.cards import WallCards, emergency_problems, wall_cards
from macros.paper.cards.sheet import card_part, card_parts
from macros.published import source_of
from macros.site.site import Site
from tests.making import HOUSES, made_house, made_site

FIGURES = ("dilution", "level", "feed", "ph", "flood", "lifting")


@pytest.fixture(scope="module")
def cards(sites: Mapping[str, Site]) -> dict[str, WallCards]:
    return {name: wall_cards(site.register, site.views) for name, site in sites.items()}


def the(found: WallCards, key: str) -> CardView:
    (card,) = (card for card in found.cards if card.key == key)
    return card


def lines_of(card: CardView) -> Iterator[tuple[str, str, str]]:
    for block in card.blocks:
        if isinstance(block, Facts):
            yield from block.lines


def tables_of(card: CardView) -> list[CardTable]:
    return [block for block in card.blocks if isinstance(block, CardTable)]


def sentences_of(card: CardView) -> list[str]:
    return [line for block in card.blocks if isinstance(block, Sentences) for line in block.lines]


def test_a_whole_house_has_all_ten(cards: dict[str, WallCards]) -> None:
    keys = [card.key for card in cards["fourth"].cards]
    per_system = [f"CARD-{number}-{system}" for number in (2, 3, 4, 5, 6, 7) for system in "KM"]
    assert keys == ["CARD-1", *per_system, "CARD-8", "CARD-9", "CARD-10-1", "CARD-10-2", "CARD-10-3"]
    assert cards["fourth"].without == ()
    assert [card.number for card in cards["fifth"].cards] == [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 10, 10]


def test_what_a_house_lacks_is_told_in_words(cards: dict[str, WallCards]) -> None:
    assert [str(missing) for missing in cards["second"].without] == [
        "No card Plant pictures of system N: the house lists no varieties.",
        "No card Plant pictures of system S: the house lists no varieties.",
        "No card Lifting: the house sets no limits under lifting.",
        "No card Sign-off: the house names no people.",
    ]


@pytest.mark.parametrize("name", ["second", "fourth", "fifth"])
def test_each_kind_is_there_or_told(
    cards: dict[str, WallCards], sites: Mapping[str, Site], name: str
) -> None:
    there = {(card.kind, card.system) for card in cards[name].cards}
    told = {(missing.kind, missing.system) for missing in cards[name].without}
    systems = [system.id for system in sites[name].register.house.systems]
    wanted = {
        (kind, system)
        for kind, entry in source_of("cards").data["cards"].items()
        for system in (systems if entry["each"] == "system" else [""])
    }
    assert there | told == wanted
    assert there & told == set()


def printed_of(amount: Amount) -> set[str]:
    if amount.kind == "table":
        # What is to add to a tank is worked out by SOP-09; the card on its wall says what the tank holds.
        width = 2 if amount.id == "level_table" else None
        return {cell for row in amount_table(amount, "").rows for cell in row[:width]}
    return {amount.printed}


@pytest.mark.parametrize("name", ["second", "fourth", "fifth"])
def test_every_figure_is_printed_by_the_register(
    cards: dict[str, WallCards], sites: Mapping[str, Site], name: str
) -> None:
    """No figure on a card that the register, the stick or a fact of the house does not print letter for letter."""
    register = sites[name].register
    house = register.house
    printed = {text for amount in register.all() for text in printed_of(amount)} | {"–"}
    for system in house.systems:
        if system.timer is not None:
            printed.add(fact_text(system.timer.on_time_set, house.us))
            printed.add(", ".join(f"{clock:%H:%M}" for clock in system.timer.floods_set))
        metre, unit = (1 / 0.0254, "in") if house.us else (100, "cm")
        tank = system.reservoir
        for mark in (tank.fill_mark_height, tank.refill_mark_height, tank.pump_minimum_height):
            printed.add(f"{mark.to('m') * metre:.1f} {unit}")
    if house.sanitizing is not None:
        for task, data in house.sanitizing.tasks.items():
            printed.add(f"{data.target.written} to {data.ceiling.written}")
            made = register.of_id("strength_made", task=task)
            printed |= {f"{one.printed} {house.chemical(data.chemical).active}" for one in made}
    if house.lifting is not None:
        printed |= {house.lifting.one_person_limit.written, house.lifting.two_person_limit.written}
    looked = 0
    for card in cards[name].cards:
        if card.kind in FIGURES:
            values = [value for _, value, _ in lines_of(card)]
            values += [cell for table in tables_of(card) for row in table.rows for cell in row]
            assert set(values) <= printed, card.key
            looked += len(values)
    assert looked > 100


def test_no_figure_of_the_register_is_left_out(
    cards: dict[str, WallCards], sites: Mapping[str, Site]
) -> None:
    register = sites["fourth"].register
    told = {
        "CARD-2-K": (
            "stock_for_batch",
            "water_for_batch",
            "strength_made",
            "batch_life_end",
            "strip_band",
            "loop_volume",
        ),
        "CARD-4-K": ("dose_full", "ec_expected", "ec_band", "ph_band"),
        "CARD-5-K": ("ph_first_dose", "ph_next_dose", "ph_up_first_dose", "ph_band"),
        "CARD-6-K": ("flood_fill_time", "flood_drain_time", "pump_on_time", "missed_flood_clock"),
        "CARD-3-K": ("level_table", "res_fill", "res_refill", "res_dead"),
    }
    for key, ids in told.items():
        card = the(cards["fourth"], key)
        shown = {value for line in lines_of(card) for value in line}
        shown |= {cell for table in tables_of(card) for row in table.rows for cell in row}
        for id_ in ids:
            amounts = register.of_id(id_, system="K")
            assert amounts, id_
            for amount in amounts:
                assert all(any(text.startswith(one) for text in shown) for one in printed_of(amount)), (
                    amount.key
                )


def test_a_batch_is_told_in_the_order_of_pouring_with_its_basis(cards: dict[str, WallCards]) -> None:
    card = the(cards["fourth"], "CARD-2-K")
    first = next(block for block in card.blocks if isinstance(block, Facts))
    assert [name for name, _, _ in first.lines] == ["1 Water first", "2 Stock", "3 Water up to"]
    made = [value for name, value, _ in lines_of(card) if name == "Makes"]
    assert len(made) == 4
    assert all(value.endswith("% w/v") for value in made)  # of the stock at its foot
    assert any("10 % w/w, opened 2031-06-09" in line for line in sentences_of(card))


def test_level_table_by_hand(cards: dict[str, WallCards]) -> None:
    """A box of 0.50 m x 0.40 m holds 2 L a centimetre, 60 L at the fill mark: geometry. From the pump minimum, 5 cm."""
    (table,) = tables_of(the(cards["fourth"], "CARD-3-K"))
    assert table.rows == tuple((f"{cm} cm", f"{2 * cm} L") for cm in range(5, 31))
    assert {table.rows[row][0]: words for row, words in table.marks} == {
        "5 cm": "Pump minimum",
        "20 cm": "Refill mark",
        "30 cm": "Full",
    }


def test_doses_and_loads_by_hand(cards: dict[str, WallCards]) -> None:
    """60 L x 1.5 mL/L = 90 mL of each part; 10 L of water (1 kg/L) and a bucket of 0.6 kg weigh 10.6 kg."""
    feed = list(lines_of(the(cards["fourth"], "CARD-4-K")))
    assert feed[:2] == [
        ("No. 1 part 1 (calcium)", "90 mL", "cylinder 100 mL"),
        ("No. 2 part 2 (phosphate)", "90 mL", "cylinder 100 mL"),
    ]
    lifting = list(lines_of(the(cards["fourth"], "CARD-9")))
    assert ("Fill line of the bucket 10 L", "10 L", "filled to its brim 10.6 kg") in lifting
    assert ("One person, at most", "15 kg", "") in lifting


def test_a_long_level_table_is_thinned_and_keeps_its_marks(
    sites: Mapping[str, Site], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(card_figures, "ROWS_OF_LEVELS", 10)
    ((_, table),) = card_figures.level(sites["fourth"].register, "K")
    assert isinstance(table, CardTable)
    assert [row[0] for row in table.rows] == [
        "5 cm", "7 cm", "10 cm", "13 cm", "16 cm", "19 cm", "20 cm", "22 cm", "25 cm", "28 cm", "30 cm",
    ]  # fmt: skip
    assert [table.rows[row][0] for row, _ in table.marks] == ["5 cm", "20 cm", "30 cm"]


def test_topup_doses_too_small_are_told_not_printed(cards: dict[str, WallCards]) -> None:
    card = the(cards["fourth"], "CARD-4-K")
    (table,) = tables_of(card)
    assert table.columns[1:3] == ("No. 1, at 0.5 strength", "No. 2, at 0.5 strength")
    assert table.rows[0] == ("15 L", "–", "–", "22 mL", "22 mL")
    assert (
        "Under 15 L: too little to measure; wait, to the refill mark at most, then add plain water and read EC. – is too little to measure."
        in (sentences_of(card))
    )


def test_never_together_names_this_houses_stocks(cards: dict[str, WallCards]) -> None:
    """Bleach with acid gives chlorine gas (CDC chlorine guidance); peroxide decays on feed metals (NIOSH guideline)."""
    bleach = sentences_of(the(cards["second"], "CARD-1"))
    assert "plain chlorine bleach + pH-down: chlorine gas." in bleach
    peroxide = sentences_of(the(cards["fourth"], "CARD-1"))
    assert "peroxide + part 1 / part 2: fast decay: oxygen, heat, burst container." in peroxide
    assert not any("chlorine" in line for line in peroxide)


def test_two_stocks_of_like_names_keep_their_full_names(tmp_path: Path) -> None:
    house = made_house(
        tmp_path,
        ('name: "pH-up, potassium hydroxide"', 'name: "pH-down, potassium hydroxide"'),
        name="fourth",
    )
    loaded, _ = load_house(house)
    assert loaded is not None
    lines = card_people.never_together(loaded)
    assert any("pH-down, nitric acid" in line for line in lines)
    assert any("pH-down, potassium hydroxide" in line for line in lines)


def test_emergency_card_says_what_is_not_given(cards: dict[str, WallCards]) -> None:
    lines = {name: value for name, value, _ in lines_of(the(cards["second"], "CARD-1"))}
    assert lines["Ambulance, fire"] == "911"
    assert lines["Water for eyes"] == "plumbed eyewash by the door"
    assert lines["Water shut-off"] == "NOT GIVEN: ask the responsible person"
    told = [str(problem) for problem in cards["second"].problems]
    assert (
        "site_data/house.yml:10: warning: house.places.water_shutoff: water_shutoff is not given; the emergency wall card "
        'reads "NOT GIVEN: ask the responsible person" there. In an emergency nobody has time to ask. Write '
        "house.places.water_shutoff."
    ) in told


def test_emergency_card_with_a_number_not_filled_in_is_refused(tmp_path: Path) -> None:
    made = made_house(
        tmp_path,
        ('poison_line: "555-0101 (fictional)"', 'poison_line: "fill in before printing"'),
        ('breaker_panel: "hall, breaker 3"', 'breaker_panel: "<b>hall</b> & 3"'),
        name="fifth",
    )
    site = made_site(made)
    found = wall_cards(site.register, site.views)
    errors = [str(problem) for problem in found.problems if problem.severity == "error"]
    assert errors == [
        'site_data/house.yml:9: house.emergency.poison_line: poison_line reads "fill in before printing", so the emergency '
        "wall card is refused. A card on the wall holds numbers that somebody has rung. Write the number, ring it once, "
        "and print again."
    ]
    assert "CARD-1" not in [card.key for card in found.cards]
    assert "No card Emergency: its numbers are not real yet." in [str(missing) for missing in found.without]
    assert len(found.cards) == 11
    parts = card_parts(site.register, site.views)
    assert [part.key for part in parts] == [card.key for card in found.cards]
    # The text of a house is escaped: on the card it would stand on once its number is real.
    card = the_emergency_card(site)
    assert "&lt;b&gt;hall&lt;/b&gt; &amp; 3" in card
    assert "<b>hall" not in card


def the_emergency_card(site: Site) -> str:
    """The card of a house in all but its numbers."""
    blocks = card_people.emergency(site.register.house)[0]
    view = replace(wall_cards(site.register, site.views).cards[0], kind="emergency", blocks=blocks)
    return str(card_part(view).html)


@pytest.mark.parametrize("name", ["owner_phone", "ambulance_fire"])
def test_a_number_without_a_digit_is_refused(tmp_path: Path, name: str) -> None:
    old = {"owner_phone": "555-0102 (fictional)", "ambulance_fire": "112"}[name]
    house, _ = load_house(
        made_house(tmp_path, (f'{name}: "{old}"', f'{name}: "ask the owner"'), name="fifth")
    )
    assert house is not None
    errors = [str(problem) for problem in emergency_problems(house) if problem.severity == "error"]
    assert len(errors) == 1
    assert (
        f'house.emergency.{name}: {name} reads "ask the owner", so the emergency wall card is refused.'
        in errors[0]
    )


def test_plant_card_has_a_frame_for_each_and_names_look_alikes(cards: dict[str, WallCards]) -> None:
    card = the(cards["fourth"], "CARD-7-M")
    frames = [frame for block in card.blocks if isinstance(block, Frames) for frame in block.frames]
    assert [frame.name for frame in frames] == ["lettuce", "rocket"]
    assert "Lactuca sativa" in frames[0].words
    assert "looks like rocket" in frames[0].words
    assert any(line.startswith("Rocket and lettuce, both rosette.") for line in sentences_of(card))
    assert not any("both" in line for line in sentences_of(the(cards["fourth"], "CARD-7-K")))


def test_more_plants_than_frames_take_a_second_card(
    sites: Mapping[str, Site], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(card_people, "FRAMES", 2)
    found = card_people.plants(sites["fifth"].register.house, "K")
    names = [
        [frame.name for block in card if isinstance(block, Frames) for frame in block.frames]
        for card in found
    ]
    assert names == [["lettuce", "rocket"], ["viola"]]


def test_daily_round_keeps_the_order_and_the_limits_of_the_page(
    cards: dict[str, WallCards], sites: Mapping[str, Site]
) -> None:
    page = next(view for view in sites["second"].views if view.document == "SOP-16")
    (table,) = tables_of(the(cards["second"], "CARD-8"))
    rows = [(what, limits) for _, what, limits in table.rows]
    assert [number for number, _, _ in table.rows] == [str(n) for n in range(1, len(rows) + 1)]
    assert len(rows) == sum(not step.id.endswith("-S") for step in page.steps)
    assert rows[0] == ("Floor: wet places, count", "0")
    assert ("Level, in", "N: refill mark to 15.00; S: refill mark to 13.00") in rows
    assert ("EC, mS/cm", "1.1 to 1.6") in rows
    assert ("Draw a cup from each tank with the dipper.", "") in rows


def test_daily_round_of_many_racks_takes_more_cards(
    sites: Mapping[str, Site], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(card_people, "SYSTEMS", 1)
    page = next(view for view in sites["second"].views if view.document == "SOP-16")
    found = card_people.daily_round(page, ["N", "S"])
    limits = [
        {row[1]: row[2] for row in table.rows}["Level, in"]
        for (table,) in found
        if isinstance(table, CardTable)
    ]
    assert limits == ["refill mark to 15.00", "refill mark to 13.00"]


def test_sign_off_has_every_procedure_its_level_and_empty_boxes(
    cards: dict[str, WallCards], sites: Mapping[str, Site]
) -> None:
    rows = [
        row
        for card in cards["fourth"].cards
        if card.kind == "signoff"
        for t in tables_of(card)
        for row in t.rows
    ]
    levels = {view.document: view.level for view in sites["fourth"].views}
    assert {row[0].split(" ")[0]: int(row[2]) for row in rows} == levels
    assert all(row[3:] == ("", "") for row in rows)
    first = the(cards["fourth"], "CARD-10-1")
    assert tables_of(first)[0].columns[3:] == ("owner, now 4", "helper, now 1")
    assert f"Levels: {'; '.join(LEVELS)}." in sentences_of(first)


def test_every_card_says_where_its_figures_come_from(
    cards: dict[str, WallCards], sites: Mapping[str, Site]
) -> None:
    for name, found in cards.items():
        pages = {view.key: view for view in sites[name].views}
        for card in found.cards:
            assert card.sources, card.key
            for source in card.sources:
                control = pages[source.page].control
                assert (source.revision, source.values_code) == (control.revision, control.values_code)
                assert (
                    not card.system or source.page.endswith(f"-{card.system}") or "-" not in source.page[4:]
                )
            assert card.built_for == sites[name].register.built_for.isoformat()
            assert card.control.draft_reasons  # nothing of these houses has been issued
            assert (card.control.revision, card.control.effective) == ("0", "not issued")


def test_the_paper_says_void_and_carries_the_code(sites: Mapping[str, Site]) -> None:
    site = sites["fourth"]
    parts = card_parts(site.register, site.views)
    assert len({part.key for part in parts}) == len(parts)
    for part in parts:
        assert part.one_page
        assert "Scan: another revision or code there? Bin this card." in part.html
        assert part.key in part.html
        assert 'class="qr"><svg' in part.html
        assert "2031-05-01" in part.html
        assert "DRAFT" in part.html
    level = next(part for part in parts if part.key == "CARD-3-M")
    assert 'aria-label="System M">M<' in level.html


@pytest.mark.parametrize(
    ("name", "lacks"), [("first", {"plants", "lifting", "signoff"}), ("third", {"signoff"})]
)
def test_a_house_with_little_has_fewer_cards_and_no_crash(name: str, lacks: set[str]) -> None:
    site = made_site(HOUSES / name)
    found = wall_cards(site.register, site.views)
    assert {"emergency", "level", "feed", "ph", "round"} <= {card.kind for card in found.cards}
    assert lacks <= {missing.kind for missing in found.without}
    assert len(card_parts(site.register, site.views)) == len(found.cards)

"""What a helper is told of the chemicals of this house: the items of 29 CFR 1910.1200(h)(3), from the house's own stock."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from macros.amounts import Register
from macros.house.records.chemicals import Chemical
from macros.house.records.feeding import NutrientPart
from macros.manual.house_facts.chemicals_in_hand import part_handling, stock_handling
from macros.manual.house_facts.emergency import NOT_GIVEN
from macros.page_model.page import LinkView, PageView
from macros.paper.labels.hazard_words import first_aid_rows, hazard_rows, never_with_row, wear_row
from macros.paper.labels.label import LabelRow, known
from macros.published.safety.substances import Handling
from macros.published.training.training import ChemicalLessons, training


@dataclass(frozen=True)
class ChemicalTold:
    """One stock: how a release is noticed, what it does, what to wear, what it must not meet, where it is and its sheet."""

    name: str
    strength: str
    noticed: str
    hazards: tuple[tuple[str, str], ...]
    wear: str
    never_with: str
    store: str
    data_sheet: str


@dataclass(frozen=True)
class ChemicalTraining:
    """The part of the module on chemicals. `emergency` are (head, text); `pages` lead to what to do in a spill."""

    lessons: ChemicalLessons
    chemicals: tuple[ChemicalTold, ...]
    emergency: tuple[tuple[str, str], ...]
    pages: tuple[LinkView, ...]


def chemical_topics(unit: str) -> tuple[str, ...]:
    """The items a module's training sheet has a line for; none in another module than that of the chemicals."""
    told = training().chemicals
    return told.topics if unit == told.module else ()


def chemical_training(register: Register, views: Sequence[PageView], unit: str) -> ChemicalTraining | None:
    """What the module tells of this house's chemicals; None in another module, or in a house without any."""
    house, told = register.house, training().chemicals
    if unit != told.module:
        return None
    stocks = [_chemical(register, chemical) for chemical in house.chemicals]
    stocks += [_part(register, part) for part in house.nutrients.parts_in_order()]
    if not stocks:
        return None
    places = house.house.places
    first_aid = first_aid_rows(None, house)
    return ChemicalTraining(
        told,
        tuple(stocks),
        (
            ("Water for eyes", places.eyewash or NOT_GIVEN),
            ("Spill kit", places.spill_kit or NOT_GIVEN),
            *((_bare(row.head), row.text) for row in first_aid),
        ),
        tuple(LinkView(page.title, page.page_address) for page in views if page.document == "SOP-22"),
    )


def _chemical(register: Register, chemical: Chemical) -> ChemicalTold:
    strength = f"{chemical.strength.written} {chemical.active}"
    return _told(
        register,
        stock_handling(chemical),
        (chemical.name, strength, f"with {chemical.store_with}" if chemical.store_with else known(None)),
        chemical.ppe,
        known(chemical.sds_page),
    )


def _part(register: Register, part: NutrientPart) -> ChemicalTold:
    names = (part.name, "feed concentrate", "feed parts: off the floor, out of light")
    return _told(register, part_handling(part), names, (), known(None))


def _told(
    register: Register,
    item: Handling | None,
    names: tuple[str, str, str],
    ppe: Sequence[str],
    data_sheet: str,
) -> ChemicalTold:
    told = training().chemicals
    name, strength, store = names
    return ChemicalTold(
        name,
        strength,
        told.noticed.get(item.substance, told.unlisted) if item is not None else told.unlisted,
        tuple(_said(row) for row in hazard_rows(item, register, "store", as_bought=True)),
        wear_row(item, register, ppe).text,
        never_with_row(item, register.house, "").text,
        store,
        data_sheet,
    )


def _said(row: LabelRow) -> tuple[str, str]:
    return row.word or _bare(row.head), row.text


def _bare(head: str) -> str:
    return head.removesuffix(":")

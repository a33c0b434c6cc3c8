"""Paper of training: the printed roster, the naming test and its cards."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from macros.amounts import Register
from macros.html.environment import fragment
from macros.html.paper import Part
from macros.page_model.page import PageView
from macros.page_model.table import Table
from macros.photographs import NO_PHOTOGRAPHS, Photographs
from macros.training.path.naming_test import NamingTest, Plant, naming_tests, plants_of
from macros.training.path.roster import roster_tables

PEOPLE = 6
"""People side by side on the printed roster."""
COLUMNS, ROWS = 2, 3
CARD_MARGIN = "15mm 15mm 11mm 15mm"
"""Left and right alike, so that the backs stand behind the fronts when the sheet is turned over its long edge."""


def roster_part(register: Register, views: Sequence[PageView]) -> Part:
    """The printed roster, with initials: for the wall or the binder, not for the site."""
    matrix, *lists = roster_tables(register, views, names=True)
    lines = tuple(
        (
            entry.who.replace("_", " "), entry.procedure, str(entry.revision), str(entry.when),
            entry.by.replace("_", " "), str(entry.level or ""), ", ".join(map(str, entry.runs)),
        )
        for entry in register.house.sign_offs
    )  # fmt: skip
    return Part(
        key="ROSTER",
        title="Roster",
        html=fragment(
            "roster.html.j2",
            house=register.house.house.name,
            day=register.built_for,
            matrices=_side_by_side(matrix),
            lists=[table for table in lists if table.rows],
            lines=lines,
        ),
        styles=("sign-off",),
        top_left=f"{register.house.house.name} · Roster · names people: keep it in the house",
        top_right="ROSTER",
        bottom_left=f"As of {register.built_for}",
        bottom_right="Void once the house file changes",
        landscape=True,
    )


def _side_by_side(matrix: Table) -> list[Table]:
    """The matrix cut into tables of a few people each; the first two columns stand in each."""
    people = len(matrix.heads) - 2
    return [
        replace(
            matrix,
            heads=(*matrix.heads[:2], *matrix.heads[start : start + PEOPLE]),
            rows=tuple((*row[:2], *row[start : start + PEOPLE]) for row in matrix.rows),
        )
        for start in range(2, 2 + people, PEOPLE)
        if matrix.rows
    ]


def naming_parts(
    register: Register, views: Sequence[PageView], photographs: Photographs = NO_PHOTOGRAPHS
) -> list[Part]:
    """The cards, each page of fronts before its backs; then for each test the trainer's key, then the helper's sheets.

    Cards and keys take two pages each, so that on paper printed on both sides the backs meet their fronts and no
    helper's sheet stands on the back of a key. Empty where the house has fewer than two varieties.
    """
    tests = naming_tests(register)
    if not tests:
        return []
    training = next((view for view in views if view.document == "SOP-26"), None)
    keys = [_test_part(register, test, "trainer", training) for test in tests]
    sheets = [_test_part(register, test, "helper", training) for test in tests]
    return [*_card_parts(register, photographs), *keys, *sheets]


def _test_part(register: Register, test: NamingTest, whose: str, training: PageView | None) -> Part:
    number = f"-{test.number}" if test.of > 1 else ""
    kind = "KEY: trainer only" if whose == "trainer" else "helper"
    return Part(
        key=f"NAMING-{whose}{number}",
        title=f"Naming test, {whose}",
        html=fragment(
            "naming_test.html.j2",
            t=test,
            whose=whose,
            house=register.house.house.name,
            page=training,
            plants=tuple(dict.fromkeys(sorted(test.order, key=lambda plant: plant.number))),
        ),
        styles=("sign-off",),
        top_left=f"{register.house.house.name} · Naming test · {kind}",
        top_right=f"test {test.code}",
        bottom_left=f"Drawn for {register.built_for}",
        bottom_right="Trainer's and helper's sheet carry the same code",
        one_page=whose == "helper",
    )


def _card_parts(register: Register, photographs: Photographs) -> list[Part]:
    plants = plants_of(register.house, photographs)
    each = COLUMNS * ROWS
    parts = []
    for sheet, start in enumerate(range(0, len(plants), each), start=1):
        rows = _rows(plants[start : start + each])
        for side in ("front", "back"):
            shown = rows if side == "front" else [list(reversed(row)) for row in rows]
            parts.append(
                Part(
                    key=f"NAMING-cards-{sheet}-{side}",
                    title=f"Plant cards {sheet}, {side}",
                    html=fragment("naming_cards.html.j2", rows=shown, side=side),
                    styles=("sign-off",),
                    top_left=f"{register.house.house.name} · Plant cards {sheet} · {side}",
                    top_right="print both sides, turn on the long edge",
                    bottom_left=f"Built for {register.built_for}",
                    bottom_right="Cut along the lines",
                    margin=CARD_MARGIN,
                    one_page=True,
                )
            )
    return parts


def _rows(plants: Sequence[Plant]) -> list[list[Plant | None]]:
    """The cards of a sheet by rows; the last row is filled with empty places, so that mirroring keeps its columns."""
    filled: list[Plant | None] = [*plants, *[None] * (-len(plants) % COLUMNS)]
    return [filled[n : n + COLUMNS] for n in range(0, len(filled), COLUMNS)]

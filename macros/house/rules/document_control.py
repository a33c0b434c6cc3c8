"""Rules on wall copies and reviews that need no page: counts, places, revisions, who reviewed and when."""

from __future__ import annotations

from macros.ground.problems import Problem
from macros.house.records.document_control import Review, WallCopy
from macros.house.records.house import House
from macros.house.rules.people import TRAINER
from macros.house.rules.report import told

MOST_COPIES = 20
"""Copies at one place; more is a slip of the pen in a small room. Our own, wide on purpose."""


def check_control(house: House) -> list[Problem]:
    """Every wall copy and every review that cannot be true."""
    problems: list[Problem] = []
    places: set[tuple[str, str]] = set()
    for copy in house.wall_copies:
        problems += _copy(house, copy)
        if (copy.item, copy.where) in places:
            problems.append(
                told(
                    copy,
                    "where",
                    f"{copy.item} stands here twice: {copy.where}",
                    "One entry for an item and a place",
                    "Write both copies under one count, or name the places apart",
                    "E32",
                )
            )
        places.add((copy.item, copy.where))
    reviewed: set[tuple[str, object]] = set()
    for review in house.reviews:
        problems += _review(house, review)
        if (review.page, review.when) in reviewed:
            problems.append(
                told(
                    review,
                    "when",
                    f"{review.page} is reviewed twice on {review.when}",
                    "One review a day for an item",
                    "Remove one",
                    "E32",
                )
            )
        reviewed.add((review.page, review.when))
    return problems


def _copy(house: House, copy: WallCopy) -> list[Problem]:
    problems = []
    if not copy.where.strip():
        problems.append(
            told(
                copy,
                "where",
                "no place is written",
                "Where the copy hangs, so that who swaps it finds it",
                "Write it, as: at the sink, left of the tap",
            )
        )
    if not 1 <= copy.count <= MOST_COPIES:
        problems.append(
            told(
                copy,
                "count",
                f"{copy.count} copies of {copy.item} at one place",
                f"1 to {MOST_COPIES} copies hang at a place",
                "Count them, or remove the entry where none hangs",
            )
        )
    revisions = sorted(entry.revision for entry in house.issued if entry.page == copy.item)
    if revisions and copy.printed not in revisions:
        problems.append(
            told(
                copy,
                "printed",
                f"revision {copy.printed} of {copy.item} was never issued",
                f"Issued are {', '.join(map(str, revisions))}",
                "Read the revision printed on the sheet that hangs there; take a sheet without one down",
            )
        )
    return problems


def _review(house: House, review: Review) -> list[Problem]:
    problems = []
    able = [person.role for person in house.people if person.level >= TRAINER]
    if house.people and review.by not in able:
        problems.append(
            told(
                review,
                "by",
                f'"{review.by}" may not review {review.page}',
                f"A review is by a role of level {TRAINER} under people: {', '.join(able) or 'there is none'}",
                "Write the role that reviewed it",
            )
        )
    issues = [entry.effective for entry in house.issued if entry.page == review.page]
    if issues and review.when < min(issues):
        problems.append(
            told(
                review,
                "when",
                f"{review.page} was reviewed on {review.when}, before its first issue on {min(issues)}",
                "What is reviewed is an issued page",
                "Mend the date",
            )
        )
    return problems

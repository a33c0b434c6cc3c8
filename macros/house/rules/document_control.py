"""Rules on wall copies and reviews that need no page: counts, places, revisions, who reviewed and when."""

from __future__ import annotations

from collections.abc import Iterator

from macros.ground.problems import Problem
from macros.house.records.document_control import Review, WallCopy
from macros.house.records.house import House
from macros.house.rules.people import TRAINER
from macros.house.rules.report import problem_at

MOST_COPIES = 20
"""Copies at one place; more is a slip of the pen in a small room. Our own, wide on purpose."""


def check_control(house: House) -> Iterator[Problem]:
    """Every wall copy and every review that cannot be true."""
    places: set[tuple[str, str]] = set()
    for copy in house.wall_copies:
        yield from _copy(house, copy)
        if (copy.item, copy.where) in places:
            what = f"{copy.item} stands here twice: {copy.where}"
            remedy = "Write both copies under one count, or name the places apart"
            yield problem_at(copy, "where", what, "One entry for an item and a place", remedy, "E32")
        places.add((copy.item, copy.where))
    reviewed: set[tuple[str, object]] = set()
    for review in house.reviews:
        yield from _review(house, review)
        if (review.page, review.when) in reviewed:
            what = f"{review.page} is reviewed twice on {review.when}"
            yield problem_at(review, "when", what, "One review a day for an item", "Remove one", "E32")
        reviewed.add((review.page, review.when))


def _copy(house: House, copy: WallCopy) -> Iterator[Problem]:
    if not copy.where.strip():
        what = "no place is written"
        allowed = "Where the copy hangs, so that who swaps it finds it"
        yield problem_at(copy, "where", what, allowed, "Write it, as: at the sink, left of the tap")
    if not 1 <= copy.count <= MOST_COPIES:
        what = f"{copy.count} copies of {copy.item} at one place"
        allowed = f"1 to {MOST_COPIES} copies hang at a place"
        yield problem_at(copy, "count", what, allowed, "Count them, or remove the entry where none hangs")
    revisions = sorted(entry.revision for entry in house.issued if entry.page == copy.item)
    if revisions and copy.printed not in revisions:
        what = f"revision {copy.printed} of {copy.item} was never issued"
        remedy = "Read the revision printed on the sheet that hangs there; take a sheet without one down"
        yield problem_at(copy, "printed", what, f"Issued are {', '.join(map(str, revisions))}", remedy)


def _review(house: House, review: Review) -> Iterator[Problem]:
    able = [person.role for person in house.people if person.level >= TRAINER]
    if house.people and review.by not in able:
        what = f'"{review.by}" may not review {review.page}'
        allowed = (
            f"A review is by a role of level {TRAINER} under people: {', '.join(able) or 'there is none'}"
        )
        yield problem_at(review, "by", what, allowed, "Write the role that reviewed it")
    issues = [entry.effective for entry in house.issued if entry.page == review.page]
    if issues and review.when < min(issues):
        what = f"{review.page} was reviewed on {review.when}, before its first issue on {min(issues)}"
        yield problem_at(review, "when", what, "What is reviewed is an issued page", "Mend the date")

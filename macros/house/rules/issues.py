"""Rules on the entries under `issued` that need no page: revisions of one item count up, a correction has one to correct."""

from __future__ import annotations

from collections.abc import Iterator

from macros.ground.problems import Problem
from macros.house.records.house import House
from macros.house.records.people import Issued
from macros.house.rules.report import problem_at


def check_issued(house: House) -> Iterator[Problem]:
    """Every entry that cannot follow the one before it."""
    last: dict[str, Issued] = {}
    for entry in house.issued:
        before = last.get(entry.page)
        yield from _first(entry) if before is None else _after(entry, before)
        last[entry.page] = entry


def _first(entry: Issued) -> Iterator[Problem]:
    if entry.noted is None and entry.revision >= 1:
        return
    if entry.noted is None:
        what = f"revision {entry.revision} of {entry.page}"
        allowed = "Revisions count from 1; 0 stands on a page that was never issued"
        yield problem_at(entry, "revision", what, allowed, "Let trayside issue write the entry")
        return
    what = f"a correction of {entry.page}, which was not issued before"
    allowed = "A correction keeps the revision of the entry above it"
    yield problem_at(entry, "noted", what, allowed, "Remove noted, or put back the entry that was lost")


def _after(entry: Issued, before: Issued) -> Iterator[Problem]:
    if entry.noted is not None and entry.revision == before.revision:
        return
    if entry.noted is None and entry.revision > before.revision and entry.effective >= before.effective:
        return
    field = "effective" if entry.revision > before.revision and entry.noted is None else "revision"
    yield problem_at(
        entry,
        field,
        f"{entry.page} is issued here as revision {entry.revision} of {entry.effective}, after revision "
        f"{before.revision} of {before.effective}",
        "The entries of a page stand in order, each with a higher revision and no earlier day; a correction (noted) keeps "
        "the revision",
        "Put the entries in order; trayside issue writes them so",
    )

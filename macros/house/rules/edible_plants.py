"""E16: what a house lists as food, held against the plants that are poisonous and those that published lists call food."""

from __future__ import annotations

from collections.abc import Iterator

from macros.ground.problems import Problem
from macros.ground.records import Record
from macros.house.records.crops import EdibleEntry
from macros.house.records.house import House
from macros.house.rules.report import problem_at, unknown_name
from macros.published.safety.edible import REFERENCES_NEEDED, edibility, references
from macros.published.safety.poisonous import Refusal


def check_edible(house: House) -> Iterator[Problem]:
    """A poisonous plant is refused wherever it stands; one that no list here names needs references that do."""
    entries = house.edible_list.entries if house.edible_list is not None else ()
    for entry in entries:
        for id_ in entry.references:
            yield from unknown_name(
                entry, "references", id_, "reference of the known list", references(), "Name one by its id"
            )
        yield from {problem.what: problem for problem in _of_entry(entry)}.values()
    listed = {entry.botanical for entry in entries}
    for variety in house.varieties:
        known = edibility(variety.botanical, variety.part)
        if variety.botanical not in listed and known.refused is not None:
            yield _refused(variety, variety.botanical, known.refused)


def _of_entry(entry: EdibleEntry) -> Iterator[Problem]:
    """Each part of an entry; what holds for the whole plant is told for each, in the same words."""
    for part in entry.parts:
        known = edibility(entry.botanical, part)
        if known.refused is not None:
            yield _refused(entry, entry.botanical, known.refused)
        elif known.standing == "not a name":
            yield problem_at(
                entry,
                "botanical",
                f'"{entry.botanical}" is no botanical name that can be looked up',
                "Genus and species, both written out, in Latin letters",
                "Write it as the seed packet does: Viola cornuta",
                "E16",
            )
        elif known.standing in ("disputed", "unlisted"):
            yield from _asks_references(entry, part, known.source)


def _refused(record: Record, botanical: str, refused: Refusal) -> Problem:
    plant = refused.plant
    name, said = plant.name.split(",")[0], plant.botanical or plant.genus
    what = (
        f"{botanical} reads as {said}, {name}, which is poisonous: {plant.danger}"
        if refused.likely
        else f"{botanical} is poisonous: {name}; {plant.danger}"
    )
    remedy = (
        "Is it another plant? Write genus and species as on the seed packet, without a cultivar. Else take it out of the house"
        if refused.likely
        else "Take it out of the house: no reference and no text beside it lets it pass"
    )
    return problem_at(record, "botanical", what, f"It stands in: {refused.table}", remedy, "E16")


def _asks_references(entry: EdibleEntry, part: str, disputed: str) -> Iterator[Problem]:
    named = [id_ for id_ in dict.fromkeys(entry.references) if id_ in references()]
    if len(named) >= REFERENCES_NEEDED:
        return
    why = f"is disputed ({disputed})" if disputed else "stands on no list known here"
    beside = f"; beside it stands {named[0]}" if named else ""
    yield problem_at(
        entry,
        "references",
        f"{part} of {entry.botanical} as food {why}{beside}",
        f"{REFERENCES_NEEDED} different references must name it, out of {', '.join(references())}",
        "Read it there and write both ids, as `references: [kunkel, mansfeld]`, or plan another",
        "E16",
    )

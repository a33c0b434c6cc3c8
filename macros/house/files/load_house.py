"""Reads a house folder: every `*.yml` under `site_data/` together, typed, checked; every problem in one run."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path
from types import MappingProxyType
from typing import Any

from macros.ground.house_files import files_of
from macros.ground.problems import Place, Problem, errors_in
from macros.ground.records import build_record
from macros.ground.units import QuantityMistake, parse_quantity
from macros.ground.yaml_source import Source, read_yaml, read_yaml_text
from macros.house.files.dropped import without_dropped
from macros.house.files.label_strengths import as_labels_say
from macros.house.files.partial_records import whole_parts
from macros.house.files.starter_explanations import homes
from macros.house.records.house import House
from macros.house.records.log import read_tables
from macros.house.rules import check_house

FOLDER = "site_data"
_MOST_PLACES = 3
"""Places of a fact that are told; a name of more says nothing."""


def load_house(
    folder: Path,
    day: date | None = None,
    added: Sequence[Path] = (),
    instead: Mapping[str, str] = MappingProxyType({}),
) -> tuple[House | None, list[Problem]]:
    """Load the house of a folder.

    Parameters
    ----------
    folder : holds `site_data/`; each section stands in one of its files, once
    day : the day ages are judged at; without it the house's `as_of`
    added : CSV files of readings that are not in the folder yet, read as if they were
    instead : texts to read in place of files of `site_data/`, or beside them, by their names: nothing is written

    Returns
    -------
    The house, or None where there is an error; and every problem, warnings included. Rules are checked on all
    parts that could be read, so a mistake in one field does not hide another elsewhere.
    """
    data_folder = folder / FOLDER
    merged, problems = sections_of(folder, instead)
    if merged is None:
        what = f"there is no *.yml file in {data_folder}"
        allowed = "A house is a folder that holds site_data/ with its facts"
        return None, [Problem(Place(f"{FOLDER}/", 1), "house", what, allowed, "Name the folder with --house")]
    whole = not any(problem.key == "file" for problem in problems)
    problems += without_dropped(merged)
    problems += read_tables(data_folder, merged, added)
    us = _writes_us_gallons(merged)
    house, mistakes = build_record(House, merged, us_gallons=us)
    if errors_in(problems):
        # A file that could not be read may hold the sections that seem to be missing.
        mistakes = [mistake for mistake in mistakes if "." in mistake.key or "missing" not in mistake.what]
    problems += _told(mistakes, problems, merged)
    part = house if house is not None else whole_parts(merged, mistakes, us)
    house, part = as_labels_say(house), as_labels_say(part)
    if part is not None and whole:  # else rules would miss what stands in the file that could not be read
        problems += check_house(part, day)
    return (None if errors_in(problems) else house), problems


def sections_of(
    folder: Path, instead: Mapping[str, str] = MappingProxyType({})
) -> tuple[Source | None, list[Problem]]:
    """All sections of a house as they are written, and what is wrong with its files; None where it has no file."""
    paths, unread = files_of(folder / FOLDER, ".yml", FOLDER, folder)
    names = {path.name for path in paths} | set(instead)
    if not names and not unread:
        return None, []
    return merge(
        [(None, unread), *(_read(folder / FOLDER / one, folder, instead.get(one)) for one in sorted(names))]
    )


def merge(read: list[tuple[Source | None, list[Problem]]]) -> tuple[Source, list[Problem]]:
    """All files as one source. A section that stands in two files is a problem that names both."""
    merged = Source(data={}, file=FOLDER)
    problems: list[Problem] = []
    for source, mistakes in read:
        problems += mistakes
        if source is None or source.data is None:
            continue
        if isinstance(source.data, dict):
            problems += _add_sections(merged, source)
        else:
            what, allowed = "the file does not hold sections", "Sections such as `room:`"
            remedy = "Look at the demo house for an example"
            problems.append(Problem(Place(source.file, 1), "file", what, allowed, remedy))
    first = next((source for source, _ in read if source is not None), None)
    if first is not None:
        merged.places[()] = Place(first.file, 1)
    return merged, problems


def _add_sections(merged: Source, source: Source) -> list[Problem]:
    problems = []
    twice = source.data.keys() & merged.data.keys()
    for section in source.data:
        if section in twice:
            what = f"the section stands here and at {merged.place((section,))}"
            allowed, remedy = "A section stands in one file, once", "Keep one of the two"
            problems.append(Problem(source.place((section,)), section, what, allowed, remedy, "E32"))
    merged.texts |= source.texts
    merged.data |= {section: value for section, value in source.data.items() if section not in twice}
    merged.places |= {path: at for path, at in source.places.items() if path and path[0] not in twice}
    return problems


def _told(mistakes: Sequence[Problem], of_files: Sequence[Problem], merged: Source) -> list[Problem]:
    """The mistakes as they are told; what a section that stands in two files lacks may stand in the other."""
    twice = {problem.key for problem in of_files if problem.code == "E32"}
    return [
        _under_its_names(_with_both_readings(mistake, merged))
        for mistake in mistakes
        if "missing" not in mistake.what or re.split(r"[.\[]", mistake.key)[0] not in twice
    ]


def _with_both_readings(problem: Problem, merged: Source) -> Problem:
    """E04: what the strength would be on either basis, where the density is there to say it."""
    if problem.code != "E04":
        return problem
    chemicals = merged.data.get("chemicals")
    for index, chemical in enumerate(chemicals if isinstance(chemicals, list) else ()):
        if merged.place(("chemicals", index, "strength")) != problem.place or not isinstance(chemical, dict):
            continue
        percent = re.match(r"[\d.]+", str(chemical.get("strength")))
        try:
            density = parse_quantity(str(chemical.get("density")), "density").to("g/mL")
        except QuantityMistake:
            return problem
        if percent:
            value = float(percent.group())
            readings = (
                f"As w/w at {density:g} g/mL this is {value * 10 * density:g} g/L; as w/v {value * 10:g} g/L"
            )
            return replace(problem, remedy=f"{problem.remedy}. {readings}")
    return problem


def _under_its_names(problem: Problem) -> Problem:
    """E31: where a fact belongs that stands as if it were a section, as when its # alone was taken off."""
    above = homes().get(problem.key, []) if "known section" in problem.what else []
    if not 0 < len(above) <= _MOST_PLACES:
        return problem
    return replace(problem, remedy=f"It belongs under {' or '.join(above)}: write it there")


def _read(path: Path, folder: Path, instead: str | None) -> tuple[Source | None, list[Problem]]:
    shown = path.relative_to(folder).as_posix()
    return read_yaml(path, shown, folder) if instead is None else read_yaml_text(instead, shown)


def _writes_us_gallons(merged: Source) -> bool:
    """Also where it cannot be told: the mistake is then the one in `unit_style`, not every gallon of the house."""
    house: Any = merged.data.get("house")
    return not isinstance(house, dict) or house.get("unit_style", "metric") != "metric"

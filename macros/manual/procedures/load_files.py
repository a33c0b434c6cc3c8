"""Reads the procedure files: front matter and body parted here, for the generator swallows broken front matter."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

from macros.ground.empty_texts import empty_texts
from macros.ground.house_files import files_of, read_file
from macros.ground.names import unknown_word
from macros.ground.problems import Place, Problem
from macros.ground.records import build_record
from macros.ground.yaml_source import Source, read_yaml_text
from macros.manual.procedures.file_format import SECTIONS, ProcedureData, StepData
from macros.page_model.clock_times import Answer
from macros.published.safety.actions import actions

MAX_PAGE_BYTES = 200_000


@dataclass(frozen=True)
class ProcedureFile:
    """One procedure: its data, its body, and where both stand. `front` is the text its data was read from;
    `own` marks a page that only this house has.
    """

    file: str
    data: ProcedureData
    body: str
    body_line: int
    front: str = ""
    own: bool = False

    @property
    def id(self) -> str:
        """`SOP-08`."""
        return self.data.id


def load_procedures(
    folder: Path, shown_as: str = "procedures", house: Path | None = None
) -> tuple[list[ProcedureFile], list[Problem]]:
    """Every procedure of a folder, sorted by id, and every problem met. No page is read from outside of `house`,
    which is the folder itself where none is named.

    Files whose name starts with an underscore or that carry no front matter are left to the generator.
    """
    found: list[ProcedureFile] = []
    paths, problems = files_of(folder, ".md", shown_as, house or folder, deep=True)
    if not paths and not problems:
        problems.append(Problem(Place(str(folder), 1), "procedures", "the folder holds no *.md file"))
    for path in paths:
        if path.name.startswith("_") or path.name == "index.md":
            continue
        shown = f"{shown_as}/{path.relative_to(folder).as_posix()}"
        procedure = _load(path, shown, house or folder, problems)
        if procedure is not None:
            found.append(procedure)
    problems += _doubles(found)
    return sorted(found, key=lambda p: p.id), problems


def _load(path: Path, shown: str, house: Path, problems: list[Problem]) -> ProcedureFile | None:
    text, refused = read_file(path, shown, house, MAX_PAGE_BYTES, "Make two pages of it")
    problems += refused
    if text is None:
        return None
    match = re.match(r"---\n(.*?)^---[ \t]*\n?(.*)", text, re.DOTALL | re.MULTILINE)
    if match is None:
        problems.append(
            Problem(
                Place(shown, 1),
                "page",
                "the page has no front matter between two lines of ---",
                "A procedure says its id, section and steps there",
                "Copy the front matter of another procedure",
            )
        )
        return None
    front, body = match.group(1), match.group(2)
    body_line = 2 + front.count("\n") + 1
    source, mistakes = read_yaml_text(front, shown, first_line=2)
    problems += mistakes
    if source is None:
        return None
    procedure, mistakes = procedure_of(source, body, body_line, front)
    problems += mistakes
    return procedure


def procedure_of(
    source: Source, body: str, body_line: int, front: str
) -> tuple[ProcedureFile | None, list[Problem]]:
    """The procedure of a front matter already read as YAML, and every mistake that it shows without a house."""
    _allow_single_amounts(source)
    data, problems = build_record(ProcedureData, source, ())
    if data is None:
        return None, problems
    procedure = ProcedureFile(source.file, data, body, body_line, front)
    return procedure, [*problems, *empty_texts(data), *_check(procedure)]


def _allow_single_amounts(source: Source) -> None:
    """`amount: dose_full` is short for a list of one mapping; keys beside `id` and `means` go under `of`."""
    steps = source.data.get("steps") if isinstance(source.data, dict) else None
    for index, step in enumerate(steps if isinstance(steps, list) else ()):
        if not isinstance(step, dict) or step.get("amount") is None:
            continue
        asks = step["amount"] if isinstance(step["amount"], list) else [step["amount"]]
        step["amount"] = [_ask(ask) for ask in asks]
        place = source.place(("steps", index, "amount"))
        for number in range(len(asks)):
            source.places.setdefault(("steps", index, "amount", number), place)


def _ask(ask: object) -> object:
    if isinstance(ask, str):
        return {"id": ask}
    if isinstance(ask, dict) and "of" not in ask:
        own = {key: ask[key] for key in ("id", "means") if key in ask}
        rest = {key: value for key, value in ask.items() if key not in own}
        return {"id": None, **own, **({"of": rest} if rest else {})}
    return ask


def _check(procedure: ProcedureFile) -> list[Problem]:
    """What no field can say of itself: known section and actions, the verb first, ids once, order of `after`."""
    data = procedure.data
    problems: list[Problem] = []
    if not re.fullmatch(r"SOP-\d\d", data.id):
        problems.append(_problem(data, "id", f"{data.id} is not a document id", "SOP- and two digits", ""))
    if data.section not in SECTIONS:
        problems.append(
            unknown_word(
                data.place("section"),
                data.key("section"),
                data.section,
                "section",
                SECTIONS,
            )
        )
    known_actions = actions()
    seen: set[str] = set()
    for step in data.steps:
        if step.id in seen:
            problems.append(_problem(step, "id", f"two steps are named {step.id}", "", "Rename one", "E32"))
        problems += [
            _problem(
                step,
                "after",
                f"{name} does not stand before this step",
                "Order on paper is order of work",
                "Move it",
            )
            for name in step.after
            if name not in seen
        ]
        seen.add(step.id)
        action = known_actions.get(step.action)
        if action is None:
            problems.append(
                unknown_word(
                    step.place("action"),
                    step.key("action"),
                    step.action,
                    "action of actions.yml",
                    known_actions,
                )
            )
        if "{" not in step.minutes and hands_on_minutes(step.minutes) is None:
            problems.append(not_minutes(step, step.minutes))
    return problems


def hands_on_minutes(text: str) -> float | None:
    """The minutes of a step, under 10,000: as typed, with or without the unit, or of the amount or fact that the text is."""
    if isinstance(text, Answer):
        return text.minutes if text.minutes is not None and text.minutes < 10_000 else None
    typed = re.fullmatch(r"(\d{1,4}(?:\.\d{1,3})?)(?: min)?", text)
    return float(typed[1]) if typed else None


def not_minutes(step: StepData, text: str) -> Problem:
    """The problem of minutes, once written, that are no number."""
    return _problem(
        step,
        "minutes",
        f'"{text}" is not a number of minutes',
        "A number, or an amount in minutes",
        "Write the hands-on minutes",
    )


def _problem(record: object, field: str, what: str, allowed: str, remedy: str, code: str = "") -> Problem:
    return Problem(record.place(field), record.key(field), what, allowed, remedy, code)  # type: ignore[attr-defined]


def _doubles(found: list[ProcedureFile]) -> list[Problem]:
    first: dict[str, ProcedureFile] = {}
    problems = []
    for procedure in found:
        other = first.setdefault(procedure.id, procedure)
        if other is not procedure:
            problems.append(
                _problem(
                    procedure.data,
                    "id",
                    f"{procedure.id} is also the id of {other.file}",
                    "",
                    "Give one of them another id",
                    "E32",
                )
            )
    return problems

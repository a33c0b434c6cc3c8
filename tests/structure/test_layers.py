"""The rooms of the program: each folder imports only from floors below it, and each library has one importer."""

from __future__ import annotations

import ast
from collections import Counter
from pathlib import Path

import pytest
from radon.complexity import cc_visit
from radon.visitors import Function

PACKAGE = Path(__file__).parents[2] / "macros"

FLOORS = (
    "ground",
    "ground/disk",
    "published",
    "published/safety",
    "published/amounts",
    "published/pages",
    "published/labour",
    "published/paper",
    "published/training",
    "published/index",
    "calculations",
    "calculations/room",
    "calculations/water",
    "calculations/sanitizer",
    "calculations/feed",
    "calculations/crop",
    "calculations/labour",
    "calculations/scheduler",
    "house/records",
    "house/rules",
    "house/files",
    "house",
    "photographs",
    "amounts/engine",
    "amounts/water",
    "amounts/feed",
    "amounts/room",
    "amounts/labour",
    "amounts/crop",
    "amounts/sanitizer",
    "amounts",
    "amounts/reckoners",
    "page_model",
    "html",
    "html/phone",
    "manual/house_facts",
    "manual/procedures",
    "manual/cautions",
    "manual/requirements",
    "manual/requirements/rules",
    "manual/drawings",
    "manual/records",
    "manual/pages",
    "manual/checklists",
    "manual",
    "measuring",
    "rehearsal/model",
    "rehearsal/rules",
    "rehearsal",
    "paper/cards",
    "paper/labels",
    "paper",
    "training/path",
    "day_plan",
    "training/self_checks",
    "training",
    "control/documents",
    "control/changes",
    "control",
    "calendar",
    "packs",
    "reference",
    "site",
    "doors",
    ".",
)
"""Every folder of the package, from the ground up. A folder imports from itself and from what stands above it here."""
ONE_IMPORTER = {
    "pint": ("ground/unit_factors.py",),
    "PIL": ("photographs/clean.py",),
    "yaml": ("ground/yaml_source.py",),
    "jinja2": (
        "html/environment.py",
        "html/sandbox.py",
        "manual/procedures/write_text.py",
        "manual/procedures/asked_words.py",
    ),
    "icalendar": ("calendar/ics_file.py",),
    "mkdocs": ("doors/mkdocs_plugin.py",),
    "playwright": ("ground/pdf.py",),
    "pypdf": ("ground/pdf.py",),
}
"""Library -> the modules that import it."""
RULE = "A folder uses only floors below it"
MOST_FILES, MOST_SHARE, MOST_LINES = 20, 0.20, 400
MOST_COMPLEX, MOST_LINES_OF_A_FUNCTION = 12, 60
"""Modules flat in one folder; share of a room in all lines; lines of a module."""


def imports_of(text: str) -> list[tuple[int, str]]:
    """(line, dotted name) of every import, those inside functions included; `from a import b` gives a and a.b."""
    found: list[tuple[int, str]] = []
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Import):
            found += [(node.lineno, alias.name) for alias in node.names]
        elif isinstance(node, ast.ImportFrom) and node.module and node.level == 0:
            found += [(node.lineno, f"{node.module}.{alias.name}") for alias in node.names]
    return found


def floor_of(dotted: str) -> str:
    """The folder a dotted name of the package stands in: of the module, or of the package itself."""
    path = PACKAGE.joinpath(*dotted.split(".")[1:])
    if not path.is_dir():  # a module, or a name inside a module or package
        path = path.parent
    if not path.is_dir():
        path = path.parent
    return path.relative_to(PACKAGE).as_posix()


def breaches(path: Path, text: str) -> list[str]:
    """One sentence for each import that breaks a rule of the rooms."""
    here = path.parent.relative_to(PACKAGE).as_posix()
    told = []
    for line, name in imports_of(text):
        where = f"{path.relative_to(PACKAGE.parent)}:{line}"
        if name.split(".")[0] == "macros":
            there = floor_of(name)
            if FLOORS.index(there) > FLOORS.index(here):
                told.append(f"{where}: {RULE}: {here} imports {there}, which stands above it.")
        for library, owners in ONE_IMPORTER.items():
            if name.split(".")[0] == library and path.relative_to(PACKAGE).as_posix() not in owners:
                told.append(f"{where}: {library} is imported in {', '.join(owners)} only.")
    return told


def modules() -> list[Path]:
    """Every module of the package; the test below makes sure there are some."""
    return sorted(PACKAGE.rglob("*.py"))


def test_the_package_was_found() -> None:
    assert len(modules()) > 200
    assert {path.parent.relative_to(PACKAGE).as_posix() for path in modules()} == set(FLOORS)


def test_modules_import_only_from_below() -> None:
    assert [told for path in modules() for told in breaches(path, path.read_text(encoding="utf-8"))] == []


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("from macros.amounts.engine.register import Register", "house/rules imports amounts/engine"),
        ("from macros.amounts import engine", "house/rules imports amounts/engine"),
        ("from macros import doors", "house/rules imports doors"),
        ("import macros.house.files.load_house", "house/rules imports house/files"),
    ],
)
def test_an_upward_import_is_told_with_the_rule(line: str, told: str) -> None:
    path = PACKAGE / "house" / "rules" / "invented.py"
    assert breaches(path, f"{line}\n") == [
        f"macros/house/rules/invented.py:1: A folder uses only floors below it: {told}, which stands above it."
    ]


def test_a_second_importer_of_a_library_is_told() -> None:
    path = PACKAGE / "amounts" / "invented.py"
    assert breaches(path, "\nimport pint.facets\n") == [
        "macros/amounts/invented.py:2: pint is imported in ground/unit_factors.py only."
    ]
    path = PACKAGE / "calendar" / "invented.py"
    assert breaches(path, "from icalendar import Calendar\n") == [
        "macros/calendar/invented.py:1: icalendar is imported in calendar/ics_file.py only."
    ]


def test_no_folder_is_crowded_and_no_room_is_half_the_house() -> None:
    flat = Counter(path.parent.relative_to(PACKAGE).as_posix() for path in modules())
    assert {folder: count for folder, count in flat.items() if count > MOST_FILES} == {}
    lines = Counter[str]()
    for path in modules():
        lines[path.relative_to(PACKAGE).parts[0]] += path.read_text(encoding="utf-8").count("\n")
    most = MOST_SHARE * sum(lines.values())
    assert {room: count for room, count in lines.items() if count > most} == {}


def test_every_folder_says_what_it_is_and_every_room_what_you_may_touch() -> None:
    headings = {
        floor: ast.get_docstring(ast.parse((PACKAGE / floor / "__init__.py").read_text())) for floor in FLOORS
    }
    assert [
        floor for floor, heading in headings.items() if not (heading or "").split("\n")[0].endswith(".")
    ] == []
    rooms = {floor.split("/")[0] for floor in FLOORS} - {"."}
    assert [room for room in sorted(rooms) if "What you may touch here:" not in (headings[room] or "")] == []


def test_modules_stay_short() -> None:
    lines = {path: path.read_text(encoding="utf-8").count("\n") for path in modules()}
    assert [
        f"{path.name} has {count} lines; split it by topic"
        for path, count in lines.items()
        if count > MOST_LINES
    ] == []


def test_functions_stay_short_and_plain() -> None:
    """Complexity counts each branch, condition and comprehension (McCabe 1976, as radon counts it)."""
    found = [(path, block) for path in modules() for block in functions_of(path.read_text(encoding="utf-8"))]
    assert len(found) > 2000
    assert [
        f"{path.name}: {block.name} has complexity {block.complexity} and {block.endline - block.lineno + 1} lines"
        for path, block in found
        if block.complexity > MOST_COMPLEX or block.endline - block.lineno >= MOST_LINES_OF_A_FUNCTION
    ] == []


def functions_of(text: str) -> list[Function]:
    """Every function and method of a module."""
    blocks = cc_visit(text)
    return [one for one in blocks if isinstance(one, Function)]

"""The rooms of the program: each imports only from rooms below it, and each library has one importer."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[2] / "macros"

LAYERS = {
    "problems": 1,
    "package": 1,
    "stopping": 1,
    "writing": 1,
    "swapping": 1.5,
    "version": 1,
    "source": 2,
    "units": 2,
    "record_shape": 1,
    "records": 2.1,
    "days": 2.1,
    "field_types": 2.2,
    "unit_factors": 1.5,
    "published": 2.5,  # calculations read published constants, never the reverse
    "calculations": 3,
    "house": 4,
    "amounts": 5,
    "manual": 6,
    "rendering": 7,
    "pdf": 7.5,
    "packing": 7.8,
    "issuing": 7.8,
    "starting": 7.8,
    "plugin": 8,
    "preview": 8,
    "publishing": 8,
    "cli": 8,
    "__init__": 9,
    "__main__": 9,
}
ONE_IMPORTER = {
    "pint": "unit_factors",
    "yaml": "source",
    "jinja2": "rendering",
    "icalendar": "rendering/calendar_file.py",
    "mkdocs": "plugin",
    "playwright": "pdf",
    "pypdf": "pdf",
}
"""Library -> the room, or the one module of a room, that imports it."""
RULE = "A room uses only rooms below it"


def imports_of(text: str) -> list[tuple[int, str]]:
    """(line, dotted name) of every import, those inside functions included."""
    found: list[tuple[int, str]] = []
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Import):
            found += [(node.lineno, alias.name) for alias in node.names]
        elif isinstance(node, ast.ImportFrom) and node.module and node.level == 0:
            if node.module == "macros":
                found += [(node.lineno, f"macros.{alias.name}") for alias in node.names]
            else:
                found.append((node.lineno, node.module))
    return found


def breaches(path: Path, text: str) -> list[str]:
    """One sentence for each import that breaks a rule of the rooms."""
    room = path.relative_to(PACKAGE).parts[0].removesuffix(".py")
    told = []
    for line, name in imports_of(text):
        where = f"{path.relative_to(PACKAGE.parent)}:{line}"
        if name.startswith("macros."):
            other = name.split(".")[1]
            if (
                other != room
                and LAYERS[other] >= LAYERS[room]
                and not {room, other} <= {"plugin", "preview", "publishing", "cli"}
            ):
                told.append(
                    f"{where}: {RULE}: {room} (room {LAYERS[room]}) imports {other} (room {LAYERS[other]})."
                )
        for library, owner in ONE_IMPORTER.items():
            here = (room, path.relative_to(PACKAGE).as_posix())
            if (name == library or name.startswith(library + ".")) and owner not in here:
                told.append(f"{where}: {library} is imported in {owner} only, not in {room}.")
    return told


def modules() -> list[Path]:
    """Every module of the package; the test below makes sure there are some."""
    return sorted(PACKAGE.rglob("*.py"))


def test_the_package_was_found() -> None:
    assert len(modules()) > 20


@pytest.mark.parametrize("path", modules(), ids=lambda p: str(p.relative_to(PACKAGE)))
def test_room_imports_only_from_below(path: Path) -> None:
    assert breaches(path, path.read_text(encoding="utf-8")) == []


def test_an_upward_import_is_told_with_the_rule() -> None:
    path = PACKAGE / "house" / "invented.py"
    assert breaches(path, "from macros.amounts import Register\n") == [
        "macros/house/invented.py:1: A room uses only rooms below it: house (room 4) imports amounts (room 5)."
    ]


def test_a_second_importer_of_a_library_is_told() -> None:
    path = PACKAGE / "amounts" / "invented.py"
    assert breaches(path, "\nimport pint.facets\n") == [
        "macros/amounts/invented.py:2: pint is imported in unit_factors only, not in amounts."
    ]
    path = PACKAGE / "rendering" / "invented.py"
    assert breaches(path, "from icalendar import Calendar\n") == [
        "macros/rendering/invented.py:1: icalendar is imported in rendering/calendar_file.py only, not in rendering."
    ]


@pytest.mark.parametrize("path", modules(), ids=lambda p: str(p.relative_to(PACKAGE)))
def test_module_stays_short(path: Path) -> None:
    lines = path.read_text(encoding="utf-8").count("\n")
    assert lines <= 400, f"{path.name} has {lines} lines; split it by topic"

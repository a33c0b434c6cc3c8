"""Files of a house are read through one door, `ground/house_files.py`; who else reads files is listed here, with what."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

from tests.making import ROOT

READING = {"open", "read_text", "read_bytes", "glob", "rglob", "iterdir", "walk", "scandir", "listdir", "copytree", "copy2"}  # fmt: skip

MAY = {
    "ground/house_files.py": "the door itself",
    "ground/disk/own_files.py": "a folder this program is to replace",
    "ground/disk/safe_write.py": "locks, and what was written a moment ago",
    "ground/disk/swap_folder.py": "a folder this program is to replace",
    "ground/unit_factors.py": "the program's own file",
    "house/files/starter_explanations.py": "the program's own starter",
    "house/files/new_house.py": "the starter, and whether a folder is empty",
    "house/files/add_readings.py": "the file of readings that is handed over, and the one it is added to, under the lock",
    "house/files/writing.py": "what killed runs of ours left, under the lock",
    "published/__init__.py": "the program's own lists",
    "published/pages/requirements.py": "the program's own files",
    "rehearsal/whole_page.py": "the shipped pages",
    "control/changes/baseline.py": "the program's own files, for their code",
    "manual/procedures/shipped_folder.py": "whether there are shipped pages",
    "html/phone/installed.py": "the finished site, and the program's own scripts",
    "html/phone/one_file.py": "the program's own styles and scripts",
    "html/paper.py": "the program's own style sheets",
    "html/sandbox.py": "the program's own text, for its code",
    "photographs/photographs.py": "names below photos/, links refused there",
    "photographs/kept_copies.py": "pictures, bounded, links refused there",
    "photographs/clean.py": "a picture from bytes already read",
    "doors/preview.py": "names of files, for whether they changed",
    "doors/publish.py": "the program's own config; names in a folder to be replaced",
    "doors/issue.py": "the file entries go into, inside the house, under its lock",
    "doors/cli.py": "nothing: where output goes that nobody reads",
    "doors/terminal.py": "nothing: where output goes that was closed",
    "doors/mkdocs_plugin.py": "the config of the generator, which the owner names",
}
"""Module below macros/ -> what it reads beside the door."""


def reads(path: Path) -> Iterator[str]:
    """Each call in a module that reads a file or lists a folder."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call):
            called = node.func
            name = (
                called.attr
                if isinstance(called, ast.Attribute)
                else called.id
                if isinstance(called, ast.Name)
                else ""
            )
            of = (
                called.value.id
                if isinstance(called, ast.Attribute) and isinstance(called.value, ast.Name)
                else ""
            )
            by_the_door = isinstance(called, ast.Name) and name != "open"
            if name in READING and not by_the_door and (name != "walk" or of == "os"):
                yield f"line {node.lineno}: {name}"


def test_files_are_read_through_the_one_door() -> None:
    modules = {path.relative_to(ROOT / "macros").as_posix(): path for path in (ROOT / "macros").rglob("*.py")}
    found = {name: list(reads(path)) for name, path in modules.items()}
    beside = {name: calls for name, calls in found.items() if calls and name not in MAY}
    assert beside == {}, "read files of a house with macros.ground.house_files"
    assert [name for name in MAY if not found.get(name)] == [], (
        "these read nothing any more: take them off the list"
    )


def test_a_read_is_seen(tmp_path: Path) -> None:
    module = tmp_path / "m.py"
    module.write_text(
        "import json\n\ndef f(p):\n    return json.loads(p.read_text()), open(p), sorted(p.glob('*'))\n"
    )
    assert sorted(reads(module)) == ["line 4: glob", "line 4: open", "line 4: read_text"]

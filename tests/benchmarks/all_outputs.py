"""Writes everything the program makes of six houses into a folder, so that two states of the program can be compared.

`python -m tests.benchmarks.all_outputs FOLDER`: the demo and the five test houses: site, export, every pack as HTML,
amounts, changes, what `check` says. Run it before and after a change that must move nothing, then `diff -r` both.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

ROOT = Path(__file__).parents[2]
HOUSES = {"demo": ROOT, **{path.name: path for path in sorted((ROOT / "tests" / "houses").iterdir())}}
MODULES = [f"M{number}" for number in range(1, 10)]


def packs_of(systems: list[str]) -> dict[str, list[str]]:
    """Name of each pack -> the words that ask for it."""
    packs = {
        name: [name]
        for name in ("week", "cards", "labels", "naming", "roster", "control", "measure", "month", "chemical")
    }
    for system in systems:
        for people in ("1", "2"):
            packs[f"cleanout-{system}-{people}"] = ["cleanout", "--system", system, "--people", people]
        for name in ("readiness", "planting"):
            packs[f"{name}-{system}"] = [name, "--system", system]
    for module in MODULES:
        packs[f"training-{module}"] = ["training", "--module", module]
        packs[f"key-{module}"] = ["key", "--module", module]
    for number in range(1, 27):
        packs[f"page-{number:02}"] = ["page", f"SOP-{number:02}"]
    return packs


def outputs_of(name: str, house: Path, folder: Path) -> None:
    """Everything of one house, below `folder`."""
    copy = folder / name / "house"
    copy.mkdir(parents=True)
    shutil.copytree(house / "site_data", copy / "site_data")
    said = {
        words[0]: _said(words, copy) for words in (["check"], ["changes", "--json"], ["amounts", "--json"])
    }
    for words in (["build"], ["build", "--served"], ["export", str(folder / name / "export")]):
        said["-".join(word.strip("-") for word in words[:2] if "/" not in word)] = _said(words, copy)
    systems = sorted(set(re.findall(r'"system": "(\w+)"', said["amounts"])))
    for pack, words in packs_of(systems).items():
        said[pack] = _said(["pack", *words, "-o", str(folder / name / f"{pack}.pdf")], copy)
    for which, text in said.items():
        (folder / name / f"said-{which}.txt").write_text(
            text.replace(str(folder), "FOLDER"), encoding="utf-8"
        )


def _said(words: list[str], house: Path) -> str:
    environment = {**os.environ, "TRAYSIDE_CHROMIUM": "no such browser", "NO_MKDOCS_2_WARNING": "1"}
    command = [sys.executable, "-m", "macros", *words, "--house", str(house)]
    run = subprocess.run(command, cwd=ROOT, env=environment, capture_output=True, text=True, check=False)
    return f"{run.returncode}\n{run.stdout}{run.stderr}"


def main() -> None:
    """Every house, two at a time."""
    folder = Path(sys.argv[1]).resolve()
    with ThreadPoolExecutor(2) as two:
        list(two.map(lambda item: outputs_of(item[0], item[1], folder), HOUSES.items()))
    files = [path for path in folder.rglob("*") if path.is_file()]
    print(f"{len(files)} files, {sum(path.stat().st_size for path in files)} bytes in {folder}")


if __name__ == "__main__":
    main()

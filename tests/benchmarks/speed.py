"""How long a build takes, against the same pages as ready Markdown. Run `python -m tests.benchmarks.speed`.

Whole processes in turn, user plus system seconds, the least of the runs; ratios of one run, so that another machine gives
about the same. Cold is with no cache of ours at all, warm after a build and with one fact edited; in both Python has compiled
the program, as an installer does. Writes `speed.md`.
`--quick` measures the demo alone.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

from macros.doors.preview import Preview
from tests.benchmarks.many_houses import house_of
from tests.benchmarks.projects import bare_project, demo_in, edit_a_fact, edit_a_page, project_of
from tests.making import quiet_environment

FILE = Path(__file__).with_suffix(".md")
PAGES = {4: 100, 24: 300, 94: 1000}
"""Systems of a made-up house -> about how many pages stand in its menu."""

_NO_BYTECODE = "PYTHONDONTWRITEBYTECODE"
"""Where it is set, Python would compile our modules at every run, and not those of the generator, which are installed."""

_MEASURED = """
import resource, subprocess, sys
subprocess.run(sys.argv[1:], check=True)
used = resource.getrusage(resource.RUSAGE_CHILDREN)
print(used.ru_utime + used.ru_stime, used.ru_maxrss / 1024)
"""
"""A small process in between: Linux counts the memory of the one that starts another as that of the other too."""


@dataclass(frozen=True)
class Cost:
    """Of one process: user plus system seconds, wall seconds, most memory in MiB."""

    cpu: float
    wall: float
    memory: float


@dataclass(frozen=True)
class Compared:
    """One manual built both ways, each the least of its runs."""

    name: str
    pages: int
    others: int
    bare: Cost
    cold: Cost
    bare_again: Cost
    warm: Cost

    def row(self) -> str:
        """A line of the table."""
        cells = (
            *(self.name, self.pages, self.others),
            *(f"{self.bare.cpu:.1f}", f"{self.cold.cpu:.1f}", f"{self.cold.cpu / self.bare.cpu:.2f}"),
            *(
                f"{self.bare_again.cpu:.1f}",
                f"{self.warm.cpu:.1f}",
                f"{self.warm.cpu / self.bare_again.cpu:.2f}",
            ),
            *(f"{self.cold.wall:.1f}", f"{self.cold.memory:.0f}", f"{self.bare.memory:.0f}"),
        )
        return f"| {' | '.join(map(str, cells))} |"


def build(folder: Path, caches: Path) -> Cost:
    """A build of the folder's mkdocs.yml as a process of its own, its caches in `caches` and nowhere else."""
    environment = {**quiet_environment(), "TMPDIR": str(caches), "XDG_CACHE_HOME": str(caches)}
    environment.pop(_NO_BYTECODE, None)
    command = [sys.executable, "-m", "mkdocs", "build", "--quiet", "--site-dir", str(folder / "timed")]
    began = time.monotonic()
    measured = [sys.executable, "-c", _MEASURED, *command]
    process = subprocess.run(
        measured, cwd=folder, env=environment, stdout=subprocess.PIPE, text=True, check=False
    )
    assert process.returncode == 0, f"the build of {folder} failed"
    cpu, memory = map(float, process.stdout.splitlines()[-1].split())
    return Cost(cpu, time.monotonic() - began, memory)


def compared(name: str, project: Path, folder: Path, runs: int) -> Compared:
    """Both ways, in turn, cold and warm."""
    bare, pages, others = bare_project(project, folder / "bare")
    with tempfile.TemporaryDirectory() as caches:
        build(project, Path(caches))  # Python compiles the program
    bare_cold, cold, bare_warm, warm = [], [], [], []
    for _ in range(runs):
        with tempfile.TemporaryDirectory() as caches:
            bare_cold.append(build(bare, Path(caches)))
            cold.append(build(project, Path(caches)))
            edit_a_page(bare)
            edit_a_fact(project)
            bare_warm.append(build(bare, Path(caches)))
            warm.append(build(project, Path(caches)))
    return Compared(name, pages, others, *map(_least, (bare_cold, cold, bare_warm, warm)))


def _least(costs: list[Cost]) -> Cost:
    return Cost(*(min(getattr(cost, name) for cost in costs) for name in ("cpu", "wall", "memory")))


def edit_to_page(project: Path, address: str) -> tuple[float, float]:
    """Processor and wall seconds from an edited fact to the new page of a running preview, the least of three edits."""
    preview = Preview(project, project / "mkdocs.yml", None)
    costs = []
    old = _values_code(preview, address)
    for _ in range(3):
        edit_a_fact(project)
        cpu, wall = time.process_time(), time.monotonic()
        new = _values_code(preview, address)
        costs.append((time.process_time() - cpu, time.monotonic() - wall))
        assert new != old, f"{address} is stale"
        old = new
    preview.close()
    return min(costs)


def _values_code(preview: Preview, address: str) -> str:
    """The fingerprint of the printed values, as the page tells it."""
    html = preview.answer(address).content.decode()
    found = re.search(r"values code <code>([^<]+)", html)
    assert found is not None, f"{address} lists problems"
    return found[1]


def main(quick: bool) -> None:
    """Measures, prints and writes the table."""
    rows: list[Compared] = []
    edits: list[str] = []

    def measure(name: str, project: Path, runs: int, page: str) -> None:
        rows.append(compared(name, project, project.parent / "ready", runs))
        cpu, wall = edit_to_page(project, page)
        edits.append(f"| {name} | {rows[-1].pages} | {cpu:.2f} | {wall:.2f} |")
        print(rows[-1].row(), edits[-1], sep="\n", flush=True)

    with tempfile.TemporaryDirectory() as made:
        here = Path(made)
        measure("demo", demo_in(here / "demo" / "house"), 3, "p/sop-08-a.html")
        for systems in () if quick else (*PAGES, 40):
            project = project_of(house_of(here / str(systems), systems))
            measure(f"{systems} systems", project, 1 if systems > 40 else 2, "p/sop-08-m.html")
    if not quick:
        FILE.write_text("\n".join(_text(rows, edits)) + "\n", encoding="utf-8")


def _text(rows: list[Compared], edits: list[str]) -> list[str]:
    few, many = (next(row for row in rows if row.name == f"{systems} systems") for systems in (4, 94))
    return [
        "# A build against the same pages as ready Markdown",
        "",
        f"User plus system seconds of whole processes, in turn, on a machine of {os.cpu_count()} cores that had other work. Ratios: ours to bare.",
        "",
        "| house | pages | sheets, forms, data | bare | ours, cold | ratio | bare, edited | ours, warm | ratio | wall, cold | MiB | MiB, bare |",
        "|" + "---|" * 12,
        *(row.row() for row in rows),
        "",
        f"{many.pages} pages take {many.cold.cpu / few.cold.cpu:.1f} times as long as {few.pages}.",
        "",
        "From an edited fact to the new page in the preview, seconds:",
        "",
        "| house | pages | processor | wall |",
        "|---|---|---|---|",
        *edits,
    ]


if __name__ == "__main__":
    main("--quick" in sys.argv)

"""Our plans of forty random days against the best there are. Run `python -m tests.benchmarks.day_plans`.

Needs the extra `benchmark` (`pip install -e '.[test,benchmark]'`); writes `day_plans.md` beside this file. The table is
read back by the ordinary tests, which need no OR-tools.
"""

from __future__ import annotations

import platform
import time
from pathlib import Path

from macros.calculations.scheduler import NetworkActivity, plan_day
from tests.benchmarks.random_days import random_day

FILE = Path(__file__).with_suffix(".md")
DAYS = 40
SECONDS = 60.0
COLUMNS = ("day", "tasks", "people", "ours", "optimum or bound", "proved", "gap %")


def day(number: int, people: int) -> tuple[list[NetworkActivity], dict[str, int]]:
    """Day 1 to 40: from 10 tasks to 30, each from its own seed."""
    return random_day(1000 + number, 10 + (number - 1) * 21 // DAYS, people)


def recorded() -> list[dict[str, float]]:
    """The rows of the table as numbers; `proved` is 1 or 0."""
    rows = []
    for line in FILE.read_text(encoding="utf-8").splitlines():
        cells = [cell.strip() for cell in line.strip("|").split("|")]
        if line.startswith("|") and cells[0].isdigit():
            numbers = [{"yes": "1", "no": "0"}.get(cell, cell) for cell in cells]
            rows.append(dict(zip(COLUMNS, map(float, numbers), strict=True)))
    return rows


def main() -> None:
    """Solves every day twice for one and for two people, and writes the table."""
    import ortools

    from tests.benchmarks.optimum import optimum

    rows, gaps, slowest = [], [], 0.0
    for number in range(1, DAYS + 1):
        for people in (1, 2):
            activities, capacity = day(number, people)
            began = time.process_time()
            plan = plan_day(activities, people, capacity)
            slowest = max(slowest, time.process_time() - began)
            best = optimum(activities, people, capacity, SECONDS)
            against = best.finish if best.proved and best.finish is not None else best.bound
            gaps.append(100 * (plan.finish / against - 1))
            proved = "yes" if best.proved else "no"
            rows.append((number, len(activities), people, plan.finish, against, proved, f"{gaps[-1]:.1f}"))
    long_day = _long_days()
    best_found = sum(gap == 0 for gap in gaps)
    text = [
        "# Plans of random days against the best there are",
        "",
        f"{DAYS} days from fixed seeds (`random_days.py`), each for one and for two people. Ours: `plan_day`. Optimum: the",
        f"constraint solver CP-SAT, at most {SECONDS:.0f} s with two workers; where it proved none, its bound, and the gap is",
        "then against the bound.",
        "",
        "To reproduce: `pip install -e '.[test,benchmark]' && python -m tests.benchmarks.day_plans`.",
        f"Versions: OR-tools {ortools.__version__}, Python {platform.python_version()}.",
        "",
        f"Mean gap {sum(gaps) / len(gaps):.2f} %, worst {max(gaps):.1f} %; the best finish itself in {best_found} of {len(gaps)}.",
        f"Processor time of ours: at most {slowest:.2f} s a day; {long_day:.2f} s at most for days of 120 activities and two people.",
        "",
        "| " + " | ".join(COLUMNS) + " |",
        "|" + "---|" * len(COLUMNS),
        *("| " + " | ".join(map(str, row)) + " |" for row in rows),
    ]
    FILE.write_text("\n".join(text) + "\n", encoding="utf-8")


def _long_days() -> float:
    """Longest processor time [s] for a day of 120 activities and two people, over ten seeds."""
    times = []
    for seed in range(10):
        activities, capacity = random_day(9000 + seed, 120, 2)
        began = time.process_time()
        plan_day(activities, 2, capacity)
        times.append(time.process_time() - began)
    return max(times)


if __name__ == "__main__":
    main()

"""Many damaged houses and pages, by hand. Run `python -m tests.benchmarks.fuzz --houses 10000 --pages 3000 --seed 1`;
with `--other` parts are exchanged between houses and pages, units rewritten, figures put on borders.

Prints how many were refused and how many worked, the slowest, and each fault with the number that makes it again.
"""

from __future__ import annotations

import argparse
import os
import tempfile
from collections import Counter
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from functools import cache, partial
from pathlib import Path

from macros.site import published_words
from tests.fuzz.houses import house_case
from tests.fuzz.judging import Outcome
from tests.fuzz.other_ways import make_other_house
from tests.fuzz.pages import page_case, page_of_parts

Case = Callable[[str, int, Path], Outcome]


def one(case: Case, seed: str, number: int) -> Outcome:
    """One case in a folder of its own."""
    with tempfile.TemporaryDirectory() as folder:
        return case(seed, number, Path(folder))


def report(what: str, case: Case, seed: str, numbers: range, pool: ProcessPoolExecutor) -> int:
    """Runs the cases, prints what came of them; the number of faults."""
    outcomes = list(pool.map(partial(one, case, seed), numbers, chunksize=20))
    faults: dict[str, list[int]] = {}
    for number, outcome in zip(numbers, outcomes, strict=True):
        if outcome.fault:
            faults.setdefault(outcome.fault, []).append(number)
    if not outcomes:
        return 0
    counted = Counter("refused" if outcome.refused else "worked" for outcome in outcomes)
    slowest = max(range(len(outcomes)), key=lambda index: outcomes[index].seconds)
    total = sum(outcome.seconds for outcome in outcomes)
    print(
        f"{what}: {len(outcomes)} cases, {counted['refused']} refused, {counted['worked']} worked, {total:.0f} s in all, "
        f"slowest {outcomes[slowest].seconds:.2f} s (number {numbers[slowest]}), {len(faults)} kinds of fault"
    )
    for fault, where in sorted(faults.items(), key=lambda item: -len(item[1])):
        print(f"  {len(where)} times, first at number {where[0]}: {fault}")
    return len(faults)


def main() -> None:
    """Reads the numbers from the command line."""
    options = argparse.ArgumentParser()
    options.add_argument("--houses", type=int, default=10_000)
    options.add_argument("--pages", type=int, default=3_000)
    options.add_argument("--seed", default="1")
    options.add_argument("--first", type=int, default=0, help="number of the first case")
    options.add_argument("--processes", type=int, default=os.cpu_count() or 1)
    options.add_argument("--other", action="store_true", help="the other way of damage")
    given = options.parse_args()
    houses: Case = partial(house_case, make=make_other_house) if given.other else house_case
    pages: Case = partial(page_case, make=page_of_parts) if given.other else page_case
    # The published files are the same in every case.
    published_words.shipped_mistakes = cache(published_words.shipped_mistakes)
    with ProcessPoolExecutor(given.processes) as pool:
        faults = report("houses", houses, given.seed, range(given.first, given.first + given.houses), pool)
        faults += report("pages", pages, given.seed, range(given.first, given.first + given.pages), pool)
    raise SystemExit(1 if faults else 0)


if __name__ == "__main__":
    main()

"""Every word of three houses misspelt, taken out, exchanged: what do their pages lose in silence? `python -m tests.benchmarks.safety_words`.

Prints the counts, and each field whose word took something away without an error or a warning. A word exchanged for another
true one (children may come in: yes, then no) says another house, and its losses are listed apart for a person to judge.
"""

from __future__ import annotations

import sys
from collections import Counter, defaultdict
from concurrent.futures import ProcessPoolExecutor

from tests.house.safety_words import HOUSES, Case, before, cases, lost_in_silence


def main(names: list[str]) -> int:
    """Runs the matrix; a misspelt or removed word that takes something away in silence decides the status."""
    every = [case for name in names or HOUSES for case in cases(name)]
    for name in names or HOUSES:
        before(name)
    with ProcessPoolExecutor() as pool:
        lost = list(pool.map(lost_in_silence, every, chunksize=4))
    counts = Counter(case.change for case in every)
    silent: dict[tuple[str, str], list[tuple[Case, list[str]]]] = defaultdict(list)
    for case, what in zip(every, lost, strict=True):
        if what:
            silent[case.change, case.field].append((case, what))
    for (change, field), found in sorted(silent.items()):
        case, what = found[0]
        print(
            f"{change} {field}: {len(found)} times; {case.house}: {case.old!r} -> {case.new!r}: {'; '.join(what[:4])}"
        )
    for change, count in counts.items():
        print(
            f"{change}: {count} cases, {sum(len(v) for (c, _), v in silent.items() if c == change)} silent losses"
        )
    return int(any(change != "exchanged" for change, _ in silent))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

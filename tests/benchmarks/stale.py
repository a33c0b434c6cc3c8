"""Random edits of a house, and whether any page is stale after one. Run `python -m tests.benchmarks.stale --edits 200`.

After each edit the site is built twice: in this process, which remembers all builds before it, and in a process of its own without
a cache. Both must be the same to the byte, whatever the edit. A running preview is asked for pages as well, at once and again when the
whole manual is there. Give a seed with `--seed` to see the same edits again, and `--systems N` for a larger house.
"""

from __future__ import annotations

import argparse
import logging
import random
import re
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from mkdocs.exceptions import Abort

from macros.doors.mkdocs_plugin import build_site
from macros.doors.preview import SCRIPT, STATE, Preview
from tests.benchmarks.many_houses import house_of
from tests.benchmarks.projects import project_of
from tests.making import bytes_below, made_house, quiet_environment

_NUMBER = re.compile(r'"(\d+\.?\d*) (L/min|L|cm|mm|mL/L|min|mS/cm|degC|day)"')


def edit(house: Path, chosen: random.Random) -> str:
    """One edit of a fact, a name, a procedure or its prose; what was done. Some break the house, as a person might."""
    facts = house / "site_data" / "house.yml"
    pages = sorted((house / "procedures").glob("*.md"))
    kind = chosen.choice(("number", "number", "name", "prose", "sentence", "restore"))
    if kind in ("number", "name"):
        text = facts.read_text(encoding="utf-8")
        pattern = _NUMBER if kind == "number" else re.compile(r'name: "([\w -]+)"')
        found = chosen.choice(list(pattern.finditer(text)))
        new = (
            f"{float(found[1]) * chosen.choice((0.9, 0.98, 1.02, 1.1)):.4g}"
            if kind == "number"
            else f"{found[1]} b"
        )
        facts.write_text(text[: found.start(1)] + new + text[found.end(1) :], encoding="utf-8")
        return f"{found[0]} -> {new}"
    page = chosen.choice(pages)
    text = page.read_text(encoding="utf-8")
    if kind == "prose":
        page.write_text(text.rstrip() + f"\n\nSeen {chosen.randint(1, 99)} times.\n", encoding="utf-8")
    elif kind == "sentence":
        found = chosen.choice(
            list(re.finditer(r"^ *(?:do|when|expect|reason): .*?(\w+)\b", text, re.MULTILINE))
        )
        page.write_text(text[: found.end()] + "ly" + text[found.end() :], encoding="utf-8")
    else:
        shutil.copy(page.parent.parent.parent / "as-it-was" / page.name, page)
    return f"{kind} of {page.name}"


def built_here(project: Path, site: Path) -> dict[str, bytes] | None:
    """The bytes of a served build in this process; None where it refused the house."""
    shutil.rmtree(site, ignore_errors=True)
    try:
        build_site(project / "mkdocs.yml", site, {"house": str(project), "served": True})
    except Abort:
        return None
    return bytes_below(site)


def built_apart(project: Path, site: Path) -> dict[str, bytes] | None:
    """The same by a process of its own, whose caches are empty."""
    shutil.rmtree(site, ignore_errors=True)
    code = (
        "import sys; from pathlib import Path; from macros.doors.mkdocs_plugin import build_site\n"
        "build_site(Path(sys.argv[1]), Path(sys.argv[2]), {'house': str(Path(sys.argv[1]).parent), 'served': True})"
    )
    with tempfile.TemporaryDirectory() as caches:
        environment = {**quiet_environment(), "TMPDIR": caches, "XDG_CACHE_HOME": caches}
        command = [sys.executable, "-c", code, str(project / "mkdocs.yml"), str(site)]
        run = subprocess.run(command, env=environment, capture_output=True, check=False)
    return bytes_below(site) if run.returncode == 0 else None


def shown(preview: Preview, address: str) -> bytes:
    """The page of the preview without the script that loads it again."""
    html = preview.answer(address).content
    before, _, after = html.partition(f'<script src="/{SCRIPT}'.encode())
    return before + after.partition(b"</script>")[2]


def wait_for_the_whole(preview: Preview) -> None:
    """Until the manual is worked out from the files as they are."""
    while preview.answer(STATE).content.endswith(b"-page"):
        time.sleep(0.05)


def compare(house: Path, preview: Preview, folder: Path, chosen: random.Random) -> tuple[str, list[str]]:
    """What the house came to after an edit (`built` or `refused`), and the addresses of stale pages."""
    at_once = chosen.choice(("p/sop-08-k.html", "p/sop-09-k.html", "p/sop-16.html"))
    first = shown(preview, at_once)
    warm = built_here(house, folder / "warm")
    cold = built_apart(house, folder / "cold")
    wait_for_the_whole(preview)
    asked = (at_once, "index.html", "reference/workings.html")
    if warm is None or cold is None:
        listed = all(b"Problems to mend" in shown(preview, address) for address in asked)
        return "refused", [] if warm == cold and listed else ["the refusal"]
    stale = [name for name in sorted(warm.keys() | cold.keys()) if warm.get(name) != cold.get(name)]
    stale += [f"preview of {name}" for name in asked if shown(preview, name) != cold[name]]
    values = re.findall(rb"values code <code>([^<]*)", first)
    if values != re.findall(rb"values code <code>([^<]*)", cold[at_once]) or not values:
        stale.append(f"preview of {at_once}, at once")
    return "built", stale


def main() -> None:
    """Edits, builds, compares; tells the figures and ends with status 1 where a page was stale."""
    asked = argparse.ArgumentParser()
    asked.add_argument("--edits", type=int, default=200)
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--systems", type=int, default=0)
    given = asked.parse_args()
    logging.disable(logging.ERROR)  # a refused house is counted, not told
    chosen = random.Random(given.seed)
    counts = {"built": 0, "refused": 0, "stale": 0}
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        house = project_of(house_of(folder, given.systems) if given.systems else made_house(folder))
        shutil.copytree(house / "procedures", folder / "as-it-was")
        good = shutil.copytree(house, folder / "good")
        preview = Preview(house, house / "mkdocs.yml", None)
        for number in range(1, given.edits + 1):
            done = edit(house, chosen)
            result, stale = compare(house, preview, folder, chosen)
            counts[result] += 1
            counts["stale"] += len(stale)
            print(f"{number}: {done}: {result}{', STALE: ' + ', '.join(stale) if stale else ''}", flush=True)
            if result == "refused":
                for part in ("site_data", "procedures"):
                    shutil.copytree(good / part, house / part, dirs_exist_ok=True)
        preview.close()
    print(
        f"{given.edits} edits: {counts['built']} built, {counts['refused']} refused, {counts['stale']} stale pages."
    )
    sys.exit(1 if counts["stale"] else 0)


if __name__ == "__main__":
    main()

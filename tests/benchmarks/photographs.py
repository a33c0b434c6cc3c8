"""How much longer a build takes with 200 photographs of 4 MB. Run `python -m tests.benchmarks.photographs`.

The demo house with them and without, in turn, user plus system seconds of whole processes; both warm: after a build, a fact
edited. The ratio is of the least of each. Prints a table; keeps nothing.
"""

from __future__ import annotations

import io
import json
import random
import sys
import tempfile
import time
from pathlib import Path

from PIL import Image

from macros.manual.pages.shot_list import shot_list
from tests.benchmarks.projects import demo_in, edit_a_fact
from tests.benchmarks.speed import build
from tests.making import made_site

PHOTOGRAPHS = 200
PAIRS = 7
GOAL = 1.10


def photograph(number: int) -> bytes:
    """A JPEG of 4000 x 3000 with a grain that weighs about what a telephone writes."""
    grain = Image.frombytes("L", (1000, 750), random.Random(number).randbytes(750_000)).resize((4000, 3000))
    image = Image.merge("RGB", (grain, grain.transpose(Image.Transpose.FLIP_LEFT_RIGHT), grain))
    out = io.BytesIO()
    image.save(out, "JPEG", quality=78)
    return out.getvalue()


def with_photographs(house: Path) -> float:
    """Puts a photograph at each of the first places the shot list names, with its words; the mean size in MB."""
    site = made_site(house, house / "procedures")
    names = [shot.name for shot in shot_list(site.register.house, site.views, ())][:PHOTOGRAPHS]
    assert len(names) == PHOTOGRAPHS
    kinds = [photograph(number) for number in range(8)]
    for number, name in enumerate(names):
        file = house / "photos" / f"{name}.jpg"
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(kinds[number % 8] + number.to_bytes(4, "big"))  # every file has a content of its own
    words = [{"file": f"{name}.jpg", "alt": "what is seen there"} for name in names]
    (house / "site_data" / "photos.yml").write_text(f"photos: {json.dumps(words)}\n", encoding="utf-8")
    return sum(len(one) for one in kinds) / 8 / 1e6


def main() -> int:
    """Measures in pairs, prints each, and tells whether the goal is met."""
    with tempfile.TemporaryDirectory() as made, tempfile.TemporaryDirectory() as caches:
        plain, shown = demo_in(Path(made) / "plain"), demo_in(Path(made) / "shown")
        (plain / "site_data" / "photos.yml").unlink()
        size = with_photographs(shown)
        began = time.monotonic()
        cold = build(shown, Path(caches))
        print(
            f"{PHOTOGRAPHS} photographs of {size:.1f} MB; first build {time.monotonic() - began:.0f} s, {cold.memory:.0f} MiB"
        )
        build(plain, Path(caches))
        pairs = []
        for number in range(PAIRS):
            edit_a_fact(plain)
            edit_a_fact(shown)
            houses = (plain, shown) if number % 2 else (shown, plain)  # neither is always the second
            costs = {house: build(house, Path(caches)) for house in houses}
            pairs.append((costs[plain], costs[shown]))
            print(
                f"without {pairs[-1][0].cpu:.2f} s, with {pairs[-1][1].cpu:.2f} s: {pairs[-1][1].cpu / pairs[-1][0].cpu:.2f}"
            )
    without, with_ = (min(pair[n].cpu for pair in pairs) for n in (0, 1))
    walls = [min(pair[n].wall for pair in pairs) for n in (0, 1)]
    print(
        f"least: without {without:.2f} s, with {with_:.2f} s, ratio {with_ / without:.2f}, {GOAL} allowed; wall {walls[0]:.1f} and {walls[1]:.1f} s"
    )
    return int(with_ / without > GOAL)


if __name__ == "__main__":
    sys.exit(main())

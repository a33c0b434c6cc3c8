"""The fourth house with issues, wall copies and reviews of every kind, for the tests of document control."""

from __future__ import annotations

from pathlib import Path

from macros.site.site import Site
from tests.signing import fourth_with

# The fourth house stands on 2031-05-01; a review is due every 12 months. SOP-01 prints other values than its last issue,
# CHECK-K is re-issued from a later day, SOP-99 is no longer in the manual.
ISSUES = """
SOP-01 1 2030-12-01
SOP-08-K 1 2030-01-05
SOP-08-K 2 2031-03-01
SOP-08-M 1 2030-01-05
SOP-10 1 2029-04-01
SOP-16 1 2030-06-01
SOP-17 1 2030-01-05
SOP-17 2 2031-02-02
SOP-99 1 2030-01-05
CHECK-K 1 2031-01-05
CHECK-K 2 2031-06-01
CARD-2-K 1 2030-01-05
CARD-2-K 2 2031-04-01
CARD-3-M 1 2031-01-05
"""
CHANGED = ("SOP-01", "SOP-17")
WALL_COPIES = """wall_copies:
  - {item: CARD-2-K, where: "sink, left of the <b>tap</b> & {{ 7 * 7 }}", count: 2, printed: 1}
  - {item: CHECK-K, where: "door, inside", count: 1, printed: 1}
  - {item: CARD-3-M, where: "tank M", count: 1, printed: 1}
  - {item: SOP-99, where: "hall", count: 1, printed: 1}
  - {item: SOP-01, where: "door, outside", count: 1, printed: 1}
  - {item: SOP-17, where: "Bench", count: 3, printed: 1}
  - {item: SOP-08-K, where: "tank K", count: 1, printed: 2}
"""
REVIEWS = """reviews:
  - {page: SOP-10, when: 2030-04-02, by: owner, outcome: no change}
  - {page: SOP-10, when: 2030-06-01, by: owner, outcome: no change}
  - {page: SOP-16, when: 2031-02-01, by: owner, outcome: change}
  - {page: SOP-08-K, when: 2031-03-01, by: owner, outcome: change}
"""


def issued_lines(site: Site, lines: str = ISSUES, changed: tuple[str, ...] = CHANGED) -> str:
    """The section `issued` with the codes the items print, another one for those `changed`."""
    codes = {item.key: item.control.values_code for item in site.controlled_documents}
    text = "issued:\n"
    for line in lines.strip().splitlines():
        key, revision, day = line.split()
        code = codes.get(key, "0000 0000") if key not in changed else "0000 0000"
        text += (
            f"  - {{page: {key}, revision: {revision}, effective: {day}, approved_by: owner, "
            f'why: first issue, values_code: "{code}"}}\n'
        )
    return text


def controlled_house(site: Site, folder: Path, more: str = WALL_COPIES + REVIEWS) -> Path:
    """The fourth house under control. `site` is its manual before anything was issued."""
    return fourth_with(folder, issued_lines(site) + more)

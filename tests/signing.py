"""The fourth house with pages issued and people signed off, for the tests of roster and sign-off."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from macros.amounts import Register
from macros.house import load_house
from macros.page_model.page import PageView
from macros.site.site import Site
from tests.making import made_house

# The fourth house stands on 2031-05-01. SOP-18 prints other values than its last issue.
ISSUES = """
SOP-01 1 2030-01-05 yes | first issue
SOP-03-K 1 2030-01-05 yes | first issue
SOP-03-M 1 2030-01-05 yes | first issue
SOP-07 1 2030-01-05 yes | first issue
SOP-08-K 1 2030-01-05 yes | first issue
SOP-08-K 2 2031-03-01 yes | acid after <b>feed</b> {{ 7 * 7 }}
SOP-08-M 1 2030-01-05 yes | first issue
SOP-08-M 2 2031-03-01 no | a word
SOP-10 1 2030-01-05 yes | first issue
SOP-10 2 2031-03-01 - | new buffer
SOP-16 1 2030-01-05 yes | first issue
SOP-16 2 2030-06-01 yes | level in cm
SOP-16 3 2030-09-01 no | a word
SOP-18 1 2030-01-05 yes | first issue
SOP-20 1 2030-01-05 yes | first issue
"""
SIGNED = """sign_offs:
  - {who: helper, procedure: SOP-01, revision: 1, by: owner, when: 2030-06-01}
  - {who: QM, procedure: SOP-07, revision: 1, by: owner, when: 2030-05-01}
  - {who: ZV, procedure: SOP-07, revision: 1, by: owner, when: 2030-05-02}
  - {who: QM, procedure: SOP-08, revision: 1, by: owner, when: 2031-01-10}
  - {who: helper, procedure: SOP-08-K, revision: 2, by: owner, when: 2031-04-20, level: 2}
  - {who: helper, procedure: SOP-10, revision: 1, by: owner, when: 2031-01-10}
  - {who: ZV, procedure: SOP-16, revision: 2, by: owner, when: 2030-08-01, level: 4}
  - {who: QM, procedure: SOP-16, revision: 1, by: ZV, when: 2031-02-01}
  - {who: helper, procedure: SOP-18, revision: 1, by: owner, when: 2031-03-31}
  - {who: QM, procedure: SOP-03-K, revision: 1, by: owner, when: 2031-01-01, runs: [2031-01-15]}
  - {who: QM, procedure: SOP-03-M, revision: 1, by: owner, when: 2031-01-01, runs: [2031-02-10, 2031-01-20]}
  - {who: helper, procedure: SOP-20, revision: 1, by: owner, when: 2030-02-01}
"""


def issued(views: Sequence[PageView], lines: str = ISSUES, other: tuple[str, ...] = ("SOP-18",)) -> str:
    """The section `issued` with the codes the pages print, another one for the pages `other`."""
    codes = {view.key: view.control.values_code for view in views}
    text = "issued:\n"
    for line in lines.strip().splitlines():
        head, _, why = line.partition(" | ")
        page, revision, day, retrain = head.split()
        code = "0000 0000" if page in other else codes[page]
        more = "" if retrain == "-" else f", retrain: {retrain}"
        text += (
            f"  - {{page: {page}, revision: {revision}, effective: {day}, approved_by: owner, "
            f'why: "{why}", values_code: "{code}"{more}}}\n'
        )
    return text


def fourth_with(folder: Path, text: str, *changes: tuple[str, str]) -> Path:
    return made_house(folder, ("crop_plan:\n", f"{text}crop_plan:\n"), *changes, name="fourth")


def register_with(site: Site, folder: Path, text: str, *changes: tuple[str, str]) -> Register:
    """The amounts of the fourth house with more sections: they move no amount, so nothing is worked out again."""
    house, problems = load_house(fourth_with(folder, text, *changes))
    assert house is not None, [str(problem) for problem in problems]
    return replace(site.register, house=house)

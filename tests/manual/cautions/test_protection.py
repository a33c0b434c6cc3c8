"""What to wear is told with the steps that ask for it; feed whose data sheet nobody read counts as unknown, never as harmless."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from macros.manual.house_facts.chemicals_in_hand import part_handling
from macros.paper.labels.hazard_words import ASK, NO_WORDS, hazard_rows
from tests.making import made_house, made_register, manual_of


@pytest.mark.parametrize("house", ["second", "fourth"])
def test_gear_is_told_with_its_first_and_last_step(house: str) -> None:
    for view in manual_of(house).views:
        for worn in view.ppe:
            found = re.fullmatch(r"steps? (\d+)(?: to (\d+))?", worn.detail)
            assert found, f"{view.key}: {worn}"
            first, last = int(found[1]), int(found[2] or found[1])
            assert 1 <= first <= last <= len(view.steps)


def test_goggles_stand_from_the_first_step_of_a_page_that_asks_for_them() -> None:
    """The loop: the stock is poured first, the drained batch is the last that stings."""
    (view,) = [one for one in manual_of("fourth").views if one.key == "SOP-06-K"]
    numbers = [step.number for step in view.steps if step.stocks]
    (goggles,) = [one for one in view.ppe if "oggles" in one.name]
    assert goggles.detail.startswith(f"steps {numbers[0]} to ")


PART = 'name: "part 1 (calcium)", container: "5.0 L"'


@pytest.mark.parametrize(
    ("codes", "said"), [("", ASK), (", sds_codes: []", NO_WORDS), (", sds_codes: [H318]", "serious eye damage")]
)  # fmt: skip
def test_a_feed_part_has_no_hazard_words_only_where_its_sheet_says_so(tmp_path: Path, codes: str, said: str) -> None:  # fmt: skip
    register = made_register(made_house(tmp_path, (PART, PART + codes), name="fourth"))
    part = register.house.nutrients.parts_in_order()[0]
    rows = hazard_rows(part_handling(part), register, "label", as_bought=True)
    assert any(said in row.text for row in rows), [row.text for row in rows]
    assert (NO_WORDS in [row.text for row in rows]) == (said == NO_WORDS)

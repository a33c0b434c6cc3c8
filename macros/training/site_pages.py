"""What training gives to the site: the path with its modules, self-checks, the naming of plants, the roster."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from macros.amounts import Register
from macros.html.site_text import SiteText, table_text
from macros.page_model.page import LinkView, PageView
from macros.photographs import NO_PHOTOGRAPHS, Photographs
from macros.training.path.markdown import path_texts
from macros.training.path.naming_test import naming_page
from macros.training.path.roster import roster_page
from macros.training.self_checks.coverage import CoverageRow
from macros.training.self_checks.markdown import check_texts
from macros.training.self_checks.question import QuestionView


def training_texts(
    register: Register,
    views: Sequence[PageView],
    questions: Sequence[QuestionView],
    coverage: Sequence[CoverageRow],
    withdrawn: Mapping[tuple[str, int], LinkView],
    photographs: Photographs = NO_PHOTOGRAPHS,
) -> Iterator[SiteText]:
    """Every page of the section. `withdrawn` leads from a page and revision to the copy of it."""
    yield from path_texts(register, views)
    yield from check_texts(register, views, questions, coverage)
    yield table_text("training/naming", naming_page(register, photographs), "Training", "Naming plants")
    yield table_text("training/roster", roster_page(register, views, withdrawn), "Training", "Roster")

"""The table requirement x page, and the list of waivers."""

from __future__ import annotations

from collections.abc import Sequence

from macros.manual.pages.build_page import BuiltPage
from macros.manual.requirements.judge import Verdict
from macros.page_model.table import Table, TablePage
from macros.published.pages.requirements import Requirement, requirements

PASS, WAIVED, BROKEN = "✓", "W", "✗"
HEADS = ("Requirement", "What", "Source")


def requirements_page(built: Sequence[BuiltPage]) -> TablePage:
    """Pass, waived or not for a program to judge, for every requirement and every page."""
    documents = sorted({page.content.document for page in built})
    broken = {(v.requirement, v.page): v for page in built for v in page.verdicts if not v.met}
    rows = tuple(
        (_head(one), *(_cell(broken.get((one.id, document))) for document in documents))
        for one in requirements().values()
        if one.judged == "page"
    )
    return TablePage(
        "Requirements",
        "What each page must meet. A star marks a must: a page that breaks it is not built. "
        "✓ pass, or the page has no such thing; W waived, with its reason below; ✗ not met.",
        (
            Table(
                "Requirement by page",
                ("Requirement", *(name.removeprefix("SOP-") for name in documents)),
                rows,
                "The columns are the documents SOP-01 and on.",
                matrix=True,
            ),
            Table(
                "Waived",
                ("Page", "Requirement", "Reason"),
                _waivers(built) or (("None", "", "every page meets every requirement a program judges"),),
            ),
            Table("Asks less than its words", ("Requirement", "What is not held, and why"), _less()),
            Table("Held for all pages at once, at every build", HEADS, _listed("build")),
            Table("Held by the tests of pages and sheets in a browser", HEADS, _listed("print")),
            Table("For a person to judge", HEADS, _listed("eye")),
        ),
    )


def _head(one: Requirement) -> str:
    return f"{one.id}{'*' if one.must else ''} {one.text}"


def _waivers(built: Sequence[BuiltPage]) -> tuple[tuple[str, str, str], ...]:
    found = {(v.page, v.requirement, v.waived) for page in built for v in page.verdicts if v.waived}
    return tuple(sorted(found))


def _less() -> tuple[tuple[str, str], ...]:
    return tuple((one.id, one.asks_less) for one in requirements().values() if one.asks_less)


def _listed(judged: str) -> tuple[tuple[str, str, str], ...]:
    starred = [(one, f"{one.id}{'*' if one.must else ''}") for one in requirements().values()]
    return tuple((id_, one.text, one.source) for one, id_ in starred if one.judged == judged)


def _cell(verdict: Verdict | None) -> str:
    if verdict is None:
        return PASS
    return WAIVED if verdict.waived else BROKEN

"""The change list as a page of the site: what waits to be issued, printed again and trained again."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from macros.control.changes.causes import Cause
from macros.control.changes.changes import ChangeList, Comparison, ExplainedDifference
from macros.control.changes.sheet_kinds import SHEET_KINDS
from macros.control.changes.terminal import VERDICTS, shortened, summary
from macros.control.changes.uncontrolled_things import PrintedThing
from macros.control.documents.controlled_documents import ControlledDocument
from macros.html.environment import render
from macros.training.path.sign_offs import names_published

PEOPLE = "people["
"""Begin of the name of a fact about a person."""


def changes_page(
    compared: Comparison, items: Sequence[ControlledDocument], things: Iterable[PrintedThing]
) -> str:
    """The page. Initials stand on it only where the house publishes them; the pages of the site itself are left out."""
    names = names_published(compared.house)
    changes = compared.changes(items, things, None, names=names)
    if not names:
        changes = without_people(changes)
    return render(
        "changes.md.j2",
        changes=changes,
        summary=summary(changes),
        day=compared.register.built_for,
        waiting=[one for one in changes.items if one.verdict != "first issue"],
        never=[one for one in changes.items if one.verdict == "first issue"],
        things=[
            (kind.head, changes.of_kind(kind.name))
            for kind in SHEET_KINDS.values()
            if changes.of_kind(kind.name)
        ],
        shortened=lambda found: list(shortened(found)),
        reasons=_reasons,
        verdicts=VERDICTS,
        sign_offs=[
            (head, found)
            for head, void in (("Void once the page is issued", True), ("To be looked at", False))
            if (found := changes.signed_off(void=void))
        ],
    )


def _reasons(differences: Iterable[ExplainedDifference]) -> list[str]:
    """What made the differences of one thing, each once; what is not sure is told only where nothing else is known."""
    found = [one.reasons for one in differences]
    sure = [cause.text for reasons in found if reasons.sure for cause in reasons.causes]
    return list(dict.fromkeys(sure or [reasons.text for reasons in found]))


def without_people(changes: ChangeList) -> ChangeList:
    """The list without what the house says of its people: that it changed stays, its texts go."""
    return replace(
        changes,
        items=tuple(replace(one, differences=_hidden(one.differences)) for one in changes.items),
        things=tuple(replace(one, differences=_hidden(one.differences)) for one in changes.things),
        unseen=tuple(map(_cause, changes.unseen)),
    )


def _hidden(differences: Iterable[ExplainedDifference]) -> tuple[ExplainedDifference, ...]:
    return tuple(
        replace(one, reasons=replace(one.reasons, causes=tuple(map(_cause, one.reasons.causes))))
        for one in differences
    )


def _cause(cause: Cause) -> Cause:
    return Cause(cause.name, cause.where) if cause.name.startswith(PEOPLE) else cause

"""The impact list as a page of the site: what waits to be issued, printed again and trained again."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from macros.control.changes.causes import Cause
from macros.control.changes.changes import Comparison, Impact, Told
from macros.control.changes.sheet_kinds import SHEET_KINDS
from macros.control.changes.terminal import VERDICTS, shortened, summary
from macros.control.changes.uncontrolled_things import Printed
from macros.control.documents.controlled_items import Controlled
from macros.html.environment import render
from macros.training.path.sign_offs import names_published

PEOPLE = "people["
"""Begin of the name of a fact about a person."""


def changes_page(compared: Comparison, items: Sequence[Controlled], things: Iterable[Printed]) -> str:
    """The page. Initials stand on it only where the house publishes them; the pages of the site itself are left out."""
    names = names_published(compared.house)
    impact = compared.impact(items, things, None, names=names)
    if not names:
        impact = without_people(impact)
    return render(
        "changes.md.j2",
        impact=impact,
        summary=summary(impact),
        day=compared.register.built_for,
        waiting=[one for one in impact.items if one.verdict != "first issue"],
        never=[one for one in impact.items if one.verdict == "first issue"],
        things=[(kind.head, found) for kind in SHEET_KINDS.values() if (found := impact.of_kind(kind.name))],
        shortened=lambda found: list(shortened(found)),
        reasons=_reasons,
        verdicts=VERDICTS,
        sign_offs=_sign_offs(impact),
    )


def _sign_offs(impact: Impact) -> list[tuple[str, list[str]]]:
    """Void and to be looked at, each with its people and pages."""
    heads = ((True, "Void once the page is issued"), (False, "To be looked at"))
    told = [
        (head, [f"{one.who} on {one.page}" for one in impact.sign_offs if one.void == void])
        for void, head in heads
    ]
    return [(head, found) for head, found in told if found]


def _reasons(differences: Iterable[Told]) -> list[str]:
    """What made the differences of one thing, each once; what is not sure is told only where nothing else is known."""
    found = [one.reasons for one in differences]
    sure = [cause.text for reasons in found if reasons.sure for cause in reasons.causes]
    return list(dict.fromkeys(sure or [reasons.text for reasons in found]))


def without_people(impact: Impact) -> Impact:
    """The list without what the house says of its people: that it changed stays, its texts go."""
    return replace(
        impact,
        items=tuple(replace(one, differences=_hidden(one.differences)) for one in impact.items),
        things=tuple(replace(one, differences=_hidden(one.differences)) for one in impact.things),
        unseen=tuple(map(_cause, impact.unseen)),
    )


def _hidden(differences: Iterable[Told]) -> tuple[Told, ...]:
    return tuple(
        replace(one, reasons=replace(one.reasons, causes=tuple(map(_cause, one.reasons.causes))))
        for one in differences
    )


def _cause(cause: Cause) -> Cause:
    return Cause(cause.name, cause.where) if cause.name.startswith(PEOPLE) else cause

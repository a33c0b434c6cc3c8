"""Checks a rendered page against the triggers, both ways: nothing missing, nothing needless."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from macros.manual.cautions.cautions_of_page import PageCautions
from macros.manual.cautions.step_facts import StepFacts
from macros.manual.cautions.triggers import Scene, matches
from macros.page_model.page import PlacedCaution
from macros.published.safety.cautions import catalogue
from macros.published.safety.signal_words import is_injury


def check_page(shown_by_step: Mapping[str, Sequence[str]], page: PageCautions) -> list[str]:
    """What is wrong with the cautions as they stand on a page; empty when all is right.

    Parameters
    ----------
    shown_by_step : step id -> ids of the cautions that stand directly before it, in their order on the page
    """
    messages = [
        f"step {step_id} shows cautions but is no step of this page"
        for step_id in shown_by_step
        if step_id not in page.before
    ]
    for step_id, wanted in page.before.items():
        shown, met = shown_by_step.get(step_id, ()), {one.id for one in page.met[step_id]}
        messages += [f"step {step_id}: {text}" for text in _mistakes(shown, wanted, met)]
    return messages


def _mistakes(shown: Sequence[str], placed: Sequence[PlacedCaution], met: set[str]) -> Iterator[str]:
    wanted = [one.id for one in placed]
    yield from (_missing(one) for one in placed if one.id not in shown)
    yield from (_needless(one, met) for one in dict.fromkeys(shown) if one not in wanted)
    for one in dict.fromkeys(wanted):
        if shown.count(one) not in (0, wanted.count(one)):
            yield f"{one} is shown {shown.count(one)} times, {wanted.count(one)} wanted"
    if sorted(shown) == sorted(wanted) and [*shown] != wanted:
        yield f"the order is {', '.join(shown)}; worst first is {', '.join(wanted)}"


def _needless(id_: str, met: set[str]) -> str:
    if id_ not in catalogue():
        return f"{id_} is no caution of the catalogue"
    if id_ not in met:
        return f"{id_} is shown, but its trigger is not met here"
    return f"{id_} is shown again with the same words as before"


def unlabelled_solutions(steps: Sequence[StepFacts]) -> list[str]:
    """Steps that fill a container to be kept, with no labelling step after them on the page.

    Source: 29 CFR 1910.1200(f)(6); a container used up at once by the one who fills it is exempt.
    """
    fills = catalogue()["CHEM-UNLABELLED"].trigger
    return [
        f"step {step.step_id} ({step.action}) fills a container, and no later step labels it"
        for after, step in enumerate(steps, start=1)
        if matches(fills, Scene(step)) and not any(later.action == "label" for later in steps[after:])
    ]


def _missing(one: PlacedCaution) -> str:
    unknown = f"; not known: {', '.join(one.not_known)}" if one.not_known and is_injury(one.word) else ""
    return f"{one.id} ({one.word}) is missing; {'; '.join(one.why)}{unknown}"

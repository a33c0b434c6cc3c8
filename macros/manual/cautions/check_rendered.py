"""Checks a rendered page against the triggers, both ways: nothing missing, nothing needless."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from macros.manual.cautions.cautions_of_page import PageCautions, page_cautions
from macros.manual.cautions.cautions_of_step import Shown
from macros.manual.cautions.step_facts import StepFacts
from macros.manual.cautions.triggers import Scene, matches
from macros.published.safety.cautions import catalogue
from macros.published.safety.pairs import HousePair
from macros.published.safety.signal_words import is_injury
from macros.published.safety.substances import Handling


def check_page(
    shown_by_step: Mapping[str, Sequence[str]],
    steps: Sequence[StepFacts],
    also_on_page: Iterable[Handling | str] = (),
    elsewhere: Iterable[Handling | str] = (),
    house_pairs: Sequence[HousePair] = (),
    unit_style: str = "metric",
    page: PageCautions | None = None,
) -> list[str]:
    """What is wrong with the cautions as they stand on a page; empty when all is right.

    Parameters
    ----------
    shown_by_step : step id -> ids of the cautions that stand directly before it, in their order on the page
    steps, also_on_page, elsewhere, house_pairs, unit_style : as for `page_cautions`
    page : the outcome of `page_cautions` for these steps, where it is known already
    """
    page = page or page_cautions(steps, also_on_page, elsewhere, house_pairs, unit_style)
    known_steps = {step.step_id for step in page.steps}
    messages = [
        f"step {step_id} shows cautions but is no step of this page"
        for step_id in shown_by_step
        if step_id not in known_steps
    ]
    for step in page.steps:
        shown = list(shown_by_step.get(step.step_id, ()))
        wanted = [one.id for one in step.cautions]
        messages += [_missing(step.step_id, one) for one in step.cautions if one.id not in shown]
        met = {one.id for one in step.met}
        for one in dict.fromkeys(shown):
            if one not in catalogue():
                messages.append(f"step {step.step_id}: {one} is no caution of the catalogue")
            elif one not in met:
                messages.append(f"step {step.step_id}: {one} is shown, but its trigger is not met here")
            elif one not in wanted:
                messages.append(f"step {step.step_id}: {one} is shown again with the same words as before")
        messages += [
            f"step {step.step_id}: {one} is shown {shown.count(one)} times, {wanted.count(one)} wanted"
            for one in dict.fromkeys(shown)
            if one in wanted and shown.count(one) != wanted.count(one)
        ]
        if sorted(shown) == sorted(wanted) and shown != wanted:
            messages.append(
                f"step {step.step_id}: the order is {', '.join(shown)}; worst first is {', '.join(wanted)}"
            )
    return messages


def unlabelled_solutions(steps: Sequence[StepFacts]) -> list[str]:
    """Steps that fill a container to be kept, with no labelling step after them on the page.

    Source: 29 CFR 1910.1200(f)(6); a container used up at once by the one who fills it is exempt.
    """
    messages = []
    for index, step in enumerate(steps):
        keeps = matches(catalogue()["CHEM-UNLABELLED"].trigger, Scene(step))
        if keeps and not any(later.action == "label" for later in steps[index + 1 :]):
            messages.append(
                f"step {step.step_id} ({step.action}) fills a container, and no later step labels it"
            )
    return messages


def _missing(step_id: str, one: Shown) -> str:
    unknown = f"; not known: {', '.join(one.not_known)}" if one.not_known and is_injury(one.word) else ""
    return f"step {step_id}: {one.id} ({one.word}) is missing; {'; '.join(one.why)}{unknown}"

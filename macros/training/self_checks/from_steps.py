"""Questions made of a page's own steps and cautions, so that no critical step and no caution is without one."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping, Sequence

from macros.amounts import Register
from macros.page_model.page import AmountView, PageView, PlacedCaution, StepView, WaitView
from macros.training.self_checks.figures import NoFigure, figure_of
from macros.training.self_checks.question import QuestionView, Target
from macros.training.self_checks.tolerance import tolerance_of_amount

GAP = "___"
"""Stands where a step's own words would tell the answer."""

STOP = (
    "Stop here and tell who is responsible: it is a critical step, and nothing after it goes on without it."
)
"""The answer where a critical step says nothing but its act."""

_ELSEWHERE = re.compile(r"\b(?:table|this page|row of)\b")
"""Limits that send the reader to another place are no answer."""

_FIGURE = re.compile(r"\d+(?:\.\d+)?[ \u00a0]?[A-Za-z%/°]*")


def step_questions(
    register: Register,
    views: Sequence[PageView],
    modules: Mapping[str, str],
    asked: Mapping[tuple[str, str], Collection[str]],
) -> Iterator[QuestionView]:
    """Of each critical step: its amounts, what must be seen or its limits, its wait.

    Parameters
    ----------
    modules : page key -> training unit
    asked : (page key, step id) of the steps that written questions test -> the amounts those ask for; of such a step
        only its other amounts and its wait are asked
    """
    for view in views:
        phase = ""
        for step in view.steps:
            phase = step.phase or phase
            if step.critical:
                yield from _of_step(
                    register, view, step, phase, modules[view.key], asked.get((view.key, step.id))
                )


def _of_step(
    register: Register, view: PageView, step: StepView, phase: str, module: str, asked: Collection[str] | None
) -> list[QuestionView]:
    target = Target(view.key, view.document, view.system, step.id, step.number)
    name = f"{view.key}-{step.id}"
    at = f"{_head(phase)}: {_act(step)}" if phase else _act(step)

    def in_words(topic: str, text: str, answer: str, why: str) -> QuestionView:
        return QuestionView(f"{name}-{topic}", module, (target,), text, "words", answer, why=why)

    found = _of_amounts(register, step, target, name, module, at)
    found = [one for one in found if set(one.amounts).isdisjoint(asked or ())]
    if asked is None:
        found += [in_words(*plain, step.reason) for plain in _plain(step, at, bool(found or step.wait))]
    if step.wait is not None and step.wait.least:
        found.append(in_words("wait", *_of_wait(step.wait, at, step.reason)))
    if not found and asked is None:
        found.append(in_words("stop", f"“{at}” What if this cannot be done?", STOP, ""))
    return found


def _of_wait(wait: WaitView, at: str, reason: str) -> tuple[str, str, str]:
    """How long, and what then: question, answer, and what comes of missing it."""
    most = f", at most {wait.greatest}" if wait.greatest else ""
    text = f"“{_without(at, (wait.least, wait.greatest))}” How long do you wait, at least and at most, and what then?"
    why = f"Time missed: {wait.missed}" if wait.missed else reason
    return text, f"At least {wait.least}{most}; then {wait.then}.", why


def _of_amounts(
    register: Register, step: StepView, target: Target, name: str, module: str, at: str
) -> list[QuestionView]:
    made = [
        _amount_question(register, ask, target, f"{name}-{ask.amount_id}", module, at, step.reason)
        for ask in step.amounts
    ]
    return [one for one in made if one is not None]


def _amount_question(
    register: Register, ask: AmountView, target: Target, id_: str, module: str, at: str, why: str
) -> QuestionView | None:
    """How much; a band is asked for in words. None where the step's own words would tell it."""
    amount = register.at_anchor(ask.anchor)
    if amount is None:
        return None
    text = f"“{_without(at, (ask.printed,))}” {ask.label}: how much?"
    try:
        figure = figure_of(amount)
    except NoFigure:
        if amount.kind != "band":
            return None
        text = f"“{at}” {ask.label}: which readings?"
        return QuestionView(
            id_, module, (target,), text, "words", ask.printed, tool=ask.tool, why=why, amounts=(amount.key,)
        )
    if not figure.shown_unit and figure.unit:
        return None
    within, tolerance = tolerance_of_amount(amount, figure, register)
    return QuestionView(
        id_, module, (target,), text, "number", ask.printed, figure.shown_unit, ask.tool, tolerance, (), figure.value, within,
        why=why, amounts=(amount.key,),
    )  # fmt: skip


def _plain(step: StepView, at: str, asked: bool) -> Iterator[tuple[str, str, str]]:
    """(topic, question, answer): what shows that it is right; else, where nothing is asked of the step yet, its limits or its reason."""
    if step.expect:
        yield "see", f"“{_without(at, _figures(step.expect))}” When is it right?", step.expect
    elif step.record is not None and _says(step.record.limits) and not asked:
        said = _without(at, (step.record.limits, *_figures(step.record.limits)))
        yield "limits", f"“{said}” You write “{step.record.label}”: what may stand there?", step.record.limits
    elif step.reason and not asked:
        yield "why", f"“{at}” Why?", step.reason


def caution_questions(views: Sequence[PageView], modules: Mapping[str, str]) -> Iterator[QuestionView]:
    """Each caution of a training unit once: what it can do, what is kept or never done. Step numbers are not asked by heart."""
    found: dict[tuple[str, str], list[tuple[Target, PlacedCaution, PageView]]] = {}
    for view in views:
        for step in view.steps:
            for caution in step.cautions:
                target = Target(view.key, view.document, view.system, step.id, step.number, caution.id)
                found.setdefault((caution.id, modules[view.key]), []).append((target, caution, view))
    for (id_, module), places in found.items():
        first = places[0][1]
        harm = " / ".join(dict.fromkeys(caution.consequence for _, caution, _ in places))
        act = " / ".join(dict.fromkeys(caution.avoidance for _, caution, _ in places))
        pages = ", ".join(dict.fromkeys(view.title for _, _, view in places))
        yield QuestionView(
            f"{id_}-{module.partition('_')[0]}",
            module,
            tuple(target for target, _, _ in places),
            f"{first.word}, “{first.entry.title}” ({pages}): what can it do, and what do you keep to?",
            "words",
            f"What it can do: {harm} What you keep to: {act}",
            why=_hazard([caution.hazard for _, caution, _ in places]),
        )


def _hazard(told: Sequence[str]) -> str:
    """What the places have in common: strength or volume stand in brackets, and are left out where they differ."""
    if len(set(told)) == 1:
        return told[0]
    return " / ".join(dict.fromkeys(re.sub(r"[ \u00a0]\([^)]*\)", "", one) for one in told))


def _says(limits: str) -> bool:
    """Whether limits say what is allowed, and do not only point to a table."""
    return bool(limits) and not _ELSEWHERE.search(limits)


def _act(step: StepView) -> str:
    """What is done, with the ways to choose from: `ONE of these:` alone asks nothing."""
    return f"{step.do} {'; '.join(step.one_of)}." if step.one_of else step.do


def _head(phase: str) -> str:
    """A phase without what follows its name: `Tray spray: 0.4 L` would tell another question's answer."""
    return re.split("[:,]", phase)[0]


def _figures(answer: str) -> tuple[str, ...]:
    return tuple(found.strip() for found in _FIGURE.findall(answer))


def _without(text: str, answers: Sequence[str]) -> str:
    """The text with a gap where it would tell the answer."""
    for answer in answers:
        if answer and len(answer) > 1:
            text = text.replace(answer, GAP)
    return text

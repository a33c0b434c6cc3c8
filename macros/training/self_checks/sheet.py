"""Questions on paper: a sheet with blanks for the helper, and the trainer's key.

The key is made when a trainer prints it and is no part of the site: no page, no file, no link. So the helper's pages lead
nowhere to it.
"""

from __future__ import annotations

from collections.abc import Sequence

from macros.amounts import Register
from macros.html.environment import fragment
from macros.html.paper import Part
from macros.manual.procedures.write_text import TextWriter
from macros.page_model.page import PageView
from macros.training.self_checks.all_questions import QuestionView, house_questions, of_module, short_name
from macros.training.self_checks.markdown import module_title, modules_with_questions


def key_parts(register: Register, views: Sequence[PageView], module: str) -> list[Part]:
    """The trainer's key of a training unit: every question, its answer, the wrong answers and what they mean.

    Parameters
    ----------
    module : `M8_cleanout` or `M8`

    Raises
    ------
    KeyError
        no such unit has questions in this house; the message lists those that have.
    """
    questions = _questions(register, views, module)
    return [question_part(register, views, questions, "KEY", "trainer's key")]


def question_sheet_parts(register: Register, views: Sequence[PageView], module: str) -> list[Part]:
    """The same questions with blanks, for the helper: no answer stands on it. `module` and errors as `key_parts`."""
    questions = _questions(register, views, module)
    return [question_part(register, views, questions, "ASK", "self-check")]


def _questions(register: Register, views: Sequence[PageView], module: str) -> tuple[QuestionView, ...]:
    everything = house_questions(register, views, TextWriter())
    found = of_module(everything, module)
    if not found:
        there = ", ".join(short_name(one) for one in modules_with_questions(everything))
        raise KeyError(f"{module} is no training unit with questions in this house; there are {there}")
    return found


def question_part(
    register: Register,
    views: Sequence[PageView],
    questions: Sequence[QuestionView],
    code: str,
    kind: str,
) -> Part:
    """Questions of one unit on paper; `code` is KEY with answers or ASK without, `kind` the same in words."""
    module = questions[0].module
    titles = {view.key: view.title for view in views}
    key = f"{code}-{short_name(module)}"
    groups: dict[str, list[tuple[int, QuestionView]]] = {}
    for number, question in enumerate(questions, start=1):
        heading = (
            "Cautions" if question.tests[0].caution and not question.template else titles[question.page_key]
        )
        groups.setdefault(heading, []).append((number, question))
    title = module_title(module)
    return Part(
        key=key,
        title=f"{title}: {kind}",
        html=fragment(
            "questions.html.j2",
            with_answers=code == "KEY",
            title=title,
            key=key,
            house_name=register.house.house.name,
            day=register.built_for,
            groups=groups,
            count=len(questions),
        ),
        styles=("questions",),
        top_left=f"{register.house.house.name} · {title} · {kind}",
        top_right=key,
        bottom_left=f"Built for {register.built_for}",
        bottom_right="Void once the house file changes" + ("; not for helpers" if code == "KEY" else ""),
    )

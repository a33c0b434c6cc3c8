"""How the system should look, drawn on the page: at the start, after each phase that changes it, where work may rest, at the end."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from macros.amounts import Register
from macros.manual.pages.build_page import BuiltPage
from macros.page_model.page import StepView
from macros.page_model.room_view import RoomView
from macros.rehearsal.model.equipment import Equipment, equipment
from macros.rehearsal.model.state import State, water_word
from macros.rehearsal.model.steps import steps_of
from macros.rehearsal.model.words import said
from macros.rehearsal.run import Moment, run, starts

_SAID = ("pump", "air", "lamps", "timer", "valve", "lid", "stones", "crop")


def with_looks(page: BuiltPage, register: Register) -> BuiltPage:
    """The page with its drawings; as it is where it is for the room, or the house does not give enough of the system."""
    of = equipment(register, page.content.system) if page.content.system else None
    if of is None or page.data is None:
        return page
    ran = run(steps_of(page, register, of.name), next(starts(page.data.starts_from, of)), of)
    begins = room_view("Before you start", ran.start, of)
    steps = _drawn(page.content.steps, ran.moments, begins, of)
    return replace(page, content=replace(page.content, looks_at_start=begins, steps=steps))


def _drawn(
    steps: Sequence[StepView], moments: Sequence[Moment], begins: RoomView, of: Equipment
) -> tuple[StepView, ...]:
    shown, found = begins, []
    for number, (step, moment) in enumerate(zip(steps, moments, strict=True)):
        last = number + 1 == len(steps)
        ends_phase = last or bool(steps[number + 1].phase)
        title = "Left like this" if step.safe_to_leave else f"After step {step.number}"
        view = room_view(title, moment.after, of)
        if (ends_phase and replace(view, title="") != replace(shown, title="")) or step.safe_to_leave or last:
            found.append(replace(step, looks=view))
            shown = view
        else:
            found.append(step)
    return tuple(found)


def room_view(title: str, state: State, of: Equipment) -> RoomView:
    """The moment as a drawing needs it."""
    words = {word: state.words[word] for word in _SAID}
    return RoomView(
        title=title,
        said=_in_words(state, of),
        trays=of.trays,
        level=round(of.level(state.tank.litres) / of.level(of.brim), 2),
        fill_mark=round(of.level(of.levels["fill_mark"]) / of.level(of.brim), 2),
        water=water_word(state.tank, of),
        up=state.trays.litres > 0,
        pump=words["pump"] == "in",
        air=words["air"] == "in" if of.has_air else None,
        lamps=words["lamps"] == "in" if of.has_lamps else None,
        timer=words["timer"] if of.has_timer else "",
        valve=words["valve"],
        lid=words["lid"],
        stones=words["stones"] == "in",
        crop=words["crop"] == "in",
    )


def _in_words(state: State, of: Equipment) -> str:
    told = [said(word, (state.words[word],)) for word in _SAID if not of.lacks(word)]
    told += [said(word, (state.word(word, of),)) for word in ("water", "trays")]
    return f"{'; '.join(told)}."

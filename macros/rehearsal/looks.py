"""How the system should look, drawn on the page: at the start, after each phase that changes it, where work may rest, at the end."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from macros.amounts import Register
from macros.amounts.engine.number_format import in_house_unit, number_text, shown_unit
from macros.manual.pages.build_page import BuiltPage
from macros.page_model.page import StepView
from macros.page_model.room_view import RackSizes, RoomView
from macros.rehearsal.model.equipment import Equipment, equipment
from macros.rehearsal.model.state import State, water_word
from macros.rehearsal.model.steps import steps_of
from macros.rehearsal.model.words import said
from macros.rehearsal.run import Moment, run, starts

_SAID = ("pump", "air", "lamps", "timer", "breaker", "valve", "lid", "stones", "crop")
_WIDTHS = ("inside_length", "inside_length_top", "inside_diameter", "inside_diameter_top")
"""What says how wide a tank is seen from the front."""


@dataclass(frozen=True)
class Rack:
    """One system of the house: what the model knows of it, and what only the drawing needs.

    `has_valve` says whether the tank drains by a valve, `us` whether the house reads gallons and inches.
    """

    of: Equipment
    sizes: RackSizes
    has_valve: bool
    us: bool

    def lacks(self, word: str) -> bool:
        """Whether the system has no such thing, so that nothing is drawn or said of it."""
        return self.of.lacks(word) or (word == "valve" and not self.has_valve)


def with_looks(page: BuiltPage, register: Register) -> BuiltPage:
    """The page with its drawings; as it is where it is for the room, or the house does not give enough of the system."""
    of = equipment(register, page.content.system) if page.content.system else None
    if of is None or page.data is None:
        return page
    rack = rack_of(of, register)
    ran = run(steps_of(page, register, of.name), next(starts(page.data.starts_from, of)), of)
    begins = room_view("Before you start", ran.start, rack)
    steps = _drawn(page.content.steps, ran.moments, begins, rack)
    if not any(step.looks and replace(step.looks, title="") != replace(begins, title="") for step in steps):
        return page  # work at a bench: the rack stays as it is, and who is there looks elsewhere
    return replace(page, content=replace(page.content, looks_at_start=begins, steps=steps))


def rack_of(of: Equipment, register: Register) -> Rack:
    """The system of the house that the model runs."""
    system = register.house.system(of.name)
    tank = system.reservoir
    width = next(size for name in _WIDTHS if (size := getattr(tank, name)) is not None)
    lengths = (system.trays.inside_length.to("m"), width.to("m"), of.level(of.brim))
    sizes = RackSizes(of.trays, *(round(one, 1) for one in lengths))
    return Rack(of, sizes, bool(tank.drain_valve), register.house.us)


def _drawn(
    steps: Sequence[StepView], moments: Sequence[Moment], begins: RoomView, rack: Rack
) -> tuple[StepView, ...]:
    shown, found = begins, []
    for number, (step, moment) in enumerate(zip(steps, moments, strict=True)):
        last = number + 1 == len(steps)
        ends_phase = last or bool(steps[number + 1].phase)
        title = f"After step {step.number}{', left like this' if step.safe_to_leave else ''}"
        view = room_view(title, _left(moment), rack)
        if (ends_phase and replace(view, title="") != replace(shown, title="")) or step.safe_to_leave or last:
            found.append(replace(step, looks=view))
            shown = view
        else:
            found.append(step)
    return tuple(found)


def _left(moment: Moment) -> State:
    """The room after the step; where work rests here, as it is left."""
    stands = moment.step.stands.said() if moment.step.stands else {}
    return moment.after.with_words(**{word: values[0] for word, values in stands.items()})


def room_view(title: str, state: State, rack: Rack) -> RoomView:
    """The moment as a drawing needs it."""
    words, of = {word: "" if rack.lacks(word) else state.words[word] for word in _SAID}, rack.of
    brim = of.level(of.brim)
    return RoomView(
        title=title,
        said=_in_words(state, rack),
        rack=rack.sizes,
        level=round(of.level(state.tank.litres) / brim, 2),
        fill_mark=round(of.level(of.levels["fill_mark"]) / brim, 2),
        water=water_word(state.tank, of),
        up=state.trays.litres > 0,
        pump=words["pump"] == "in",
        air=words["air"] == "in" if of.has_air else None,
        lamps=words["lamps"] == "in" if of.has_lamps else None,
        power=words["breaker"] == "on",
        timer=words["timer"],
        valve=words["valve"],
        lid=words["lid"],
        stones=words["stones"] == "in",
        crop=words["crop"] == "in",
    )


def _in_words(state: State, rack: Rack) -> str:
    """Each thing that is drawn as it stands; the level in the units of the house."""
    told = [said(word, (state.words[word],)) for word in _SAID if not rack.lacks(word)]
    told += [said(word, (state.word(word, rack.of),)) for word in ("water", "trays")]
    if state.tank.litres > 0:
        amounts = ((state.tank.litres, "L"), (rack.of.level(state.tank.litres), "m"))
        litres, height = (_read(value, unit, rack.us) for value, unit in amounts)
        told.append(f"its water stands {height} high, {litres}")
    return f"{'; '.join(told)}."


def _read(value: float, unit: str, us: bool) -> str:
    number, shown = in_house_unit(value, unit, us)
    return f"{number_text(number, 0.1)} {shown_unit(shown)}"

"""The steps of a page as the rehearsal runs them: what each says it does, over what its action is known to do."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TypeVar

from macros.amounts import Amount, NotFound, Register
from macros.ground.problems import Place
from macros.manual.pages.build_page import BuiltPage
from macros.manual.procedures.expand_steps import PlannedStep
from macros.page_model.page import StepView
from macros.published.labour.effects import Does, RoomWords, effect_of

_LEVEL_OF = {"fill_first": "first_mark", "res_fill": "fill_mark", "fill_level": "fill_mark", "loop_volume": "loop_line",
             "rinse_volume": "rinse_line", "water_for_batch": "first_line"}  # fmt: skip
"""Up to which level a step fills that says an amount of water."""


@dataclass(frozen=True)
class RunStep:
    """One step as it is run.

    Parameters
    ----------
    page, number, id : where a person finds it; `written` is its id before repeats
    does, needs : its action's, with what the step says itself before it
    task : the sanitizing task it is about, or empty
    part : the feed part it pours, or empty
    groups : groups of liquids it measures, by the tool; none where it puts on a batch that is made already
    minutes, waits : hands-on, and the least wait after it [min]
    gear, uses : what its cautions have on, what it takes in hand
    place : file and line; `key` its name in a message
    leave, stands : whether work may rest after it; what is done on leaving
    only_when : how the room must stand for the step to be done at all
    not_said : what it ought to say under `does` and does not
    """

    page: str
    number: int
    id: str
    written: str
    action: str
    sentence: str
    does: Does
    needs: RoomWords
    place: Place
    key: str
    task: str = ""
    part: str = ""
    amounts: tuple[Amount, ...] = ()
    groups: tuple[tuple[str, str], ...] = ()
    minutes: float = 0.0
    waits: float = 0.0
    gear: frozenset[str] = frozenset()
    uses: tuple[str, ...] = ()
    food: bool = False
    phase: str = ""
    leave: bool = False
    stands: RoomWords | None = None
    system: str = ""
    only_when: RoomWords | None = None
    not_said: tuple[str, ...] = ()

    @cached_property
    def makes(self) -> Mapping[str, tuple[str, ...]]:
        """The words of the room it makes so."""
        return self.does.said()

    @cached_property
    def needed(self) -> Mapping[str, tuple[str, ...]]:
        """The words that must hold when it begins."""
        return self.needs.said()


def steps_of(page: BuiltPage, register: Register, system: str) -> list[RunStep]:
    """The steps of a page for one system: a step repeated over systems counts for its own alone."""
    found = zip(page.planned, page.content.steps, strict=True)
    return [
        _step(page, planned, view, register, system)
        for planned, view in found
        if planned.keys.get("system", system) == system
    ]


def _waits(view: StepView) -> float:
    """The least minutes a step waits."""
    return (view.wait.least_minutes or 0.0) if view.wait else 0.0


def _step(page: BuiltPage, planned: PlannedStep, view: StepView, register: Register, system: str) -> RunStep:
    data, effect = planned.data, effect_of(planned.data.action)
    keys = {"system": system, **planned.keys}
    amounts = tuple(_amounts(planned, register, keys))
    does, needs = over(effect.does, data.does), over(effect.needs, data.needs)
    if does.fill is None and "fill" in effect.asks:
        does = does.model_copy(
            update={"fill": next((_LEVEL_OF[one.id] for one in amounts if one.id in _LEVEL_OF), None)}
        )
    asked = effect.asks and not any(_says(does, name) for name in effect.asks)
    return RunStep(
        page=page.content.document,
        number=view.number,
        id=view.id,
        written=data.id,
        action=data.action,
        sentence=view.do,
        does=does,
        needs=needs,
        place=data.place("do"),
        key=data.key("do"),
        task=_task(planned),
        part=planned.keys.get("part", ""),
        amounts=amounts,
        groups=() if does.wet else tuple(_groups(planned, amounts, register)),
        minutes=view.minutes,
        waits=_waits(view),
        gear=frozenset(one for caution in view.cautions for one in caution.ppe),
        uses=view.tools,
        food=effect.food,
        phase=view.phase,
        leave=view.safe_to_leave is not None,
        stands=data.safe_to_leave.stands if data.safe_to_leave else None,
        system=system,
        only_when=data.only_when,
        not_said=effect.asks if asked else (),
    )


W = TypeVar("W", bound=RoomWords)


def over(known: W, said: W | None) -> W:
    """What is known of an action, with what the step says in its place."""
    if said is None:
        return known
    return known.model_copy(update={name: getattr(said, name) for name in said.model_fields_set})


def _says(does: Does, name: str) -> bool:
    return name in does.model_fields_set or getattr(does, name) not in (None, (), False)


def _amounts(planned: PlannedStep, register: Register, keys: dict[str, str]) -> Iterator[Amount]:
    for ask in planned.data.amount:
        try:
            yield register.find(ask.id, keys, **ask.of)
        except NotFound:
            continue


def _task(planned: PlannedStep) -> str:
    made = [one.at.partition(":")[2] for one in planned.data.handles if one.at.startswith("made:")]
    asked = [ask.of["task"] for ask in planned.data.amount if "task" in ask.of]
    return next(iter([*filter(None, [planned.keys.get("task", "")]), *made, *asked]), "")


def _groups(planned: PlannedStep, amounts: Sequence[Amount], register: Register) -> Iterator[tuple[str, str]]:
    """Each measuring tool that the amounts name, with what it holds then."""
    house = register.house
    for amount in amounts:
        of = dict(amount.of)
        group = "water"
        if "part" in of:
            group = of["part"]
        elif amount.id == "stock_for_batch":
            group = house.sanitizing.tasks[of["task"]].chemical if house.sanitizing else "sanitizer"
        elif "chemical" in of:
            group = of["chemical"]
        elif amount.id == "strip_sample":
            group = f"batch of {of['task']}"
        for pour in amount.pours:
            yield pour.tool, group

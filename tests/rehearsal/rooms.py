"""A system and steps made for a test, in round numbers."""

from __future__ import annotations

from typing import Any

from macros.calculations.water.volumes import Box
from macros.ground.problems import Place
from macros.published.labour.effects import Does, RoomWords, effect_of
from macros.rehearsal.model.equipment import BatchFacts, Equipment
from macros.rehearsal.model.state import State
from macros.rehearsal.model.steps import RunStep, over
from macros.rehearsal.run import starts

ROOM = Equipment(
    name="Q",
    shape=Box(1.0, 0.5, 0.4),
    brim=200.0,
    dead=30.0,
    levels={"fill_mark": 150.0, "refill_mark": 100.0, "first_mark": 140.0, "first_line": 80.0, "loop_line": 90.0, "rinse_line": 75.0,
            "heel": 2.0, "empty": 0.0},
    trays=2,
    draw=40.0,
    held=3.0,
    heel=2.0,
    has_air=True,
    has_timer=True,
    has_lamps=True,
    has_plates=True,
    longest_flood=20.0,
    stands_dry=240.0,
    batches={
        "loop_circulate": BatchFacts("hydrogen peroxide", 90.0, 3000.0, 60.0, 240.0, True, 90.0, True),
        "tray_spray": BatchFacts("hydrogen peroxide", 1.0, 30000.0, 10.0, 240.0, True, 0.5, True),
    },
    residue=5.0,
    tray_rinses=4,
    scale_step=0.005,
)  # fmt: skip
"""A tank of 1.0 x 0.5 x 0.4 m, two trays that take 40 L, and a pump that needs 30 L."""


def step(action: str = "wait", id_: str = "", **said: Any) -> RunStep:
    """A step with what it says under `does`; `minutes`, `task`, `part`, `needs` and the like are its own."""
    own = {
        name: said.pop(name) for name in list(said) if name in RunStep.__dataclass_fields__ and name != "does"
    }
    effect = effect_of(action)
    does = Does.model_validate(
        {name: value if isinstance(value, list) else _text(value) for name, value in said.items()}
    )
    needs = over(effect.needs, own.pop("needs", None))
    known: dict[str, Any] = {"page": "SOP-99", "number": 1, "written": id_ or action, "sentence": action, "place": Place("page.md", 1),
                             "key": "steps", "minutes": 1.0, "food": effect.food}  # fmt: skip
    return RunStep(
        id=id_ or action, action=action, does=over(effect.does, does), needs=needs, **{**known, **own}
    )


def _text(value: Any) -> str:
    return "yes" if value is True else str(value)


def room(**words: str | list[str]) -> State:
    """How the room stands, in use where nothing else is said; at the fill mark."""
    return next(starts(RoomWords.model_validate({"tank": "fill_mark", **words}), ROOM))

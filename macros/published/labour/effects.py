"""What an action needs of the room and does to it; the words by which a page says how the room stands."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Annotated, Any, Literal, TypeVar

from pydantic import BeforeValidator, GetJsonSchemaHandler

from macros.ground.field_types import Flag, Identifier, Mapped, Text
from macros.ground.records import Record
from macros.published import names, published

T = TypeVar("T", bound=str)


class _OneOrMore:
    """For editors: the word alone is as good as a list of it."""

    def __get_pydantic_json_schema__(self, core: Any, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        listed = handler(core)
        return {"anyOf": [listed["items"], listed]}


Some = Annotated[
    tuple[T, ...],
    BeforeValidator(lambda value: (value,) if isinstance(value, str) else value),
    _OneOrMore(),
]
"""One word, or a list of words any of which will do."""
Plug = Literal["in", "out"]
Face = Literal["used", "washed", "wet", "sanitized", "rinsed"]
"""What was done to a surface last. `wet` is with a sanitizer whose time still runs; `sanitized` once it is full."""
Surface = Literal["tray_faces", "plates", "tank_walls", "loop", "parts", "blades"]
Level = Literal[
    "empty", "heel", "rinse_line", "first_line", "loop_line", "first_mark", "fill_mark", "refill_mark"
]


class RoomWords(Record):
    """How the room stands, as far as a page says it. Several values under one word: any of them.

    `tank` is the level by its marks with all water in the tank, `water` what is in it, `trays` whether water stands
    in them.
    """

    pump: Some[Plug] = ()
    air: Some[Plug] = ()
    lamps: Some[Plug] = ()
    fan: Some[Plug] = ()
    dehumidifier: Some[Plug] = ()
    timer: Some[Literal["off", "auto"]] = ()
    breaker: Some[Literal["on", "off"]] = ()
    valve: Some[Literal["open", "shut"]] = ()
    lid: Some[Literal["shut", "open", "ajar"]] = ()
    stones: Some[Plug] = ()
    bungs: Some[Plug] = ()
    crop: Some[Literal["none", "in"]] = ()
    tank: Some[Level] = ()
    water: Some[Literal["none", "plain", "feed", "sanitizer"]] = ()
    trays: Some[Literal["drained", "up"]] = ()
    tray_faces: Some[Face] = ()
    plates: Some[Face] = ()
    tank_walls: Some[Face] = ()
    loop: Some[Face] = ()
    parts: Some[Face] = ()
    blades: Some[Face] = ()

    def said(self) -> dict[str, tuple[str, ...]]:
        """The words that are said, with their values."""
        found = {word: getattr(self, word) for word in RoomWords.model_fields}
        return {word: values for word, values in found.items() if values}


class Does(RoomWords):
    """What a step does to the room: words it makes so (one value each), and what it moves.

    Parameters
    ----------
    fill : tap water into the tank, up to a level
    drain, mop : the tank down to its heel by valve or hose; the heel with a sponge
    flood : `up` the pump runs until the trays stand at the overflow and goes on; `once` plug in, up, plug out, drained;
        `timer` the timer does it; `down` they run back
    pour : what goes into the tank
    stir : the water of the tank moves
    sees : what the eyes are told to see, which must be possible then
    make : a batch of the sanitizing task the step is of, put into its vessel
    sample : a measured sample of that batch, for a strip
    wash, wet, rinse : surfaces, with detergent, sanitizer or plain water
    flush : the tap runs into the drain
    dump : the batch of the step's task goes down the drain
    hands_in : where bare or gloved hands go
    gear_off : gloves and goggles come off, hands are washed
    """

    fill: Level | None = None
    drain: Flag = False
    mop: Flag = False
    flood: Literal["up", "once", "timer", "down", "jug"] | None = None
    pour: Literal["stock", "part", "acid", "base", "detergent"] | None = None
    stir: Flag = False
    sees: Some[Literal["bubbles", "flow", "flood"]] = ()
    make: Flag = False
    sample: Flag = False
    wash: Some[Surface] = ()
    wet: Some[Surface] = ()
    rinse: Some[Surface] = ()
    flush: Flag = False
    dump: Flag = False
    hands_in: Some[Literal["tank", "trays", "joint"]] = ()
    gear_off: Flag = False


class Effect(Record):
    """An action: what must be so when it begins, what it does where the step says nothing else, what the step must say.

    `asks` names fields of `does` of which the step, or what is known of the action, must give one.
    """

    needs: RoomWords = RoomWords()
    does: Does = Does()
    asks: Some[str] = ()
    food: Flag = False


class Refusal(Record):
    """A kind of refusal: what it is called."""

    title: Text


class Effects(Record):
    """The file: phrases of the words, the effect of each action, the kinds of refusal."""

    source: Text
    obtained: Text
    words: Mapped[Identifier, dict[str, Text]]
    effects: Mapped[names.Action, Effect]
    refusals: Mapped[Identifier, Refusal]


def effects() -> Effects:
    """All that is published on what steps do to the room."""
    return published(Effects, "effects")


@cache
def effect_of(action: str) -> Effect:
    """What an action needs and does; nothing where none is listed."""
    return effects().effects.get(action, Effect())


def sentences(words: RoomWords) -> list[str]:
    """How a page prints the state it says, one sentence a word; any of all values is no statement."""
    found = []
    phrases = effects().words
    for word, values in words.said().items():
        known: Mapping[str, str] = phrases[word]
        if set(values) != set(known) - {"say"}:
            found.append(known["say"].replace("{}", " or ".join(known[value] for value in values)))
    return found

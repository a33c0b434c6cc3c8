"""How the room stands at one moment of a page: the moving part of the model."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace

from macros.rehearsal.model.equipment import Equipment

Held = Mapping[str, float]
"""What is in water, by substance: sanitizers [mg], feed, acid and base [mL]."""


@dataclass(frozen=True)
class Water:
    """Litres and what is in them, well mixed."""

    litres: float = 0.0
    held: Held = field(default_factory=dict)

    def take(self, litres: float) -> tuple[Water, Water]:
        """What is taken and what stays: each has its share of all that is in it."""
        share = litres / self.litres if self.litres else 0.0
        taken = {name: amount * share for name, amount in self.held.items()}
        left = {name: amount - taken[name] for name, amount in self.held.items()}
        return Water(litres, taken), Water(self.litres - litres, left)

    def __add__(self, other: Water) -> Water:
        names = {**self.held, **other.held}
        return Water(
            self.litres + other.litres,
            {name: self.held.get(name, 0.0) + other.held.get(name, 0.0) for name in names},
        )

    def strength(self, name: str) -> float:
        """Of one substance a litre [mg/L or mL/L]."""
        return self.held.get(name, 0.0) / self.litres if self.litres else 0.0


@dataclass(frozen=True)
class Batch:
    """A batch at hand: litres left, and the minute it was made."""

    litres: float
    made_at: float


@dataclass(frozen=True)
class State:
    """One moment.

    Parameters
    ----------
    words : plugs, valve, lid, surfaces ... by the words of `RoomWords`; `tank`, `water` and `trays` follow from the water
    tank, trays, held_up : the water in the tank, on flooded trays, and what stays wet in drained trays and tubes [L]
    batches : by their task
    measures : the group of liquid each measuring tool last held
    unmixed : a part that was poured and not stirred in yet, with the minute
    wet_since : the minute each surface was wetted, and with which task
    faces : sanitizer that stands on the trays
    sampled : batches of which a measured sample stands ready
    let_in, drained : all that came in, from tap and bottles, and all that went down the drain
    clock, last_flood, up_since : minutes since the page began
    """

    words: Mapping[str, str]
    tank: Water = Water()
    trays: Water = Water()
    held_up: Water = Water()
    batches: Mapping[str, Batch] = field(default_factory=dict)
    measures: Mapping[str, str] = field(default_factory=dict)
    gear: frozenset[str] = frozenset()
    unmixed: tuple[str, float] | None = None
    wet_since: Mapping[str, tuple[str, float]] = field(default_factory=dict)
    faces: Water = Water()
    sampled: frozenset[str] = frozenset()
    let_in: Water = Water()
    drained: Water = Water()
    clock: float = 0.0
    last_flood: float = 0.0
    up_since: float | None = None

    def with_words(self, **words: str) -> State:
        """The same with these words made so."""
        return replace(self, words={**self.words, **words})

    @property
    def air_moves(self) -> bool:
        """Whether bubbles rise."""
        return (
            self.words["air"] == "in"
            and self.words["stones"] == "in"
            and self.words["breaker"] == "on"
            and self.tank.litres > 0
        )

    @property
    def pump_live(self) -> bool:
        """Whether the pump can run."""
        return self.words["pump"] == "in" and self.words["breaker"] == "on"

    @property
    def all_water(self) -> float:
        """Water of the loop [L]."""
        return self.tank.litres + self.trays.litres + self.held_up.litres

    def word(self, name: str, of: Equipment) -> str:
        """A word of the room, those of the water worked out."""
        if name == "trays":
            return "up" if self.trays.litres > 0 else "drained"
        if name == "tank":
            return next(iter(marks_at(self.tank.litres, of)), "")
        if name == "water":
            return water_word(self.tank, of)
        return self.words[name]

    def is_so(self, name: str, wanted: Collection[str], of: Equipment) -> bool:
        """Whether a word of the room is one of these."""
        stands = marks_at(self.tank.litres, of) if name == "tank" else [self.word(name, of)]
        return any(one in wanted for one in stands)


ALLOWED = 0.5
"""[mg/L] Sanitizer that may stay where the house gives no limit: the one for chlorine, the smaller of the two."""
NEGLIGIBLE = {"feed": 0.2, "acid": 1e-3, "base": 1e-3}
"""[mL/L] Under this a heel of feed is plain water; our own figure."""


def water_word(water: Water, of: Equipment) -> str:
    """What a tank holds: sanitizer over what may stay, before feed, before plain water."""
    if water.litres <= 1e-9:
        return "none"
    allowed = ALLOWED if of.residue is None else of.residue
    if any(name not in NEGLIGIBLE and water.strength(name) > allowed for name in water.held):
        return "sanitizer"
    return "feed" if water.strength("feed") > NEGLIGIBLE["feed"] else "plain"


def marks_at(litres: float, of: Equipment) -> list[str]:
    """The marks the water stands at, as far as the scale tells, the nearest first; two may lie within one step of it."""
    height = of.level(litres)
    near = sorted((abs(of.level(at) - height), word) for word, at in of.levels.items())
    return [word for off, word in near if off <= of.scale_step]

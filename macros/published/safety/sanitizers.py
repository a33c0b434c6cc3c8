"""Kinds of sanitizer: strengths, strips, residues, lives and waste that belong to each, with their sources."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal

from pydantic import Field

from macros.ground.field_types import Identifier, Mapped, Name, Number, Text
from macros.ground.records import Record
from macros.published import published
from macros.published.names import Substance
from macros.published.safety.substances import substances_of

StripFor = Literal["peroxide", "free_chlorine", "peracetic_acid", "quaternary_ammonium"]
NeutralizerName = Literal[
    "sodium_thiosulfate", "sodium_thiosulfate_pentahydrate", "ascorbic_acid", "sodium_ascorbate"
]
DrainLimit = Literal[
    "dilute_peroxide_below",
    "dilute_chlorine_below",
    "dilute_peracetic_acid_below",
    "dilute_quaternary_ammonium_below",
]


Side = Literal["up", "down"]


class Sourced(Record):
    """Something published; `source` none where there is no source, `obtained` then says what it is."""

    source: Text
    obtained: Text

    @property
    def said(self) -> str:
        """Where it is from, for a reader."""
        if self.source == "none":
            return self.obtained
        how = "from memory" if "memory" in self.obtained else self.obtained
        read = how in ("excerpt", "second-hand", "computed")
        return self.source if read or how in self.source else f"{self.source}; {how}"


class Figure(Sourced):
    """A value and where it is from."""

    value: Number


class Bounds(Record):
    """[mg/L] The strengths that are published for a use: under `least` it is thin for the kind, over `most` refused."""

    least: Figure
    most: Figure


class Residue(Sourced):
    """[mg/L] What may stay after the rinse where the house says nothing, the most it may say, and why."""

    assumed: Number
    most: Number
    why: Text


class Neutralizer(Sourced):
    """[g] Of it for each gram of what the strip reads."""

    grams: Number


class SanitizerKind(Record):
    """One kind. `label_says` stands behind a number of mg/L; empty where labels of the kind speak per cent alone.

    `loop` is not given for a kind that is not pumped round; `not_in_loop` then says why.
    """

    name: Name
    substances: Mapped[Substance, Number]
    strip: StripFor
    strip_name: Name
    label_says: Name
    surfaces: Bounds
    loop: Bounds | None = None
    not_in_loop: Text = ""
    unrinsed: Figure | None = None
    residue: Residue
    loss_per_month: Figure
    batch_hours: Figure
    drain_limit: DrainLimit
    neutralizers: Mapped[NeutralizerName, Neutralizer] = Field(default_factory=dict)
    strong_waste: Text = ""

    def read_on_strip(self, milligrams: float, active: str) -> float:
        """What label and strip of the kind call so much of an active substance [mg/L]."""
        factors = (self.substances[one] for one in substances_of(active) if one in self.substances)
        return milligrams * next(factors, 1.0)

    def label_text(self, percent: float, active: str, side: Side) -> str:
        """A working strength [% w/v] as a label of the kind says it, whole mg/L on the safe side: `190 ppm available chlorine`.

        Empty for a kind whose labels speak per cent alone.
        """
        read = self.read_on_strip(percent * 10_000, active)
        whole = math.ceil(read - 1e-6) if side == "up" else math.floor(read + 1e-6)
        return f"{whole} {self.label_says}" if self.label_says else ""

    def label_range(self, ends: Sequence[float], active: str, *, allowed: bool = False) -> str:
        """The ends of a range [% w/v] as a label says them: outwards of what is made, inwards of what is allowed."""
        low, high = ("up", "down") if allowed else ("down", "up")
        texts = [self.label_text(ends[0], active, low), self.label_text(ends[-1], active, high)]  # type: ignore[arg-type]
        if not self.label_says or texts[0] == texts[1]:
            return texts[0]
        return f"{texts[0].split()[0]} to {texts[1]}"


class Sanitizers(Record):
    """The file: of an active substance that holds two kinds, the first in the file counts."""

    kinds: Mapped[Identifier, SanitizerKind]


def sanitizer_kinds() -> dict[str, SanitizerKind]:
    """Every kind by its id, in file order."""
    return dict(published(Sanitizers, "sanitizers").kinds)


def kind_of(active: str) -> SanitizerKind | None:
    """The kind of an active substance as a house writes it; None where it is none of those the pages know."""
    found = substances_of(active)
    return next(
        (kind for kind in sanitizer_kinds().values() if not kind.substances.keys().isdisjoint(found)), None
    )

"""What one sitting asks: the open facts in their order, or a section, or everything; and the lists that take one more."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from macros.house.records.people import Disposal
from macros.measuring.facts import Addition, Fact
from macros.measuring.open_facts import Open
from macros.measuring.order import Item, of_other_shape, ordered, place_of
from macros.measuring.rests_on import RestsOn
from macros.measuring.state import State
from macros.published.safety.sanitizers import kind_of, sanitizer_kinds

ONE_MORE = ("systems", "chemicals", "varieties", "people")
"""Lists that are asked for one more entry in any sitting; the others where their section is asked for."""

BEFORE = ("varieties",)
"""Lists that come before the other facts of their place, which name what is in them: the crop plan."""


@dataclass(frozen=True)
class Asked:
    """What is asked for: `section` is the beginning of a name, as `water`; `every` also what is known."""

    section: str = ""
    every: bool = False

    @property
    def is_all(self) -> bool:
        """Whether facts are asked that are not open."""
        return self.every or bool(self.section)

    def holds(self, one: Fact | Addition) -> bool:
        """Whether a fact lies in the section."""
        words = [step.lower() for step in one.path if isinstance(step, str)]
        return any(word.startswith(self.section.lower()) for word in words)


def agenda(now: State, rests: RestsOn, asked: Asked) -> list[Item]:
    """Every question of a sitting, in order; what takes one more entry comes behind the facts of its place."""
    chosen = [*now.open.values(), *(_others(now) if asked.is_all else ())]
    items = [item for item in ordered(chosen, rests) if asked.holds(item.what)]
    for one in now.additions_at.values():
        if one.kind != "record" and asked.holds(one) and (asked.is_all or one.path[-1] in ONE_MORE):
            item = Item(one, place_of(one.path), "last", 0, "")
            items.insert(_place_among(items, item), item)
    return items


def _place_among(items: Sequence[Item], more: Item) -> int:
    """Where one more of a list is asked: behind what the rest needs of the others, so that what names it comes later."""
    there = [at for at, item in enumerate(items) if item.place == more.place]
    if more.what.path[-1] in BEFORE and there:
        return there[0]
    needed = [
        at for at, item in enumerate(items) if item.what.path[0] == more.what.path[-1] and item.tier != "last"
    ]
    behind = needed or there
    return behind[-1] + 1 if behind else len(items)


def has_no_use(now: State, fact: Fact) -> bool:
    """Whether a fact is a size that the tank, by its shape, does not have, or the drain's limit of a sanitizer not kept."""
    kinds = sanitizer_kinds().values()
    if fact.record is Disposal and any(fact.field == kind.drain_limit for kind in kinds):
        actives = {str(one.value) for one in now.facts.values() if one.path[::2] == ("chemicals", "active")}
        kept = [kind for kind in map(kind_of, actives) if kind is not None]
        return not any(fact.field == kind.drain_limit for kind in kept)
    shape = now.facts.get(fact.name.rpartition(".")[0] + ".shape")
    return fact.value is None and shape is not None and of_other_shape(fact, str(shape.value))


def _others(now: State) -> Iterable[Open]:
    """What is not open and may be asked all the same."""
    for one in now.found:
        fits = one.kind == "record" if isinstance(one, Addition) else not has_no_use(now, one)
        if fits and one.name not in now.open:
            yield Open(one, "missing")

"""Names of substances: what a house writes, what the rules call it, and what it counts as."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, cached_property, partial
from typing import Annotated, Literal

from macros.ground.field_types import Flag, Identifier, Mapped, Name, Number, Text
from macros.ground.records import Record
from macros.published import names, published
from macros.published.names import complete, declared


class Known(Record):
    """A substance: the name for a reader, names a house may write, and the kinds it also counts as."""

    name: Name
    written: tuple[Name, ...]
    counts_as: tuple[names.Substance, ...] = ()
    cautioned: Flag = True
    """Whether the catalogue holds a wording for handling it; without one no page may handle it."""
    made_of: tuple[names.Substance, ...] = ()
    """What is always in it: named beside it, the strength on the label is not that of these."""
    dissolves_to: Number | None = None
    """[% w/w] What a solid makes at the most in water of 25 degC; over it the bottle holds powder (from memory)."""


class Role(Record):
    """What a house's role adds to the substance, what an active that is not listed counts as, and what may be in it."""

    adds: tuple[names.Substance, ...]
    unlisted: names.Substance
    holds: tuple[names.Substance, ...] = ()


class Substances(Record):
    """The file. `groups` are the words of a house's never_with and store_with."""

    substances: Mapped[Identifier, Known]
    roles: Mapped[Literal["acid", "base", "sanitizer", "cleaner", "nutrient"], Role]
    nutrient_words: Mapped[Name, tuple[names.Substance, ...]]
    groups: Mapped[Identifier, frozenset[names.Substance]]
    groups_shown: Annotated[
        Mapped[names.SubstanceGroup, Name],
        complete(partial(declared, "substances", "groups")),
    ]
    source: Text
    obtained: Text


UNKNOWN = "unknown"
"""What a house writes as active where nobody could read the label."""


@dataclass(frozen=True)
class Handling:
    """One substance at one strength, as handled at a step, kept on a shelf or put down a drain.

    Parameters
    ----------
    substance : id in substances.yml, for example hydrogen_peroxide
    percent_by_mass : [% w/w], for hypochlorites [% active chlorine]; 0 to 100. None: not known, or no
        strength matters (a nutrient concentrate, copper)
    name : the name shown to the reader; empty: the substance's own name
    sds_codes : H codes on its safety data sheet at the strength handled; () none, None not known
    also : further substances or kinds it counts as, for example ph_down or iron_salt
    label : its strength as on the label, where that is no % w/w and no density turns it into one; empty elsewhere
    """

    substance: str
    percent_by_mass: float | None = None
    name: str = ""
    sds_codes: tuple[str, ...] | None = ()
    also: tuple[str, ...] = ()
    label: str = ""

    @cached_property
    def counts_as(self) -> frozenset[str]:
        """Every substance id under which the rules look for it."""
        return _counts_as(self.substance, self.also)

    @property
    def shown_name(self) -> str:
        """The name for a reader."""
        if self.name:
            return self.name
        known = substances().get(self.substance)
        return known.name if known else self.substance


def handling_of(
    active: str,
    percent_by_mass: float | None,
    role: str = "",
    name: str = "",
    sds_codes: tuple[str, ...] | None = (),
) -> Handling | None:
    """One chemical of a house as a `Handling`; None when its active is not a listed substance."""
    found = substances_of(active, role, name)
    return Handling(found[0], percent_by_mass, name, sds_codes, found[1:]) if found else None


@cache
def substances_of(active: str, role: str = "", name: str = "") -> tuple[str, ...]:
    """Substance ids of a chemical, the main one first.

    The active text decides; the role adds what pH-down, pH-up and nutrients count as, and stands in for an
    active that is not listed: its `unlisted` is cautioned as the worst of the role. Words in the name of a nutrient part (calcium, phosphate ...) add what it
    holds. Empty: not a listed substance.
    """
    found = _without_parts(_found_in(active or name))
    rule = _file().roles.get(role)  # type: ignore[call-overload]
    if rule:
        found = found or [rule.unlisted]
        found += [extra for extra in rule.adds if extra not in found]
    if "nutrient_concentrate" in found:
        text = _plain(f"{active} {name}")
        for word, ids in _file().nutrient_words.items():
            found += [one for one in ids if word in text and one not in found]
    return tuple(found)


def _without_parts(named: tuple[str, ...]) -> list[str]:
    """Without what is always in another of them."""
    inside = {part for one in named for part in substances()[one].made_of}
    return [one for one in named if one not in inside]


def substances_in(text: str) -> tuple[str, ...]:
    """Ids of the listed substances that a text names."""
    return _found_in(text)


def fits_role(found: tuple[str, ...], role: str) -> bool:
    """Whether a bottle of this role may hold the first of these; a role nobody lists holds anything."""
    rule = _file().roles.get(role)  # type: ignore[call-overload]
    return rule is None or not rule.holds or found[0] in rule.holds


def names_of_role(role: str) -> tuple[str, ...]:
    """The names of what a bottle of this role may hold."""
    return tuple(dict.fromkeys(substances()[one].name for one in _file().roles[role].holds))  # type: ignore[index]


def another_substance(text: str, found: tuple[str, ...]) -> str:
    """The first substance of some role that the text names and that counts as none of these; empty where there is none."""
    held = {one for rule in _file().roles.values() for one in rule.holds}
    counted = frozenset().union(*(_counts_as(one, ()) | {*substances()[one].made_of} for one in found))
    foreign = (one for one in _found_in(text) if one in held and not _counts_as(one, ()) & counted)
    return next(foreign, "")


def written_names() -> tuple[str, ...]:
    """Every name by which a house may write a substance that a bottle of some role may hold."""
    held = {one for rule in _file().roles.values() for one in rule.holds}
    return tuple(name for name, one in _written() if one in held)


def substances() -> Mapping[str, Known]:
    """Every listed substance by its id."""
    return _file().substances


def group_of(word: str) -> frozenset[str]:
    """The substances that a word of a house's never_with or store_with means (acids, bases, metals ...).

    Empty for a word that is none of ours; it may be the id of a chemical of the house.
    """
    return _file().groups.get(word, frozenset())


def not_known() -> frozenset[str]:
    """What stands for a substance that is not known, one for each role."""
    return frozenset(rule.unlisted for rule in _file().roles.values() if rule.holds)


def shown_words(substances: frozenset[str]) -> tuple[str, ...]:
    """Words of a reader that cover all these substances: groups in file order, then single names."""
    left, words = set(substances), []
    for group, members in _file().groups.items():
        if left & members:
            words.append(_file().groups_shown[group])
            left -= members
    return (*words, *(_file().substances[one].name for one in sorted(left)))


def _file() -> Substances:
    return published(Substances, "substances")


@cache
def _counts_as(substance: str, also: tuple[str, ...]) -> frozenset[str]:
    ids = {substance, *also}
    return frozenset(ids.union(*(substances()[one].counts_as for one in ids if one in substances())))


@cache
def _written() -> tuple[tuple[str, str], ...]:
    """Every written name with its substance, longest first, so that `copper sulfate` wins over `copper`."""
    written = [(name, one) for one, entry in substances().items() for name in entry.written]
    return tuple(sorted(written, key=lambda pair: (-len(pair[0]), pair[0])))


def _found_in(text: str) -> tuple[str, ...]:
    plain = _plain(text)
    places: dict[str, int] = {}
    for name, substance in _written():
        hit = re.search(rf"(?<![a-z0-9]){re.escape(name)}(?![a-z0-9])", plain)
        if hit:
            places.setdefault(substance, hit.start())
            plain = plain[: hit.start()] + "#" * len(name) + plain[hit.end() :]
    return tuple(sorted(places, key=places.__getitem__))


def _plain(text: str) -> str:
    return re.sub(r"[-_\s]+", " ", text.lower()).strip()

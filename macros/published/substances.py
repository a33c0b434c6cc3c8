"""Names of substances: what a house writes, what the rules call it, and what it counts as."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, cached_property

from macros.published import load


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
    """

    substance: str
    percent_by_mass: float | None = None
    name: str = ""
    sds_codes: tuple[str, ...] | None = ()
    also: tuple[str, ...] = ()

    @cached_property
    def counts_as(self) -> frozenset[str]:
        """Every substance id under which the rules look for it."""
        return _counts_as(self.substance, self.also)

    @property
    def shown_name(self) -> str:
        """The name for a reader."""
        if self.name:
            return self.name
        return substance_name(self.substance) if is_substance(self.substance) else self.substance


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
    acid or base that is not listed. Words in the name of a nutrient part (calcium, phosphate ...) add what it
    holds. Empty: not a listed substance.
    """
    found = list(_found_in(active or name))
    rule = load("substances")["roles"].get(role)
    if rule:
        found = found or [rule["unlisted"]]
        found += [extra for extra in rule["adds"] if extra not in found]
    if "nutrient_concentrate" in found:
        text = _plain(f"{active} {name}")
        for word, ids in load("substances")["nutrient_words"].items():
            found += [one for one in ids if word in text and one not in found]
    return tuple(found)


def substance_name(substance: str) -> str:
    """The trade name of a substance id; KeyError for an unknown id."""
    return str(load("substances")["substances"][substance]["name"])


def substance_ids() -> Mapping[str, object]:
    """Every substance id."""
    found: Mapping[str, object] = load("substances")["substances"]
    return found


def is_substance(substance: str) -> bool:
    """Whether the id is listed."""
    return substance in load("substances")["substances"]


def has_caution(substance: str) -> bool:
    """Whether the catalogue holds a wording for handling it; without one no page may handle it."""
    return bool(load("substances")["substances"][substance].get("cautioned", "yes") == "yes")


def group_of(word: str) -> frozenset[str]:
    """The substances that a word of a house's never_with or store_with means (acids, bases, metals ...).

    Empty for a word that is none of ours; it may be the id of a chemical of the house.
    """
    return frozenset(load("substances")["groups"].get(word, ()))


def group_words() -> tuple[str, ...]:
    """The group words a house may write."""
    return tuple(load("substances")["groups"])


def shown_words(substances: frozenset[str]) -> tuple[str, ...]:
    """Words of a reader that cover all these substances: groups in file order, then single names."""
    left, words = set(substances), []
    for group, members in load("substances")["groups"].items():
        if left & set(members):
            words.append(str(load("substances")["groups_shown"][group]))
            left -= set(members)
    return (*words, *(substance_name(one) for one in sorted(left)))


@cache
def _counts_as(substance: str, also: tuple[str, ...]) -> frozenset[str]:
    ids = {substance, *also}
    return frozenset(ids.union(*(_wider().get(one, ()) for one in ids)))


@cache
def _wider() -> dict[str, tuple[str, ...]]:
    return {one: tuple(entry.get("counts_as", ())) for one, entry in load("substances")["substances"].items()}


@cache
def _written() -> tuple[tuple[str, str], ...]:
    """Every written name with its substance, longest first, so that `copper sulfate` wins over `copper`."""
    names = [
        (name, one) for one, entry in load("substances")["substances"].items() for name in entry["written"]
    ]
    return tuple(sorted(names, key=lambda pair: (-len(pair[0]), pair[0])))


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

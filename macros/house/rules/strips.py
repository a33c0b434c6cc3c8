"""Strips are matched to what they read: every sanitizer has one that sees it, and what is named is one of the house."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from macros.ground.problems import Problem
from macros.house.records.chemicals import TestStrip
from macros.house.records.house import House
from macros.house.records.sanitizing import Rinse, Sanitizing, SanitizingTask
from macros.house.rules.report import problem_at
from macros.published.safety.sanitizers import SanitizerKind

_BUY = "Buy one, and list it under test_strips"


def check_strips(
    house: House, sanitizing: Sanitizing, kinds: Mapping[str, SanitizerKind]
) -> Iterator[Problem]:
    """The strips against the kinds in use, by the stock of each."""
    missing = {stock: kind for stock, kind in kinds.items() if not _for_kind(house, kind)}
    if missing and len(missing) == len(kinds) and house.test_strips:
        yield _all_of_another(house, missing)
        return  # what names one of them follows from it
    for stock, kind in missing.items():
        yield _none(house, sanitizing, stock, kind)
    yield from _proofs(house, sanitizing, kinds)
    if sanitizing.rinse is not None and sanitizing.rinse.verify_with is not None and kinds:
        yield from _verified(house, sanitizing.rinse, {kind.strip: kind for kind in kinds.values()})


def _proofs(house: House, sanitizing: Sanitizing, kinds: Mapping[str, SanitizerKind]) -> Iterator[Problem]:
    for name, task in sanitizing.tasks.items():
        if task.proved_with is not None and task.chemical in kinds:
            yield from _proof(house, name, task, kinds[task.chemical])


def _for_kind(house: House, kind: SanitizerKind) -> list[TestStrip]:
    return [strip for strip in house.test_strips if strip.measures == kind.strip]


def _all_of_another(house: House, missing: Mapping[str, SanitizerKind]) -> Problem:
    """Told at the strip that the last rinse is read with: that one is bought anew first."""
    named = house.sanitizing.rinse.verify_with if house.sanitizing and house.sanitizing.rinse else None
    strips = sorted(house.test_strips, key=lambda one: named not in (one.name, one.id))
    stock, kind = next(iter(missing.items()))
    what = f"{strips[0].name} reads {_words(strips[0])}, and no strip of the house sees {kind.strip_name}"
    allowed = f"Each kind of sanitizer has a strip of its own, else no batch of {stock} can be proved"
    remedy = f"Buy strips for {kind.strip_name} and write measures: {kind.strip}, with the name and the pads on their tube"
    return problem_at(strips[0], "measures", what, allowed, remedy)


def _none(house: House, sanitizing: Sanitizing, stock: str, kind: SanitizerKind) -> Problem:
    """Told once for a stock, at the first task that uses it."""
    task = next(one for one in sanitizing.tasks.values() if one.chemical == stock)
    what = f"no test strip of the house sees {house.chemical(stock).active}, so no batch of {stock} can be proved"
    allowed = "Each kind has a strip of its own"
    if house.test_strips:
        allowed += f". There are {', '.join(f'{one.name} ({_words(one)})' for one in house.test_strips)}"
    remedy = f"Buy strips for {kind.strip_name} and write them under test_strips, with measures: {kind.strip}"
    return problem_at(task, "chemical", what, allowed, remedy)


def _proof(house: House, name: str, task: SanitizingTask, kind: SanitizerKind) -> Iterator[Problem]:
    strip = next((one for one in house.test_strips if one.id == task.proved_with), None)
    if strip is None:
        what = f"{task.proved_with} is no test strip of the house"
    elif strip.measures != kind.strip:
        what = f"{strip.id} reads {_words(strip)}, and {name} is {kind.name}"
    else:
        return
    yield problem_at(task, "proved_with", what, *_fit([kind], [one.id for one in _for_kind(house, kind)]))


def _fit(kinds: list[SanitizerKind], names: list[str]) -> tuple[str, str]:
    """What is allowed, and what to do."""
    named = " and ".join(kind.strip_name for kind in kinds)
    if not names:
        return f"The house has no strip for {named}", _BUY
    return f"Strips for {named}: {', '.join(names)}", "Name one of them"


def _verified(house: House, rinse: Rinse, kinds: Mapping[str, SanitizerKind]) -> Iterator[Problem]:
    """A strip that sees what is rinsed off, or another thing the house keeps."""
    fit = [one.name for one in house.test_strips if one.measures in kinds]
    strip = next((one for one in house.test_strips if rinse.verify_with in (one.name, one.id)), None)
    if strip is not None and strip.measures in kinds:
        yield from _cannot_tell(rinse, strip, kinds[strip.measures])
    elif strip is not None:
        named = " and ".join(kind.strip_name for kind in kinds.values())
        what = f"{strip.name} reads {_words(strip)}, and what is rinsed off is {named}"
        yield problem_at(rinse, "verify_with", what, *_fit(list(kinds.values()), fit))
    elif rinse.verify_with not in {one.thing for one in house.inventory}:
        what = f'"{rinse.verify_with}" is no test strip of the house'
        allowed = "A strip under test_strips or a thing under inventory. Strips that see this sanitizer: "
        remedy = "Write its name as it stands there"
        yield problem_at(rinse, "verify_with", what, allowed + (", ".join(fit) or "none"), remedy)


def _cannot_tell(rinse: Rinse, strip: TestStrip, kind: SanitizerKind) -> Iterator[Problem]:
    most = kind.residue.assumed if rinse.residue_allowed is None else rinse.residue_allowed.to("mg/L")
    lowest = strip.lowest_read
    if lowest > most * (1 + 1e-9):
        what = (
            f"the first colour of {strip.name} over 0 is {lowest:g} mg/L: it cannot tell {most:g} mg/L of "
            f"{kind.strip_name}"
        )
        allowed = f"A strip or kit that shows {most:g} mg/L, as for drinking water"
        remedy = "Buy one; until then only its 0 passes"
        yield problem_at(rinse, "verify_with", what, allowed, remedy, severity="warning")


def _words(strip: TestStrip) -> str:
    return strip.measures.replace("_", " ")

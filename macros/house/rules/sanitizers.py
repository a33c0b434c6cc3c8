"""What belongs to a kind of sanitizer and to no other: its strengths, its residue, its strips, and where it may be used."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from macros.ground.problems import Problem
from macros.house.records.chemicals import Chemical
from macros.house.records.house import House
from macros.house.records.sanitizing import Rinse, Sanitizing, SanitizingTask
from macros.house.rules.report import problem_at
from macros.house.rules.substance_names import substance_is_told
from macros.published.safety.sanitizers import Bounds, Figure, SanitizerKind, kind_of, sanitizer_kinds


def check_sanitizers(house: House) -> Iterator[Problem]:
    """Every task against what is published of the kind it uses; strips against what they read."""
    sanitizing = house.sanitizing
    if sanitizing is None:
        return
    stocks = {chemical.id: chemical for chemical in house.chemicals}
    used: dict[str, tuple[Chemical, SanitizerKind]] = {}
    refused: set[str] = set()
    for name, task in sanitizing.tasks.items():
        chemical = stocks.get(task.chemical)
        if chemical is None:
            continue  # told where the names are checked
        kind = kind_of(chemical.active)
        if kind is None or chemical.role != "sanitizer":
            if task.chemical not in refused and not substance_is_told(chemical):
                yield _no_kind(name, task, chemical)
            refused.add(task.chemical)
            continue
        used[chemical.id] = (chemical, kind)
        yield from _task(name, task, chemical, kind)
        yield from _proof(house, name, task, kind)
    yield from _strips(house, sanitizing, used)
    yield from _neutralized(house, sanitizing, [kind for _, kind in used.values()])
    if sanitizing.rinse is not None:
        yield from _residue(sanitizing.rinse, [kind for _, kind in used.values()])
        yield from _verified(house, sanitizing.rinse, used)


def _no_kind(name: str, task: SanitizingTask, chemical: Chemical) -> Problem:
    what = f"{name} uses {chemical.id}, and {chemical.active} is no kind of sanitizer these pages know"
    known = ", ".join(kind.name for kind in sanitizer_kinds().values())
    remedy = "Name a stock of one of these, with role: sanitizer, or leave the task out"
    return problem_at(task, "chemical", what, f"They know {known}", remedy)


def _task(name: str, task: SanitizingTask, chemical: Chemical, kind: SanitizerKind) -> Iterator[Problem]:
    bounds = kind.loop if task.level is not None else kind.surfaces
    if bounds is None:
        what = f"{name} pumps {kind.name} through the loop"
        remedy = "Take another kind for the loop, or leave the task out"
        yield problem_at(task, "chemical", what, kind.not_in_loop, remedy)
        return
    over = [
        field
        for field in ("target", "ceiling")
        if _read(task, field, chemical, kind) > bounds.most.value * (1 + 1e-9)
    ]
    for field in over:
        yield _too_strong(name, task, field, chemical, kind, bounds)
    if not over and _read(task, "target", chemical, kind) < bounds.least.value * (1 - 1e-9):
        what = f"the target of {name} is {_as_written(task, 'target', chemical, kind)}: thin for {kind.name}"
        allowed = f"{_shown(bounds.least, kind)} at least is usual ({bounds.least.said})"
        yield problem_at(
            task, "target", what, allowed, "Copy it from the label of this kind", severity="warning"
        )
    if (
        not task.rinse
        and kind.unrinsed is not None
        and _read(task, "ceiling", chemical, kind) > kind.unrinsed.value * (1 + 1e-9)
    ):
        what = f"{name} is not rinsed off, and its ceiling is {_as_written(task, 'ceiling', chemical, kind)}"
        allowed = f"{_shown(kind.unrinsed, kind)} at most without a rinse ({kind.unrinsed.said})"
        yield problem_at(task, "rinse", what, allowed, "Set rinse: yes, or a ceiling under that")


def _too_strong(
    name: str, task: SanitizingTask, field: str, chemical: Chemical, kind: SanitizerKind, bounds: Bounds
) -> Problem:
    what = f"the {field} of {name} is {_as_written(task, field, chemical, kind)}: too strong for {kind.name}"
    allowed = f"{_shown(bounds.most, kind)} at most, or less where the label says less ({bounds.most.said})"
    return problem_at(task, field, what, allowed, "Copy it from the label of this kind")


def _read(task: SanitizingTask, field: str, chemical: Chemical, kind: SanitizerKind) -> float:
    """A strength of a task as label and strip of its kind count it [mg/L], at 1.00 g/mL."""
    return kind.read_on_strip(getattr(task, field).percent * 10_000, chemical.active)


def _as_written(task: SanitizingTask, field: str, chemical: Chemical, kind: SanitizerKind) -> str:
    strength = getattr(task, field)
    beside = kind.label_text(strength.percent, chemical.active, "up" if field == "ceiling" else "down")
    return f"{strength.written} ({beside})" if beside else str(strength.written)


def _shown(figure: Figure, kind: SanitizerKind) -> str:
    """A published strength as labels of the kind say it, with what to write in the file beside it."""
    percent = f"{figure.value / 10_000 / next(iter(kind.substances.values())):.3g} % w/v"
    return f"{figure.value:g} {kind.label_says} ({percent})" if kind.label_says else percent


def _strips(
    house: House, sanitizing: Sanitizing, used: Mapping[str, tuple[Chemical, SanitizerKind]]
) -> Iterator[Problem]:
    """No strip of the house sees a sanitizer it uses: told once for each, at the first task that uses it."""
    read = {strip.measures for strip in house.test_strips}
    for stock, (chemical, kind) in used.items():
        if kind.strip not in read:
            task = next(one for one in sanitizing.tasks.values() if one.chemical == stock)
            what = f"no test strip of the house sees {chemical.active}, so no batch of {stock} can be proved"
            there = ", ".join(f"{strip.name} ({_words(strip.measures)})" for strip in house.test_strips)
            allowed = (
                f"Each kind has a strip of its own. There are {there}"
                if there
                else "Each kind has a strip of its own"
            )
            remedy = f"Buy strips for {kind.strip_name} and write them under test_strips, with measures: {kind.strip}"
            yield problem_at(task, "chemical", what, allowed, remedy)


def _proof(house: House, name: str, task: SanitizingTask, kind: SanitizerKind) -> Iterator[Problem]:
    """`proved_with` names a strip of the kind."""
    if task.proved_with is None:
        return
    fit = [strip.id for strip in house.test_strips if strip.measures == kind.strip]
    strip = next((one for one in house.test_strips if one.id == task.proved_with), None)
    if strip is not None and strip.measures == kind.strip:
        return
    what = (
        f"{task.proved_with} is no test strip of the house"
        if strip is None
        else f"{strip.id} reads {_words(strip.measures)}, and {name} is {kind.name}"
    )
    allowed = (
        f"Strips for {kind.strip_name}: {', '.join(fit)}"
        if fit
        else f"The house has no strip for {kind.strip_name}"
    )
    yield problem_at(
        task,
        "proved_with",
        what,
        allowed,
        "Name one of them by its id" if fit else "Buy one, and list it under test_strips",
    )


def _residue(rinse: Rinse, kinds: list[SanitizerKind]) -> Iterator[Problem]:
    """What may stay: the strictest of the kinds used is told."""
    if rinse.residue_allowed is None or not kinds:
        return
    kind = min(kinds, key=lambda one: one.residue.most)
    residue = kind.residue
    if rinse.residue_allowed.to("mg/L") > residue.most * (1 + 1e-9):
        what = f"{rinse.residue_allowed.written} is too much {kind.strip_name} to stay behind"
        allowed = f"{residue.most:g} mg/L at most: {residue.why} ({residue.said})"
        yield problem_at(
            rinse, "residue_allowed", what, allowed, f'Write residue_allowed: "{residue.most:g} mg/L"'
        )


def _neutralized(house: House, sanitizing: Sanitizing, kinds: list[SanitizerKind]) -> Iterator[Problem]:
    """A neutralizer takes out a kind the house uses, and is weighed on a scale."""
    own = sanitizing.neutralizer
    if own is None or not kinds:
        return
    name = own.substance.replace("_", " ")
    if not any(own.substance in kind.neutralizers for kind in kinds):
        kind = kinds[0]
        what = f"{name} is published for no sanitizer of the house: {', '.join(one.name for one in kinds)}"
        remedy = "Take neutralizer away, and let it go as its label says"
        yield problem_at(own, "substance", what, kind.strong_waste, remedy)
    elif not house.scales:
        what = f"{name} is a powder, and the house has no scale"
        allowed = "A powder is weighed in grams, never measured in mL"
        yield problem_at(
            own,
            "substance",
            what,
            allowed,
            'Write one under scales, with its capacity and its mark, as "0.1 g"',
            "E24",
        )


def _verified(
    house: House, rinse: Rinse, used: Mapping[str, tuple[Chemical, SanitizerKind]]
) -> Iterator[Problem]:
    """`verify_with` names a strip that sees what is rinsed off, or another thing the house keeps."""
    if rinse.verify_with is None or not used:
        return
    kinds = {kind.strip: kind for _, kind in used.values()}
    strip = next((one for one in house.test_strips if rinse.verify_with in (one.name, one.id)), None)
    if strip is None:
        if rinse.verify_with not in {one.thing for one in house.inventory}:
            there = ", ".join(one.name for one in house.test_strips if one.measures in kinds) or "none"
            what = f'"{rinse.verify_with}" is no test strip of the house'
            allowed = f"A strip under test_strips or a thing under inventory. Strips that see this sanitizer: {there}"
            yield problem_at(rinse, "verify_with", what, allowed, "Write its name as it stands there")
        return
    if strip.measures not in kinds:
        named = " and ".join(kind.strip_name for kind in kinds.values())
        there = ", ".join(one.name for one in house.test_strips if one.measures in kinds)
        what = f"{strip.name} reads {_words(strip.measures)}, and what is rinsed off is {named}"
        allowed = f"A strip for {named}: {there}" if there else f"The house has no strip for {named}"
        yield problem_at(
            rinse,
            "verify_with",
            what,
            allowed,
            "Name it" if there else "Buy one, and list it under test_strips",
        )
        return
    kind = kinds[strip.measures]
    most = kind.residue.assumed if rinse.residue_allowed is None else rinse.residue_allowed.to("mg/L")
    lowest = min((pad.to("mg/L") for pad in strip.pads if pad.to("mg/L") > 0), default=0.0)
    if lowest > most * (1 + 1e-9):
        what = f"the first colour of {strip.name} over 0 is {lowest:g} mg/L: it cannot tell {most:g} mg/L of {kind.strip_name}"
        allowed = f"A strip or kit that shows {most:g} mg/L, as for drinking water"
        yield problem_at(
            rinse, "verify_with", what, allowed, "Buy one; until then only its 0 passes", severity="warning"
        )


def _words(measures: str) -> str:
    return measures.replace("_", " ")

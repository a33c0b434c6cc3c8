"""What belongs to a kind of sanitizer and to no other: its strengths, its residue, its neutralizer, and where it may be used."""

from __future__ import annotations

from collections.abc import Iterator

from macros.ground.problems import Problem
from macros.house.records.chemicals import Chemical
from macros.house.records.house import House
from macros.house.records.sanitizing import Rinse, Sanitizing, SanitizingTask
from macros.house.rules.report import problem_at
from macros.house.rules.strips import check_strips
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
    kinds = {stock: kind for stock, (_, kind) in used.items()}
    yield from check_strips(house, sanitizing, kinds)
    yield from _neutralized(house, sanitizing, list(kinds.values()))
    if sanitizing.rinse is not None:
        yield from _residue(sanitizing.rinse, list(kinds.values()))
    yield from _limit_of_another(house, list(kinds.values()))


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
    if not task.rinse:
        yield from _not_rinsed(name, task, chemical, kind)


def _not_rinsed(
    name: str, task: SanitizingTask, chemical: Chemical, kind: SanitizerKind
) -> Iterator[Problem]:
    if kind.unrinsed is not None and _read(task, "ceiling", chemical, kind) > kind.unrinsed.value * (
        1 + 1e-9
    ):
        what = f"{name} is not rinsed off, and its ceiling is {_as_written(task, 'ceiling', chemical, kind)}"
        allowed = f"{_shown(kind.unrinsed, kind)} at most without a rinse ({kind.unrinsed.said})"
        yield problem_at(task, "rinse", what, allowed, "Set rinse: yes, or a ceiling under that")
    elif task.level is not None:
        what = f"{name} is pumped through the loop and not rinsed out: there is no page for it"
        allowed = "The page that sanitizes a loop rinses it, for what stays burns roots"
        yield problem_at(
            task, "rinse", what, allowed, "Set rinse: yes, or leave the task out", severity="warning"
        )


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
    return f"{strength.written} ({beside})" if beside and not strength.in_ppm else beside or strength.written


def _shown(figure: Figure, kind: SanitizerKind) -> str:
    """A published strength as labels of the kind say it, with what to write in the file beside it."""
    percent = f"{figure.value / 10_000 / next(iter(kind.substances.values())):.3g} % w/v"
    return f"{figure.value:g} {kind.label_says} ({percent})" if kind.label_says else percent


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


def _limit_of_another(house: House, kinds: list[SanitizerKind]) -> Iterator[Problem]:
    """The drain's limit of a sanitizer that is no longer used, and none for the one that is."""
    disposal = house.policies.disposal if house.policies is not None else None
    if disposal is None or not kinds:
        return
    missing = [kind for kind in kinds if getattr(disposal, kind.drain_limit) is None]
    others = [kind for kind in sanitizer_kinds().values() if kind not in kinds]
    left = [kind for kind in others if getattr(disposal, kind.drain_limit) is not None]
    if missing and left:
        what = f"{left[0].drain_limit} is of {left[0].name}, and the house uses {missing[0].name}"
        allowed = f"Until {missing[0].drain_limit} is given, no page says how far a used batch is thinned"
        remedy = f"Ask the sewer works, and write {missing[0].drain_limit} in its place"
        yield problem_at(disposal, left[0].drain_limit, what, allowed, remedy, severity="warning")


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
        yield problem_at(own, "substance", what, kind.strong_waste, remedy, severity="warning")
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

"""What a step does to the room: plugs and valves, then water, then surfaces and batches. It judges nothing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from macros.ground.units import convert
from macros.rehearsal.model.equipment import Equipment
from macros.rehearsal.model.state import NEGLIGIBLE, Batch, State, Water
from macros.rehearsal.model.steps import RunStep

_SURE = {"tank", "water", "trays"}
"""Words that follow from the water and are not made so."""


def done(state: State, step: RunStep, of: Equipment) -> State:
    """The room after the step, its wait over."""
    state = _switched(state, step, of)
    for act in (_mopped, _drained, _filled, _flooded, _poured, _made, _surfaces, _dumped, _tools):
        state = act(state, step, of)
    minutes = step.minutes + step.waits
    state = replace(state, clock=state.clock + minutes)
    if state.unmixed and (
        step.does.stir or ((state.air_moves or state.trays.litres > 0) and minutes >= MIXED_AFTER)
    ):
        state = replace(state, unmixed=None)
    return _watered(state, of)


MIXED_AFTER = 1.0
"""[min] After which moving water has taken a part in; the wait of a page is longer. Common practice, no source."""


def _watered(state: State, of: Equipment) -> State:
    """A pump that is left to its timer floods on: nothing dries."""
    runs = state.pump_live and state.words["timer"] == "auto" and state.all_water >= of.dead + of.draw
    return replace(state, last_flood=state.clock) if runs or state.trays.litres else state


def _switched(state: State, step: RunStep, of: Equipment) -> State:
    said = step.makes.items()
    words = {word: values[0] for word, values in said if word not in _SURE and not of.lacks(word)}
    return state.with_words(**words) if words else state


def _mopped(state: State, step: RunStep, of: Equipment) -> State:
    if not step.does.mop:
        return state
    return replace(state, tank=Water(), drained=state.drained + state.tank)


def _drained(state: State, step: RunStep, of: Equipment) -> State:
    """By the valve the water falls to the heel; what stood on trays has come back first."""
    if not step.does.drain:
        return state
    state = back(state, of)
    gone = max(0.0, state.tank.litres - of.heel)
    taken, left = state.tank.take(gone)
    return replace(state, tank=left, drained=state.drained + taken)


def _filled(state: State, step: RunStep, of: Equipment) -> State:
    if step.does.fill is None or step.does.fill not in of.levels:
        return state
    added = Water(max(0.0, of.levels[step.does.fill] - state.tank.litres))
    return replace(state, tank=state.tank + added, let_in=state.let_in + added)


def up(state: State, of: Equipment) -> State:
    """The trays stand at the overflow: the water of the loop runs round and is one."""
    whole = state.tank + state.trays + state.held_up
    taken = min(of.draw, whole.litres)
    trays, tank = whole.take(taken)
    return replace(state, tank=tank, trays=trays, held_up=Water(), up_since=state.clock)


def back(state: State, of: Equipment) -> State:
    """The pump stands and all comes back, but what stays wet in trays and tubes."""
    if state.trays.litres <= 0:
        return state
    stays, comes = state.trays.take(min(of.held, state.trays.litres))
    return replace(state, tank=state.tank + comes, trays=Water(), held_up=stays, up_since=None)


def _flooded(state: State, step: RunStep, of: Equipment) -> State:
    kind = step.does.flood
    if kind in ("once", "timer"):
        state = replace(back(up(state, of), of), last_flood=state.clock)
    elif kind == "up":
        state = up(state, of)
    elif kind == "jug":
        state = replace(state, last_flood=state.clock)
    elif kind == "down" or (state.trays.litres and not state.pump_live):
        state = back(state, of)
    return state


def _poured(state: State, step: RunStep, of: Equipment) -> State:
    """Stock into the tank is what its batch is made with; feed parts and pH liquids by their millilitres."""
    what = step.does.pour
    if what == "stock" and step.task in of.batches:
        batch = of.batches[step.task]
        # Its litres come with the line that is filled to afterwards, and stand in the tank.
        poured = Water(0.0, {batch.substance: batch.strength * batch.litres})
        return replace(
            state,
            tank=state.tank + poured,
            let_in=state.let_in + poured,
            batches={**state.batches, step.task: Batch(0.0, state.clock)},
        )
    if what in ("part", "acid", "base"):
        millilitres = _millilitres(step)
        name = "feed" if what == "part" else what
        # By a table: the step does not know how much. Feed is told from water at about this strength.
        poured = Water(millilitres / 1000, {name: millilitres or state.tank.litres})
        unmixed = (step.part, state.clock) if what == "part" else state.unmixed
        return replace(state, tank=state.tank + poured, unmixed=unmixed, let_in=state.let_in + poured)
    return state


def _millilitres(step: RunStep) -> float:
    found = [a for a in step.amounts if a.kind == "number" and a.unit in ("mL", "L", "fl_oz", "us_gal")]
    return convert(found[0].rounded, found[0].unit, "mL") if found else 0.0


def _made(state: State, step: RunStep, of: Equipment) -> State:
    if not step.does.make or step.task not in of.batches:
        return state
    made, left = of.batches[step.task].litres, state.batches.get(step.task, Batch(0.0, 0.0)).litres
    batches = {**state.batches, step.task: Batch(left + made, state.clock)}
    return replace(state, batches=batches, let_in=state.let_in + Water(made))


def _surfaces(state: State, step: RunStep, of: Equipment) -> State:
    does = step.does
    for face in does.wash:
        state = state.with_words(**{face: "washed"})
    for face in does.wet:
        state = _wetted(state, step, face, of)
    for face in does.rinse:
        state = rinsed(state, step, face, of)
    return _through(state, rinse_water(step)) if does.rinse and does.flood is None else state


def _through(state: State, litres: float) -> State:
    """Water from the tap that runs down the drain at once."""
    return replace(state, let_in=state.let_in + Water(litres), drained=state.drained + Water(litres))


def rinse_water(step: RunStep) -> float:
    """What a step rinses with, all its rinses together [L]."""
    litres = sum(_litres_of(step, id_) for id_ in ("rinse_trays", "rinse_parts"))
    counts = [int(a.rounded) for a in step.amounts if a.id in ("rinse_count_trays", "rinse_count_parts")]
    return litres * (counts[0] if counts else 1)


def _litres_of(step: RunStep, id_: str) -> float:
    return sum(convert(a.rounded, a.unit, "L") for a in step.amounts if a.id == id_)


def _wetted(state: State, step: RunStep, face: str, of: Equipment) -> State:
    since = {**state.wet_since, face: state.wet_since.get(face) or (step.task, state.clock + step.minutes)}
    state = replace(state.with_words(**{face: "wet"}), wet_since=since)
    batch, facts = state.batches.get(step.task), of.batches.get(step.task)
    if face != "tray_faces" or batch is None or facts is None or step.does.flood:
        return state
    used = min(batch.litres, facts.one_wetting)
    on_faces = state.faces + Water(used, {facts.substance: used * facts.strength})
    left = {**state.batches, step.task: Batch(batch.litres - used, batch.made_at)}
    return replace(state, faces=on_faces, batches=left)


def rinsed(state: State, step: RunStep, face: str, of: Equipment) -> State:
    """A sanitized face is rinsed once its run-off is under the limit: of trays by what the step rinses with and how often.

    A face that was only washed stays so: its soap is off.
    """
    if state.words[face] not in ("wet", "sanitized"):
        return state
    if step.does.flood is not None:
        if of.residue is not None and sanitizer_left(state) > of.residue:
            return state
    elif face in ("tray_faces", "plates"):
        enough = any(a.id == "rinse_count_trays" for a in step.amounts) or of.tray_rinses in (None, 1)
        if not enough:
            return state
        state = replace(state, faces=Water(), drained=state.drained + Water(state.faces.litres))
    since = {name: when for name, when in state.wet_since.items() if name != face}
    return replace(state.with_words(**{face: "rinsed"}), wet_since=since)


def sanitizer_left(state: State) -> float:
    """The strongest sanitizer in tank, trays or tubes [mg/L]."""
    waters = (state.tank, state.trays, state.held_up)
    return max((w.strength(name) for w in waters for name in w.held if name not in NEGLIGIBLE), default=0.0)


def _dumped(state: State, step: RunStep, of: Equipment) -> State:
    gone = step.does.dump or (step.does.drain and step.task)
    if not gone:
        return state
    batch = state.batches.get(step.task, Batch(0.0, 0.0))
    litres = batch.litres if step.does.dump else 0.0
    left = {name: one for name, one in state.batches.items() if name != step.task}
    beside = (
        of.batches[step.task].quench if step.task in of.batches and (litres or not step.does.dump) else 0.0
    )
    state = _through(state, beside)
    return replace(state, batches=left, drained=state.drained + Water(litres))


def _tools(state: State, step: RunStep, of: Equipment) -> State:
    if step.does.sample:
        state = replace(state, sampled=state.sampled | {step.task})
    measures = dict(state.measures)
    if step.action == "rinse" and not step.does.rinse:
        measures = {}
    measures.update(step.groups)
    gear = frozenset() if step.does.gear_off or step.action == "wash_hands" else state.gear
    if measures == state.measures and gear | step.gear == state.gear:
        return state
    return replace(state, measures=measures, gear=gear | step.gear)


def words_differ(
    state: State, words: Mapping[str, tuple[str, ...]], of: Equipment
) -> dict[str, tuple[str, tuple[str, ...]]]:
    """The words that do not hold: each with how it stands and what was wanted."""
    return {
        word: (state.word(word, of), wanted)
        for word, wanted in words.items()
        if not state.is_so(word, wanted, of)
    }

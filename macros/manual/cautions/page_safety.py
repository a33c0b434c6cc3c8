"""What the cautions of one page rest on: the facts of its steps, read from the house; and what follows for PPE,
first aid and flushing water."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import suppress
from typing import Any

from macros.amounts import Amount, NotFound, Register
from macros.ground.problems import Problem
from macros.ground.units import convert
from macros.house import House
from macros.house.records.crops import Nursery
from macros.house.records.systems import Lights, System
from macros.manual.cautions import step_facts as caution_facts
from macros.manual.cautions.cautions_of_page import CautionProblem, PageCautions, page_cautions
from macros.manual.cautions.check_rendered import unlabelled_solutions
from macros.manual.cautions.crop_facts import crop_facts
from macros.manual.cautions.own_cautions import own_cautions
from macros.manual.cautions.step_facts import StepFacts
from macros.manual.house_facts.chemicals_in_hand import (
    chemicals_meant,
    made_handling,
    part_handling,
    stock_handling,
)
from macros.manual.procedures.expand_steps import PlannedStep
from macros.manual.procedures.file_format import Lift
from macros.page_model.page import SupplyView
from macros.published.labour.jobs import day_facts
from macros.published.safety.bands import weak_ppe
from macros.published.safety.pairs import HousePair
from macros.published.safety.protection import equipment, fill, first_aid, first_aid_text, ppe_id
from macros.published.safety.substances import Handling, group_of, substances_of


def page_safety(
    document: str,
    steps: Sequence[PlannedStep],
    register: Register,
    system: str,
    elsewhere: Sequence[Handling] = (),
    own: bool = False,
) -> tuple[PageCautions, list[Problem]]:
    """The cautions of a page, and what is wrong with them; `own` is a page that only this house has.

    A slot no fact fills, a substance without a wording and a decanted solution without a label are problems
    at the step concerned; with an open slot there are no cautions, and no page.
    """
    house = register.house
    facts = tuple(step_facts(step, register, step.keys.get("system", system), own=own) for step in steps)
    try:
        found = page_cautions(
            facts,
            elsewhere,
            house_pairs(house),
            "us" if house.us else "metric",
            begins=_begins(steps, document),
            taken={step.id: _taken(step, register, system) for step in steps},
            of_house=own_cautions(house, document, {step.id: step.data.id for step in steps}),
        )
    except CautionProblem as open_slots:
        return PageCautions(facts), [_at_step(steps, message) for message in open_slots.messages]
    uncovered = [
        f"{name} has no caution in the catalogue, so no page may handle it" for name in found.uncovered
    ]
    return found, [_at_step(steps, message) for message in (*uncovered, *unlabelled_solutions(facts))]


_AT_THE_MAINS = (
    "unplug",
    "plug_in",
    "switch",
    "breaker",
    "open_pump",
    "remove_pump",
    "move_lamp",
    "adjust_lamp",
)
"""Actions with which a hand is at a plug, a switch or a machine on the mains."""


def _begins(steps: Sequence[PlannedStep], document: str) -> frozenset[str]:
    """The steps with which another person or another hour may begin: of each phase, and of each piece of a job."""
    parts = {
        part.steps[0]
        for job in day_facts().jobs.values()
        for page in job.pages
        if page.document == document
        for part in page.parts
        if part.steps
    }
    return frozenset(step.id for step in steps if step.data.phase or step.data.id in parts)


def _taken(step: PlannedStep, register: Register, system: str) -> float:
    """What the step takes of the stock it handles [mL]; 0 where it takes none or the house cannot give it."""
    if not any(entry.at == "stock" for entry in step.data.handles):
        return 0.0
    keys = {**step.keys, **({"system": system} if system else {})}
    found = []
    for ask in step.data.amount:
        with suppress(NotFound):
            amount = register.find(ask.id, keys, **ask.of)
            if amount.exact_unit in ("L", "mL"):
                found.append(convert(amount.exact, amount.exact_unit, "mL"))
    return max(found, default=0.0)


def protection(found: PageCautions, house: House) -> tuple[SupplyView, ...]:
    """What to wear, each with the first and the last step that asks for it, and where the house keeps it."""
    asked: dict[str, list[int]] = {one: [] for one in found.ppe}
    for number, facts in enumerate(found.facts, start=1):
        weak = [worn for item in facts.strongest for worn in weak_ppe(item)]
        for worn in {*weak, *(one for met in found.met.get(facts.step_id, ()) for one in met.ppe)}:
            asked[worn].append(number)
    kept = {ppe_id(one.thing): one.kept_at for one in reversed(house.inventory) if one.kept_at}
    return tuple(
        SupplyView(
            "Protection",
            equipment().items[one],
            ", ".join([_steps(asked[one]), *([kept[one]] if one in kept else [])]),
        )
        for one in found.ppe
    )


def _steps(numbers: Sequence[int]) -> str:
    first, last = numbers[0], numbers[-1]
    return f"step {first}" if first == last else f"steps {first} to {last}"


def opens_stock(step: PlannedStep) -> bool:
    """Whether acid, base or sanitizer as bought stands open at the step."""
    return any(entry.at == "stock" and entry.chemical != "part" for entry in step.data.handles)


def needs_second_person(steps: Sequence[PlannedStep], house: House) -> bool:
    """Whether somebody must be within call."""
    return never_alone(house) and any(opens_stock(step) for step in steps)


def flushing_water(found: PageCautions, house: House) -> str:
    """What is asked of the water for eyes and skin, and where the house has it; empty where nothing asks for it."""
    return f"{first_aid().flush_point.text} Here: {_eyewash(house)}." if found.flush_point else ""


def safety_before(
    found: PageCautions, steps: Sequence[PlannedStep], elsewhere: Sequence[Handling], house: House
) -> tuple[str, ...]:
    """What must be so before the first step; a pair across the pages of a job asks for a full rinse on both pages."""
    there = {handling.substance for handling in elsewhere}
    rinse = house.sanitizing.rinse if house.sanitizing else None
    read = rinse.residue_allowed if rinse else None
    proof = f" until the strip reads {read.written} or less" if read else ""
    lines = [
        f"Full rinse between {pair.first.shown_name} and {pair.second.shown_name}: drain and rinse{proof} before "
        "the other is opened."
        for pair in found.pairs
        if not there.isdisjoint((pair.first.substance, pair.second.substance))
    ]
    if found.flush_point:
        lines.insert(0, f"The way to the flushing water is clear and has been walked: {_eyewash(house)}.")
    if needs_second_person(steps, house):
        lines.append("A second person stays within call while any stock is open.")
    return tuple(dict.fromkeys(lines))


def _eyewash(house: House) -> str:
    return house.house.places.eyewash or "NOT GIVEN: the house must say where"


def step_facts(step: PlannedStep, register: Register, system_id: str, *, own: bool = False) -> StepFacts:
    """The plain facts of one step. What the house does not say stays None: not known."""
    house, data = register.house, step.data
    facts: dict[str, Any] = {
        "handlings": handlings(register, step, system_id),
        "lifts": (*(_lift(house, lift) for lift in data.lifts), *_carried(step, register, system_id)),
        "uses": data.near if "ladder" in data.near else (),
        "near_mains": "mains" in data.near,
        "own_mains": own and ("mains" in data.near or data.action in _AT_THE_MAINS),
        "lamps_on": "lit_lamp" in data.near,
        "children_possible": house.house.children_possible,
        "persons_in_room": 1,  # who is within call is not in the room
        "slots": {},
    }
    if "dry_plugs" in data.near and house.plug is not None and house.plug.material is not None:
        facts |= {"material": house.plug.material, "state": "dry"}
    crops, species = crop_facts(house, system_id, step.keys.get("variety", ""))
    facts |= crops
    if house.nursery is not None:
        facts |= _lamp_facts(house.nursery)
    if system_id:
        facts |= _system_facts(register, step, system_id)
        facts["crop_present"] = _crop_elsewhere(house, system_id)
    facts["slots"] = {**facts["slots"], **species}
    facts.update({str(name): value for name, value in data.state.items()})
    return StepFacts(step.id, data.action, **facts)


def _system_facts(register: Register, step: PlannedStep, system_id: str) -> dict[str, Any]:
    system, near = register.house.system(system_id), step.data.near
    tank = _first_amount(register, ("res_fill",), system=system_id)
    volume = _batch(register, step, system_id) or tank
    lights, top = system.lights, system.trays.top_tray_inlet_height_above_reservoir_floor
    facts: dict[str, Any] = {
        "reach_height_m": (top.to("m") if top is not None else None) if "top_tier" in near else 0.0,
        "mains_device_present": system.pump is not None,
        "timer_controlled": system.timer is not None,
        "nutrient_parts": len(register.house.nutrients.parts_in_order()),
        **_lamp_facts(lights),
        "open_water_volume_l": (tank.exact if tank else None) if "open_water" in near else 0.0,
        **_load_facts(system),
        "pump_minimum_depth_cm": system.reservoir.pump_minimum_height.to("cm"),
    }
    if volume is not None:
        facts |= {"solution_volume_l": volume.exact, "drained_volume_l": volume.exact}
        facts["slots"] = {"volume": volume.printed, "volume_drained": volume.printed}
    return facts


def _lamp_facts(lights: Lights | Nursery | None) -> dict[str, Any]:
    """Of the lamps over a system, or of those of the nursery on a page of the room."""
    return {
        "lamp_risk_group": lights.lamp_risk_group if lights else None,
        "lamp_emits_uv": lights.emits_uv if lights else None,
        "lamp_distance_m": lights.hung_above_tray.to("m") if lights and lights.hung_above_tray else None,
    }


def _lift(house: House, lift: Lift) -> caution_facts.Lift:
    """A container of the house, full of water, or a bag of mix; a mass that no fact gives is not known."""
    where = lift.from_ in ("floor", "knee"), "above_shoulder" in (lift.from_, lift.to), int(lift.persons)
    soil = house.crop_plan.moved_to_soil if house.crop_plan is not None else None
    if lift.container in ("bag", "bag of mix") and soil is not None and soil.bag_mass is not None:
        return caution_facts.Lift("bag of mix", None, soil.bag_mass.to("kg"), *where)
    tool = next((t for t in house.measuring_tools if lift.container in (t.id, t.name)), None)
    if tool is None or tool.tare is None:
        return caution_facts.Lift(lift.container, None, None, *where)
    return caution_facts.Lift.of_water(tool.name, tool.capacity.to("L"), tool.tare.to("kg"), *where)


PORTABLE_L = 3.0
"""[L] What measures more than this and is no tank is carried full; our own figure: under it no load needs a word."""
_TARE_KG_PER_L = 0.1
"""[kg/L] An empty bucket, where the house has not weighed it; common practice, no source, on the heavy side."""


def _carried(step: PlannedStep, register: Register, system_id: str) -> Iterator[caution_facts.Lift]:
    """What a step's amounts are carried in: each container filled, at most, from the floor where it stands under the tap."""
    keys = {**step.keys, **({"system": system_id} if system_id else {})}
    tools = {tool.name: tool for tool in register.house.measuring_tools if "level" not in tool.for_}
    for ask in step.data.amount:
        with suppress(NotFound):
            amount = register.find(ask.id, keys, **ask.of)
            if amount.exact_unit != "L":
                continue
            for tool in (tools[name] for name in amount.tools if name in tools):
                holds = tool.capacity.to("L")
                if holds > PORTABLE_L:
                    carried = min(holds, amount.exact)
                    tare = tool.tare.to("kg") if tool.tare is not None else holds * _TARE_KG_PER_L
                    yield caution_facts.Lift.of_water(tool.name, carried, tare, from_below_knee=True)


def _load_facts(system: System) -> dict[str, Any]:
    """Shelf load at its worst, a tray full to the wall, against the rating; the rack with its trays at the overflow.

    What is not given stays unknown.
    """
    rack, trays = system.rack, system.trays
    if rack is None or rack.shelf_rating is None:
        return {}
    area = trays.inside_length.to("m") * trays.inside_width.to("m")
    full, flooded = area * trays.wall_height.to("m") * 1000, area * trays.flood_depth.to("m") * 1000
    rating = rack.shelf_rating.to("kg")
    empty = rack.empty_mass.to("kg") if rack.empty_mass is not None else 0.0
    return {
        "tier_mass_fraction": full / rating,
        "shelf_rating_kg": rating,
        "rack_mass_kg": empty + trays.count * flooded,
    }


_BATCHES = ("loop_volume", "batch_soak", "batch_spray", "batch_tool_dip")


def _batch(register: Register, step: PlannedStep, system_id: str) -> Amount | None:
    """The made batch that a step handles: it is what is drained or dosed there, not the tank's fill."""
    made = [entry.at for entry in step.data.handles if entry.at.startswith("made")]
    if not made:
        return None
    task = made[0].partition(":")[2] or step.keys.get("task", "")
    return _first_amount(register, _BATCHES, system=system_id, task=task)


def _first_amount(register: Register, ids: Sequence[str], **of: str) -> Amount | None:
    """The first of these that the house has."""
    for id_ in ids:
        with suppress(NotFound):
            return register.get(id_, **of)
    return None


def handlings(register: Register, step: PlannedStep, system_id: str) -> tuple[Handling, ...]:
    """What a step handles, each at the strength in play."""
    found = (
        handling
        for entry in step.data.handles
        for handling in _handling(register, step, entry.chemical, entry.at, system_id)
    )
    return tuple(handling for handling in found if handling is not None)


def _crop_elsewhere(house: House, system_id: str) -> bool | None:
    """Whether an edible crop stands in the room on another system; not known without a crop plan."""
    if house.crop_plan is None:
        return None
    systems = {variety.id: variety.system for variety in house.varieties}
    return any(systems.get(block.variety) not in (None, system_id) for block in house.crop_plan.blocks)


def _handling(
    register: Register, step: PlannedStep, named: str, at: str, system_id: str
) -> Iterator[Handling | None]:
    """What is in the hand: a feed part, or the house's chemicals as bought or as made for a task."""
    house = register.house
    if named == "part":
        yield part_handling(next(p for p in house.nutrients.parts_in_order() if p.id == step.keys["part"]))
        return
    task = at.partition(":")[2] or step.task
    for chemical in chemicals_meant(house, named, task, dosed=bool(step.data.amount)):
        if at == "stock":
            yield stock_handling(chemical)
        else:
            yield made_handling(register, chemical, task, system_id)


def house_pairs(house: House) -> tuple[HousePair, ...]:
    """The pairs a house adds with `never_with`: group words, or ids of its own chemicals."""
    pairs = []
    for chemical in house.chemicals:
        own = substances_of(chemical.active, chemical.role, chemical.name)
        for word in chemical.never_with:
            other = group_of(word)
            if not other and any(c.id == word for c in house.chemicals):
                named = house.chemical(word)
                other = frozenset(substances_of(named.active, named.role, named.name)[:1])
            if own and other:
                pairs.append(HousePair(frozenset(own[:1]), other, str(chemical.place("never_with"))))
    return tuple(pairs)


def never_alone(house: House) -> bool:
    """Whether the house's policy asks for a second person while peroxide or acid is open; it does by default."""
    return house.policies is None or not house.policies.peroxide_or_acid_alone_in_room


def first_aid_places(house: House) -> dict[str, str]:
    """What the house fills into the texts of first aid."""
    emergency = house.house.emergency
    return {
        "poison_centre": emergency.poison_line,
        "emergency_number": emergency.ambulance_fire,
        "breaker_place": house.house.places.breaker_panel or "breaker panel",
    }


def first_aid_texts(found: PageCautions, house: House) -> tuple[tuple[str, str], ...]:
    """Title and text for each injury its cautions speak of, and what holds for all."""
    places = first_aid_places(house)
    lines = tuple(first_aid_text(one, places) for one in found.first_aid)
    return (*lines, ("Always", fill(first_aid().follow, places))) if lines else ()


def _at_step(steps: Sequence[PlannedStep], message: str) -> Problem:
    """The problem at the step its message names, else at the first."""
    step = next((s for s in steps if f"step {s.id}" in message), steps[0])
    return Problem(step.data.place("id"), step.data.key("id"), message)

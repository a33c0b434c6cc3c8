"""The plain facts of a step that cautions look at. No house records here: who reads the house fills them.

Two kinds of facts, with two defaults:

- what the author says of the step (a lift, a ladder, a finding): not said means not so;
- what the house says (lamps, children, tier loads ...): not said means None, not known. An injury caution
  counts it as met and says so; a NOTICE counts it as not met.

None always means not known, for a fact of either kind.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from macros.published.safety.substances import Handling

WATER_KG_PER_L = 1.0
"""[kg/L] Water is 0.998 at 20 degC (from memory); 1.0 is the safe side for a load."""


@dataclass(frozen=True)
class Lift:
    """One load lifted or carried at a step.

    Parameters
    ----------
    container : what is lifted, as shown ("18 L bucket")
    volume_l : [L] what it holds; None not known
    mass_kg : [kg] all together; None not known
    from_below_knee, above_shoulder : where the lift begins and ends; None not known
    persons : how many carry it
    """

    container: str
    volume_l: float | None
    mass_kg: float | None
    from_below_knee: bool | None = False
    above_shoulder: bool | None = False
    persons: int = 1

    @classmethod
    def of_water(
        cls,
        container: str,
        volume_l: float,
        empty_mass_kg: float,
        from_below_knee: bool | None = False,
        above_shoulder: bool | None = False,
        persons: int = 1,
    ) -> Lift:
        """A container [kg] with water or solution [L] in it."""
        mass = volume_l * WATER_KG_PER_L + empty_mass_kg
        return cls(container, volume_l, mass, from_below_knee, above_shoulder, persons)


@dataclass(frozen=True)
class StepFacts:
    """What one step does and where, as far as cautions care; steps alike in all but their name are equal.

    Parameters
    ----------
    step_id, action : of the step; the action is one of actions.yml
    handlings : every substance handled here, each strength in play; the highest of a substance counts
    lifts : every load lifted here
    uses : tools (ladder, step_stool count)
    material, state : of plugs or goods (mineral_wool, dry)
    finding : visible_mould, label_missing or off_type_plant, where the step answers a finding
    near_mains : [author] plugs, lamps or leads are near
    own_mains : [author] a step of a page that only this house has is at a plug, a switch or near the mains: nobody has
        thought its machine through, so it counts as the work beside water does
    spill, unattended, water_below_minimum : [author] state at the step
    open_water_volume_l : [L] open water at the step; 0 none, None a volume not known
    reach_height_m : [m] height reached; 0 none asked for
    water_temp_c : [degC] of the water used; 0 none asked for
    tray_not_drained_h, hose_unused_days : [h], [day] how long water has stood
    nutrient_parts : how many nutrient parts the job puts in
    lamps_on : [author] a lit lamp is near
    mains_device_present : [house] a mains device hangs in the water of this step
    timer_controlled : [house] a timer or float can start the pump of this step
    crop_present : [house] an edible crop stands anywhere in the room
    children_possible : [house] small children can come in
    lamp_risk_group : [house] 0 to 3 (IEC 62471)
    lamp_emits_uv, lamp_distance_m : [house] UV share; [m] distance to the lamp
    tier_mass_fraction : [house] load of the fullest tier over its rating, water included
    rack_mass_kg, shelf_rating_kg : [house] [kg] for the text of the rack caution
    seed_treatment : [house] untreated, treated or unknown
    species_has_caution : [house] the edible list or a published rule limits who eats it or how much
    persons_in_room : [house] people in the room while this step is done
    helper_flags : asthma, allergy, weak_immune_defence, pollen_allergy of the person; () when nobody told.
        A house keeps no health records, so () is the rule; the wording of the caution covers the rest.
    solution_volume_l, drained_volume_l, pump_minimum_depth_cm : [L], [L], [cm] for the text of notices
    slots : slot texts that are already printed, for example {"volume": "136 L"}; they win over the facts
    """

    step_id: str = field(compare=False)
    action: str
    handlings: tuple[Handling, ...] = ()
    lifts: tuple[Lift, ...] = ()
    uses: tuple[str, ...] = ()
    material: str = ""
    state: str = ""
    finding: str = ""
    near_mains: bool | None = False
    own_mains: bool | None = False
    spill: bool | None = False
    unattended: bool | None = False
    water_below_minimum: bool | None = False
    open_water_volume_l: float | None = 0.0
    reach_height_m: float | None = 0.0
    water_temp_c: float | None = 0.0
    tray_not_drained_h: float | None = 0.0
    hose_unused_days: float | None = 0.0
    nutrient_parts: int | None = 0
    lamps_on: bool | None = False
    mains_device_present: bool | None = None
    timer_controlled: bool | None = None
    crop_present: bool | None = None
    children_possible: bool | None = None
    lamp_risk_group: int | None = None
    lamp_emits_uv: bool | None = None
    lamp_distance_m: float | None = None
    tier_mass_fraction: float | None = None
    rack_mass_kg: float | None = None
    shelf_rating_kg: float | None = None
    seed_treatment: str | None = None
    species_has_caution: bool | None = None
    persons_in_room: int | None = None
    helper_flags: tuple[str, ...] | None = ()
    solution_volume_l: float | None = None
    drained_volume_l: float | None = None
    pump_minimum_depth_cm: float | None = None
    slots: Mapping[str, str] = field(default_factory=dict, hash=False)

    @cached_property
    def strongest(self) -> tuple[Handling, ...]:
        """One handling a substance: the highest strength in play. A strength not known is the highest."""
        best: dict[str, Handling] = {}
        for handling in self.handlings:
            held = best.get(handling.substance)
            if held is None or _strength(handling) > _strength(held):
                best[handling.substance] = handling
        return tuple(best.values())


def _strength(handling: Handling) -> float:
    return 101.0 if handling.percent_by_mass is None else handling.percent_by_mass

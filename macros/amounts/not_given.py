"""What this house is not given, and why: every cause once, with all amounts that wait for it."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass, field

from macros.amounts.engine.amount import Of, key_of
from macros.amounts.engine.register import Reason, Register
from macros.ground.record_shape import field_names, record_at
from macros.ground.records import Record, records_of
from macros.house import House
from macros.published.amounts.amount_ids import known_amount_ids

NOT_ASKED = "nothing in this house asks for it"

_ASKED_BY = {
    "crop_plan": (
        "planting_map", "sites_per_flood_tray", "sow_plugs", "seed_count", "dome_off", "window_opens",
        "window_closes", "harvest_first", "harvest_last", "plan_use", "planting_day", "promise_weeks", "succession", "expected_harvest", "use_by", "use_by_leaves",
        "floods_per_day", "dry_hours", "light_hours",
    ),
    "crop_plan.sow_weekday": ("sow_date",),
    "crop_plan.moved_to_soil": ("soil_volume", "soil_bags", "first_water"),
    "sow_layout": ("sheet_fit", "sheet_warmth"),
    "electricity": ("circuit_allowed", "circuit_load"),
    "room": (
        "vpd", "dew_point", "moisture_load", "air_exchange_needed", "air_changes", "reentry_wait",
    ),
    "cleanout_tasks": ("cleanout_time_1", "cleanout_time_2"),
    "labour": ("cost_cleanout", "cost_crop"),
    "lifting": ("lift_limit", "lift_bucket", "lift_fill_max", "trips"),
    "sanitizing": (
        "stock_for_batch", "water_for_batch", "strength_made", "batch_life_end", "batch_spray", "batch_soak",
        "batch_tool_dip", "loop_volume", "soak_loads", "strip_band", "strip_dilution", "strip_sample",
        "strip_made_up", "stock_total",
        "quench_water", "quench_time",
    ),
    "sanitizing.neutralizer": (
        "neutralizer_dose", "neutralizer_loop",
    ),
    "sanitizing.rinse": (
        "rinse_trays", "rinse_parts", "rinse_volume", "rinse_count", "rinse_count_trays", "rinse_count_parts",
        "rinse_total", "disposal_volume",
    ),
    "supplies": ("reorder_point", "stock_forecast"),
    "training": ("training_hours",),
    "systems.lights": ("dli", "heat_load", "light_hours", "stand_hours"),
    "systems.pump": ("pump_flow_at_head", "flood_fill_time", "standpipe_capacity"),
    "systems.timer": ("pump_on_time", "stagger_gap"),
    "systems.rack": ("shelf_load",),
    "systems.reservoir.air_stones": ("airflow_per_100L",),
    "systems.cup_plate": ("planting_map", "sites_per_flood_tray", "area_plates"),
}  # fmt: skip
"""What of a house asks for an amount at all: without it there is none, and no reason is noted. By hand: a topic asks
before it knows the id. A path stands for its beginnings as well."""


@dataclass
class Cause:
    """One reason, the fact it waits for and where that would stand; each amount and, below a first one, what it waits for.

    `facts` are the full names the fact may stand under; `lacks` is the part of a house whose absence asks for nothing, as `electricity` or `systems.rack`.
    """

    text: str
    fact: str = ""
    where: str = ""
    lacks: str = ""
    facts: tuple[str, ...] = ()
    amounts: list[tuple[str, Of, str]] = field(default_factory=list)

    @property
    def told(self) -> str:
        """The cause as one line."""
        where = f" (it would stand at {self.where})" if self.where else ""
        return f"{self.fact} is not given{where}" if self.fact else self.text


def not_given(register: Register) -> list[Cause]:
    """Every amount the house is not given, under its cause: facts first, then other reasons, then what nobody asks for."""
    causes: dict[str, Cause] = {}
    for id_, of in sorted(register.withheld):
        root, below = _root(register, (id_, of))
        cause = cause_of(register, root)
        causes.setdefault(cause.told, cause).amounts.append((id_, of, below))
    noted = {id_ for id_, _ in register.withheld} | set(register.ids())
    for id_ in sorted(known_amount_ids() - noted):
        cause = _unasked(register.house, id_)
        causes.setdefault(cause.told, cause).amounts.append((id_, (), ""))
    return sorted(causes.values(), key=lambda cause: (cause.text == NOT_ASKED, not cause.fact, cause.told))


def not_given_lines(register: Register) -> Iterator[str]:
    """The list in words: a cause, below it an amount a line, with the one it rests on."""
    count = 0
    for cause in not_given(register):
        yield f"{cause.told}:"
        for id_, of, below in cause.amounts:
            count += 1
            yield f"  {key_of(id_, of)}" + (f", which rests on {below}" if below else "")
    yield f"{count} {'amount is' if count == 1 else 'amounts are'} not worked out for this house."


def not_given_json(register: Register) -> str:
    """The list as sorted JSON text."""
    rows = [
        {
            "cause": cause.text,
            "fact": cause.fact,
            "where": cause.where,
            "amounts": [{"id": id_, "of": dict(of), "rests_on": below} for id_, of, below in cause.amounts],
        }
        for cause in not_given(register)
    ]
    return json.dumps(rows, sort_keys=True, ensure_ascii=False, indent=1) + "\n"


def root_of(register: Register, key: tuple[str, Of]) -> tuple[str, Of]:
    """The amount that another waits for at last."""
    return _root(register, key)[0]


def cause_of(register: Register, root: tuple[str, Of]) -> Cause:
    """Why an amount that waits for no other is not given."""
    reason = register.withheld.get(root)
    return _cause(register.house, reason, dict(root[1])) if reason else _unasked(register.house, root[0])


def _root(register: Register, key: tuple[str, Of]) -> tuple[tuple[str, Of], str]:
    """The withheld amount, or the one nobody worked out, that another waits for at last; and the next one on the way."""
    below = ""
    while True:
        reason = register.withheld.get(key)
        if reason is None or reason.rests_on is None:
            return key, below
        id_, of = reason.rests_on
        near = (k for k in sorted(register.withheld) if k[0] == id_ and set(of) <= set(k[1]))
        key = next(near, (id_, of))
        below = below or key_of(*key)


def _cause(house: House, reason: Reason, of: dict[str, str]) -> Cause:
    if not reason.fact:
        return Cause(reason.text)
    if reason.where:
        return Cause(reason.text, reason.fact, reason.where, facts=(reason.fact,))
    places = dict(_would_stand(house, reason.fact))
    own = {name: where for name, where in places.items() if f"systems[{of.get('system')}]" in name} or places
    where = ", ".join(dict.fromkeys(own.values()))
    return Cause(reason.text, " or ".join(own) or reason.fact, where, facts=tuple(own))


def _would_stand(house: House, fact: str) -> Iterator[tuple[str, str]]:
    """Where a fact would stand whose record the house has not: its full name, and file and line of what is there."""
    head, _, last = fact.rpartition(".")
    for record in records_of(house):
        for written, name in field_names(type(record)).items():
            if getattr(record, name) not in (None, (), {}):
                continue
            inner, key = record_at(type(record), (written,)), record.key(written)
            within = inner is not None and last in inner.model_fields
            if key == fact or (within and f"{key}.{last}" == fact) or (within and not head):
                yield (key if key == fact else f"{key}.{last}"), str(record.place(name))


def _unasked(house: House, id_: str) -> Cause:
    for path, ids in _ASKED_BY.items():
        lacks = _lacks((house,), path.split("."), "")
        if id_ in ids and lacks:
            inner = lacks.removeprefix("systems.")
            told = f"no system gives {inner}" if inner != lacks else f"the house gives no {lacks}"
            return Cause(told, lacks=lacks)
    return Cause(NOT_ASKED)


def _lacks(records: tuple[Record, ...], names: list[str], way: str) -> str:
    """The first name on a path of fields that no record gives; empty where one gives all."""
    if not names:
        return ""
    way = f"{way}.{names[0]}".removeprefix(".")
    values = [value for record in records if (value := getattr(record, names[0])) not in (None, (), {})]
    if not values:
        return way
    inner = tuple(one for value in values for one in (value if isinstance(value, tuple) else (value,)))
    return _lacks(inner, names[1:], way)

"""The tank: a level read becomes water and feed, an EC read becomes feed, water or a swap."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from macros.amounts.reckoners import sentence, span
from macros.calculations.feed import feeding
from macros.calculations.rounding import round_to
from macros.calculations.water import volumes
from tests.reckoners.answer import Answer, Data, Group, measured, trimmed
from tests.reckoners.reading import Unread, read_number, refused

_SHAPES = {solid.__name__: solid for solid in volumes.SHAPES.values()}
LEVEL_STEP = 0.0001
"""Marks of the tank are shown as the house wrote them, to this at the finest."""
DUST = 1e-9
"""[m] A level this close to a mark stands on it."""


def reckon_level(data: Data, level: str) -> Answer:
    """What a level read at rest asks for.

    Parameters
    ----------
    data : of one system
    level : as typed, in the house's unit; pump minimum to fill mark

    Returns
    -------
    Answer
        litres present (nearest, as the level table), short (down, as the printed table), doses of the table's row
        at or next under the water; values `present`, `short`, `row`, `flood_left`, `part:<id>`, `full:<id>`.
    """
    tank, told = data["tank"], _marks(data)
    try:
        read, typed = read_number(
            level, sentence("level.what"), span(told["low"], told["high"], told["unit"])
        )
    except Unread as mistake:
        return mistake.answer
    said = {**told, "typed": typed}
    height = read * tank["metres_per_level"]
    if height > tank["rim"] + DUST:
        return refused(sentence("level.over_rim", **said))
    if height > tank["fill"] + DUST:
        return Answer("stop", sentence("level.over_mark", **said), (sentence("level.over_mark_do"),))
    if height < tank["pump_minimum"] - DUST:
        return Answer(
            "stop", sentence("level.under_pump", **said), (sentence("level.under_pump_do", **said),)
        )
    present = litres_at(data, height)
    unit, step = tank["per_litre"], tank["volume_step"]
    short = max(0.0, round_to((tank["full"] - present) * unit, step, "down"))
    values: dict[str, float | None] = {
        "present": round_to(present * unit, step, "nearest"),
        "short": short,
    }
    said["present"] = trimmed(present * unit, step, "nearest")
    said["full"] = trimmed(tank["full"] * unit, step, "nearest")
    lines = [sentence("level.holds", **said)]
    if height > tank["refill"] + DUST:
        lines.append(sentence("level.above_refill", **said))
    lines += _flood(data, present, said, values)
    if height >= tank["fill"] - DUST:
        title = sentence("level.full", **said)
    elif short == 0:
        title = sentence("level.nearly_full", **said, step=trimmed(step, step, "nearest"))
    else:
        title = sentence("level.add", **said, short=trimmed(short, step, "nearest"))
    groups: tuple[Group, ...] = ()
    if short > 0:
        groups = _feed(data, short, said, lines, values)
    assumed = [sentence("level.assume_home")]
    if groups:
        assumed.append(sentence("level.assume_row"))
    assumed.append(sentence("level.assume_leak", **said))
    return Answer("answer", title, tuple(lines), groups, tuple(assumed), values)


def _flood(data: Data, present: float, said: Mapping[str, str], values: dict[str, float | None]) -> list[str]:
    """Whether the next flood may run on what stands in the tank."""
    tank = data["tank"]
    if tank["draw"] is None:
        return []
    left = present - tank["draw"] - tank["dead"]
    values["flood_left"] = round_to(left * tank["per_litre"], 0.1, "down")
    if left >= 0:
        text = trimmed(left * tank["per_litre"], 0.1, "down")
        return [sentence("level.flood_fits", **said, draw=tank["draw_text"], left=text)]
    usable = trimmed((present - tank["dead"]) * tank["per_litre"], 0.1, "down")
    return [sentence("level.flood_short", **said, draw=tank["draw_text"], usable=usable)]


def _feed(
    data: Data, short: float, said: Mapping[str, str], lines: list[str], values: dict[str, float | None]
) -> tuple[Group, ...]:
    """The doses of the row at or next under the water, over the last row of the last; at part and at full strength."""
    feed = data["feed"]
    if feed is None:
        return ()
    step = feed["row_step"]
    row = min(round_to(short, step, "down"), feed["last_row"])
    values["row"] = row
    if row <= 0:
        lines.append(sentence("level.no_row", **said, row=trimmed(step, step, "nearest")))
        return ()
    lines.append(sentence("level.plain", **said, ec_high=feed["ec_high"]))
    litres = row * feed["litres_per_row"]
    groups = []
    for name, strength, key in (
        ("level.part_row", feed["strength"], "part"),
        ("level.full_row", 1.0, "full"),
    ):
        items = []
        for part in feed["parts"]:
            dose = feeding.dose_full(litres, part["rate"], strength)
            items.append(_dose(data, part, dose, "nearest", f"{key}:{part['id']}", values))
        head = sentence(
            name,
            **said,
            ec_low=feed["ec_low"],
            ec_high=feed["ec_high"],
            row=trimmed(row, step, "nearest"),
            strength=trimmed(feed["strength"], 0.0001, "nearest"),
        )
        groups.append(Group(head, tuple(items)))
    return tuple(groups)


def _dose(
    data: Data, part: Any, dose: float, direction: Any, key: str, values: dict[str, float | None]
) -> str:
    found = measured(data, part["tools"], dose, direction) if dose > 0 else None
    values[key] = None if found is None else found.total
    if found is None:
        return sentence("dose.none", part=part["name"])
    return sentence("dose.item", part=part["name"], amount=found.text)


def reckon_ec(data: Data, ec: str, level: str) -> Answer:
    """What an EC read asks for, for the water that stands in the tank.

    Parameters
    ----------
    data : of one system
    ec : as typed [mS/cm]; from the tap water's own EC to the last row of the printed tables
    level : as typed; pump minimum to fill mark

    Returns
    -------
    Answer
        feed below the band (down to marks, never more than the table's last row), water where it fits under the
        fill mark, else a swap (up); values `water`, `swap`, `room`, `part:<id>`.
    """
    rules, tank, told = data["ec"], data["tank"], _marks(data)
    said: dict[str, str] = {**told, "ec_low": rules["low_text"], "ec_high": rules["high_text"]}
    ends = {"low": rules["least_text"], "high": rules["most_text"]}
    try:
        read, typed = read_number(ec, sentence("ec.what"), span(ends["low"], ends["high"], "mS/cm"))
        at, level_typed = read_number(
            level, sentence("level.what"), span(told["low"], told["high"], told["unit"])
        )
    except Unread as mistake:
        return mistake.answer
    height = at * tank["metres_per_level"]
    if not tank["pump_minimum"] - DUST <= height <= tank["fill"] + DUST:
        return refused(sentence("ec.level_out", **{**told, "typed": level_typed}))
    said["typed"] = typed
    stop = "ec.under_water" if read < rules["least"] else "ec.over_table" if read > rules["most"] else ""
    if stop:
        out = {**said, **ends}
        return Answer("stop", sentence(stop, **out), (sentence("ec.stop_do", **out),))
    present = min(litres_at(data, height), tank["full"])
    assumed = (
        sentence(
            "ec.assume_volume",
            **said,
            level=level_typed,
            present=trimmed(present * tank["per_litre"], tank["volume_step"], "nearest"),
        ),
        sentence("ec.assume_pen"),
    )
    if read <= rules["target"]:
        return _raise(data, read, present, said, assumed)
    return _lower(data, read, present, said, assumed)


def _raise(data: Data, read: float, present: float, said: dict[str, str], assumed: tuple[str, ...]) -> Answer:
    rules = data["ec"]
    values: dict[str, float | None] = {}
    share = feeding.ec_raise(read, rules["target"], rules["full_feed"])
    items = tuple(
        _dose(data, part, present * part["rate"] * share, "down", f"part:{part['id']}", values)
        for part in rules["parts"]
    )
    in_band = read >= rules["low"]
    title = sentence("ec.in_band" if in_band else "ec.raise", **said)
    if read == rules["target"]:
        return Answer("answer", title, (), (), assumed)
    head = sentence("ec.if_asked_raise" if in_band else "ec.pour", **said, target=rules["target_text"])
    after = (sentence("ec.read_again"),)
    return Answer("answer", title, () if in_band else after, (Group(head, items),), assumed, values)


def _lower(data: Data, read: float, present: float, said: dict[str, str], assumed: tuple[str, ...]) -> Answer:
    rules, tank = data["ec"], data["tank"]
    in_band = read <= rules["high"]
    if not rules["lower"]:
        if in_band:
            return Answer("answer", sentence("ec.in_band", **said), (), (), assumed)
        return Answer("stop", sentence("ec.no_lower", **said), (), (), assumed)
    unit, step = tank["per_litre"], rules["water_step"]
    target, water_ec = rules["target"], rules["water_ec"]
    water = round_to(feeding.ec_dilute(present, read, target, water_ec) * unit, step, "up")
    swap = round_to(feeding.ec_swap(present, read, target, water_ec) * unit, step, "up")
    room = max(0.0, round_to((tank["full"] - present) * unit, step, "down"))
    numbers = {
        "water": trimmed(water, step, "nearest"),
        "swap": trimmed(swap, step, "nearest"),
        "room": trimmed(room, step, "nearest"),
        "target": rules["target_text"],
    }
    values = {"water": water, "swap": swap, "room": room}
    if in_band:
        asked = sentence("ec.if_asked_lower", **said, **numbers)
        return Answer("answer", sentence("ec.in_band", **said), (asked,), (), assumed, values)
    if water <= room:
        room_line = sentence("ec.dilute_room", **said, **numbers)
        return Answer("answer", sentence("ec.dilute", **said, **numbers), (room_line,), (), assumed, values)
    lines = (sentence("ec.swap_why", **said, **numbers), sentence("ec.swap_first", **said))
    return Answer("answer", sentence("ec.swap", **said, **numbers), lines, (), assumed, values)


def litres_at(data: Data, height: float) -> float:
    """What stands in the tank at a height [m], within its marks [L]."""
    return volumes.volume_to_height(shape_from(data), height)


def shape_from(data: Data) -> volumes.Shape:
    """The tank's inside as a solid."""
    solid = data["tank"]["shape"]
    sizes = {name: size for name, size in solid.items() if name != "kind"}
    shape: volumes.Shape = _SHAPES[solid["kind"]](**sizes)
    return shape


def _marks(data: Data) -> dict[str, str]:
    """The words every answer about a level shares."""
    tank = data["tank"]
    return {
        "system": data["system"],
        "responsible": data["responsible"],
        "unit": tank["level_shown"],
        "volume_unit": tank["volume_shown"],
        "low": tank["pump_minimum_text"],
        "high": tank["fill_text"],
        "rim": tank["rim_text"],
        "refill": tank["refill_text"],
    }

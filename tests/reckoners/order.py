"""An order: by when to sow, how many plugs, and whether rack and nursery have the room beside the plan."""

from __future__ import annotations

import math
from datetime import date, timedelta
from typing import Any

from macros.amounts.reckoners import sentence
from macros.calculations.crop.promises import days_within, plants_for, sow_by
from macros.calculations.rounding import round_to
from tests.reckoners.answer import Answer, Data, trimmed
from tests.reckoners.reading import Unread, read_choice, read_day, read_number, refused

MOST_DAYS = 400


def reckon_order(data: Data, crop: str, wanted: str, on: str) -> Answer:
    """When to sow for an order, and what stands in its way.

    Parameters
    ----------
    data : of one system
    crop : the id of one of its crops
    wanted : how much, as typed, in the unit of the crop
    on : the day it is wanted, as 2031-06-30

    Returns
    -------
    Answer
        the sowing day, plants, plugs, sheets and the planting window; values `plants`, `plugs`, `free` [places] and
        `given`, what the plan may promise already.
    """
    facts = data["order"]
    try:
        rule = facts["crops"][read_choice(crop, facts["crops"], sentence("order.crop_what"))]
        how = sentence("order.amount", unit=rule["unit"])
        amount, typed = read_number(wanted, sentence("order.wanted_what"), how)
        day = read_day(on, sentence("order.day_what"))
    except Unread as mistake:
        return mistake.answer
    today = date.fromisoformat(facts["today"])
    said: dict[str, Any] = {
        "system": data["system"], "crop": rule["name"], "unit": rule["unit"], "typed": typed, "day": day, "today": today,
        "how": how,
    }  # fmt: skip
    if amount <= 0:
        return refused(sentence("order.nothing", **said))
    if day < today:
        return refused(sentence("order.past", **said))
    if (day - today).days > MOST_DAYS:
        return refused(sentence("order.far", **said, most=MOST_DAYS))
    plants = plants_for(amount, rule["each_week"], rule["days"], facts["promised"])
    if plants > len(rule["plugs"]):
        return refused(sentence("order.too_many", **said, plants=plants, room=len(rule["plugs"])))
    return _sown(data, rule, day, today, {**said, "plants": plants})


def _sown(data: Data, rule: Any, day: date, today: date, said: dict[str, Any]) -> Answer:
    facts = data["order"]
    sow = sow_by(day, rule["first"], 0, rule["picks"], facts["weekday"])
    odd = (day - sow).days > rule["last"]
    needs = timedelta(days=rule["first"] + rule["picks"] - 1)
    sow = day - needs if odd else sow
    values: dict[str, float | None] = {"plants": said["plants"], "given": _given(facts, rule, day)}
    given = sentence("order.given", **said, given=int(values["given"] or 0))
    assumed = (sentence("order.assume_yield"), sentence("order.assume_plan", **said))
    if (values["given"] or 0) >= float(said["typed"]):
        return Answer("answer", sentence("order.planned", **said), (given,), (), assumed, values)
    if sow < today:
        following = today + timedelta(days=(facts["weekday_number"] - today.weekday()) % 7)
        late = sentence("order.late", **said, sow=sow)
        then = sentence("order.late_next", **said, next=following, earliest=following + needs)
        return Answer("stop", late, (then, given), (), assumed, values)
    each, share = trimmed(rule["each_week"], 0.1, "nearest"), trimmed(facts["promised"], 0.01, "nearest")
    lines = [sentence("order.plants", **said, each=each, days=rule["days"], share=share)]
    if odd:
        lines.append(sentence("order.off_weekday", weekday=facts["weekday"]))
    fits = _room(facts, rule, sow, said, lines, values)
    title = sentence("order.sow" if fits else "order.no_room", **said, sow=sow)
    return Answer("answer" if fits else "stop", title, (*lines, given), (), assumed, values)


def _given(facts: Any, rule: Any, day: date) -> float:
    """What the plan as it stands may promise of the days that count."""
    counted = (day - timedelta(days=rule["days"] - 1), day)
    days = days_within(counted, (date.fromisoformat(rule["from"]), date.fromisoformat(rule["to"])))
    return round_to(rule["planned"] * rule["each_week"] / 7 * facts["promised"] * days, 1, "down")


def _room(
    facts: Any, rule: Any, sow: date, said: dict[str, Any], lines: list[str], values: dict[str, float | None]
) -> bool:
    """Whether rack and nursery take it; the lines that say so."""
    plugs = rule["plugs"][said["plants"] - 1]
    opens, off = sow + timedelta(days=rule["youngest"]), sow + timedelta(days=rule["dome"])
    if opens >= date.fromisoformat(facts["rack_free_from"]):
        free = rule["whole"]
    else:
        free = rule["freed"] if opens > date.fromisoformat(rule["to"]) else rule["free"]
    values |= {"plugs": plugs, "free": free}
    lines.append(sentence("order.plugs", plugs=plugs, seeds=plugs * rule["seeds"]))
    sheets = None if facts["per_sheet"] is None else math.ceil(plugs / facts["per_sheet"])
    if sheets is not None:
        lines.append(sentence("order.sheets", size=facts["per_sheet"], sheets=sheets))
    lines.append(sentence("order.window", opens=opens, closes=sow + timedelta(days=rule["oldest"])))
    enough = free >= said["plants"]
    lines.append(sentence("order.places" if enough else "order.few_places", free=free, plants=said["plants"]))
    if sheets is None or facts["trays"] is None:
        lines.append(sentence("order.trays_unknown"))
        return enough
    full = _full(facts, sheets, off, opens)
    if full is None:
        lines.append(sentence("order.trays_free", dome_off=off, opens=opens))
        return enough
    lines.append(
        sentence("order.trays_full", full=full[0], used=full[1], trays=facts["trays"], sheets=sheets)
    )
    return False


def _full(facts: Any, sheets: int, off: date, opens: date) -> tuple[date, int] | None:
    """The first day without trays enough, and how many are taken on it."""
    if sheets > facts["trays"]:
        return off, 0
    for first, last, used in facts["tray_use"]:
        start, end = (
            max(date.fromisoformat(first), off),
            min(date.fromisoformat(last), opens - timedelta(days=1)),
        )
        if start <= end and used + sheets > facts["trays"]:
            return start, used
    return None

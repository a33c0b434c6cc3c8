"""The day in five lines, for the cover: can it be done, when to begin, who, what is not ready, what comes after."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from datetime import date, timedelta

from macros.day_plan.rows import looks
from macros.day_plan.times import length
from macros.house.rules.people import trainers
from macros.packs.pack import PackContext, day_text
from macros.packs.pens import meter_on
from macros.packs.readiness import stock_needs
from macros.page_model.page import PageView
from macros.published.labour.jobs import job
from macros.published.paper.packs import packs
from macros.training.path.sign_offs import standings

NEXT_SHOWN = 3
"""Dates of what comes next that a cover tells."""


def day_lines(pack: PackContext) -> list[tuple[str, str]]:
    """The five lines, each with its head; empty where the pack is for no planned day."""
    if pack.planned is None or pack.plan.next_day:
        return []
    lacking = list(_not_ready(pack))
    return [
        ("Today?", _possible(pack, len(lacking))),
        ("Begin", _begin(pack)),
        ("Who", _who(pack)),
        ("Not ready", "; ".join(lacking) or "nothing the house file knows of"),
        ("After", "; ".join(_after(pack))),
    ]


def _possible(pack: PackContext, lacking: int) -> str:
    """Whether the day can be done, by what the house file knows and by the longest shift."""
    planned = pack.planned
    assert planned is not None
    first = f"Not before {lacking} {'thing is' if lacking == 1 else 'things are'} ready" if lacking else "Yes"
    labour = pack.house.labour
    shift = math.floor(labour.longest_shift.to("min")) if labour and labour.longest_shift else None
    finish = planned.plan.finish
    if shift is None or finish <= shift:
        return f"{first}: {length(finish)} in all."
    return (
        f"{first}: {length(finish)} in all, over the longest shift of {length(shift)}. "
        "Change hands, or stop where the plan says the whole day may be left."
    )


def _begin(pack: PackContext) -> str:
    planned = pack.planned
    assert planned is not None
    given = "" if pack.start else ", assumed: nobody gave another start"
    return (
        f"at {planned.clock(0)}{given}; finished at {planned.clock(planned.plan.finish)} "
        f"with {'one person' if planned.people == 1 else 'two people'}."
    )


def _who(pack: PackContext) -> str:
    """Who may do the pages of the day alone, by role and roster; the pages nobody may."""
    pages = {page.key: page for page in pack.day_pages}
    alone = _alone(pack, pages)
    if not alone:
        return "the house file names nobody who may do these pages alone"
    whole = [who for who, keys in alone.items() if len(keys) == len(pages)]
    some = [f"{who} {', '.join(_documents(pages, keys))}" for who, keys in alone.items() if who not in whole]
    told = [f"the whole day alone: {', '.join(whole) or 'nobody'}"]
    return "; ".join(told + ([f"signed off: {'; '.join(some)}"] if some else []))


def _alone(pack: PackContext, pages: dict[str, PageView]) -> dict[str, set[str]]:
    """Who may do which of these pages alone."""
    alone = {role.replace("_", " "): set(pages) for role in trainers(pack.house, pack.day)}
    for one in standings(pack.register, pack.views):
        if one.page.key in pages and one.in_force and one.may != "beside somebody":
            alone.setdefault(one.entry.who.replace("_", " "), set()).add(one.page.key)
    return alone


def _documents(pages: dict[str, PageView], keys: Iterable[str]) -> list[str]:
    return sorted(pages[key].document for key in keys)


def _not_ready(pack: PackContext) -> Iterator[str]:
    """What the house file knows to be lacking: pens, stock, sheets."""
    by_state: dict[str, list[str]] = {}
    for meter in pack.house.meters:
        if (view := meter_on(meter, pack.day)).out:
            by_state.setdefault(view.state, []).append(view.name)
    yield from (f"{', '.join(names)} {state}" for state, names in by_state.items())
    for row in stock_needs(pack):
        if row.buy not in ("", "none"):
            yield f"{row.name}: {row.buy} to buy"
    drafts = [page.key for page in pack.day_pages if page.control.draft_reasons]
    if drafts:
        yield f"{len(drafts)} of {len(pack.day_pages)} pages are DRAFT, marked below"


def _after(pack: PackContext) -> Iterator[str]:
    planned = pack.planned
    assert planned is not None
    assert pack.plan.job is not None
    for activity, minute, _ in looks(planned):
        yield f"{activity.page.document} step {activity.steps[0].number} at {planned.clock(minute)}"
    for entry in job(pack.plan.job).pages:
        for page in pack.pages(entry.document) if entry.next_day else ():
            day = _planting_day(pack)
            yield f"{page.key} {page.title}{f' on {day}' if day else ''}, a pack of its own"
    ahead = pack.day + timedelta(days=packs().sign_off.days_ahead)
    dates = sorted(found for found in _next_dates(pack) if pack.day <= found[0] <= ahead)
    yield from (f"{day_text(when)} {what}" for when, what in dates[:NEXT_SHOWN])


def _next_dates(pack: PackContext) -> Iterator[tuple[date, str]]:
    house, day = pack.house, pack.day
    every = house.policies.reservoir_change_every if house.policies else None
    if every is not None:
        yield day + timedelta(days=int(every.to("day"))), "solution change due"
    for meter in house.meters:
        if meter.last is not None:
            yield meter.last + timedelta(days=meter.calibrate_every.to("day")), f"calibrate {meter.name}"
    for amount in pack.register.of_id("discard_date"):
        yield (
            date.fromisoformat(amount.printed),
            f"discard {house.chemical(dict(amount.of)['chemical']).name}",
        )


def _planting_day(pack: PackContext) -> date | None:
    plan = pack.house.crop_plan
    own = plan.days_of(pack.system).planting_day if plan is not None else None
    return own if own is not None and own >= pack.day else None

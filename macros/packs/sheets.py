"""The sheets a pack has of its own: cover, readiness list, log of the day, ledger with sign-off."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta

from markupsafe import Markup

from macros.html.environment import fragment
from macros.html.paper import Part, Running
from macros.manual.house_facts.emergency import emergency_line
from macros.manual.house_facts.fact_text import fact_text
from macros.manual.pages.shot_list import shot_list
from macros.manual.records.record_form import REVIEW_DAYS, kept_for
from macros.measuring.sheet import measuring_sheet, sheet_html
from macros.packs.cover import (
    alone_words,
    build_warnings,
    controls,
    cover_notes,
    draft_lines,
    manual_code,
)
from macros.packs.day_lines import day_lines
from macros.packs.ledger import stock_rows, water_rows, where_to
from macros.packs.log import log_blocks, outside_lines
from macros.packs.on_the_wall import on_the_wall
from macros.packs.pack import PackContext, day_text
from macros.packs.pens import meter_on
from macros.packs.readiness import small_needs, stock_needs, things
from macros.page_model.page import ControlView, PageView
from macros.published.paper.packs import packs

COVER = "cover"
CHANGES = 1
"""Blank lines for what to change in the house file."""
ACTS = 2
"""Blank lines for what was done about values outside their limits."""
NOTE_LINES = 22
"""Lines on a page for notes; they fit Letter."""
MOST_SHOTS = 40
"""Photographs asked for on one walk: two pages; the page on the site lists all."""
RECORD = "-record"
"""End of the key of a record: it is listed beside the sheet it belongs to."""


@dataclass(frozen=True)
class ContentsRow:
    """One line of the contents: a sheet, the control block of its page and its record, where there are such."""

    sheet: Part
    control: ControlView | None
    record: Part | None

    @property
    def draft(self) -> bool:
        """Whether the page of the sheet is a draft."""
        return self.control is not None and bool(self.control.draft_reasons)


def cover_part(pack: PackContext, others: Sequence[Part], pages: Mapping[str, int], total: int) -> Part:
    """The cover of a pack, with the contents of all other sheets.

    Parameters
    ----------
    others : the other sheets, in order
    pages : key of a sheet -> the page it begins on; empty before the first print
    total : pages in all; 0 before the first print
    """
    rows = _contents(pack, others)
    drafts = draft_lines((row.sheet.key, row.control) for row in rows if row.control is not None)
    single = [part.key for part in others if part.one_page]
    house = pack.house
    html = fragment(
        "pack_cover.html.j2",
        p=pack,
        day=day_text(pack.day),
        system_name=house.system(pack.system).name if pack.system else "",
        version=house.house.manual_version,
        emergency=emergency_line(house),
        alone=alone_words(house) if pack.plan.job and pack.people != 2 else "",
        five=day_lines(pack),
        walls=[(page, where) for page in pack.day_pages if (where := on_the_wall(pack).get(page.key))],
        rows=rows,
        pages=pages,
        lines=[*drafts, *cover_notes(pack)],
        draft=bool(drafts),
        total=total,
        single=single,
        warnings=build_warnings(pack),
        meta=_meta(pack),
    )
    return _own(pack, COVER, pack.name, html)


def readiness_part(pack: PackContext) -> Part:
    """What must be there, gone through some days ahead."""
    ahead = packs().readiness.days_ahead
    html = fragment(
        "readiness.html.j2",
        on=day_text(pack.day - timedelta(days=ahead)),
        days_ahead=ahead,
        day=day_text(pack.day),
        stocks=list(stock_needs(pack)),
        smalls=small_needs(pack),
        things=things(pack),
        system=pack.system,
        meta=_meta(pack),
    )
    return _own(pack, "readiness", "Ready for the day", html)


def ledger_part(pack: PackContext) -> Part:
    """Stock taken and water let go, totals printed as everywhere else; and the sign-off of the day."""
    totals = pack.register.of_id("stock_total", system=pack.system)
    whole = pack.register.of_id("disposal_volume", system=pack.system)
    html = fragment(
        "ledger.html.j2",
        stocks=list(stock_rows(pack)),
        totals=[(pack.house.chemical(dict(one.of)["chemical"]).name, one.printed) for one in totals],
        water=water_rows(pack),
        water_total=whole[0].printed if whole else "",
        where=list(where_to(pack)),
        pages=_in_columns(pack.day_pages),
        alone=pack.people == 1,
        responsible=fact_text(pack.house.house.responsible_person or "responsible person", pack.house.us),
        review_by=day_text(pack.day + timedelta(days=REVIEW_DAYS)),
        changes=CHANGES,
        system=pack.system,
        meta=_meta(pack),
    )
    return _own(pack, "ledger", "Stock, waste and sign-off", html)


def notes_part(pack: PackContext, number: int) -> Part:
    """A page for notes, so that the sheet behind it begins on a front."""
    key = f"notes-{number}"
    html = fragment(
        "notes.html.j2",
        key=key,
        lines=NOTE_LINES,
        alone=pack.people == 1,
        system=pack.system,
        meta=_meta(pack),
    )
    return _own(pack, key, "Notes of the day", html)


def _in_columns(pages: Sequence[PageView]) -> list[tuple[PageView, PageView | None]]:
    """Pages two in a line, read down the left column first."""
    half = (len(pages) + 1) // 2
    right = [*pages[half:], *([None] if len(pages) % 2 else [])]
    return list(zip(pages[:half], right, strict=True))


def log_part(pack: PackContext) -> Part:
    """The record of the day, in the order of the work."""
    house = pack.house
    html = fragment(
        "log.html.j2",
        blocks=log_blocks(pack),
        outside=outside_lines(pack),
        acts=ACTS,
        pens=[meter_on(meter, pack.day) for meter in house.meters],
        worked_to=[f"{page.key}·{page.control.revision}" for page in pack.day_pages],
        alone=pack.people == 1,
        reviewed_within="" if pack.holds("ledger") else f"{REVIEW_DAYS} days",
        kept=kept_for(house),
        system=pack.system,
        meta=_meta(pack),
    )
    return _own(pack, "log", "Log of the day", html)


def shots_part(pack: PackContext) -> Part:
    """What to photograph, to walk round the room with."""
    shots = shot_list(pack.house, pack.views, tuple(pack.photographs.by_subject))
    html = fragment(
        "shot_list.html.j2",
        shots=sorted(shots[:MOST_SHOTS], key=lambda shot: shot.where),
        first=min(MOST_SHOTS, len(shots)),
        all=len(shots),
        meta=_meta(pack),
    )
    return _own(pack, "photographs", "Photographs to take", html)


def measuring_part(pack: PackContext) -> Part:
    """What is not measured yet, to walk round the room with."""
    html = sheet_html(measuring_sheet(pack.register, pack.built), _meta(pack))
    own = _own(pack, "measure", "Measuring sheet", html)
    return replace(own, styles=("pack", "drawing", "measuring"), bottom_right="Typed in by: trayside measure")


def _contents(pack: PackContext, others: Sequence[Part]) -> list[ContentsRow]:
    """Every sheet; a record stands beside its sheet, and by itself where the pack has no such sheet."""
    known, sheets = controls(pack), {part.key: part for part in others}
    return [
        ContentsRow(part, known.get(part.key.removesuffix(RECORD)), sheets.get(part.key + RECORD))
        for part in others
        if not (part.key.endswith(RECORD) and part.key.removesuffix(RECORD) in sheets)
    ]


def _meta(pack: PackContext) -> tuple[tuple[str, str], ...]:
    """The small table at the head of each own sheet."""
    return (
        ("Pack", f"{pack.plan.name} {pack.system}".strip()),
        ("Day", pack.day.isoformat()),
        ("Built for", pack.register.built_for.isoformat()),
        ("Manual", manual_code(pack)),
    )


def _own(pack: PackContext, key: str, title: str, html: Markup) -> Part:
    running: Running = {
        "top_left": f"{pack.house.house.name} · {title}",
        "top_right": f"{pack.plan.name} {pack.system}".strip(),
        "bottom_left": f"{day_text(pack.day)} · manual code {manual_code(pack)}",
        "bottom_right": "Stays with the pack of this day",
    }
    return Part(key=key, title=title, html=html, styles=("pack",), **running)

"""The sheets a pack has of its own: cover, readiness list, ledger, sign-off."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from macros.html.environment import fragment
from macros.html.paper import Part, Running
from macros.packs.cover import controls, cover_view, draft_lines, manual_code
from macros.packs.ledger import ledger_view, sign_off_view
from macros.packs.pack import PackContext, day_text
from macros.packs.readiness import readiness_view

COVER = "cover"
RECORD = "-record"
"""End of the key of a record: it is listed beside the sheet it belongs to."""


@dataclass(frozen=True)
class ContentsRow:
    """One line of the contents: where the sheet and its record begin; pages are empty until they are known."""

    key: str
    place: str
    title: str
    revision: str
    code: str
    draft: bool
    page: str
    record_place: str = ""
    record_page: str = ""


def cover_part(pack: PackContext, others: Sequence[Part], pages: Mapping[str, int], total: int) -> Part:
    """The cover of a pack, with the contents of all other sheets.

    Parameters
    ----------
    others : the other sheets, in order
    pages : key of a sheet -> the page it begins on; empty before the first print
    total : pages in all; 0 before the first print
    """
    rows = _contents(pack, others, pages)
    known = controls(pack)
    drafts = draft_lines((row.key, known[row.key]) for row in rows if row.draft)
    single = [part.key for part in others if part.one_page]
    html = fragment(
        "pack_cover.html.j2",
        c=cover_view(pack),
        rows=rows,
        drafts=drafts,
        total=total,
        single=single,
        paper=pack.paper,
        meta=_meta(pack),
    )
    return _own(pack, COVER, pack.name, html)


def readiness_part(pack: PackContext) -> Part:
    """What must be there, gone through some days ahead."""
    html = fragment("readiness.html.j2", v=readiness_view(pack), system=pack.system, meta=_meta(pack))
    return _own(pack, "readiness", "Ready for the day", html)


def ledger_part(pack: PackContext) -> Part:
    """Stock taken and water let go."""
    html = fragment("ledger.html.j2", v=ledger_view(pack), system=pack.system, meta=_meta(pack))
    return _own(pack, "ledger", "Stock and waste", html)


def sign_off_part(pack: PackContext, others: Sequence[Part]) -> Part:
    """Who did and who checked each procedure, what to change, what comes next."""
    known = controls(pack)
    sheets = [part for part in others if part.key in known]
    html = fragment(
        "sign_off.html.j2", v=sign_off_view(pack), sheets=sheets, system=pack.system, meta=_meta(pack)
    )
    return _own(pack, "sign-off", "Sign-off", html)


def _contents(pack: PackContext, others: Sequence[Part], pages: Mapping[str, int]) -> list[ContentsRow]:
    known = controls(pack)
    records = {part.key.removesuffix(RECORD): part for part in others if part.key.endswith(RECORD)}
    listed = {part.key for part in others}
    rows = []
    for part in others:
        if part.key.endswith(RECORD) and part.key.removesuffix(RECORD) in listed:
            continue
        control = known.get(part.key.removesuffix(RECORD))
        record = records.get(part.key)
        rows.append(
            ContentsRow(
                key=part.key,
                place=part.page,
                title=part.title,
                revision=control.revision if control else "",
                code=control.values_code if control else "",
                draft=control is not None and bool(control.draft_reasons),
                page=_page(pages, part),
                record_place=record.page if record else "",
                record_page=_page(pages, record) if record else "",
            )
        )
    return rows


def _page(pages: Mapping[str, int], part: Part) -> str:
    return str(pages[part.key]) if part.key in pages else ""


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

"""The control block of a page: revision, approval, and the fingerprint of what the page prints."""

from __future__ import annotations

import hashlib
import json
from typing import TYPE_CHECKING

from macros.house import House
from macros.house.people import Issued
from macros.manual.views import ChecklistView, ControlView, PageView, RevisionView

if TYPE_CHECKING:
    from macros.manual.plan_views import PlanView  # a build of the site makes no plan

# Parts of a page that say which copy it is or lead to other pages, not what it tells; they stay out of the fingerprint.
_NOT_VALUES = (
    "control",
    "history",
    "page_address",
    "sheet_address",
    "public_address",
    "address",
    "reckoners",
    "checklist",
    "worked_to",
)

# Parts of what a page holds that it does not print: where a working stands, what only the order of a day needs; and
# the system of an amount, which the page says in its head or beside it.
_NOT_PRINTED = ("anchor", "after", "timing", "system")


def values_code(page: PageView) -> str:
    """Fingerprint of the rendered values: first 8 hex digits of SHA-256 over the page's texts, as `7dd0 0a16`.

    It covers every text, amount, limit and caution the page shows, so equal codes mean equal sheets; anchors
    and addresses do not count.
    """
    return fingerprint(page)


def fingerprint(view: PageView | ChecklistView | PlanView) -> str:
    """As `values_code`, for any view that is printed under control."""
    content = {name: value for name, value in vars(view).items() if name not in _NOT_VALUES}
    text = json.dumps(content, sort_keys=True, ensure_ascii=False, default=_printed)
    digest = hashlib.sha256(text.encode()).hexdigest()
    return f"{digest[:4]} {digest[4:8]}"


def control_block(house: House, key: str, document: str, code: str) -> ControlView:
    """Revision and approval as the house recorded them; reasons to call the page a draft, if there are any."""
    last = last_issue(house, key)
    reasons: list[str] = []
    if last is None:
        reasons.append("This page has not been issued yet.")
    elif last.values_code != code:
        reasons.append(f"The values changed since revision {last.revision} was issued.")
    unfilled = house.house.emergency.unfilled()
    if unfilled:
        reasons.append(f"Not filled in: {', '.join(unfilled).replace('_', ' ')}.")
    return ControlView(
        document=document,
        revision=str(last.revision) if last else "0",
        effective=last.effective.isoformat() if last else "not issued",
        approved_by=last.approved_by if last else "nobody yet",
        values_code=code,
        draft_reasons=tuple(reasons),
    )


def last_issue(house: House, key: str) -> Issued | None:
    """The issue of a page that is in force."""
    issued = [entry for entry in house.issued if entry.page == key]
    return issued[-1] if issued else None


def public_address(house: House, address: str) -> str:
    """The address a scan leads to: below the house's site address, where it has one."""
    base = house.house.site_address
    return f"{str(base).rstrip('/')}/{address}" if base else address


def revision_history(house: House, key: str) -> tuple[RevisionView, ...]:
    """What the house recorded about each issue of the page, newest first."""
    issued = [entry for entry in house.issued if entry.page == key]
    return tuple(
        RevisionView(str(entry.revision), entry.effective.isoformat(), entry.why, entry.approved_by)
        for entry in reversed(issued)
    )


def _printed(record: object) -> dict[str, object]:
    """A record inside a view as plain data, without what no page prints."""
    return {name: value for name, value in vars(record).items() if name not in _NOT_PRINTED}

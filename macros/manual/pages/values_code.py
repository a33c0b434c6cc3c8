"""The control block of a page: revision, approval, and the fingerprint of what the page prints."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from typing import Any

from macros.house import House
from macros.house.records.people import Issued
from macros.manual.pages.printed_lines import PrintedLine
from macros.page_model.page import ControlView


def lines_code(lines: Iterable[PrintedLine], formulas: Mapping[str, str]) -> str:
    """The values code of what was printed and how it was worked out, as a snapshot keeps both.

    It covers every line an item and its sheet print, and the shape of each formula behind them: equal codes mean
    equal sheets, worked out the same way. Addresses, positions in a drawing and the order of files do not count.
    """
    return digest([[(line.place, line.kind, line.text) for line in lines], sorted(formulas.items())])


def digest(content: Any) -> str:
    """First 8 hex digits of SHA-256 over anything that is made of records, as `7dd0 0a16`."""
    text = json.dumps(content, sort_keys=True, ensure_ascii=False, default=vars)
    digest = hashlib.sha256(text.encode()).hexdigest()
    return f"{digest[:4]} {digest[4:8]}"


def control_block(
    house: House,
    key: str,
    document: str,
    lines: Iterable[PrintedLine],
    formulas: Mapping[str, str] | None = None,
) -> ControlView:
    """Revision and approval as the house recorded them; reasons to call the item a draft, if there are any.

    `lines` and `formulas` are what its values code is made of.
    """
    last, code = last_issue(house, key), lines_code(lines, formulas or {})
    reasons: list[str] = []
    if last is None:
        reasons.append("This page has not been issued yet.")
    elif last.values_code != code:
        reasons.append(f"The values changed since revision {last.revision} was issued.")
    unfilled = house.unfilled_words()
    if unfilled:
        reasons.append(unfilled)
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
    issued = issues_of(house, key)
    return issued[-1] if issued else None


def public_address(house: House, address: str) -> str:
    """The address a scan leads to: below the house's site address, where it has one."""
    base = house.house.site_address
    return f"{str(base).rstrip('/')}/{address}" if base else address


def issues_of(house: House, key: str) -> list[Issued]:
    """Every issue of an item, oldest first: a correction that changes no meaning is one that keeps its revision."""
    return house.issues_of(key)

"""Names and addresses of pages and of what hangs on them."""

from __future__ import annotations


def page_key(document: str, system: str) -> str:
    """`SOP-08-A`: the page's name in the control list, in addresses and in QR codes."""
    return f"{document}-{system}" if system else document


def page_address(document: str, system: str) -> str:
    """`p/sop-08-a.html`: short, so that its QR code has large modules."""
    return f"p/{page_key(document, system).lower()}.html"


def source_address(page_address: str) -> str:
    """`p/sop-08-a.html` is written from `p/sop-08-a.md`."""
    return page_address.removesuffix(".html") + ".md"


def sheet_address(page_address: str) -> str:
    """`sheets/sop-08-a.html`, the bench sheet of a page."""
    return page_address.replace("p/", "sheets/", 1)


def form_address(page_address: str) -> str:
    """`forms/sop-08-a.html`, the blank record of a page."""
    return page_address.replace("p/", "forms/", 1)

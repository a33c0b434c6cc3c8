"""Wall cards as sheets of paper: one page each, for A4 and Letter."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from macros.amounts import Register
from macros.html.environment import fragment
from macros.html.paper import Bar, Part, document, running_head
from macros.html.qr_code import qr_svg
from macros.html.site_text import SiteText
from macros.page_model.card import CardView
from macros.page_model.page import PageView
from macros.paper.cards.cards import wall_cards

MARGIN = "15mm 12mm 11mm 15mm"
"""Top and left stay free for a hole, a clip or a nail."""


def card_part(view: CardView) -> Part:
    """One card."""
    return Part(
        key=view.key,
        title=f"{view.title}, {view.system}" if view.system else view.title,
        html=fragment("card.html.j2", c=view, qr=qr_svg(view.public_address)),
        styles=("card",),
        margin=MARGIN,
        one_page=True,
        **running_head(view.house_name, view.title, "wall card", view.control),
    )


def card_sheet(view: CardView, language: str = "en") -> str:
    """The card as a document of its own: what hangs on the wall is compared with it."""
    draft = ", DRAFT" if view.control.draft_reasons else ""
    title = f"{view.key} {view.title}, wall card, revision {view.control.revision}{draft}"
    bar = Bar("../reference/master-list.html", "Back to the master list", "Print this card")
    return document([card_part(view)], title, language, bar=bar)


def card_texts(cards: Iterable[CardView], language: str) -> Iterator[SiteText]:
    """The wall cards of the site, each as a file."""
    return (SiteText(card.address, card_sheet(card, language)) for card in cards)


def card_parts(register: Register, views: Sequence[PageView]) -> list[Part]:
    """Every wall card of the house; what it has not and why is told by `macros.paper.cards.cards.wall_cards`."""
    return [card_part(view) for view in wall_cards(register, views).cards]

"""Wall cards as sheets of paper: one page each, for A4 and Letter."""

from __future__ import annotations

from collections.abc import Sequence

from macros.amounts import Register
from macros.house import House
from macros.manual.card_views import CardView
from macros.manual.cards import wall_cards
from macros.manual.views import PageView
from macros.rendering.environment import fragment
from macros.rendering.paper import Part, head_left
from macros.rendering.qr import qr_svg

MARGIN = "15mm 12mm 11mm 15mm"
"""Top and left stay free for a hole, a clip or a nail."""


def card_part(view: CardView) -> Part:
    """One card."""
    sources = ", ".join(dict.fromkeys(source.page for source in view.sources[:4]))
    kind = "DRAFT" if view.draft else "wall card"
    return Part(
        key=view.key,
        title=f"{view.title}, {view.system}" if view.system else view.title,
        html=fragment("card.html.j2", c=view, qr=qr_svg(view.public_address)),
        styles=("card",),
        top_left=head_left(view.house_name, f"{view.title} · {kind}"),
        top_right=view.key,
        bottom_left=f"Built for {view.built_for} · {sources}",
        bottom_right="Void once the house file changes",
        margin=MARGIN,
        one_page=True,
    )


def card_parts(house: House, register: Register, views: Sequence[PageView]) -> list[Part]:
    """Every wall card of the house; what it has not and why is told by `macros.manual.cards.wall_cards`."""
    if register.house is not house:
        raise ValueError("the register is of another house")
    return [card_part(view) for view in wall_cards(register, views).cards]

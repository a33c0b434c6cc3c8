"""The reckoner pages as Markdown: the facts stand in the page as data, so that it works from disk."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from macros.amounts import Register
from macros.amounts.reckoners import sentence
from macros.html.drawings import figure
from macros.html.environment import render, script_data
from macros.html.site_text import SiteText
from macros.manual.pages.reckoners import anchor, reckoner_pages
from macros.page_model.addresses import source_address
from macros.page_model.page import PageView
from macros.published.amounts.reckoners import reckoner_words

_PAGE_ONLY = ("page", "names", "titles")
"""Words of the page itself; its script needs the others."""


def reckoner_texts(register: Register, pages: Sequence[PageView]) -> Iterator[SiteText]:
    """The page of each system."""
    words = {topic: said for topic, said in reckoner_words().items() if topic not in _PAGE_ONLY}
    for page in reckoner_pages(register, pages):
        text = render(
            "reckoner.md.j2",
            p=page,
            intro=sentence("page.intro", system=page.system),
            no_script=sentence("page.no_script"),
            choose=sentence("page.choose"),
            facts=script_data({"data": page.facts, "words": words}),
            anchor=anchor,
            figure=figure,
        )
        yield SiteText(
            source_address(page.address), text, ("Reckoners", f"System {page.system}"), "Each system"
        )

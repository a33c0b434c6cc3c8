"""The reckoner pages as Markdown: the facts stand in the page as data, so that it works from disk."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from markupsafe import Markup

from macros.amounts import Register
from macros.amounts.reckoning.answer import sentence
from macros.manual.reckoners import anchor, reckoner_pages
from macros.manual.views import PageView
from macros.published import load
from macros.rendering.drawings import figure
from macros.rendering.environment import render

_PAGE_ONLY = ("page", "names", "titles")
"""Words of the page itself; its script needs the others."""


def reckoner_texts(register: Register, pages: Sequence[PageView]) -> dict[str, tuple[str, str]]:
    """Source address -> (title of the menu, text) of the page of each system."""
    words = {topic: said for topic, said in load("reckoners").items() if topic not in _PAGE_ONLY}
    return {
        page.address.replace(".html", ".md"): (
            f"System {page.system}",
            render(
                "reckoner.md.j2",
                p=page,
                intro=sentence("page.intro", system=page.system),
                no_script=sentence("page.no_script"),
                choose=sentence("page.choose"),
                facts=_as_data({"data": page.facts, "words": words}),
                anchor=anchor,
                figure=figure,
            ),
        )
        for page in reckoner_pages(register, pages)
    }


def _as_data(facts: dict[str, Any]) -> Markup:
    """JSON that may stand inside a script element: no mark of HTML in it, and no brace another template would read."""
    text = json.dumps(facts, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    for mark in "<>&\u2028\u2029":
        text = text.replace(mark, f"\\u{ord(mark):04x}")
    for mark in "{%#":  # two marks in a row stand inside texts only, never between the data's own braces
        text = text.replace("{" + mark, f"{{\\u{ord(mark):04x}")
    return Markup(text)

"""What a room gives to the site: finished pages and files, each with its place in the menu."""

from __future__ import annotations

from dataclasses import dataclass

from macros.html.environment import render
from macros.html.photo import photo
from macros.html.plan_drawing import plan_drawing
from macros.page_model.table import TablePage


@dataclass(frozen=True)
class SiteText:
    """One page (`.md`) or file: the address it is written to, its text, and where the menu has it.

    `menu` holds the heads from the top and the page's own title: `("Reference", "Glossary")`; empty for what no menu
    names. `alike` is the one thing the page is of, where there is one for each system: many of them make a group.
    """

    address: str
    text: str
    menu: tuple[str, ...] = ()
    alike: str = ""

    @property
    def is_page(self) -> bool:
        """Whether the generator makes a page of it; a file is published as it is."""
        return self.address.endswith(".md")


def table_text(name: str, page: TablePage, *menu: str) -> SiteText:
    """A page of tables as `name`.md."""
    return SiteText(f"{name}.md", render("reference.md.j2", page=page, photo=photo, bars=plan_drawing), menu)

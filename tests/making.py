"""Houses for the tests: a copy of a made-up house with some of its text changed."""

from __future__ import annotations

import os
import re
import shutil
from collections.abc import Sequence
from dataclasses import fields
from functools import cache
from pathlib import Path
from types import MappingProxyType

from macros.amounts import Register, compute_amounts
from macros.control.documents.issued_copies import Archive
from macros.control.documents.revision_history import published_page
from macros.ground.disk.own_files import LIST
from macros.ground.problems import errors_in
from macros.house import load_house
from macros.html.paper import document
from macros.manual.pages.build_page import BuiltPage
from macros.page_model.page import PageContent, PageView
from macros.paper.labels.sheet import label_parts
from macros.published.paper.label_stocks import label_stock
from macros.site.site import Site, prepare_site

ROOT = Path(__file__).parents[1]
HOUSES = Path(__file__).parent / "houses"
PROCEDURES = ROOT / "procedures"
OWN_PAGE = Path(__file__).parent / "pages" / "sop-90-clean-the-tub.md"
"""A page a house may write for itself."""


def made_house(folder: Path, *changes: tuple[str, str], name: str = "first") -> Path:
    """A copy of the house `name` in `folder`, each (old, new) text replaced; an old text must be there once."""
    house = folder / "house"
    shutil.copytree(HOUSES / name, house, dirs_exist_ok=True)
    file = house / "site_data" / "house.yml"
    text = file.read_text(encoding="utf-8")
    for old, new in changes:
        assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in the house"
        text = text.replace(old, new)
    file.write_text(text, encoding="utf-8")
    return house


def made_site(house: Path, procedures: Path = PROCEDURES) -> Site:
    """The finished manual of a house, nothing written."""
    return prepare_site(house, procedures, None, {})


@cache
def manual_of(name: str) -> Site:
    """The manual of one of the houses as it stands, made once in a run; no test can change its pages or files."""
    site = made_site(HOUSES / name)
    site.pages, site.files = MappingProxyType(site.pages), MappingProxyType(site.files)  # type: ignore[assignment]
    return site


def made_register(house: Path) -> Register:
    """The amounts of a house folder, which says nothing worse than warnings."""
    found, problems = load_house(house)
    assert found is not None, [str(problem) for problem in problems]
    assert errors_in(problems) == []
    assert found.house.as_of is not None
    return compute_amounts(found, found.house.as_of, found.house.place("as_of"))


def content_of(view: PageView) -> PageContent:
    """What a published page says, without its control block and history."""
    return PageContent(**{one.name: getattr(view, one.name) for one in fields(PageContent)})


def views_of(built: Sequence[BuiltPage], register: Register) -> list[PageView]:
    """The pages as a house publishes them that kept no copy of any issue."""
    return [published_page(page.content, register, Archive(Path("no house"))) for page in built]


def bytes_below(folder: Path) -> dict[str, bytes]:
    """Every file below a folder with its bytes, without the lists of what the program wrote."""
    paths = (path for path in sorted(folder.rglob("*")) if path.is_file() and path.name != LIST)
    found = {str(path.relative_to(folder)): path.read_bytes() for path in paths}
    assert found, f"{folder} holds no file"
    return found


def quiet_environment() -> dict[str, str]:
    """The environment for a command under test: no day from outside, no notice of the theme."""
    environment = {key: value for key, value in os.environ.items() if key != "SOURCE_DATE_EPOCH"}
    return {**environment, "NO_MKDOCS_2_WARNING": "1"}


def pages_that_differ(before: Site, after: Site) -> set[str]:
    """Pages whose finished text or sheet differs in anything but the values code itself and why it is a draft."""
    return {
        new.key
        for old, new in zip(before.views, after.views, strict=True)
        if _without_code(before, old) != _without_code(after, new)
    }


def _without_code(site: Site, view: PageView) -> str:
    address = view.page_address.replace(".html", ".md")
    text = site.pages[address] + site.files.get(view.sheet_address, "")
    # A drawing shows the level beside the fill mark, and no number: it is no text of the page.
    text = re.sub(r'<figure class="room">.*?</figure>', "", text, flags=re.DOTALL)
    return text.replace(view.control.values_code, "")


def labels_document(
    register: Register, views: Sequence[PageView], kinds: Sequence[str], paper: str = ""
) -> str:
    """Labels on plain paper as one document; without a paper the one of the house's units."""
    house = register.house
    paper = paper or ("Letter" if house.us else "A4")
    parts = label_parts(house, register, views, None, kinds, label_stock("single", paper), paper)
    return document(parts, "Labels", house.house.language, paper=paper)

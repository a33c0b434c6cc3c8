"""A house as a project to build, and the same pages as ready Markdown: what our build is measured against."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

from macros.site.site import export_site
from tests.making import PROCEDURES, ROOT, made_site

THEME = ROOT / "macros" / "html" / "theme"

_FLOW = re.compile(r'(flow_at_tap: ")(\d+)')


def project_of(house: Path) -> Path:
    """The house folder with procedures and an mkdocs.yml of its own, as an owner would have it."""
    shutil.copytree(PROCEDURES, house / "procedures", dirs_exist_ok=True)
    config = (ROOT / "mkdocs.yml").read_text(encoding="utf-8")
    (house / "mkdocs.yml").write_text(config, encoding="utf-8")
    return house


def demo_in(folder: Path) -> Path:
    """A copy of the demo house, which may be edited."""
    shutil.copytree(ROOT / "site_data", folder / "site_data")
    return project_of(folder)


def bare_project(project: Path, folder: Path) -> tuple[Path, int, int]:
    """The finished pages as ready Markdown, built by MkDocs and the theme alone: same menu, same theme, same files.

    Returns
    -------
    tuple
        the folder of its mkdocs.yml, how many pages stand in it, how many sheets, forms and data files.
    """
    site = made_site(project, project / "procedures")
    export_site(site, folder / "docs")
    config = (project / "mkdocs.yml").read_text(encoding="utf-8")
    start, end = config.index("  - trayside:"), config.index("markdown_extensions:")
    bare = (config[:start] + config[end:]).replace("docs_dir: procedures", "docs_dir: docs")
    bare = bare.replace("site_name: House manual", f"site_name: {site.name}")
    bare = bare.replace("  name: material\n", f"  name: material\n  custom_dir: {THEME}\n")
    bare = bare.replace("extra:\n", f"extra:\n  emergency: {json.dumps(site.extra['emergency'])}\n")
    bare += f"\nnav: {json.dumps(site.navigation)}\n"
    (folder / "mkdocs.yml").write_text(bare, encoding="utf-8")
    return folder, len(site.pages), len(site.files)


def edit_a_fact(project: Path) -> None:
    """Another flow at the tap: it moves filling times on many pages."""
    edited = 0
    for file in (project / "site_data").glob("*.yml"):
        text = file.read_text(encoding="utf-8")
        text, count = _FLOW.subn(lambda flow: f"{flow[1]}{14 - int(flow[2])}", text)
        if count:
            file.write_text(text, encoding="utf-8")
        edited += count
    assert edited == 1, "the house has no flow at the tap to edit"


def edit_a_page(bare: Path) -> None:
    """The same for ready Markdown: one page more or less by a word."""
    page = bare / "docs" / "index.md"
    text = page.read_text(encoding="utf-8")
    page.write_text(
        text.removesuffix("Edited.\n") if text.endswith("Edited.\n") else text + "Edited.\n", encoding="utf-8"
    )

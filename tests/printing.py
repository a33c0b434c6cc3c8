"""Everything a house prints and shows, read back from the finished HTML: what the change list is held against.

Nothing here asks the program what it prints: the texts come out of the finished files by a reader of HTML. What says
which copy it is (revision, values code, draft, history of issues) is taken out by the words and classes a reader knows.
"""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Iterator
from functools import cache
from html.parser import HTMLParser
from pathlib import Path

from macros.control.documents.issued_copies import snapshot_of
from macros.doors.issue import keep_baseline
from macros.html.paper import Part
from macros.paper.labels.sheet import label_parts
from macros.published.paper.label_stocks import label_stock
from macros.site.site import Site, prepare_site
from macros.training.path.markdown import training_parts
from macros.training.path.paper import naming_parts
from macros.training.self_checks.all_questions import of_module
from macros.training.self_checks.sheet import question_part
from tests.making import HOUSES, PROCEDURES

NOT_READ = {"script", "style", "title", "nav"}
NO_END = {"br", "hr", "img", "input", "link", "meta", "col", "wbr"}
INLINE = {"a", "b", "bdi", "code", "em", "i", "small", "span", "strong", "sub", "sup"}
COPY = ("draft", "sop-draft", "meta")
"""Classes of the parts that say which copy it is."""
STATE_PAGES = {"reference/changes.md", "reference/master-list.md", "training/roster.md"}


class Reader(HTMLParser):
    """Collects the words of a document as they are read."""

    def __init__(self) -> None:
        super().__init__()
        self.words: list[str] = []
        self.data: list[str] = []
        self._skip = 0
        self._open: list[tuple[str, bool, bool]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag not in INLINE:
            self.words.append(" ")
        if tag in NO_END:
            return
        known = dict(attrs)
        classes = (known.get("class") or "").split()
        skipped = tag in NOT_READ or any(one in COPY for one in classes)
        self._open.append((tag, skipped, known.get("id") == "quiz-data"))
        self._skip += skipped

    def handle_endtag(self, tag: str) -> None:
        if tag not in INLINE:
            self.words.append(" ")
        while self._open:
            name, skipped, _ = self._open.pop()
            self._skip -= skipped
            if name == tag:
                return

    def handle_data(self, data: str) -> None:
        if self._open and self._open[-1][2]:
            self.data.append(json.dumps(without_places(json.loads(data)), sort_keys=True))
        if not self._skip:
            self.words.append(data)


def without_places(data: object) -> object:
    """The data of a self-check without its links."""
    if isinstance(data, dict):
        return {
            name: without_places(one) for name, one in data.items() if name not in ("page", "working", "at")
        }
    return [without_places(one) for one in data] if isinstance(data, list) else data


@cache
def read(html: str) -> str:
    """The text of a page or sheet, without what says which copy it is."""
    reader = Reader()
    reader.feed(html.partition("\n## Revision history")[0])
    text = " ".join("".join(reader.words).split())
    text = re.sub(r"code [0-9a-f]{4} [0-9a-f]{4}|\s*\bDRAFT\b|\b[Bb]uilt for [\d-]{10}", "", text)
    heads = [head.rpartition(" · ")[0] for head in re.findall(r'@top-left\{content:"([^"]*)"', html)]
    kept = re.findall(r'@bottom-right\{content:"(Kept[^"]*)', html)
    return " ".join(" ".join([text, *reader.data, *heads, *kept]).split())


def everything(site: Site) -> dict[str, str]:
    """Name -> text of all that the house prints or shows.

    A page goes with its bench sheet: they are issued as one. The running head of a page and a checklist names the
    house, but where a long title takes its place; it counts as printed there as well.
    """
    house, register, views = site.register.house, site.register, site.views
    pages = {view.page_address.replace(".html", ".md"): view for view in views}
    sheets = {view.sheet_address: view for view in views}
    found = {
        item.key if item.kind == "page" else item.address: house.house.name
        for item in site.controlled_documents
    }
    for address, text in {**site.pages, **site.files}.items():
        if address in pages:
            found[pages[address].key] += read(text)
        elif address in sheets:
            found[address] = read(text)
            found[sheets[address].key] += read(text)
        elif address not in STATE_PAGES:
            name = address.replace(".md", ".html")
            found[name] = found.get(name, "") + (read(text) if address.endswith((".md", ".html")) else text)
    for part in label_parts(house, register, views, None, (), label_stock("single", "A4"), "A4"):
        for section in re.findall(r'<section class="label".*?</section>', str(part.html), re.DOTALL):
            kind, what = re.search(r'data-kind="(\w+)" aria-label="Label: ([^"]*)"', section).groups()  # type: ignore[union-attr]
            name = f"LABEL {kind}: {what}"
            found[f"{name} (2)" if name in found else name] = read(section).replace("rev 1 ", "")
    for part in _papers(site):
        name = "NAMING-CARDS" if part.key.startswith("NAMING") else part.key
        head, foot = (
            part.top_left.rpartition(" · ")[0],
            part.bottom_right if "Kept" in part.bottom_right else "",
        )
        found[name] = " ".join((found.get(name, ""), read(str(part.html)), head, foot))
    return found


def _papers(site: Site) -> Iterator[Part]:
    house, register, views = site.register.house, site.register, site.views
    for module in dict.fromkeys(question.module for question in site.questions):
        asked = of_module(
            site.questions, module
        )  # as key_parts and question_sheet_parts, which work them out each time
        yield question_part(register, views, asked, "KEY", "trainer's key")
        yield question_part(register, views, asked, "ASK", "self-check")
        if house.training is not None:
            yield from training_parts(register, views, module)
    yield from (part for part in naming_parts(register, views) if "cards" in part.key)


def issued_house(folder: Path, name: str, more: str = "") -> Site:
    """A copy of a test house and of the procedures in `folder`, all of it issued as revision 1; and its manual."""
    house, procedures = folder / "house", folder / "procedures"
    shutil.copytree(HOUSES / name, house)
    shutil.copytree(PROCEDURES, procedures)
    for _ in range(2):  # the card of sign-offs shows the revisions of the pages
        site = prepare_site(house, procedures, None, {})
        lines = [
            f"  - {{page: {item.key}, revision: 1, effective: 2031-04-01, approved_by: owner, why: first, "
            f'values_code: "{item.control.values_code}"}}\n'
            for item in site.controlled_documents
        ]
        (house / "site_data" / "issued.yml").write_text("issued:\n" + "".join(lines), encoding="utf-8")
        (house / "site_data" / "people.yml").write_text(more, encoding="utf-8")  # signs what is issued by now
    snapshots = house / "site_data" / "issued"
    snapshots.mkdir()
    for item in site.controlled_documents:
        text = snapshot_of(item.view, 1, site.register).as_json()
        (snapshots / f"{item.key}-1.json").write_text(text, encoding="utf-8")
    site = prepare_site(house, procedures, None, {})
    assert not [item.key for item in site.controlled_documents if item.control.draft_reasons]
    keep_baseline(house, site, [item.key for item in site.controlled_documents])
    return site

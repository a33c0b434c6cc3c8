"""A house whose every free text is script, quotes, template braces, Markdown, emoji and right-to-left letters at once.

Every output must hold it as text: pages as MkDocs writes them, sheets, forms, checklists, cards, weeks, labels, the
month, the data, the search and the calendar. Readers: html.parser, json, vobject.
"""

from __future__ import annotations

import json
import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest
import vobject

from macros.calendar.month import month_views
from macros.calendar.month_sheet import month_part
from macros.control.documents.sheets import control_parts
from macros.doors.mkdocs_plugin import ThemedSite, build_site
from macros.house import load_house
from macros.html.paper import document
from macros.packs.week_sheet import week_parts
from macros.paper.cards.sheet import card_parts
from macros.paper.labels.all_labels import LABEL_KINDS
from macros.site.one_file import manual_as_one_file
from macros.site.site import Site
from tests.html.hostile import LEFT_OUT, MARK, hostile_house
from tests.making import ROOT, labels_document, made_house, made_site

HOSTILE = (
    "<script>alert(1)</script><img src=x onerror=alert(2)>\"'></b> {{ 7*7 }} {% raw %} {# x #} "
    "*b* _u_ [l](http://x) `c` | # &amp; </style> then; if should \U0001f9ea שלום 3 قلم"
)
HOLDING_TEXT = {"aria-label", "data-label", "data-limits", "data-words", "data-condition", "title", "content"}
"""Attributes that may hold a text of the house; scripts take those of `data-` as text alone."""


@dataclass
class Reading(HTMLParser):
    """What a browser would make of a document: its text, its scripts, every attribute."""

    words: list[str] = field(default_factory=list)
    scripts: list[tuple[dict[str, str | None], str]] = field(default_factory=list)
    styles: list[str] = field(default_factory=list)
    attributes: list[tuple[str, str, str]] = field(default_factory=list)

    def __post_init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self._inside = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.attributes += [(tag, name, value or "") for name, value in attrs]
        self._inside = tag
        if tag == "script":
            self.scripts.append((dict(attrs), ""))

    def handle_endtag(self, tag: str) -> None:
        self._inside = ""

    def handle_data(self, data: str) -> None:
        if self._inside == "script":
            self.scripts[-1] = (self.scripts[-1][0], self.scripts[-1][1] + data)
        elif self._inside == "style":
            self.styles.append(data)
        else:
            self.words.append(data)


def reading(text: str) -> Reading:
    """A document as read by another parser than the one that wrote it."""
    found = Reading()
    found.feed(text)
    found.close()
    return found


def plain(text: str) -> str:
    """Spaces of every kind and number alike; an id made of a name has a low line for each."""
    return " ".join(text.replace("_", " ").split())


def whole_texts(text: str) -> set[int]:
    """The numbers of the hostile texts in a text, each of which must be there to the letter."""
    text, wanted = plain(text), plain(HOSTILE)
    found = set()
    for mark in MARK.finditer(text):
        before = text[: mark.start()].rstrip()
        assert before.endswith(wanted), before[-2 * len(wanted) :]
        found.add(int(mark.group(1)))
    return found


def looked_at(text: str, where: str) -> set[int]:
    """No script, element or attribute of a document comes from the house; the texts it shows."""
    read = reading(text)
    for attributes, script in read.scripts:
        if attributes.get("type") == "application/json":
            json.loads(script)
        else:
            assert "alert(" not in script, where
            assert not MARK.search(script), where
    assert not any("<" in style for style in read.styles), where
    for tag, name, value in read.attributes:
        assert name not in ("onerror", "onclick") or value == "print()", f"{where}: {tag} {name}"
        assert value not in ("x", "http://x"), f"{where}: {tag} {name}"
        if MARK.search(value):
            assert name in HOLDING_TEXT, f"{where}: {tag} {name}={value[:80]}"
            whole_texts(value)
    # Elements around a run or a number part a text without a space.
    return whole_texts("".join(read.words))


@dataclass(frozen=True)
class Hostile:
    """The hostile house, its finished manual, the built site, and the record and field of each number."""

    site: Site
    house: Path
    folder: Path
    fields: dict[int, str]


@pytest.fixture(scope="module")
def hostile(tmp_path_factory: pytest.TempPathFactory) -> Hostile:
    """Worked out and built once."""
    folder = tmp_path_factory.mktemp("hostile")
    house, fields = hostile_house(folder, HOSTILE)
    build_site(ROOT / "mkdocs.yml", folder / "site", {"house": str(house)})
    return Hostile(made_site(house), house, folder / "site", fields)


def built(hostile: Hostile, pattern: str) -> list[Path]:
    return sorted(hostile.folder.glob(pattern))


def test_the_house_is_hostile_all_over(hostile: Hostile) -> None:
    names = set(hostile.fields.values())
    assert len(names) > 45
    assert {"HouseFacts.name", "System.name", "Chemical.name", "Places.eyewash", "Issued.why"} <= names
    assert not names & set(LEFT_OUT)
    assert all(len(reason) > 15 for reason in LEFT_OUT.values())


def test_pages_and_sheets_hold_every_text_to_the_letter(hostile: Hostile) -> None:
    paths = built(hostile, "**/*.html")
    assert len(paths) > 120
    assert {"readings.html", "reference/log.html"} <= {
        path.relative_to(hostile.folder).as_posix() for path in paths
    }
    shown = {
        number for path in paths for number in looked_at(path.read_text("utf-8"), path.relative_to(hostile.folder).as_posix())
    }  # fmt: skip
    names = {hostile.fields[number] for number in shown}
    assert {
        "HouseFacts.name", "System.name", "Chemical.name", "NutrientPart.name", "MeasuringTool.name", "Meter.name",
        "TestStrip.name", "SoakedPart.name", "Places.eyewash", "Places.drain_for_waste", "Emergency.poison_line",
        "RecordRow.what", "RecordRow.value", "RecordRow.limits", "RecordRow.by",
        "Issued.why", "Issued.approved_by", "WallCopy.where", "InventoryThing.kept_at", "Policies.harvest_hold_after_any_spray",
    } <= names, names  # fmt: skip


def test_the_manual_as_one_file_holds_every_text_to_the_letter(hostile: Hostile) -> None:
    """Each page lies in it as the text of an element, and is put into the document by the file's own script."""
    themed = ThemedSite(ROOT / "mkdocs.yml", {"house": str(hostile.house)})
    themed.show(hostile.site)
    text = manual_as_one_file(hostile.site, themed.bare_pages(), themed.styles, themed.scripts).text
    read = reading(text)
    pages = [
        (attributes["data-page"], held) for attributes, held in read.scripts if "data-page" in attributes
    ]
    assert {"index.html", "readings.html", "p/sop-08-k.html"} <= {address for address, _ in pages}
    shown = {
        number for address, held in pages for number in looked_at(held.replace("<\\", "<"), str(address))
    }
    assert {"HouseFacts.name", "System.name", "Chemical.name"} <= {hostile.fields[number] for number in shown}
    around = re.sub(r'<script type="text/plain".*?</script>', "", text, flags=re.DOTALL)
    assert looked_at(around, "around the pages")


def papers(site: Site) -> Iterator[tuple[str, str]]:
    """What is made on paper only."""
    house, register, views = site.register.house, site.register, site.views
    yield "cards", document(card_parts(register, views), house.house.name)
    yield "weeks", document(week_parts(register, views, date(2031, 6, 9)), house.house.name)
    yield "control", document(control_parts(register, site.controlled_documents), house.house.name)
    months = month_views(register, views, date(2031, 5, 1), 2)
    yield "months", document([month_part(view) for view in months], house.house.name)
    yield "labels", labels_document(register, views, kinds=[k for k in LABEL_KINDS if k != "sowing"])


def test_cards_weeks_months_and_labels_hold_texts_to_the_letter(hostile: Hostile) -> None:
    for where, text in papers(hostile.site):
        assert len(looked_at(text, where)) >= 3, where


def texts_of(data: Any) -> Iterator[str]:
    if isinstance(data, dict):
        yield from data
        for item in data.values():
            yield from texts_of(item)
    elif isinstance(data, list):
        for item in data:
            yield from texts_of(item)
    elif isinstance(data, str):
        yield data


@pytest.mark.parametrize("name", ["amounts.json", "reckoners.json"])
def test_data_holds_texts_to_the_letter(hostile: Hostile, name: str) -> None:
    data = json.loads((hostile.folder / name).read_text("utf-8"))
    shown = {number for text in texts_of(data) for number in whole_texts(text)}
    assert len(shown) > 5


def test_the_search_finds_texts_and_runs_nothing(hostile: Hostile) -> None:
    whole = (hostile.folder / "search" / "whole_index.js").read_text("utf-8").partition("=")[2]
    data = json.loads(whole)
    shown: set[int] = set()
    for entry in data["docs"]:
        shown |= looked_at(entry["text"], entry["location"]) | looked_at(entry["title"], entry["location"])
    assert len(shown) > 30


def test_the_calendar_holds_texts_to_the_letter(hostile: Hostile) -> None:
    calendar = vobject.readOne((hostile.folder / "calendar.ics").read_bytes().decode("utf-8"))
    assert whole_texts(calendar.contents["x-wr-calname"][0].value)
    shown: set[int] = set()
    for entry in calendar.vevent_list:
        shown |= whole_texts(entry.summary.value)
        shown |= whole_texts(entry.description.value) if hasattr(entry, "description") else set()
    assert {hostile.fields[number] for number in shown} >= {"Meter.name"}


def test_letters_from_right_to_left_stand_apart_from_the_numbers_beside_them(hostile: Hostile) -> None:
    """After the Unicode bidirectional algorithm (UAX 9) a run that is not isolated takes a number that follows it along."""
    right = re.compile("<bdi>$")
    seen = 0
    for path in built(hostile, "p/sop-03-k.html") + built(hostile, "sheets/*.html"):
        text = path.read_text("utf-8")
        text = text[
            text.index("<article") : text.index("</article>")
        ]  # around it the theme shows the house's name alone
        text = re.sub(r'="[^"]*"', "", text)
        for found in re.finditer("שלום", text):
            before = text[max(0, found.start() - 30) : found.start()]
            assert right.search(before), (path.name, before)
            seen += 1
    assert seen > 50


# ------------------------------------------------------------------ what is refused


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("\\u202e", "U+202E (right-to-left override)"),
        ("\\u2066", "U+2066 (left-to-right isolate)"),
        ("\\u2028", "U+2028 (line separator)"),
        ("\\x07", "U+0007 (a control character)"),
        ("\\r", "U+000D (a control character)"),
    ],
)
def test_an_unseen_character_is_refused(tmp_path: Path, typed: str, name: str) -> None:
    house = made_house(tmp_path, ('name: "pH meter"', f'name: "pH {typed}meter"'))
    found, problems = load_house(house)
    assert found is None
    (told,) = [str(problem) for problem in problems if "U+" in problem.what]
    assert re.match(r"site_data/house\.yml:\d+: meters\[0\]\.name: ", told)
    assert told.split(": ", 2)[2] == (
        f"the text holds {name}, which is not seen and can turn the order of numbers. Letters of any script, digits and "
        "marks; lines end with a plain line end. Delete the text here and type it anew."
    )


def test_an_unseen_character_in_the_log_is_refused(tmp_path: Path) -> None:
    house = made_house(tmp_path)
    (house / "site_data" / "log").mkdir()
    (house / "site_data" / "log" / "a.csv").write_text("date,system,note\n2031-05-01,K,ab\u202ecd\n", encoding="utf-8")  # fmt: skip
    found, problems = load_house(house)
    assert found is None
    assert [str(problem) for problem in problems if problem.severity == "error"] == [
        "site_data/log/a.csv:2: log.note: the text holds U+202E (right-to-left override), which is not seen and can turn the "
        "order of numbers. Letters of any script, digits and marks; lines end with a plain line end. Delete the text here "
        "and type it anew."
    ]


@pytest.mark.parametrize(
    ("old", "key", "most"),
    [('name: "pH meter"', "meters[{}].name", 200), ('label_reference: "peroxide label, photographed 2031-05-01"', "sanitizing.label_reference", 2000)],
)  # fmt: skip
def test_a_text_too_long_is_refused(tmp_path: Path, old: str, key: str, most: int) -> None:
    long = "w" * (most + 1)
    field_name = old.split(":")[0]
    _, problems = load_house(made_house(tmp_path, (old, f'{field_name}: "{long}"'), name="fourth"))
    (told,) = [problem for problem in problems if problem.severity == "error"]
    assert str(told).endswith(
        f"{key.format(long)}: the text has {most + 1} characters. At most {most}. Shorten it. [E01]"
    )


def test_letters_of_any_script_and_line_ends_are_welcome(tmp_path: Path) -> None:
    name = "קלם pH قلم\\nüé\\t漢字 \\U0001F9EA"
    house, problems = load_house(made_house(tmp_path, ('name: "pH meter"', f'name: "{name}"')))
    assert house is not None, [str(problem) for problem in problems]
    assert all(unicodedata.category(c) != "Cc" or c in "\n\t" for c in house.meters[0].name)
    assert house.meters[0].name.startswith("קלם pH قلم\nüé\t漢字")

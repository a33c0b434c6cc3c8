"""Styles of paper: every kind of sheet may stand in one pack, so that each file speaks of its own sheets alone."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

HTML = Path(__file__).parents[2] / "macros" / "html"
SHARED = {"sheet", "large"}
STYLES = {
    "bench-sheet": {"bench", "check"},  # a checklist has head and foot of a bench sheet
    "card": {"card"},
    "checklist": {"check"},
    "control": {"control"},
    "day-list": {"daylist"},
    "form": {"form"},
    "labels": {"labels"},
    "month": {"month"},
    "pack": {"pack"},
    "plan": {"plan"},
    "questions": {"quizsheet"},
    "sign-off": {"training"},
    "training": {"training"},
    "week": {"week"},
}
"""File of styles -> the classes of the sheets it is for."""


def roots_of(kind: str) -> set[str]:
    """The classes on the article of the sheets of a kind, those that stand beside the named one among them."""
    found: set[str] = set()
    for template in (HTML / "templates").glob("*.j2"):
        for classes in re.findall(r'<article class="sheet([^"]*)"', template.read_text(encoding="utf-8")):
            words = set(re.findall(r"[a-z][\w-]*", re.sub(r"\{\{.*?\}\}", " ", classes)))
            if words & STYLES[kind]:
                found |= {
                    word for word in re.findall(r"[a-z][\w-]*", classes) if word not in ("if", "or", "large")
                }
    return found | STYLES[kind]


def selectors(text: str) -> list[str]:
    """Every selector of a file; those inside of a question for the medium included."""
    plain = re.sub(r"/\*.*?\*/", "", text, flags=re.DOTALL)
    heads = [head for head in re.findall(r"([^{}]+)\{", plain) if not head.strip().startswith("@")]
    return [one.strip() for head in heads for one in re.split(r",(?![^(]*\))", head)]


@pytest.mark.parametrize("kind", STYLES)
def test_a_style_reaches_its_own_sheets_alone(kind: str) -> None:
    own = roots_of(kind)
    found = selectors((HTML / "theme" / "assets" / f"{kind}.css").read_text(encoding="utf-8"))
    assert len(found) > 10
    first = {one: set(re.findall(r"\.([\w-]+)", re.split(r"[\s>+~](?![^(]*\))", one)[0])) for one in found}
    astray = [
        one
        for one, classes in first.items()
        if not classes & own
        and not any(name.startswith(f"{kind}-") for name in classes)  # card-feed: one kind of card
    ]
    assert not astray, f"{kind}.css reaches into other sheets: {astray[:5]}"


def test_an_unscoped_selector_is_found() -> None:
    assert selectors("/* a, b */.at,:where(.a,.b) .c{x:y}@media print{.d{e:f}}") == [
        ".at",
        ":where(.a,.b) .c",
        ".d",
    ]

"""Entries added to a list of a house file: every other byte stays, or nothing is written and it is said what to do."""

from __future__ import annotations

import pytest

from macros.ground.yaml_source import read_yaml_text
from macros.house.files.append_entry import NotAppended, with_entries

ENTRY = '{page: SOP-01, revision: 2, why: "a # mark, \\"quoted\\": {braces}"}'


def added(text: str, *entries: str) -> str:
    return with_entries(text, "issued", entries or (ENTRY,), "site_data/issued.yml")


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("issued:\n  - {page: A}\n", "issued:\n  - {page: A}\n  - NEW\n"),
        ("issued:\n- page: A\n  why: x\n", "issued:\n- page: A\n  why: x\n- NEW\n"),
        ("issued:\n    - {page: A}", "issued:\n    - {page: A}\n    - NEW\n"),
        ("issued: # all of them\n  - {page: A}  # first\n", "issued: # all of them\n  - {page: A}  # first\n  - NEW\n"),
        ("issued:\n", "issued:\n  - NEW\n"),
        ("# head\nissued:\nother: 1\n", "# head\nissued:\n  - NEW\nother: 1\n"),
        ("issued:\r\n  - {page: A}\r\nother: 1\r\n", "issued:\r\n  - {page: A}\r\n  - NEW\r\nother: 1\r\n"),
        (
            "a: 1\nissued:\n  - {page: A,\n     why: b}\n\n  # of spring\n  - {page: B}\n\n# on others\nother: 1\n",
            "a: 1\nissued:\n  - {page: A,\n     why: b}\n\n  # of spring\n  - {page: B}\n  - NEW\n\n# on others\nother: 1\n",
        ),
        ("other: 1", "other: 1\nissued:\n  - NEW\n"),
        ("# only a comment\n", "# only a comment\nissued:\n  - NEW\n"),
        ("", "issued:\n  - NEW\n"),
    ],
)  # fmt: skip
def test_every_byte_that_was_there_stays(text: str, wanted: str) -> None:
    assert added(text) == wanted.replace("NEW", ENTRY)


def test_several_entries_keep_their_order() -> None:
    source, problems = read_yaml_text(added("issued:\n  - {page: A}\n", "{page: B}", "{page: C}"), "x")
    assert problems == []
    assert source is not None
    assert [one["page"] for one in source.data["issued"]] == ["A", "B", "C"]


ON_LINES = "Write it as a list, one entry a dash on lines of its own below issued:, then issue again."


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("issued: [{page: A}]\n", f"site_data/issued.yml:1: issued is written on one line. {ON_LINES}"),
        ("a: 1\nissued: []\n", f"site_data/issued.yml:2: issued is written on one line. {ON_LINES}"),
        (
            "issued:\n  first: {page: A}\n",
            f"site_data/issued.yml: the list issued is written in a form that cannot be added to. {ON_LINES}",
        ),
        (
            '"issued":\n  - {page: A}\n',
            f"site_data/issued.yml: the list issued is written in a form that cannot be added to. {ON_LINES}",
        ),
    ],
)
def test_another_form_is_refused_in_words(text: str, told: str) -> None:
    with pytest.raises(NotAppended) as refused:
        added(text)
    assert str(refused.value) == told

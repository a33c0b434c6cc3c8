"""Reading YAML as text with places: traps of YAML, doubles, limits."""

from __future__ import annotations

from pathlib import Path

import pytest

from macros.ground.house_files import MAX_BYTES
from macros.ground.problems import Place
from macros.ground.yaml_source import dotted, read_yaml, read_yaml_text


def messages(text: str) -> list[str]:
    return [str(problem) for problem in read_yaml_text(text, "x.yml")[1]]


def test_scalars_and_keys_stay_as_typed() -> None:
    source, problems = read_yaml_text(
        "on: 12:00\nyes: no\na: 017\nb: 1e3\nc: ~\nd: ''\ne: [1_000]\n", "x.yml"
    )
    assert problems == []
    assert source is not None
    assert source.data == {
        "on": "12:00",
        "yes": "no",
        "a": "017",
        "b": "1e3",
        "c": None,
        "d": "",
        "e": ["1_000"],
    }


@pytest.mark.quick
def test_places_are_kept() -> None:
    source, _ = read_yaml_text("a:\n  b: 1\n  c:\n    - x\n    - y\n", "x.yml", first_line=10)
    assert source is not None
    assert source.places[("a", "b")] == Place("x.yml", 11)
    assert source.places[("a", "c", 1)] == Place("x.yml", 14)
    assert source.place(("a", "c", 1, "nothing")) == Place("x.yml", 14)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("a: [1\nb: 2\n", "x.yml:1: file: the bracket [ is not closed. Write ] where"),
        ("a: 1\na: 2\n", "x.yml:2: a: a stands here a second time (first at line 1)."),
        (
            "a: !!python/object/apply:os.system [ls]\n",
            "x.yml:1: a: the YAML tag tag:yaml.org,2002:python/object/apply",
        ),
        ("a: &b [1]\nc: *b\n", "x.yml:1: file: an anchor (&) or alias (*) is used."),
        ("? [1, 2]\n: x\n", "x.yml:1: file: a list or mapping stands as a name."),
        ("a: " + "[" * 40 + "]" * 40, "x.yml:1: file: entries are nested over 30 deep."),
        ("a: [" + "1," * 100_001 + "]", "x.yml:1: file: the file has over 100000 entries."),
        ("a: b: c\n", "x.yml:1: file: the text of a holds a colon, which begins a new value"),
        ("b: 1\na: \x00\n", "x.yml:2: file: the text holds U+0000 (a control character)"),
    ],
)
def test_refusals(text: str, message: str) -> None:
    assert messages(text)[0].startswith(message)


def test_large_file_is_not_read(tmp_path: Path) -> None:
    path = tmp_path / "big.yml"
    path.write_text("a: " + "x" * MAX_BYTES, encoding="utf-8")
    source, problems = read_yaml(path, "big.yml")
    assert source is None
    assert "At most 1000000 bytes are read." in str(problems[0])


def test_file_that_is_not_text(tmp_path: Path) -> None:
    path = tmp_path / "bad.yml"
    path.write_bytes(b"a: \xff\xfe\n")
    assert (
        str(read_yaml(path, "bad.yml")[1][0])
        == "bad.yml:1: file: the file is not UTF-8 text. Save it as UTF-8."
    )


def test_dotted_path() -> None:
    assert dotted(("systems", 0, "reservoir", "shape")) == "systems[0].reservoir.shape"

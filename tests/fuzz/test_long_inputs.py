"""No pattern of ours hangs, however long and awkward the text is that reaches it."""

from __future__ import annotations

import ast
import importlib
import pkgutil
import re
from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

import pytest

import macros
from macros.calculations.pours import Tool
from macros.calculations.sanitizer.measured_dilution import measured_dilution
from macros.ground.problems import DataProblems, Place, Problem
from macros.ground.units import parse_money, parse_quantity, parse_strength
from macros.ground.yaml_source import read_yaml_text
from macros.house import load_house
from macros.house.records.sign_offs import is_initials
from macros.house.rules.plausible_ranges import MOST
from macros.html.allowed_markdown import active_mark
from macros.html.environment import css_string, joined, markdown_text, script_data, spaced, unparted
from macros.manual.house_facts.recurrence import parse_rhythm
from macros.manual.procedures.load_files import MAX_PAGE_BYTES, load_procedures
from macros.manual.procedures.write_text import TextWriter
from macros.manual.requirements.readability import reading_grade
from macros.page_model.card import Sentences
from macros.paper.cards.people_and_plants import plants
from macros.training.path.naming_test import plants_of
from tests.fuzz.judging import TooSlow, within
from tests.making import HOUSES

LONGEST_FIELD, LONGEST_PROSE = 2_000, 20_000
"""Characters of the longest text of a house, and of the longest that is read whole."""
PIECES = (
    "a", "A", "1", " ", "-", ".", "\n", '"', "'", "<", "{", "{{", "}}", "{%", "(", "[", "](", "\\", "/", ":", "%", "&", "=", "é", "א ", "_",
    "a ", "1 ", "a-", "1-", "a1-", "1.", "1,", "1 2", "a.", "a b, ", "every ", "every 1 ", "and ", "If a, ", "1 mL ", "1 to ", "not ", "<a ",
    "<script ", "<script>", 'href="', 'href="a', "type=", "SOP-", "step 1 ", "ea", "aeiou", "(a", "{{ a('", "{{ a(, 'x' ", "---\n", "- a\n", "a: b\n", "'',", "a\u00a0(",
)  # fmt: skip
"""What a text is made of, over and over, and then broken off."""
SECONDS = 1.0
"""Of the processor, for one text."""
SECONDS_OF_A_PAGE = 6.0
"""A page of 100,000 marks of a list is read in a line of time, and takes the whole second already."""


def awkward(length: int) -> list[str]:
    """Texts of about this length, each ending in something that fits nothing."""
    return [(piece * (length // len(piece)))[:length] + "\x01!" for piece in PIECES]


Run = Callable[[str], object]


def patterns() -> dict[str, Run]:
    """Every pattern of the program that stands in it as it is, used the way it is used there."""
    found: dict[str, Run] = {}
    for info in pkgutil.walk_packages(macros.__path__, "macros."):
        if info.name.endswith("__main__"):
            continue
        module = importlib.import_module(info.name)
        for name, value in vars(module).items():
            if isinstance(value, re.Pattern) and isinstance(value.pattern, str):
                found[f"{info.name}.{name}"] = value.search
        for node in ast.walk(ast.parse(Path(str(module.__file__)).read_text(encoding="utf-8"))):
            if (
                isinstance(node, ast.Call)
                and ast.unparse(node.func) in _USES
                and isinstance(node.args[0], ast.Constant)
            ):
                flags = re.DOTALL | re.MULTILINE if "DOTALL" in ast.unparse(node) else 0
                pattern = re.compile(node.args[0].value, flags)
                found[f"{info.name}:{node.lineno}"] = getattr(pattern, _USES[ast.unparse(node.func)])
    return found


_USES = {
    "re.search": "search",
    "re.findall": "search",
    "re.sub": "search",
    "re.match": "match",
    "re.fullmatch": "fullmatch",
}
PATTERNS = patterns()


def test_the_patterns_were_found() -> None:
    assert len(PATTERNS) > 60
    assert {"macros.ground.units._QUANTITY", "macros.html.environment._HYPHENED"} <= PATTERNS.keys()


def slow(run: Run, length: int, seconds: float = SECONDS) -> list[str]:
    """Each awkward text over which this takes too long."""
    told = []
    for text in awkward(length):
        try:
            with suppress(DataProblems, ValueError, KeyError), within(seconds):
                run(text)
        except TooSlow:
            told.append(f"{text[:12]!r} x {length}: over {seconds:g} s")
    return told


@pytest.mark.parametrize("name", PATTERNS)
def test_no_pattern_hangs(name: str) -> None:
    assert slow(PATTERNS[name], 2 * LONGEST_FIELD) == []


_WRITER = TextWriter()
_SHOWN: tuple[Run, ...] = (
    spaced, joined, markdown_text, css_string, script_data, active_mark, reading_grade, parse_rhythm, is_initials, parse_strength, parse_money,
    lambda text: unparted(joined(text)),
    lambda text: parse_quantity(text, "volume"),
    lambda text: parse_quantity("5 " + text, "volume", us_gallons=True),
    lambda text: _WRITER.render_markdown(text, {}, "x", 1),
    lambda text: read_yaml_text(text, "x"),
    lambda text: read_yaml_text("a: " + text, "x"),
    lambda text: str(Problem(Place("x", 1), text, text, text, text)),
)  # fmt: skip


@pytest.mark.parametrize("number", range(len(_SHOWN)))
def test_no_text_hangs_what_reads_or_shows_it(number: int) -> None:
    assert slow(_SHOWN[number], LONGEST_PROSE) == []


def test_no_page_hangs_its_reader(tmp_path: Path) -> None:
    """The longest page there may be, in one awkward piece before, within and after its front matter."""
    page = tmp_path / "sop-99-long.md"
    for form in ("{}", "---\n{}\n---\n", "---\nid: {}\n---\n", "---\nid: x\n---\n{}"):

        def read(text: str, form: str = form) -> object:
            page.write_text(form.replace("{}", text), encoding="utf-8")
            return load_procedures(tmp_path)

        assert slow(read, MAX_PAGE_BYTES // 2 - 100, SECONDS_OF_A_PAGE) == []


def test_hundreds_of_measuring_tools_are_no_wait() -> None:
    """As many as a house may list: each sample was once tried with each pair of them, which took minutes."""
    pair = [Tool("syringe", 20.0, 0.5, 2.0), Tool("jug", 1000.0, 10.0, 100.0)]
    many = [replace(tool, name=f"{tool.name} {number}") for number in range(250) for tool in pair]
    with within(SECONDS):
        found = measured_dilution(40, many, 1000.0, 0.05)
    assert found == replace(
        measured_dilution(40, pair, 1000.0, 0.05), sample_tool=many[0], made_up_tool=many[1]
    )
    assert (found.sample, found.made_up) == (5.0, 200.0)  # the mark of 0.5 is at most 5 % twice over of 5


def test_hundreds_of_varieties_are_no_wait() -> None:
    """Ten of a look: each plant was once held against every pair of look-alikes, all their facts compared."""
    house, _ = load_house(HOUSES / "fifth")
    assert house is not None
    one = house.varieties[0]
    many = tuple(
        one.model_copy(update={"id": f"plant_{number}", "look_alike_group": f"look_{number // 10}"})
        for number in range(MOST["varieties"])
    )
    house = house.model_copy(update={"varieties": many})
    with within(SECONDS):
        alike, cards = plants_of(house), plants(house, one.system)
    assert [name for name, _ in alike[21].alike] == [
        f"plant {number}" for number in range(20, 30) if number != 21
    ]
    assert sum(len(block.lines) for block in cards[0] if isinstance(block, Sentences)) == 39, (
        "of the 45 pairs among ten the first card of six frames leaves out the 6 among the other four"
    )


def test_a_pattern_that_hangs_is_found() -> None:
    assert slow(re.compile(r"(a|aa)+$").search, 40)[0].startswith("'aaaaaaaaaaaa' x 40: ")

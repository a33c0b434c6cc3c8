"""Texts of procedures: the sandbox, its refusals with file and line, and hostile house data as plain text on every output."""

from __future__ import annotations

from pathlib import Path

import pytest

from macros.problems import DataProblems
from macros.rendering.environment import css_string, joined, markdown_text
from macros.rendering.text import TextWriter
from tests.making import made_house, made_site

WRITER = TextWriter()
NAMES = {"amount": lambda id_, **of: f"<{id_}>", "system": {"id": "K", "drain_valve": True}}


def refusal(text: str) -> str:
    with pytest.raises(DataProblems) as refused:
        WRITER.render(text, NAMES, "procedures/x.md", 10)
    return str(refused.value)


def test_words_are_filled_in() -> None:
    assert WRITER.render("a {{ amount('res_fill') }} {{ system.id }}", NAMES, "x", 1) == "a <res_fill> K"
    assert (
        WRITER.render("{% if system.drain_valve %}valve{% else %}hose{% endif %}", NAMES, "x", 1) == "valve"
    )


def test_undefined_name_is_told_with_its_line_and_what_there_is() -> None:
    assert refusal("one\ntwo {{ pomp }}") == (
        "procedures/x.md:11: text: 'pomp' is undefined. Known words: amount, system."
    )


def test_broken_braces() -> None:
    assert refusal("one\n\n{{ amount( }}").startswith(
        "procedures/x.md:12: text: the text is no valid template:"
    )


@pytest.mark.parametrize(
    "text",
    [
        "{{ ''.__class__.__mro__ }}",
        "{{ amount.__globals__ }}",
        "{{ system.items() }}",
        "{{ system.__class__ }}",
        "{{ amount.__call__('x') }}",
        "{{ self.__init__ }}",
        "{{ 'a' * 999999999 }}",
        "{{ 9 ** 999999 }}",
        "{{ '%999999999d' % 1 }}",
        "{% for x in 'abc' %}{{ x }}{% endfor %}",
        "{% macro m() %}{{ m() }}{% endmacro %}{{ m() }}",
        "{% import 'os' as os %}",
        "{% include '/etc/passwd' %}",
        "{% set x = 1 %}",
        "{{ range(10) }}",
        "{{ lipsum() }}",
        "{{ cycler('a') }}",
        "{{ 'x'|attr('__class__') }}",
        "{{ 'x'|upper }}",
        "{{ config }}",
    ],
)
def test_escapes_are_refused(text: str) -> None:
    assert refusal(text).startswith("procedures/x.md:10: text: ")


def test_long_text_is_refused() -> None:
    assert "over 20000 characters" in refusal("x" * 20_001)


def test_numbers_stay_with_their_units() -> None:
    assert joined("pour 150 mL, 1.2 to 1.7 mS/cm, 10.0 + 7.8, step 8") == (
        "pour 150\u00a0mL, 1.2\u00a0to\u00a01.7\u00a0mS/cm, 10.0\u00a0+\u00a07.8, step\u00a08"
    )


def test_escaping_for_each_output() -> None:
    assert joined("<b>&{{") == "&lt;b&gt;&amp;&#123;&#123;"
    assert markdown_text("# *a* [b](c) <i>") == "&#35; &#42;a&#42; &#91;b&#93;&#40;c&#41; &#60;i&#62;"
    assert css_string('a"b\\c</style>') == "a\\000022b\\00005cc\\00003c/style\\00003e"


HOSTILE = "<script>alert(1)</script> {{ 7*7 }} *b* [l](http://x) ` | --- # \\u202e"


@pytest.mark.parametrize(
    "old",
    ['name: "Test Loft"', 'name: "Rack K"', 'name: "part 1 (calcium)"', 'name: "pH meter"', 'name: "cylinder 100 mL"',
     'eyewash: "tap with two jets at the sink, 5 steps"', 'drain_for_waste: "sink to the foul sewer"', 'poison_line: "555-0101 (fictional)"'],
)  # fmt: skip
def test_hostile_house_text_stays_text(tmp_path: Path, old: str) -> None:
    key = old.split(":")[0]
    site = made_site(made_house(tmp_path, (old, f"{key}: '{HOSTILE}'")))
    for address, text in {**site.pages, **site.files}.items():
        if not address.endswith(
            (".html", ".md")
        ):  # data and calendar are no HTML; each has its own reader's test
            continue
        assert "<script>alert" not in text, address
        assert "{{" not in text, address
        assert (
            "49" not in text
            or "7*7" not in HOSTILE
            or "&#123;" in text
            or "7&#42;7" in text
            or HOSTILE[:8] not in text
        )
    assert "<script" not in site.name

"""Texts of procedures: the sandbox, its refusals with file and line; escaping for each output."""

from __future__ import annotations

import pytest

from macros.ground.problems import DataProblems
from macros.html.environment import css_string, joined, markdown_text
from macros.manual.procedures.write_text import TextWriter

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
        "pour 150\u00a0mL, 1.2\u00a0to\u00a01.7\u00a0mS/cm, 10.0\u00a0+ 7.8, step\u00a08"
    )  # a long sum may end its line after a sign


def test_escaping_for_each_output() -> None:
    assert joined("<b>&{{") == "&lt;b&gt;&amp;&#123;&#123;"
    assert markdown_text("# *a* [b](c) <i>") == "&#35; &#42;a&#42; &#91;b&#93;&#40;c&#41; &#60;i&#62;"
    assert css_string('a"b\\c</style>') == "a\\000022b\\00005cc\\00003c/style\\00003e"


def test_a_run_from_right_to_left_stands_apart() -> None:
    assert joined("pen שלום עולם 3 x 2") == "pen <bdi>שלום עולם</bdi> 3\u00a0x\u00a02"
    assert css_string("שלום 3") == "\\002068שלום\\002069 3"


def test_a_key_given_twice_is_told() -> None:
    assert refusal("{{ amount('x', task='a', task='b') }}") == (
        "procedures/x.md:10: text: the text is no valid template: keyword argument repeated: task. Mend the braces."
    )

"""Finished HTML that passes by the converter: the page is the one the converter would have made, to the byte."""

from __future__ import annotations

import random

import markdown
import pytest
from mkdocs.utils.meta import get_data
from mkdocs.utils.yaml import yaml_load

from macros.html.skip_finished_html import anchors, put_back, set_apart
from macros.site.site import Site
from tests.making import ROOT

PIECES = (
    "# A heading",
    "## Another *one*",
    "Prose with <b>HTML</b> in it.",
    "- a list\n- of two",
    "    <p>code, because it is set in</p>",
    "> quoted\n> <p>inside</p>",
    "<p>one line</p>",
    "<p>one <b>line</b></p>\n<div>and its neighbour</div>",
    "<p>two</p><p>elements on one line</p>",
    "<p>an element</p> and a tail",
    "<div><div>nested</div></div>",
    "<div>\n<p>inside</p>\n</div>",
    '<details class="x"><summary>One</summary>\n<p>two</p>\n\n<p>three</p>\n</details>',
    '<figure id="plan"><svg>\n<rect/>\n</svg></figure>',
    '<script type="application/json">{"a": "<p>"}</script>',
    "<div>not ended",
    "<pre>\n<p>as it stands</p>\n</pre>",
    "<!--\n<p>said aside</p>\n-->",
    "<!-- <p>never ended</p>",
    "<p>a tab\there</p>",
    "`a\n<p>b</p>\nc`",
    "<p>&amp; &lt;tag&gt; &nbsp; \u00b5 &#123;</p>",
    "<ul><li>**not** bold</li></ul>",
)


def converted(text: str) -> tuple[str, object]:
    """What the generator's converter makes of a page, with the extensions of our mkdocs.yml; and its headings."""
    entries = yaml_load((ROOT / "mkdocs.yml").read_text(encoding="utf-8"))["markdown_extensions"]
    settings = {name: given for one in entries if isinstance(one, dict) for name, given in one.items()}
    names = [next(iter(one)) if isinstance(one, dict) else one for one in entries]
    converter = markdown.Markdown(extensions=names, extension_configs=settings)
    return converter.convert(text), converter.toc_tokens  # type: ignore[attr-defined]


def the_same_either_way(text: str) -> bool:
    """Whether the page comes out the same with its HTML set apart; True also where the marks are seen to be lost."""
    short, runs = set_apart(text)
    html, headings = converted(short)
    whole = put_back(html, runs)
    return whole is None or (whole, headings) == converted(text)


def test_pages_of_a_house_are_what_the_converter_makes_of_them(all_kinds: Site) -> None:
    longer = shorter = 0
    for address, text in all_kinds.pages.items():
        body, _ = get_data(text)
        short, runs = set_apart(body)
        html, headings = converted(short)
        assert (put_back(html, runs), headings) == converted(body), address
        longer, shorter = longer + len(body), shorter + len(short)
    assert shorter < longer / 20, "nearly all of the pages is finished HTML and should pass by"


def test_odd_pieces_in_any_order_come_out_the_same() -> None:
    chosen = random.Random(9)
    for _ in range(100):
        pieces = chosen.choices(PIECES, k=chosen.randint(1, 6))
        text = "".join(piece + chosen.choice(("\n", "\n\n")) for piece in pieces)
        assert the_same_either_way(text), text


def test_neighbours_share_a_mark_and_other_lines_stay() -> None:
    short, runs = set_apart("# Title\n\n<p>a</p>\n<p>b</p>\n\nProse.\n\n<div>c</div>\n")
    assert runs == ["<p>a</p>\n<p>b</p>", "<div>c</div>"]
    assert "Prose." in short
    assert "<p>a" not in short


@pytest.mark.parametrize(
    "text",
    [
        '<div markdown="1">\n<p>a</p>\n</div>',
        "<div markdown>\n<p>a</p>\n</div>",
        '<p>a</p>\n<div class="finished-0"></div>',
    ],
)
def test_a_page_that_asks_for_markdown_inside_or_holds_a_mark_is_left_alone(text: str) -> None:
    assert set_apart(text) == (text, [])


def test_lost_marks_are_noticed() -> None:
    short, runs = set_apart("<p>a</p>\n\n# Title\n\n<p>b</p>")
    assert len(runs) == 2
    assert put_back(short.replace('<div class="finished-1"></div>', ""), runs) is None
    assert put_back(short + short, runs) is None


def test_anchors_are_ids_and_nothing_that_ends_like_one() -> None:
    assert anchors('<p id="a" data-step-id="b"><a href="#c" id="d">id="e"</a>') == {"a", "d"}


def test_a_mark_is_no_word_of_ours(all_kinds: Site) -> None:
    """Or a page that holds it of itself would be slow for no reason."""
    assert "finished-" not in "".join(all_kinds.pages.values())

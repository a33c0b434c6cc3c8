"""Templates of a house cannot leave their sandbox, run without bound, or bring active content into a page."""

from __future__ import annotations

import html.parser
import json
import re
import subprocess
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any, get_args

import markdown
import pytest
from pydantic import WithJsonSchema

from macros.amounts import Register
from macros.ground.problems import DataProblems
from macros.ground.records import Record
from macros.ground.yaml_source import read_yaml_text
from macros.html.allowed_markdown import active_mark
from macros.manual.checklists.checklists import checklists_of
from macros.manual.pages.bench_sheet import bench_sheet, checklist, record_form
from macros.manual.pages.build_page import build_pages
from macros.manual.pages.page_markdown import procedure_page
from macros.manual.procedures.file_format import ProcedureData
from macros.manual.procedures.load_files import load_procedures
from macros.manual.procedures.template_functions import Words
from macros.manual.procedures.write_text import MAX_RESULT, TextWriter
from macros.manual.records.record_form import forms_of
from tests.fuzz.judging import watched
from tests.fuzz.mutations import as_yaml, at
from tests.html import escapes
from tests.html.escapes import CANARY
from tests.html.hostile import hostile_house
from tests.making import HOUSES, OWN_PAGE, PROCEDURES, ROOT, made_register, views_of

WRITER = TextWriter()
ALL_ESCAPES = (
    *escapes.ATTRIBUTES, *escapes.CALLS, *escapes.GLOBALS, *escapes.STATEMENTS, *escapes.FILTERS, *escapes.OBJECTS
)  # fmt: skip
LANGUAGE = re.compile(
    r"Traceback|object at 0x|macros\.|object'|<class|\w+Error\b|'(?:dict|str|int) object'|NoneType|unhashable"
)


@pytest.fixture(scope="module")
def register() -> Register:
    return made_register(HOUSES / "fifth")


@pytest.fixture(scope="module")
def names(register: Register) -> dict[str, Any]:
    return Words(register, {"system": "K"}).names()


def refusal(text: str, names: dict[str, Any], prose: bool = False) -> str:
    with pytest.raises(DataProblems) as refused:
        (WRITER.render_markdown if prose else WRITER.render)(text, names, "procedures/x.md", 10)
    return str(refused.value)


def test_there_are_enough_escapes() -> None:
    assert len(set(ALL_ESCAPES)) == len(ALL_ESCAPES) > 100


@pytest.mark.parametrize("prose", [False, True])
@pytest.mark.parametrize("text", ALL_ESCAPES)
def test_every_way_out_is_refused_in_words(names: dict[str, Any], text: str, prose: bool) -> None:
    with watched() as done:
        told = refusal("\n" + text.replace("CANARY", CANARY), names, prose)
    line = 10 + (1 if "\n# for" not in "\n" + text else 2)
    assert told.startswith(f"procedures/x.md:{line}: text: "), told
    assert LANGUAGE.search(told.replace(text, "")) is None, told
    assert done == []
    assert not Path(CANARY).exists()


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("{%+ for x in 'a' %}{% endfor %}", "the text is no valid template: {% for %} is not for texts: only if, elif, else and endif are. Mend the braces."),
        ("{{ 'a' ~ 'b' }}", "the text is no valid template: the sign ~ is not for texts. Mend the braces."),
        ("{{ ''.__class__ }}", "the text is no valid template: __class__ may not be asked for. Mend the braces."),
        ("{{ amount }}", "the text asks for what it may not: a word stands without its brackets. Use the words of the page only."),
        ("{{ amount(1) }}", "the text asks for what it may not: amount takes texts only, each in quotes. Use the words of the page only."),
        ("{{ amount() }}", "the text asks for what it may not: amount is asked with too few or too many texts. Use the words of the page only."),
        ("{{ system.drain_valve }}", "the text asks for what it may not: a yes or no is no text; ask it with if. Use the words of the page only."),
        ("{{ system.pomp }}", "there is no 'pomp'. Known words: amount, every,"),
        ("{{ 1e999 }}", "the text is no valid template: a number is over 1,000,000,000. Mend the braces."),
        ("{% if 1 %}" * 30 + "{% endif %}" * 30, "the text is no valid template: conditions or brackets are nested over 20 deep. Mend the braces."),
        ("{{ '\\u202e' }}", "the text holds U+202E (right-to-left override), which is not seen and can turn the order of numbers."),
    ],
)  # fmt: skip
def test_words_of_a_refusal(names: dict[str, Any], text: str, message: str) -> None:
    assert refusal(text, names).startswith(f"procedures/x.md:10: text: {message}")


@pytest.mark.quick
def test_what_a_page_needs_still_works(names: dict[str, Any]) -> None:
    text = "{% if system.drain_valve and system.tray_count > 1 %}{{ place('eyewash', 'x')[:3] }}{% else %}{{ 'a' if not system.id in ('K', 'L') else scale() }}{% endif %}"
    assert WRITER.render(text, names, "x", 1) == "tap"


_HUNGRY_RUN = """
import json, resource, sys, time
resource.setrlimit(resource.RLIMIT_AS, (800_000_000, 800_000_000))
from macros.ground.problems import DataProblems
from macros.manual.procedures.write_text import TextWriter
writer, told = TextWriter(), []
names = {"amount": lambda id_: "5 L", "system": {"id": "K"}, "long": lambda: "x" * 100_000}
for text in json.load(sys.stdin):
    for render in (writer.render, writer.render_markdown):
        began = time.perf_counter()
        try:
            render(text, names, "procedures/x.md", 10)
            said = "rendered"
        except DataProblems as refused:
            said = str(refused)
        told.append([said, time.perf_counter() - began])
status = open("/proc/self/status").read()  # the system's own count of a process begins with that of its parent
print(json.dumps([told, int(status.partition("VmHWM:")[2].split()[0])]))
"""


def test_hungry_texts_are_refused_in_little_time_and_memory() -> None:
    """In a process that may have 800 MB: any text that fills the memory ends it."""
    run = subprocess.run(
        [sys.executable, "-c", _HUNGRY_RUN], input=json.dumps(escapes.HUNGRY), capture_output=True, text=True, check=False, timeout=120, cwd=ROOT
    )  # fmt: skip
    assert run.returncode == 0, run.stderr[-2000:]
    told, peak = json.loads(run.stdout)
    assert len(told) == 2 * len(escapes.HUNGRY)
    for (said, seconds), text in zip(told, [text for text in escapes.HUNGRY for _ in range(2)], strict=True):
        assert said.startswith("procedures/x.md:10: text: "), (text[:60], said[:200])
        assert LANGUAGE.search(said) is None, said
        assert len(said) < 1_500
        assert seconds < 10, text[:60]
    assert peak < 300_000, f"{peak} kB"  # the libraries alone take a third of it


def test_a_growing_text_is_stopped_while_it_grows() -> None:
    asked = []

    def word() -> str:
        asked.append(1)
        return "x" * 1_000

    told = refusal("{{ word() }}" * 1_000, {"word": word})
    assert told == f"procedures/x.md:10: text: the text grows over {MAX_RESULT} characters. Shorten it."
    assert len(asked) == MAX_RESULT // 1_000 + 1


# ------------------------------------------------------------------ every place of a page


@cache
def page_with_every_field() -> tuple[dict[str, Any], str]:
    """The page of the tests, with each text it leaves out written."""
    text = OWN_PAGE.read_text(encoding="utf-8")
    _, front, body = text.split("---\n", 2)
    source, problems = read_yaml_text(front, "page")
    assert source is not None, problems
    data = source.data
    data |= {
        "first_lines": ["one", "two", "three"],
        "emergency": "Tub",
        "see_also": [],
        "drops": [],
        "searched_as": ["word"],
        "log_note": "change",
    }
    data["outside_figures"] = [{"figure": "5 L", "source": "davies-closed-carbonate"}]
    data["waive"] = [{"line": "S-14", "reason": "words"}]
    data["tables"] = [{"title": "Table", "by": "variety", "columns": [{"head": "Head", "fact": "botanical"}]}]
    data["cleaning"] = {"take_apart": "Apart.", "protect_until_use": "Keep.", "inspect_before_use": "Look."}
    for step in data["steps"]:
        step |= {"phase": "Phase", "short": "Short.", "expect": "seen", "where": "rack", "doer": "One.", "until": "done", "reason": "Why.",
                 "one_of": ["a", "b"], "uses": ["soft brush"], "wait": {"least": "5 min", "greatest": "30 min", "then": "rinse", "missed": "Again."},
                 "record": {"quantity": "Read", "limits": "1 at most", "outside": "Wait.", "unit": "mL", "least": "0", "most": "1"}, "safe_to_leave": {"for": "1 h", "as": "wet"}, "amount": [{"id": "rinse_parts", "means": "in all", "of": {"system": "K"}}]}  # fmt: skip
    return data, body


def text_fields(model: type[Record], way: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """The way to each field that is a `Text` of the page, by its type; 0 for the first of a list."""
    for name, info in model.model_fields.items():
        here = (*way, info.alias or name)
        parts = list(_parts(info.annotation))
        record = next((part for part in parts if isinstance(part, type) and issubclass(part, Record)), None)
        listed = (0,) if tuple in [getattr(part, "__origin__", None) for part in parts] else ()
        if record is not None:
            yield from text_fields(record, (*here, *listed))
        elif any(
            "maxLength" in (m.json_schema or {})
            for m in [*info.metadata, *parts]
            if isinstance(m, WithJsonSchema)
        ):
            yield (*here, *listed)


def _parts(annotation: Any) -> Iterator[Any]:
    yield annotation
    for part in get_args(annotation):
        yield from _parts(part)


PLACES = list(text_fields(ProcedureData))
NO_TEMPLATES = {
    ("searched_as", 0), ("outside_figures", 0, "figure"), ("waive", 0, "reason"), ("drops", 0, "reason"), ("tables", 0, "title"), ("tables", 0, "columns", 0, "head")
}  # fmt: skip
"""Texts that are printed as they stand."""
NUMBERS = (("record", "least"), ("record", "most"))


def test_the_places_were_found() -> None:
    assert len(PLACES) > 30
    assert {("steps", 0, "do"), ("steps", 0, "uses", 0), ("title",), ("if_wrong", 0, "act")} <= set(PLACES)


def problems_of(folder: Path, register: Register, data: dict[str, Any], body: str) -> list[str]:
    (folder / "sop-90-x.md").write_text(f"---\n{as_yaml(data)}\n---\n{body}", encoding="utf-8")
    files, problems = load_procedures(folder)
    assert files, [str(problem) for problem in problems]
    return [str(problem) for problem in problems + build_pages(files, register, TextWriter())[1]]


@pytest.mark.parametrize("way", [way for way in PLACES if way not in NO_TEMPLATES], ids=str)
def test_every_text_of_a_page_is_in_the_sandbox(
    tmp_path: Path, register: Register, way: tuple[Any, ...]
) -> None:
    data, body = page_with_every_field()
    data = json.loads(json.dumps(data))
    holder = at(data, way[:-1])
    holder[way[-1]] = "{{ amount.__globals__ }}" + " AT HERE"
    text = f"---\n{as_yaml(data)}\n---\n"
    line = 1 + text[: text.index("AT HERE")].count("\n")
    told = problems_of(tmp_path, register, data, body)
    wanted = f"procedures/sop-90-x.md:{line}: text: the text is no valid template: __globals__ may not be asked for."
    assert any(one.startswith(wanted) for one in told), told


def test_markup_in_any_text_of_a_page_is_printed_as_text(tmp_path: Path, register: Register) -> None:
    data, body = page_with_every_field()
    data = json.loads(json.dumps(data))
    for number, way in enumerate(
        way for way in PLACES if way[0] not in ("drops", "outside_figures", "waive")
    ):
        holder, last = at(data, way[:-1]), way[-1]
        holder[last] = (
            f"{holder[last]} <img src=x onerror=alert({number})> {{{{ '<u>' }}}}"
            if way[-1] != "minutes" and way[-2:] not in NUMBERS
            else "5"
        )
    (tmp_path / "sop-90-x.md").write_text(f"---\n{as_yaml(data)}\n---\n{body}", encoding="utf-8")
    files, _ = load_procedures(tmp_path)
    built, problems = build_pages(files, register, TextWriter())
    views = views_of(built, register)
    assert views, [str(problem) for problem in problems]
    texts = [
        *(procedure_page(view, {one.page_address: one for one in views}) for view in views),
        *(bench_sheet(view) for view in views),
    ]
    texts += [checklist(one) for one in checklists_of(views, register.house)]
    texts += [record_form(form) for form in forms_of(views, register.house).values()]
    assert len(texts) >= 4
    assert sum(text.count("onerror") for text in texts) > 50
    assert [text for text in texts if "<img src=x" in text or "<u>" in text] == []


def test_the_prose_of_a_page_is_in_the_sandbox(tmp_path: Path, register: Register) -> None:
    data, body = page_with_every_field()
    told = problems_of(tmp_path, register, data, body + "\n{{ amount.__globals__ }}\n")
    assert any("__globals__ may not be asked for" in one for one in told), told


def test_texts_of_a_house_are_no_templates(tmp_path: Path) -> None:
    """They print as they are: were one a template, 7 times 7 would be refused or worked out."""
    house, fields = hostile_house(tmp_path, "{{ 7 * 7 }}{% for %}")
    register = made_register(house)
    words = Words(register, {"system": "K"})
    shown = WRITER.render(
        "{{ responsible() }} {{ system.name }} {{ place('eyewash') }} {{ fact('house.name') }}",
        words.names(),
        "x",
        1,
    )
    assert shown.count("{{ 7 * 7 }}{% for %}") == 4
    assert len(fields) > 50


# ------------------------------------------------------------------ prose

ACTIVE = (
    "<script>alert(1)</script>", "<SCRIPT src=//x.example></SCRIPT>", "<scr\nipt>", "<img src=x onerror=alert(1)>", "<svg/onload=alert(1)>",
    "<svg><script>alert(1)</script></svg>", "<iframe src='https://x.example'></iframe>", "<base href='//x.example/'>",
    "<meta http-equiv=refresh content='0;url=//x.example'>", "<link rel=stylesheet href=//x.example>", "<form action='//x.example'><button>",
    "<object data=x>", "<embed src=x>", "<style>@import '//x.example'</style>", "<b onclick=alert(1)>", "<a href='javascript:alert(1)'>x</a>",
    "<details open ontoggle=alert(1)>", "<math><mi xlink:href='javascript:alert(1)'>", "<div markdown=1>", "</div>", "<!-- x -->", "<!doctype x>", "<?php x ?>",
    "<https://x.example>", "`<b>`", "[x](javascript:alert(1))", "[x](JaVaScRiPt:alert(1))", "[x](java&#115;cript:alert(1))", "[x](java\tscript:alert(1))",
    "[x]( javascript:alert(1))", "[x](<javascript:alert(1)>)", "[x](data:text/html,hi)", "[x](vbscript:x)", "[x](file:///etc/passwd)", "[x](//x.example)",
    "[x](/etc/passwd)", "[x](\\\\x.example)", "[x](../../outside.html)", "[x](a/../../../b)", "[x][y]\n\n[y]: javascript:alert(1)", "[y]: //x.example",
    "![x](https://x.example/a.png)", "![x](//x.example/a.png)", "![x](data:image/svg+xml,x)", "![x][y]\n\n[y]: https://x.example/a.png",
    "[![x](a.png)](https://x.example)", "text {: onclick='alert(1)' }", "[x](a.md){: onmouseover=alert(1) }", "# x {#y onclick=z}",
    '--8<-- "/etc/passwd"', "--8<--\n/etc/passwd\n--8<--",
)  # fmt: skip


@pytest.mark.parametrize("text", ACTIVE)
def test_active_content_is_refused_by_its_line(names: dict[str, Any], text: str) -> None:
    told = refusal(f"One line.\n\nAnother. {text}", names, prose=True)
    line = int(told.split(":")[1])
    assert 12 <= line <= 14, told
    assert (
        " stands in the prose: " in told or " leads where it may not: " in told or "no valid template" in told
    )


def test_words_of_a_refused_link(names: dict[str, Any]) -> None:
    assert refusal("See [x](javascript:alert(1)).", names, prose=True) == (
        "procedures/x.md:10: text: a link leads where it may not: ](javascript:alert(1)). "
        "An address within the site, or https:, mailto: or tel: Mend the address."
    )
    assert refusal("A <b>bold</b> word.", names, prose=True) == (
        "procedures/x.md:10: text: HTML stands in the prose: <b>bold</b> word. "
        "Prose holds paragraphs, lists, tables, emphasis, code and links. Write it in Markdown; write the sign itself as &lt;."
    )


def test_what_is_put_together_by_the_template_is_seen(names: dict[str, Any]) -> None:
    assert "HTML stands in the prose" in refusal(
        "{{ '<script>' }}alert(1){{ '</script>' }}", names, prose=True
    )
    assert "a link leads where" in refusal("[x]{{ '(javascript:alert(1))' }}", names, prose=True)


HARMLESS = (
    "Less < 5 mL and more > 3 mL.", "*a* **b** `c`", "- one\n- two\n\n1. three", "| a | b |\n|---|---|\n| 1 | 2 |", "> quoted", "## Head\n\ntext", "```\ncode\n```",
    "[the standard](https://standard.example/a?b=c#d)", "[write](mailto:owner@room.example)", "[ring](tel:+49-555-0101)", "[page](sop-08-k.html#step-3)",
    "[workings](../reference/workings.html)", "[home](../index.html 'Start')", "![tray](pictures/tray.png)", "![tray](../assets/tray.png \"A tray\")", "a & b &lt; c", "a [b] c",
)  # fmt: skip


@pytest.mark.parametrize("text", HARMLESS)
def test_plain_markdown_passes(names: dict[str, Any], text: str) -> None:
    assert WRITER.render_markdown(text, names, "x", 1) == text


class _Elements(html.parser.HTMLParser):
    """Elements, attributes and addresses of finished HTML."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: set[str] = set()
        self.attributes: set[str] = set()
        self.addresses: list[str] = []

    def handle_starttag(self, tag: str, attributes: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self.attributes |= {name for name, _ in attributes}
        self.addresses += [value or "" for name, value in attributes if name in ("href", "src")]


@pytest.mark.parametrize("text", [*HARMLESS, *ACTIVE])
def test_the_generator_makes_only_text_of_what_passes(text: str) -> None:
    """Judged by the converter of the site itself, with the extensions of mkdocs.yml."""
    found = _Elements()
    found.feed(
        markdown.markdown(text, extensions=["attr_list", "md_in_html", "tables", "toc", "fenced_code"])
    )
    allowed = {
        "p",
        "em",
        "strong",
        "code",
        "pre",
        "ul",
        "ol",
        "li",
        "table",
        "thead",
        "tbody",
        "tr",
        "th",
        "td",
        "blockquote",
        "h1",
        "h2",
        "a",
        "img",
    }
    bad = (
        bool(found.tags - allowed)
        or bool(found.attributes - {"id", "href", "src", "alt", "title"})
        or any(
            re.match(r"\s*(?!https?:|mailto:|tel:)[\w\s]+:|//|/|\\", address, re.IGNORECASE)
            for address in found.addresses
        )
    )
    if active_mark(text) is None:
        assert not bad, (found.tags, found.attributes, found.addresses)


def test_shipped_pages_hold_plain_prose_only() -> None:
    for path in sorted(PROCEDURES.glob("sop-*.md")):
        body = path.read_text(encoding="utf-8").split("---\n", 2)[2]
        assert active_mark(re.sub(r"\{\{.*?\}\}|\{%.*?%\}", "", body)) is None, path.name

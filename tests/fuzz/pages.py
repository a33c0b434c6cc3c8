"""Damaged procedures: front matter, templates and prose of a page of the manual, built for one small house."""

from __future__ import annotations

import copy
import re
import shutil
from collections.abc import Callable
from functools import cache
from pathlib import Path
from random import Random
from typing import Any

from macros.amounts import Register
from macros.ground.problems import Problem
from macros.ground.yaml_source import read_yaml_text
from macros.manual.checklists.checklists import checklists_of
from macros.manual.pages.bench_sheet import bench_sheet, checklist, record_form
from macros.manual.pages.build_page import build_pages
from macros.manual.pages.page_markdown import procedure_page
from macros.manual.procedures.load_files import load_procedures
from macros.manual.procedures.write_text import TextWriter
from macros.manual.records.record_form import forms_of
from macros.site.site import prepare_site
from tests.fuzz.houses import standing_alone
from tests.fuzz.judging import Outcome, judged
from tests.fuzz.mutations import as_yaml, at, damaged_bytes, damaged_data, ways_into
from tests.fuzz.other_ways import other_page
from tests.making import HOUSES, made_register, views_of

HOUSE = HOUSES / "fifth"
OF_CLEANOUT = ("sop-03", "sop-04", "sop-05")
"""Alone they leave blocks of the cleanout checklist out, which every house has but the first."""
WHOLE_EVERY = 10
"""Each tenth case is a house's own page in place of the shipped one, through the whole manual."""

TEMPLATES = (
    "{{", "}}", "{% if", "{% endif %}", "{% else %}", "{#", "{{ }}", "{{ x }}", "{{ system }}", "{{ system.id.id }}", "{{ amount }}",
    "{{ amount() }}", "{{ amount('') }}", "{{ amount('res_fill', system='Z') }}", "{{ amount(1) }}", "{{ fact(['a']) }}", "{{ fact('') }}",
    "{{ fact('house') }}", "{{ fact('systems') }}", "{{ fact('varieties') }}", "{{ fact('house.__class__') }}", "{{ place(none) }}",
    "{{ phone('x') }}", "{{ every('x') }}", "{{ low('res_fill') }}", "{{ number('planting_map') }}", "{{ meter() }}", "{{ scale(1) }}",
    "{{ unit_of('no') }}", "{{ fact('house.name')[:2] }}", "{{ fact('house.name')[::0] }}", "{{ fact('house.name')['x'] }}",
    "{{ 'x' * 10**9 }}", "{{ 9**9**9 }}", "{{ 1e400 }}", "{{ " + "9" * 5_000 + " }}", "{{ 1 / 0 }}", "{{ 'a' < 1 }}", "{{ '\\ud800' }}",
    "{{ '\\x00' }}", "{{ '\\u202e' }}", "{% for x in range(10**9) %}x{% endfor %}", "{% if " * 30 + "x", "{% if 'a' %}" * 60 + "{% endif %}" * 60,
    "{{ " + "(" * 200 + "1" + ")" * 200 + " }}", "{{ " + "(" * 3_000, "{{ not " * 50, "{{ " + "not " * 500 + "1 }}", "{{ '" + "a" * 30_000 + "' }}",
    "{% if 'a' %}" + "{% elif 'b' %}" * 900 + "{% endif %}", "{{ 1" + " and 1" * 2_000 + " }}", "{% set x = 1 %}", "{% include 'x' %}",
    "{% raw %}{{ x }}{% endraw %}", "{{ ''.__class__ }}", "{{ self }}", "{{ loop }}", "{{ caller() }}", "{{ responsible()|upper }}", "{{ {} }}",
    "{{ responsible() is defined }}", "{{ responsible }}", "{{ true }}", "{{ none }}", "{{ 5 }}", "{{ 5.5 }}", "{{ [1, 2] }}", "{{ -'a' }}",
)  # fmt: skip
PROSE = (
    "<script>alert(1)</script>", "<SCRIPT SRC=//x.example>", "<img src=x onerror=alert(1)>", "<iframe src='//x.example'></iframe>",
    "<svg/onload=alert(1)>", "[x](javascript:alert(1))", "[x](java&#115;cript:alert(1))", "![x](http://x.example/a.png)", "[x][y]\n\n[y]: data:text/html,x",
    "<https://x.example>", "--8<-- \"/etc/passwd\"", "{: onclick='alert(1)' }", "[x](../../../etc/passwd)", "[x](p/no.md)", "# Heading\n\n## Steps",
    "```\ncode\n```", "`<b>`", "| a | b |\n|---|---|\n| 1 | 2 |", "***a**b*c" * 200, "[" * 5_000, "](" * 2_000, "*" * 20_000, "> " * 300 + "x",
    "- " * 300 + "x", "\n" * 3_000, "a" * 19_000, "x " * 30_000, "`" * 10_001, "<!-- x", "<![CDATA[", "<?php", "&nbsp;&#x0;", "\\" * 9_999,
)  # fmt: skip

_ACTIVE = re.compile(
    r"<(?:script(?! src=.\.\./assets/)|img|iframe|object|embed|base|form|svg on|svg/|meta http)[^a-z]|<[a-z][^>]*\son[a-z]+=|\]\(\s*(?:java|data|//)",
    re.IGNORECASE,
)


def page_case(
    seed: str, number: int, folder: Path, make: Callable[[Random, str], bytes] | None = None
) -> Outcome:
    """Makes the damaged page of this number, runs it, and judges the run. `make` is another way of damage."""
    random = Random(f"{seed} page {number}")
    name = random.choice(sorted(standing_alone()))
    own = folder / "house" / "procedures"
    own.mkdir(parents=True)
    (own / name).write_bytes((make or damaged_page)(random, name))
    if number % WHOLE_EVERY == 0:
        whole = HOUSES / "first" if name.startswith(OF_CLEANOUT) else HOUSE
        shutil.copytree(whole / "site_data", folder / "house" / "site_data")
        shipped = folder / "shipped"
        shipped.mkdir()
        (shipped / name).write_text(standing_alone()[name], encoding="utf-8")
        outcome = judged(lambda: prepare_site(folder / "house", shipped, None, {}).warnings)
    else:
        outcome = judged(lambda: run_page(own))
    shutil.rmtree(folder / "house")
    shutil.rmtree(folder / "shipped", ignore_errors=True)
    return outcome


def run_page(own: Path) -> list[Problem]:
    """Builds the pages of a folder and everything printed of them; nothing in them may be active."""
    files, problems = load_procedures(own)
    built, more = build_pages(files, _register(), TextWriter())
    views = views_of(built, _register())
    lists = checklists_of(views, _register().house)
    places = {view.page_address: view for view in views}
    texts = [procedure_page(view, places, lists) for view in views]
    texts += [bench_sheet(view) for view in views] + [checklist(one) for one in lists]
    texts += [record_form(form) for form in forms_of(views, _register().house).values()]
    for text in texts:
        text.encode("utf-8")
        found = _ACTIVE.search(text)
        assert found is None, f"a finished page holds {text[found.start() : found.end() + 60]}"
    return [*problems, *more]


@cache
def _register() -> Register:
    return made_register(HOUSE)


@cache
def _front(name: str) -> Any:
    source, problems = read_yaml_text(_parted(name)[0], name)
    assert source is not None, problems
    return source.data


def _parted(name: str) -> tuple[str, str]:
    _, front, body = standing_alone()[name].split("---\n", 2)
    return front, body


def damaged_page(random: Random, name: str) -> bytes:
    """The page with one kind of damage: its bytes, its front matter, a template in one of its texts, its prose."""
    kind = random.choices(("bytes", "front", "template", "prose"), weights=(20, 40, 25, 15))[0]
    if kind == "bytes":
        return damaged_bytes(random, standing_alone()[name])
    front, body = _front(name), _parted(name)[1]
    if kind == "front":
        front = damaged_data(random, front)
    elif kind == "template":
        front = _with_template(random, front)
    else:
        place = random.randrange(len(body) + 1)
        body = (
            body[:place]
            + random.choice((" ", "\n\n"))
            + random.choice((*PROSE, *TEMPLATES))
            + random.choice((" ", "\n\n"))
            + body[place:]
        )
    return f"---\n{as_yaml(front)}\n---\n{body}".encode()


def page_of_parts(random: Random, name: str) -> bytes:
    """The page with parts of another, or its figures, counts and lengths moved to a border or into another unit."""
    other = random.choice(sorted(standing_alone()))
    return other_page(random, _front(name), _front(other), _parted(name)[1], _parted(other)[1]).encode()


def _with_template(random: Random, front: Any) -> Any:
    """A template set into one text of the front matter, before, within or in place of what is there."""
    front = copy.deepcopy(front)
    way = random.choice([way for way in ways_into(front) if isinstance(at(front, way), str)])
    old, new = at(front, way), random.choice(TEMPLATES)
    place = random.randrange(len(old) + 1)
    at(front, way[:-1])[way[-1]] = random.choice((new, old + " " + new, old[:place] + new + old[place:]))
    return front

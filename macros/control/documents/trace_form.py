"""The form on which a complaint is taken and one lot followed to its customers and back to its seed; a drill as well."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from macros.house import House
from macros.html.environment import fragment
from macros.html.paper import Bar, Part, document
from macros.html.site_text import SiteText
from macros.manual.house_facts.fact_text import fact_text
from macros.manual.house_facts.frequencies import frequencies
from macros.manual.records.record_form import REVIEW_DAYS, kept_for
from macros.published.labour.week import week_facts
from macros.published.paper.control import control_words

KEY = "TRACE"
TITLE = "Complaint, trace and recall of a lot"
ADDRESS = "forms/trace.html"
LINES = 6
"""Lines of the harvest log that one form takes."""


def trace_words(house: House) -> dict[str, Any]:
    """What the form says in this house, by the names of its template."""
    trace, call = control_words().trace, house.house.emergency
    who = house.house.who_decides
    return {
        "house": house.house.name,
        "who": who,
        "trace": trace,
        "stop": trace.stop.replace("{who}", f"{who}: {call.owner_phone}").replace(
            "{ambulance}", call.ambulance_fire
        ),
        "drill": trace.drill.replace("{every}", frequencies(house)["trace_drill"].text),
        "target": fact_text(trace.target, house.us),
        "heads": [column.head for column in week_facts().harvest_columns if column.traced],
        "reviewed": f"{REVIEW_DAYS} days",
    }


def trace_part(house: House) -> Part:
    """The form as a sheet of paper."""
    return Part(
        key=KEY,
        title=TITLE,
        html=fragment("trace_form.html.j2", lines=range(LINES), **trace_words(house)),
        styles=("control",),
        top_left=f"{house.house.name} · {TITLE}",
        top_right=KEY,
        bottom_left="Goes with the harvest log",
        bottom_right=f"Kept for {kept_for(house)}",
        one_page=True,
    )


def trace_texts(house: House) -> Iterator[SiteText]:
    """The form as a file of the site."""
    bar = Bar("../index.html", "Back to the start", "Print this form")
    yield SiteText(ADDRESS, document([trace_part(house)], TITLE, house.house.language, bar=bar))


def trace_lines(house: House) -> Iterator[str]:
    """The texts of the form in their order."""
    words = trace_words(house)
    yield from (words["house"], words["stop"], *words["trace"].rules, *words["heads"])
    yield from (words["drill"], words["target"], words["reviewed"], kept_for(house))

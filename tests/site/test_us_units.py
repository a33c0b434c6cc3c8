"""A US house reads US units on every page, sheet, form and working; what it may not lose is listed below, each with why.

Millilitres stay: the house's own syringes and cylinders are marked in them, and its feed label says mL a gallon.
Strengths (mg/L, g/L), EC, light, kPa and an air deficit have one unit in both trades.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from html import unescape

from tests.making import manual_of

METRIC = re.compile(
    r"(?<![\w.])[\d.]+ ?(?:mm|cm|m|km|m²|m2|m³|m3|L|kg|g|°C|degC|K|L/min|L/h|L/day|m³/h|L/m²|L/m2|mL/L)(?![\w/²³])"
    r"|\b(?:[Ll]itres?|[Ll]iters?|[Mm]etres?|degC|degF|us_gal|fl_oz|oz_wt|mass in g|in cm|in mm)\b|°C"
)
WHOLE = {
    "pages/reference/sources.md": "sources as they are cited",
    "pages/reference/checks.md": "sources of the checks, and the deviation in the unit they were checked in",
    "pages/reference/requirements.md": "sizes on paper that a standard gives, and names of standards",
}
QUOTED = (
    "Patch larger than 1 m² (10 sq ft)",  # the guide's own figure stands in the brackets
    "insects of 1 to 2 mm",  # as the extension service describes the pest
    "value at 25 °C", "stated at 25 °C",  # ISO 7888, and the bottle of standard
)  # fmt: skip


def visible(text: str) -> str:
    """What a person reads: no markup, script or front matter, and no list of sources below a page."""
    body = re.sub(r"<(style|script|svg)\b.*?</\1>", " ", text, flags=re.DOTALL).removeprefix("---")
    body = body.partition("\n---\n")[2] or body
    body = re.sub(r"## References.*?(?=\n## |\Z)", " ", body, flags=re.DOTALL)
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]*>", " ", body)))


def metric_words() -> Iterator[tuple[str, str]]:
    site = manual_of("second")
    for room, texts in (("pages", site.pages), ("files", site.files)):
        for name, text in texts.items():
            if (
                f"{room}/{name}" in WHOLE
                or not isinstance(text, str)
                or name.endswith((".json", ".js", ".css"))
            ):
                continue
            read = visible(text)
            for quoted in QUOTED:
                read = read.replace(quoted, "")
            for match in METRIC.finditer(read):
                yield f"{room}/{name}", read[max(match.start() - 40, 0) : match.end() + 20]


def test_no_metric_unit_stands_in_a_us_house() -> None:
    assert sorted(set(metric_words())) == []


def test_every_exception_is_needed_and_the_whole_manual_was_read() -> None:
    site = manual_of("second")
    assert all(METRIC.search(visible(site.pages[name.removeprefix("pages/")])) for name in WHOLE)
    everything = " ".join(visible(text) for text in site.pages.values())
    assert all(quoted in everything for quoted in QUOTED)
    assert len(site.pages) + len(site.files) > 150
    assert METRIC.search("3.5 gal stand 4 in deep, 20 % w/v, 1.4 mS/cm, 5 min, 80 mg/L, 12 mL") is None
    assert all(
        METRIC.search(one)
        for one in ("5 L", "0.4 m wide", "20 °C", "1 degC", "0.5 us_gal", "litres added", "4 L/min")
    )

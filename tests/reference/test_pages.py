"""The page of checks and the page of sources, as a person reads them."""

from __future__ import annotations

import re

from macros.published.pages.findings import findings
from tests.making import manual_of


def test_each_check_has_a_label_of_its_own_and_its_sources_are_not_folded_away() -> None:
    text = manual_of("fourth").pages["reference/checks.md"]
    assert "<strong>Batch, tray spray</strong> <code>batch_spray</code>" in text
    assert "<strong>Dew point</strong>" in text
    assert re.search(r"<code>energy_day</code></p><p>1 compared.*<li>US DOE, estimating energy use", text)
    assert "<details" not in text
    assert not re.search(r"tests/|degC", text)
    for topic in text.split("\n## ")[1:]:
        labels = re.findall(r"<strong>(.*?)</strong>", topic)
        assert len(labels) == len(set(labels)), topic


def test_a_source_that_the_guide_to_findings_names_says_so() -> None:
    text = manual_of("fourth").pages["reference/sources.md"]
    rows = dict(re.findall(r'<th scope="row">([\w-]+)</th>.*?data-label="Cited on">(.*?)</td>', text))
    named = {one.seen.source for one in findings().findings}
    assert named <= set(rows)
    assert all("no page" not in rows[key] for key in named)
    assert "Test and Protect campaign; US Consumer Product Safety Commission and National Electrical" in text
    assert "Safety Foundation, year not given" in text

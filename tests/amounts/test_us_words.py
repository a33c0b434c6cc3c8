"""A US house reads its own units in every working and message."""

from __future__ import annotations

import re

import pytest

from macros.amounts import Register
from macros.amounts.engine.us_units import us_line, us_message
from tests.amounts.test_other_units import in_the_other_print
from tests.facts import register_of, source_of

METRIC = re.compile(
    r"(?<![\w/.])-?\d[\d.]* ?(?:L|m|mm|cm|kg|K|m2|m3|m³|m³/h|L/min|L/h|L/day)(?![\w/²³])|\) (?:L|m|cm|kg)\b|degC|[Ll]itre|[Mm]etre\b"
)
AS_PUBLISHED = "in metric units, for which its constants are: "


@pytest.fixture(scope="module")
def us() -> Register:
    """The fourth house, which plants, printed in US units."""
    return register_of(in_the_other_print(source_of("fourth")))


def test_no_working_or_reason_has_a_metric_word(us: Register) -> None:
    told = [
        (amount.key, line)
        for amount in us.all()
        for line in (amount.label, *amount.working.splitlines(), *amount.assumed, amount.rounding.rule)
        if not line.startswith(AS_PUBLISHED)
    ]
    told += [(id_, reason.text) for (id_, _), reason in us.withheld.items()]
    told += [(one.key, str(one)) for one in us.problems]
    assert len(told) > 800
    assert [(key, line) for key, line in told if METRIC.search(_unquoted(line, us))] == []


def _unquoted(line: str, register: Register) -> str:
    """Without the names of the house's things and what stands in quotation marks."""
    for tool in register.house.measuring_tools:
        line = line.replace(tool.name, "")
    return re.sub(r'"[^"]*"', "", line)


# 0 and 100 degC are 32 and 212 degF, 2.54 cm an inch, 3.785411784 L a gallon: by definition (NIST SP 811, B.8).
@pytest.mark.parametrize(
    ("metric", "working", "message"),
    [
        ("from 2.54 to 25.4 cm", "from 1 to 10 in", "from 1 to 10 in"),
        ("outside 0 to 100 degC", "outside 32 to 212 °F", "outside 32 to 212 degF"),
        ("3.785411784 L in 0.3048 m", "1 gal in 1 ft", "1 gal in 12 in"),
        ("\"5 L\" of 'jug 1 L' and jug 2 L", None, "\"5 L\" of 'jug 1 L' and jug 2 L"),
        ("a tank's 2.54 mm", "a tank's 0.1 in", "a tank's 0.1 in"),
    ],
)
def test_both_ends_of_a_range_go_with_their_unit(metric: str, working: str | None, message: str) -> None:
    assert us_message(metric, ["jug 2 L"]) == message
    assert working is None or us_line(metric, True) == working

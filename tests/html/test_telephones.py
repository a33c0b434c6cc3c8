"""Telephone numbers of a house become links that dial them, and nothing else does."""

from __future__ import annotations

import pytest

from macros.html.environment import dialled, with_telephones


@pytest.mark.parametrize(
    ("written", "dials"),
    [
        ("112", "112"),
        ("555-0143 (fictional)", "5550143"),
        ("+49 89 1234-56", "+4989123456"),
        ("+44 (0)20 7946 0018", "+442079460018"),
        ("(555) 010-0199", "5550100199"),
        ("112 or 911", ""),
        ("ask the owner", ""),
        ("room 12", ""),
        ("<b>112</b>", "112"),
    ],
)
def test_what_is_dialled(written: str, dials: str) -> None:
    """Digits alone, a plus before them; two numbers in one field are dialled by a person. RFC 3966 (from memory)."""
    assert dialled(written) == dials


def test_a_number_in_a_sentence_is_tapped_and_a_figure_is_not() -> None:
    phones = ("555-0143 (fictional)", "112")
    told = with_telephones("Ring 112, then 555-0143 (fictional).", phones)
    assert told == (
        'Ring <a class="sop-tel" href="tel:112">112</a>, '
        'then <a class="sop-tel" href="tel:5550143">555-0143 (fictional)</a>.'
    )
    for figure in ("Pour 112 mL.", "112.5 L", "SOP-112", "2112", "pH 112", "90 to 112 mL"):
        assert "tel:" not in with_telephones(figure, phones), figure


def test_what_a_house_writes_as_a_number_stays_text() -> None:
    told = with_telephones('Ring 112"><script>', ('112"><script>',))
    assert "<script" not in told
    assert 'href="tel:112"' in told

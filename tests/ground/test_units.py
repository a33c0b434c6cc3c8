"""Quantities as written: what is read, what is refused and in which words; conversion against exact definitions."""

from __future__ import annotations

import pytest

from macros.ground.units import QuantityMistake, convert, kinds, parse_money, parse_quantity, parse_strength


@pytest.mark.parametrize(
    ("value", "from_unit", "to_unit", "expected"),
    [
        (1, "us_gal", "L", 3.785411784),  # exact: 231 cubic inches (NIST Handbook 44, appendix C)
        (1, "imp_gal", "L", 4.54609),  # exact: UK Units of Measurement Regulations 1995
        (1, "fl_oz", "mL", 29.5735295625),  # exact: 1/128 US gallon
        (1, "ft", "m", 0.3048),  # exact: international yard and pound agreement, 1959
        (1, "in", "cm", 2.54),
        (1, "lb", "kg", 0.45359237),  # exact, same agreement
        (1, "oz_wt", "g", 28.349523125),
        (212, "degF", "degC", 100),  # boiling point of water, both scales
        (-40, "degC", "degF", -40),
        (1, "dS/m", "mS/cm", 1),
        (1000, "L/h", "L/min", 16.6666666667),
        (1, "kWh", "kWh", 1),
    ],
)
def test_conversion_by_exact_definitions(value: float, from_unit: str, to_unit: str, expected: float) -> None:
    assert convert(value, from_unit, to_unit) == pytest.approx(expected, rel=1e-9)


def test_every_unit_of_a_kind_converts_into_the_others() -> None:
    assert len(kinds()) > 20
    for name, (_, units) in kinds().items():
        if name in ("volume_or_mass", "tool_measure"):
            continue
        for unit in units:
            assert convert(convert(2.0, unit, units[0]), units[0], unit) == pytest.approx(2.0)


@pytest.mark.parametrize(
    ("text", "kind", "code", "beginning"),
    [
        ("0.80", "length", "E01", '"0.80" has no unit'),
        ("1 1/4 L", "volume", "E01", '"1 1/4 L" has the unit "1/4 L", which is not known here'),
        ("5 mL/L ± 1", "dose_rate", "E01", '"5 mL/L ± 1" has the unit'),
        ("20-25 L", "volume", "E01", '"20-25 L" is not a number with a unit'),
        ("6.0 pH", "length", "E01", '"6.0 pH" has the unit "pH"'),
        ("18 C", "temperature", "E01", '"18 C" has the unit "C"'),
        ("5 ML", "volume", "E01", '"5 ML" has the unit "ML"'),
        ("1e3 L", "volume", "E01", '"1e3 L" is not a number with a unit'),
        ("0,5 L", "volume", "E01", '"0,5 L" has a decimal comma'),
        ("15 kg", "volume", "E01", '"15 kg" is a mass, not a volume'),
        ("5 kWh", "volume", "E01", '"5 kWh" is in kWh, not a volume'),
        ("5 %", "dose_rate", "E01", '"5 %" is a percentage'),
        ("0.3 oz/us_gal", "dose_rate", "E02", '"0.3 oz/us_gal" says oz'),
        ("5 gal", "volume", "E03", '"5 gal" says gal in a metric house'),
        ("a capful", "volume", "E33", '"a capful" is not a number with a unit'),
        ("1000 ppm", "conductivity", "E25", 'the EC is given as "1000 ppm"'),
        ("9000 lx", "ppfd", "E26", '"9000 lx" is in lux'),
        ("90 mg/L hardness", "mass_concentration", "E27", '"90 mg/L hardness" is a hardness'),
        ("1.5", "duration", "E30", '"1.5" is a time with no unit'),
        ("1.5 (min? h?)", "duration", "E30", '"1.5 (min? h?)" is a time with no clear unit'),
    ],
)
def test_refusals(text: str, kind: str, code: str, beginning: str) -> None:
    with pytest.raises(QuantityMistake) as refused:
        parse_quantity(text, kind)
    assert refused.value.code == code
    assert refused.value.what.startswith(beginning)
    assert refused.value.remedy


def test_us_house_writes_gallons() -> None:
    assert parse_quantity("20 gal", "volume", us_gallons=True).to("L") == pytest.approx(75.70823568)
    assert parse_quantity("5 mL/gal", "dose_rate", us_gallons=True).to("mL/L") == pytest.approx(
        1.32086, rel=1e-5
    )


def test_usual_spellings_are_read() -> None:
    assert parse_quantity("1.5 m2", "area").unit == "m^2"
    assert parse_quantity("20 °C", "temperature").to("degF") == pytest.approx(68)


@pytest.mark.parametrize("text", ["12 %", "strong", "12", "12 % v", "0 % w/w", "120 % w/w"])
def test_strength_needs_number_and_basis(text: str) -> None:
    with pytest.raises(QuantityMistake):
        parse_strength(text)


def test_prices() -> None:
    assert parse_money("0.31 EUR/kWh", "kWh").value == 0.31
    with pytest.raises(QuantityMistake, match="is not such a price"):
        parse_money("19.50 euro")

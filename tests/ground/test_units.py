"""Quantities as written: what is read, what is refused and in which words; conversion against exact definitions."""

from __future__ import annotations

import pytest

from macros.ground.units import (
    QuantityMistake,
    convert,
    example_of,
    kinds,
    parse_money,
    parse_quantity,
    parse_strength,
)


@pytest.mark.quick
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
        ("1 5/4 L", "volume", "E01", '"1 5/4 L" has the unit "5/4 L", which is not known here'),
        ("1/0 L", "volume", "E01", '"1/0 L" is not a number with a unit'),
        ("5 mL/L ± 1", "dose_rate", "E01", '"5 mL/L ± 1" has the unit'),
        ("20-25 L", "volume", "E01", '"20-25 L" is not a number with a unit'),
        ("6.0 pH", "length", "E01", '"6.0 pH" has the unit "pH"'),
        ("18 C", "current", "E01", '"18 C" has the unit "C"'),
        ("5 ML", "volume", "E01", '"5 ML" has the unit "ML"'),
        ("1e3 L", "volume", "E01", '"1e3 L" is not a number with a unit'),
        ("0,5 L", "volume", "E01", '"0,5 L" has a decimal comma'),
        ("15 kg", "volume", "E01", '"15 kg" is a mass, not a volume'),
        ("5 kWh", "volume", "E01", '"5 kWh" is in kWh, not a volume'),
        ("5 %", "dose_rate", "E01", '"5 %" is a percentage'),
        ("0.3 oz/us_gal", "dose_rate", "E02", '"0.3 oz/us_gal" says oz'),
        ("5 gal", "volume", "E03", '"5 gal" says gal in a metric house'),
        ("400 GPH", "volume_flow", "E03", '"400 GPH" says gal in a metric house'),
        ("3 pints/day", "volume_per_day", "E03", '"3 pints/day" counts in pints'),
        ("2 tsp", "volume", "E03", '"2 tsp" counts in tsps'),
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


@pytest.mark.parametrize(
    ("text", "kind", "unit", "value"),
    [
        # NIST Handbook 44, appendix C: 1 gal is 4 quarts, 8 pints, 16 cups, 256 tablespoons, 768 teaspoons
        ("1 gal", "volume", "us_gal", 1),
        ("4 qt", "volume", "us_gal", 1),
        ("8 pints", "volume", "us_gal", 1),
        ("16 cups", "volume", "us_gal", 1),
        ("256 tbsp", "volume", "us_gal", 1),
        ("768 tsp", "volume", "us_gal", 1),
        ("8 pints/day", "volume_per_day", "us_gal/day", 1),
        ("2 Tbsp/gal", "dose_rate", "fl_oz/us_gal", 1),
        ("400 GPH", "volume_flow", "us_gal/h", 400),
        ("2.5 gpm", "volume_flow", "us_gal/min", 2.5),
        ("32 fl oz", "volume_or_mass", "fl_oz", 32),
        ("1 1/4 in", "length", "in", 1.25),
        ("1-1/4 in", "length", "in", 1.25),
        ("2½ in", "length", "in", 2.5),
        ("3/8 inch", "length", "in", 0.375),
        ("212 F", "temperature", "degC", 100),
        ("70 cfm", "airflow", "ft^3/min", 70),
        ("200 ppm", "mass_concentration", "mg/L", 200),
    ],
)
def test_words_of_labels_in_a_us_house(text: str, kind: str, unit: str, value: float) -> None:
    assert parse_quantity(text, kind, us_gallons=True).to(unit) == pytest.approx(value)


def test_examples_are_in_the_units_of_the_house() -> None:
    for us, example in ((False, '"0.80 m"'), (True, '"32 in"')):
        with pytest.raises(QuantityMistake) as refused:
            parse_quantity("wide", "length", us)
        assert refused.value.remedy == f"Measure it and write for example {example}"
    for kind in kinds():
        parse_quantity(example_of(kind, us=True), kind, us_gallons=True)
        parse_quantity(example_of(kind), kind)


def test_a_strength_in_ppm_is_a_thousandth_of_a_gram_in_a_litre() -> None:
    thin = parse_strength("200 ppm")
    assert (thin.percent, thin.basis) == (pytest.approx(0.02), "w/v")  # 200 mg in a litre, 0.02 g in 100 mL
    assert parse_strength("200 mg/L").percent == thin.percent
    with pytest.raises(QuantityMistake, match="does not say its basis"):
        parse_strength("8.25 %")


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

"""Our unit arithmetic against pint, which takes its factors from NIST SP 811 and CODATA.

The exact values behind both: 1 in = 2.54 cm (international inch, 1959), °F = °C × 9/5 + 32.
"""

from __future__ import annotations

from decimal import Decimal

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.model.quantities import (
    Kind,
    Units,
    celsius,
    centimetres,
    fahrenheit,
    inches,
    parse_value,
    rounded,
)

UNITS: pint.UnitRegistry[float] = pint.UnitRegistry()
HALF_A_HUNDREDTH = 0.005 + 1e-9

temperatures = st.integers(-4000, 15000).map(lambda hundredths: hundredths / 100)
lengths = st.integers(0, 12000).map(lambda hundredths: hundredths / 100)


@given(temperatures)
def test_celsius_to_fahrenheit_is_what_pint_says_to_a_hundredth(degrees: float) -> None:
    theirs = UNITS.Quantity(degrees, "degC").to("degF").magnitude
    assert fahrenheit(degrees) == pytest.approx(theirs, abs=HALF_A_HUNDREDTH)


@given(temperatures)
def test_fahrenheit_to_celsius_is_what_pint_says(degrees: float) -> None:
    assert celsius(degrees) == pytest.approx(UNITS.Quantity(degrees, "degF").to("degC").magnitude, abs=1e-9)


@given(lengths)
def test_centimetres_to_inches_is_what_pint_says_to_a_hundredth(length: float) -> None:
    assert inches(length) == pytest.approx(UNITS.Quantity(length, "cm").to("inch").magnitude, abs=HALF_A_HUNDREDTH)


@given(lengths)
def test_inches_to_centimetres_is_what_pint_says(length: float) -> None:
    assert centimetres(length) == pytest.approx(UNITS.Quantity(length, "inch").to("cm").magnitude, abs=1e-9)


def test_every_hundredth_of_a_degree_or_inch_comes_back_as_itself() -> None:
    for hundredths in range(-4000, 15001):
        value = hundredths / 100
        assert fahrenheit(celsius(value)) == value
        assert inches(centimetres(value)) == value


@given(temperatures)
def test_a_temperature_written_in_either_unit_is_the_same_value(degrees: float) -> None:
    in_celsius = f"{(Decimal(str(degrees)) - 32) * 5 / 9:.4f}"
    assert parse_value(Kind.TEMPERATURE, f"{in_celsius} C", Units.US) == rounded(degrees)
    assert parse_value(Kind.TEMPERATURE, in_celsius, Units.METRIC) == rounded(degrees)
    assert parse_value(Kind.TEMPERATURE, f"{degrees} F", Units.METRIC) == rounded(degrees)


@given(lengths)
def test_a_length_written_in_either_unit_is_the_same_value(length: float) -> None:
    in_centimetres = f"{Decimal(str(length)) * Decimal('2.54'):.4f}"
    assert parse_value(Kind.LENGTH, f"{in_centimetres} cm", Units.US) == rounded(length)
    assert parse_value(Kind.LENGTH, in_centimetres, Units.METRIC) == rounded(length)
    assert parse_value(Kind.LENGTH, f"{length} in", Units.METRIC) == rounded(length)


@pytest.mark.parametrize(
    ("written", "on_the_scale"),
    [
        ("0 C", 32.0),  # water freezes
        ("100 C", 212.0),  # water boils
        ("-40 C", -40.0),  # where both scales meet
        ("10 C", 50.0),
        ("12.8 C", 55.04),
        ("54 °F", 54.0),
    ],
)
def test_well_known_temperatures(written: str, on_the_scale: float) -> None:
    assert parse_value(Kind.TEMPERATURE, written, None) == on_the_scale

"""Readings and sizes of a place as people type them."""

from __future__ import annotations

import pint
import pytest

from assistant.cases.rooms import parse_reading, parse_space
from assistant.model.quantities import NotAValue, Units

UNITS: pint.UnitRegistry[float] = pint.UnitRegistry()


@pytest.mark.parametrize(
    ("text", "units", "reading"),
    [
        ("85 F 88 %", Units.US, (85, 88)),
        ("85F,88%", Units.US, (85, 88)),
        ("85 88", Units.US, (85, 88)),
        ("29 C 88", Units.US, (84.2, 88)),
        ("29 88", Units.METRIC, (84.2, 88)),
        ("85 °F; 88.5", Units.METRIC, (85, 88.5)),
        ("85 F", Units.US, (85, None)),
        ("85 F wet 82 F", Units.US, (85, 88.1)),  # by the library, as for the outside checks
        ("85 wet 83", Units.US, (85, 92.01)),
    ],
)
def test_a_reading_is_read_as_typed(text: str, units: Units, reading: tuple[float, float | None]) -> None:
    temperature, humidity = parse_reading(text, units)
    assert temperature == reading[0]
    assert humidity == (reading[1] and pytest.approx(reading[1], abs=0.06))


NO_READINGS = ("", "warm", "85 F 0", "85 F 101", "85 K 88", "500 F 88", "85 F 88 % and more", "--")


@pytest.mark.parametrize("text", [*NO_READINGS, "80 wet 82", "110 wet 40"])
def test_what_is_no_reading_is_refused(text: str) -> None:
    with pytest.raises(NotAValue):
        parse_reading(text, Units.US)


# Volumes by pint, which takes its factors from NIST SP 811.
@pytest.mark.parametrize(
    ("text", "quantity"),
    [
        ("10 x 12 x 8 ft", "960 foot**3"),
        ("10x12x8ft", "960 foot**3"),
        ("3 × 4 × 2.5 m", "30 meter**3"),
        ("27 m3", "27 meter**3"),
        ("27 m³", "27 meter**3"),
        ("100 ft3", "100 foot**3"),
        ("40 x 24 x 24 in", "23040 inch**3"),
        ("60x60x120 cm", "432000 centimeter**3"),
    ],
)
def test_the_size_of_a_place_is_what_pint_says(text: str, quantity: str) -> None:
    theirs = UNITS.Quantity(quantity).to("foot**3").magnitude
    assert parse_space(text) == pytest.approx(theirs)


@pytest.mark.parametrize("text", ["", "big", "10 ft", "10 x 12 ft", "10x12x8 ft3", "0 m3", "9999999 m3", "10 x x 8 ft"])
def test_what_is_no_size_is_refused(text: str) -> None:
    with pytest.raises(NotAValue):
        parse_space(text)

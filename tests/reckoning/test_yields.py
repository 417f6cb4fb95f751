"""Weights of roots, plants and rows."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.reckoning.ranges import Range
from assistant.reckoning.yields import (
    WEIGHT_ERROR,
    Bed,
    Root,
    grams_per_plant,
    root_diameter,
    root_grams,
    weight_error,
    weight_of,
)

DIAMETERS = st.floats(0.3, 8)


@given(DIAMETERS)
def test_a_diameter_comes_back_from_its_weight(diameter: float) -> None:
    assert root_diameter(root_grams(diameter)) == pytest.approx(diameter)


@given(DIAMETERS, st.floats(1, 12), st.floats(1.01, 2))
def test_thicker_and_longer_roots_weigh_more(diameter: float, length: float, factor: float) -> None:
    assert root_grams(diameter * factor, length) > root_grams(diameter, length)
    assert root_grams(diameter, length * factor) > root_grams(diameter, length)


# 2.5 in across and 6 in long: pi/6 x 2.5^2 x 6 in^3 = 19.6 in^3 = 322 ml, a root of 11 oz.
def test_a_middling_root_weighs_eleven_ounces() -> None:
    assert root_grams(2.5, 6) / 28.35 == pytest.approx(11.35, abs=0.05)


def test_a_scale_goes_before_a_tape_and_the_poorest_measure_sets_the_error() -> None:
    assert weight_of(Root(2.5, 6, 300)) == 300
    assert weight_error([Root(2.5, 6, 300), Root(2.5, 6)]) == WEIGHT_ERROR["length"]
    assert weight_error([Root(2.5, 6, 300), Root(2.5)]) == WEIGHT_ERROR["diameter"]
    assert weight_error([]) == 0


def test_hills_without_roots_bring_the_plant_down() -> None:
    full, half = grams_per_plant([[Root(grams=400)]]), grams_per_plant([[Root(grams=400)], []])
    assert full is not None
    assert half is not None
    assert half.likely == full.likely / 2 == 200
    assert grams_per_plant([]) is None


def test_weighing_narrows_the_range() -> None:
    weighed = grams_per_plant([[Root(2.5, grams=root_grams(2.5))]] * 3)
    measured = grams_per_plant([[Root(2.5)]] * 3)
    assert weighed is not None
    assert measured is not None
    assert measured.low < weighed.low < weighed.likely < weighed.high < measured.high


def test_a_row_a_bed_and_an_acre_follow_from_a_plant() -> None:
    plant, bed = Range(0.5, 1, 2), Bed(spacing=8, row_width=36, row_feet=100)
    assert bed.per_foot(plant) == Range(0.75, 1.5, 3)
    assert bed.in_bed(plant) == Range(75, 150, 300)
    assert bed.per_acre(plant) == Range(0.75 * 14_520, 1.5 * 14_520, 3 * 14_520)
    assert Bed(8).in_bed(plant) is None
    assert Bed(8).per_acre(plant) is None

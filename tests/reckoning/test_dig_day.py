"""Pounds, crates and hours of a bed, against figures reckoned by hand."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.model.readings import Span
from assistant.reckoning.dig_day import dig_day, usual_plant
from assistant.reckoning.ranges import Range
from assistant.reckoning.yields import GRAMS_PER_POUND, Bed

POUND = Range(GRAMS_PER_POUND, GRAMS_PER_POUND, GRAMS_PER_POUND)


def test_fifty_plants_of_a_pound() -> None:
    """50 lb in the ground; 40 to 50 lb come up where a fork misses up to a fifth; two crates of 25 lb hold either."""
    day = dig_day(POUND, Bed(spacing=12, row_feet=50))
    assert day is not None
    assert day.plants == 50
    assert day.grown.likely == pytest.approx(50 * GRAMS_PER_POUND)
    assert day.brought_in.low == pytest.approx(40 * GRAMS_PER_POUND)
    assert day.crates == Span(2, 2)
    assert day.hours == Span(50 / 30, 50 / 12)


def test_a_plant_of_which_nothing_is_known_weighs_what_handbooks_say() -> None:
    assert usual_plant().low == pytest.approx(0.5 * GRAMS_PER_POUND)
    assert usual_plant().high == pytest.approx(2.5 * GRAMS_PER_POUND)


def test_without_the_length_of_its_rows_a_bed_cannot_be_planned() -> None:
    assert dig_day(POUND, Bed(spacing=12)) is None


plants = st.tuples(st.floats(1, 2000), st.floats(1, 2000), st.floats(1, 2000)).map(lambda ends: Range(*sorted(ends)))


@given(plants, st.floats(6, 24), st.floats(1, 500))
def test_no_more_is_carried_in_than_has_grown_and_the_crates_hold_it(
    per_plant: Range, spacing: float, row_feet: float
) -> None:
    day = dig_day(per_plant, Bed(spacing, row_feet=row_feet))
    assert day is not None
    for carried, grown in zip(day.brought_in, day.grown, strict=True):
        assert 0.8 * grown <= carried * (1 + 1e-9) <= grown * (1 + 2e-9)
    assert day.crates.high * 25 * GRAMS_PER_POUND >= day.brought_in.high * (1 - 1e-9)
    assert day.crates.low >= 1

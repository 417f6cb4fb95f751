"""Ranges for means of a few unlike things."""

from __future__ import annotations

from random import Random
from statistics import mean

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.reckoning.ranges import Range, mean_range

WEIGHTS = st.lists(st.floats(1, 5000), min_size=1, max_size=12)


@given(WEIGHTS)
def test_the_range_contains_the_mean_and_stays_above_zero(weights: list[float]) -> None:
    found = mean_range(weights, 0.5)
    assert found is not None
    assert 0 < found.low <= found.likely <= found.high
    assert found.likely == pytest.approx(mean(weights))


@given(WEIGHTS, st.integers(2, 4))
def test_the_same_plants_again_never_widen_the_range(weights: list[float], times: int) -> None:
    once, again = mean_range(weights, 0.5), mean_range(weights * times, 0.5)
    assert once is not None
    assert again is not None
    assert again.high / again.low <= once.high / once.low + 1e-9


def test_one_plant_has_a_range_and_two_alike_are_not_certain() -> None:
    one, two = mean_range([500], 0.5), mean_range([500, 500], 0.5)
    assert one is not None
    assert two is not None
    assert one.high > two.high > 600


def test_nothing_weighed_has_no_mean_and_empty_hills_weigh_nothing() -> None:
    assert mean_range([], 0.5) is None
    assert mean_range([0, 0], 0.5) == Range(0, 0, 0)


# Truth: plants of gamma-distributed weight, mean 1, spreading by 0.4 to 0.6 as is usual (from memory) and by 0.9.
# Of 800 digs (standard error 0.011) about nine in ten ranges hold the mean; no less than 0.85 where plants are unruly.
@pytest.mark.parametrize(("spread", "least"), [(0.4, 0.88), (0.5, 0.88), (0.6, 0.86), (0.9, 0.75)])
@pytest.mark.parametrize("plants", [2, 4, 6])
def test_the_range_holds_the_mean_plant(spread: float, least: float, plants: int) -> None:
    chance = Random(plants)
    held = []
    for _ in range(800):
        found = mean_range([chance.gammavariate(1 / spread**2, spread**2) for _ in range(plants)], 0.5)
        assert found is not None
        held.append(found.low <= 1 <= found.high)
    assert mean(held) >= least

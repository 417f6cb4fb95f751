"""Growth by published limits and by two digs."""

from __future__ import annotations

from random import Random
from statistics import mean

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.model.case import TestDig
from assistant.model.readings import Span
from assistant.reckoning.growth import (
    SEASON_GROWTH,
    days_at_published_growth,
    days_to_size,
    grams_per_plant_per_day,
    grown,
    growth_per_day,
    mean_size,
    share_expected,
    widening,
)
from assistant.reckoning.test_dig import share_at_size
from assistant.reckoning.yields import hill_grams

NO_1 = Span(1.75, 3.5)
SMALL = TestDig(NO_1, ((1.1, 0.8, 1.3), (0.9, 1.2, 1.0), (1.2, 0.7, 1.4, 1.1)))
LATER = TestDig(NO_1, ((1.6, 1.3, 2.1), (1.7, 1.8, 1.4), (1.9, 1.2, 1.8, 1.7)))
DIGS = st.lists(st.lists(st.floats(0.3, 5), min_size=1, max_size=6), min_size=1, max_size=5).map(
    lambda hills: TestDig(NO_1, tuple(map(tuple, hills)))
)


@pytest.mark.parametrize(
    ("soil", "dead", "grows"),
    [
        (None, False, (0, 11, 23)),
        (Span(60, 70), False, (0, 11, 23)),
        (Span(55, 55), False, (0, 11, 23)),
        (Span(52.5, 52.5), False, (0, 5.5, 11.5)),
        (Span(48, 60), False, (0, 5.5, 23)),
        (Span(40, 49.9), False, (0, 0, 0)),
        (Span(60, 70), True, (0, 0, 0)),
    ],
)
def test_roots_grow_in_warm_soil_under_living_vines_only(
    soil: Span | None, dead: bool, grows: tuple[float, float, float]
) -> None:
    assert grams_per_plant_per_day(soil, dead) == pytest.approx(grows)


def test_four_times_the_weight_is_twice_the_width_because_length_is_settled() -> None:
    assert widening(200, 600) == 2
    assert widening(0, 10) == 1


def test_what_plants_gain_their_roots_gain_together() -> None:
    before, after = hill_grams(SMALL.hills[0]), hill_grams(grown(SMALL, 50).hills[0])
    assert after > before
    assert grown(SMALL, 0) == SMALL


@given(DIGS, st.floats(0, 40), st.floats(0, 20))
def test_the_share_expected_has_its_likely_value_inside(dig: TestDig, days: float, more: float) -> None:
    share = share_expected(dig, Span(days, days + more))
    assert 0 <= share.low <= share.likely <= share.high <= 1


@given(DIGS)
def test_in_no_days_the_share_is_what_was_dug(dig: TestDig) -> None:
    assert share_expected(dig, Span(0, 0)) == pytest.approx(share_at_size(dig))


@given(DIGS, st.floats(1, 20))
def test_knowing_the_growing_days_less_well_never_narrows_the_share(dig: TestDig, days: float) -> None:
    vague, sharp = share_expected(dig, Span(0, 2 * days)), share_expected(dig, Span(2 * days, 2 * days))
    assert vague.low <= sharp.low + 1e-9
    assert vague.high >= sharp.high - 1e-9


def test_small_roots_may_get_to_the_size_and_large_ones_beyond_it() -> None:
    assert share_expected(SMALL, Span(14, 14)).high > share_at_size(SMALL).high
    large = TestDig(NO_1, ((3.2, 3.3, 3.4), (3.3, 3.4)))
    assert share_expected(large, Span(14, 14)).likely < share_at_size(large).likely


def test_two_digs_that_overlap_cannot_tell() -> None:
    assert growth_per_day(SMALL.hills, SMALL.hills, 14).low < 0
    assert days_to_size(SMALL.hills, SMALL.hills, 14, 1.75) is None


def test_two_digs_apart_tell_the_day_as_a_range() -> None:
    growth = growth_per_day(SMALL.hills, LATER.hills, 21)
    assert 0 < growth.low < growth.likely == pytest.approx((1.65 - 1.07) / 21, abs=1e-3)
    days = days_to_size(SMALL.hills, LATER.hills, 21, 1.75)
    assert days is not None
    assert days.low <= (1.75 - 1.65) / growth.likely <= days.high


def test_a_size_that_is_reached_already_takes_no_days() -> None:
    assert days_to_size(SMALL.hills, LATER.hills, 21, 0.5) == Span(0, 0)


def test_published_growth_gives_the_soonest_and_the_usual_day() -> None:
    plant = hill_grams([1.0, 1.0])
    days = days_at_published_growth([[1.0, 1.0]], 2.0)
    assert days == Span(3 * plant / SEASON_GROWTH.high, 3 * plant / SEASON_GROWTH.likely)
    assert days_at_published_growth([[2.0]], 1.75) == Span(0, 0)
    assert days_at_published_growth([[]], 1.75) is None


# Truth: beds whose mean root widens by 0.02 in a day and hills that differ by 15 to 25 %. The range of the growth and
# of the day the size is reached hold the truth in about nine of ten of 600 digs (standard error 0.012).
@pytest.mark.parametrize("between", [0.15, 0.20, 0.25])
def test_two_digs_hold_the_true_growth_and_the_true_day(between: float) -> None:
    chance = Random(5)
    growth_held, day_held = [], []
    for _ in range(600):
        before, after = (_invented(chance, size, between) for size in (1.0, 1.42))
        growth = growth_per_day(before, after, 21)
        growth_held.append(growth.low <= 0.02 <= growth.high)
        days = days_to_size(before, after, 21, 1.75)
        day_held.append(days is None or days.low - 1 <= (1.75 - 1.42) / 0.02 <= days.high + 1)
    assert mean(growth_held) >= 0.86
    assert mean(day_held) >= 0.86


def _invented(chance: Random, size: float, between: float) -> list[list[float]]:
    return [
        [max(hill + chance.gauss(0, 0.2) * size, 0.1) for _ in range(5)]
        for hill in (chance.gauss(size, between * size) for _ in range(4))
    ]


def test_the_mean_of_unlike_hills_is_less_sure() -> None:
    assert mean_size([[1, 1], [3, 3]]).error > mean_size([[2, 2], [2, 2]]).error

"""The figures every policy is held to: each against what is published, or what follows from it."""

from itertools import pairwise
from math import exp, log, pi, sqrt

import pytest
from autumns_by_hand import STEADY, WANTED
from scipy.integrate import quad

from assistant.model.readings import Span
from assistant.outlook.replay.yardstick import (
    CANNER,
    OFF_SIZE_WORTH,
    ROOT_SPREAD,
    View,
    chance_of_frost,
    kept_after_chill,
    kept_after_frost,
    kept_after_night,
    warmth,
    whole,
    worth_of_roots,
)
from assistant.reckoning.growth import SEASON_GROWTH
from assistant.reckoning.yields import root_diameter, root_grams


def test_growth_is_best_at_77_and_none_at_the_base() -> None:
    """FAO T0554E: best at 25 °C (77 °F), none below 10 °C (50 °F)."""
    soils = [warmth(soil, 50) for soil in range(40, 110)]
    assert max(range(40, 110), key=lambda soil: warmth(soil, 50)) == 77
    assert warmth(50, 50) == warmth(45, 50) == 0
    assert all(0 <= growth < 1.2 for growth in soils)


def test_the_soil_of_a_summer_counts_as_one_day_of_growth() -> None:
    """Published rates and days are those of summers near 80 °F, so there a day is a day whatever the base."""
    assert warmth(80, 50) == pytest.approx(1) == warmth(80, 60)


def test_sixty_summer_days_of_the_usual_rate_give_the_national_crop() -> None:
    """438 bushels of 50 lb an acre at 14,520 plants (New Hampshire 2015) is 684 g a plant; 60 x 11 g is 660."""
    national = 438 * 50 * 453.59 / 14_520
    assert pytest.approx(national, rel=0.05) == 60 * SEASON_GROWTH.likely


def test_growth_is_full_until_the_variety_has_had_its_days_then_late_then_over() -> None:
    late = STEADY._replace(late=0.5)
    assert late.pace(39, 0) == 0
    assert late.pace(60, 20) == 1
    assert late.pace(125, 60) == pytest.approx(0.5 * 0.5)
    assert late.pace(150, 60) == 0


def test_worth_is_the_weight_in_roots_of_the_wanted_size() -> None:
    """Against the integral over the lognormal distribution itself, by scipy."""
    mean, variance = 150.0, log(1 + ROOT_SPREAD**2)
    middle = log(mean) - variance / 2

    def worth_at(grams: float) -> float:
        wide = root_diameter(grams)
        share = 1.0 if WANTED.low <= wide <= WANTED.high else OFF_SIZE_WORTH if wide >= CANNER else 0.0
        density = exp(-((log(grams) - middle) ** 2) / 2 / variance) / (grams * sqrt(2 * pi * variance))
        return grams * share * density

    ends = [1e-6, *map(root_grams, (CANNER, WANTED.low, WANTED.high)), 20_000]
    parts = (quad(worth_at, low, high, limit=200)[0] for low, high in pairwise(ends))
    assert worth_of_roots(mean, WANTED) == pytest.approx(sum(parts), rel=1e-4)


def test_roots_far_beyond_the_wanted_size_count_half() -> None:
    assert worth_of_roots(5_000, Span(1.75, 3.5)) == pytest.approx(2_500, rel=0.01)
    assert worth_of_roots(0, WANTED) == 0


@pytest.mark.parametrize(("low", "chance"), [(28, 1), (32.4, 1), (33, 0.8), (36, 0.2), (36.5, 0), (40, 0)])
def test_frost_is_sure_at_32_and_never_at_37(low: float, chance: float) -> None:
    """National Weather Service: frost at 33 to 36 °F on clear, still nights, a freeze at 32."""
    assert chance_of_frost(low) == pytest.approx(chance)


def test_a_low_kept_in_tenths_of_a_degree_celsius_counts_in_whole_fahrenheit() -> None:
    """28 °F is stored as -2.2 °C, which is 28.04 °F."""
    assert whole(28.04) == 28
    assert whole(-0.4) == 0
    assert whole(-1.6) == -2


def test_a_light_frost_costs_nothing_at_once_under_one_view_and_a_tenth_under_the_other() -> None:
    """Georgia: dug promptly they keep as well. Alabama 1923: they never do, and less with each day."""
    assert kept_after_frost(View.HARMLESS, 0) == kept_after_frost(View.HARMLESS, 4) == 1
    assert kept_after_frost(View.HARMLESS, 5) == pytest.approx(0.95)
    assert kept_after_frost(View.HURTS, 0) == pytest.approx(0.9)
    assert all(kept_after_frost(view, day + 1) <= kept_after_frost(view, day) for view in View for day in range(30))
    assert all(kept_after_frost(View.HURTS, day) <= kept_after_frost(View.HARMLESS, day) for day in range(60))


def test_a_hard_freeze_halves_and_a_deep_one_ends_the_crop() -> None:
    assert [kept_after_night(low) for low in (29, 28.04, 25, 24.4, 10)] == [1, 0.5, 0.5, 0, 0]


def test_three_days_of_chilly_soil_begin_to_harm() -> None:
    """Mississippi State: hard centres after three days at 50 °F."""
    assert kept_after_chill(2) == 1
    assert kept_after_chill(3) == pytest.approx(0.9)
    assert kept_after_chill(40) == 0

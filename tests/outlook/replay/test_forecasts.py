"""Simulated forecasts: right on average, as wrong as published by lead day, and the surer the nearer."""

from functools import lru_cache
from math import sqrt
from random import Random
from statistics import fmean, linear_regression

import pytest
from autumns_by_hand import PLANTED, lively, warm_but

from assistant.outlook.replay.autumns import Autumn, autumns
from assistant.outlook.replay.forecasts import NIGHTS, Forecasts, forecasts
from assistant.reckoning.forecast_odds import forecast_spread

FALL = range(70, 140)


@lru_cache(maxsize=1)
def issued() -> list[tuple[Autumn, Forecasts]]:
    found, _ = autumns(lively(years=range(2001, 2025)), PLANTED)
    return [(autumn, forecasts(autumn, Random(autumn.year))) for autumn in found]


def errors(lead: int) -> list[float]:
    return [lows[day][lead] - autumn.lows[day + 1 + lead] for autumn, lows in issued() for day in FALL]


@pytest.mark.parametrize("lead", range(NIGHTS))
def test_forecasts_err_as_published(lead: int) -> None:
    """The error by lead day, or the climate's own scatter where that is less."""
    usual = sqrt(fmean(autumn.usual[day + 1 + lead].spread ** 2 for autumn, _ in issued() for day in FALL))  # type: ignore[union-attr]
    assert sqrt(fmean(error**2 for error in errors(lead))) == pytest.approx(min(forecast_spread(lead), usual), rel=0.1)


@pytest.mark.parametrize("lead", [0, 3, 6])
def test_forecasts_are_right_on_average_whatever_they_say(lead: int) -> None:
    told = [lows[day][lead] - _mean(autumn, day + 1 + lead) for autumn, lows in issued() for day in FALL]
    came = [autumn.lows[day + 1 + lead] - _mean(autumn, day + 1 + lead) for autumn, _ in issued() for day in FALL]
    assert linear_regression(told, came).slope == pytest.approx(1, abs=0.15)
    assert abs(fmean(errors(lead))) < 0.5


def _mean(autumn: Autumn, day: int) -> float:
    usual = autumn.usual[day]
    assert usual is not None
    return usual.mean


def test_nights_forecast_on_one_day_err_together() -> None:
    neighbours = list(zip(errors(4), errors(5), strict=True))
    together = fmean(one * other for one, other in neighbours)
    assert together / sqrt(fmean(e**2 for e in errors(4)) * fmean(e**2 for e in errors(5))) > 0.3


def test_without_other_years_a_forecast_is_the_truth_and_its_error() -> None:
    autumn = warm_but({90: 30})
    told = forecasts(autumn, Random(5))
    assert abs(fmean(told[day][0] - autumn.lows[day + 1] for day in range(100))) < 1.5
    assert told[89][0] < 45


def test_the_same_chance_gives_the_same_forecasts() -> None:
    autumn, told = issued()[0]
    assert forecasts(autumn, Random(autumn.year)) == told

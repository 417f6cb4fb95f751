"""From forecast lows to odds: how often the night turns out at or below a threshold. °F throughout."""

from __future__ import annotations

from collections.abc import Sequence
from math import pi, sqrt
from statistics import NormalDist
from typing import NamedTuple

from assistant.reckoning.nights_in_a_row import chances_by_night

MEAN_ABSOLUTE_ERROR = (3.0, 3.0, 3.3, 3.7, 4.2, 4.8, 5.4, 6.0)
"""°F by lead day, from tonight (0) to seven days: from memory, give or take 1 °F; no readable table was found."""
SPREAD_PER_ERROR = sqrt(pi / 2)
"""Standard deviation of a normal error by its mean absolute error."""
NIGHT_TO_NIGHT = 0.6
"""Correlation of one night's departure with the next one's (Clemson record, .55 to .65)."""
ROUNDING = 0.5
"""Lows are recorded in whole degrees, so 32 holds up to 32.5."""


class Climate(NamedTuple):
    """The lows of one date over many years: their mean and standard deviation."""

    mean: float
    spread: float


def forecast_spread(lead_day: int) -> float:
    """Standard deviation of a forecast low so many days ahead; beyond a week as on the seventh day."""
    error = MEAN_ABSOLUTE_ERROR[min(max(lead_day, 0), len(MEAN_ABSOLUTE_ERROR) - 1)]
    return error * SPREAD_PER_ERROR


def expected_low(low: float, spread: float, climate: Climate | None) -> Climate:
    """What a forecast low says in view of the usual lows of the date, as a mean and spread.

    A service's forecast is right on average, so it is taken as it stands while it errs less than the
    usual lows scatter. Beyond that it is drawn towards their mean in proportion, and never errs more
    than they do: a forecast is no worse than the climate.
    """
    if climate is None or spread <= climate.spread:
        return Climate(low, spread)
    weight = (climate.spread / spread) ** 2
    return Climate(climate.mean + weight * (low - climate.mean), climate.spread)


def chance_at_or_below(threshold: float, expected: Climate) -> float:
    """The chance (0 to 1) that a low, recorded in whole degrees, is at or below the threshold."""
    return NormalDist(expected.mean, expected.spread).cdf(threshold + ROUNDING)


def chance_on_some_night(chances: Sequence[float], correlation: float = NIGHT_TO_NIGHT) -> float:
    """The chance (0 to 1) that at least one of several nights in a row is at or below the threshold.

    Nights go together, so the chances are not multiplied as if they were strangers: one night's departure
    is correlated with the next one's.
    """
    together = chances_by_night(chances, correlation)
    return together[-1] if together else 0.0

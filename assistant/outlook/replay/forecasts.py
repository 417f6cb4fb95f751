"""Forecasts as a service might have issued them: right on average, with the published error by lead day.

Made from what truly came: the service knows each low through a signal whose error shrinks day by day, and forecasts
the mean of what the signal and the usual lows of the date leave possible. So later forecasts of a night only add to
earlier ones, no forecast errs more than the climate scatters, and nights forecast on one day err together. °F.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt
from random import Random

from assistant.outlook.replay.autumns import Autumn
from assistant.outlook.replay.yardstick import LAST_DAY
from assistant.reckoning.forecast_odds import NIGHT_TO_NIGHT, Climate, forecast_spread

NIGHTS = 7
"""Nights that a forecast covers, tonight first."""
LITTLE_KNOWN = 0.98
"""The largest error beside the climate's own scatter; there the forecast says next to nothing."""

Forecasts = Sequence[Sequence[int]]
"""For each day after planting, the lows forecast that day for tonight and the nights after, in whole °F."""


def forecasts(autumn: Autumn, random: Random) -> Forecasts:
    """The forecasts of an autumn, issued daily from planting on."""
    news = _news(random)
    issued: list[list[int]] = [[0] * NIGHTS for _ in range(LAST_DAY + 1)]
    for morning in range(1, LAST_DAY + 1 + NIGHTS):
        for lead, low in enumerate(_of_one_night(autumn.lows[morning], autumn.usual[morning], morning, news)):
            if 0 <= morning - 1 - lead <= LAST_DAY:
                issued[morning - 1 - lead][lead] = round(low)
    return issued


def _of_one_night(low: float, usual: Climate | None, morning: int, news: Sequence[Sequence[float]]) -> list[float]:
    """What is forecast of a night on the day before it, the day before that, and so on."""
    told, error, so_far = [], 0.0, 0.0
    for lead in range(NIGHTS):
        variance, weight = _signal(forecast_spread(lead), usual)
        error += sqrt(max(0.0, variance - so_far)) * news[morning - 1 - lead + NIGHTS][lead]
        so_far = max(variance, so_far)
        told.append(low + error if usual is None else usual.mean + weight * (low + error - usual.mean))
    return told


def _signal(error: float, usual: Climate | None) -> tuple[float, float]:
    """The variance of the signal's error that leaves the forecast with this error, and the weight of the signal."""
    if usual is None:
        return error**2, 1.0
    share = min(error / max(usual.spread, 0.1), LITTLE_KNOWN) ** 2
    return usual.spread**2 * share / (1 - share), 1 - share


def _news(random: Random) -> list[list[float]]:
    """For each day of issue and each lead, a standard normal number; those of one day go with their neighbours."""
    rows = []
    for _ in range(LAST_DAY + 1 + 2 * NIGHTS):
        row = [random.gauss(0, 1)]
        while len(row) < NIGHTS:
            row.append(NIGHT_TO_NIGHT * row[-1] + sqrt(1 - NIGHT_TO_NIGHT**2) * random.gauss(0, 1))
        rows.append(row)
    return rows

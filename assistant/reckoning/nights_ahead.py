"""The nights ahead: what low to expect of each, from the forecast as far as it goes and the usual lows beyond. °F."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property

from assistant.model.weather import Forecast, ForecastNight
from assistant.reckoning.forecast_odds import (
    Climate,
    chance_at_or_below,
    chance_on_some_night,
    expected_low,
    forecast_spread,
)

WEEK = 7


@dataclass(frozen=True, eq=False)
class NightsAhead:
    """The nights after a day. Night 0 is the coming one, whose low falls on the next morning."""

    on: date
    forecast: Forecast | None
    usual: Callable[[date], Climate | None]

    @cached_property
    def _forecast(self) -> dict[date, ForecastNight]:
        return {night.morning: night for night in self.forecast.nights} if self.forecast else {}

    def expected(self, night: int) -> Climate | None:
        """The low to expect of a night, as a mean and spread; None where neither forecast nor record tells."""
        morning = self.on + timedelta(days=night + 1)
        climate, told = self.usual(morning), self._forecast.get(morning)
        if told is None or self.forecast is None:
            return climate
        lead = (morning - self.forecast.issued).days - 1
        return expected_low(told.low, told.spread or forecast_spread(lead), climate)

    def chance(self, threshold: float, nights: Iterable[int] = range(WEEK)) -> float | None:
        """The chance (0 to 1) of a low at or below the threshold on some of the nights.

        None when nothing is known of one of them.
        """
        expected = [self.expected(night) for night in nights]
        known = [each for each in expected if each is not None]
        if len(known) < len(expected):
            return None
        return chance_on_some_night([chance_at_or_below(threshold, each) for each in known])

    def forecast_nights(self, nights: int = WEEK) -> tuple[ForecastNight, ...]:
        """Those of the coming nights that the forecast covers, in order."""
        mornings = (self.on + timedelta(days=night + 1) for night in range(nights))
        return tuple(self._forecast[morning] for morning in mornings if morning in self._forecast)

    def lowest_forecast(self, nights: int = WEEK) -> tuple[int, ForecastNight] | None:
        """The coldest forecast night of the coming ones and how many nights off it is; None without a forecast."""
        coldest = min(self.forecast_nights(nights), key=lambda each: each.low, default=None)
        return None if coldest is None else ((coldest.morning - self.on).days - 1, coldest)

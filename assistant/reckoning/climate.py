"""The usual lows of each date, from a station's record. °F."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from math import sqrt

from assistant.model.weather import Day
from assistant.reckoning.forecast_odds import Climate

EITHER_SIDE = 7
"""Days before and after a date whose lows count as its own, to smooth what few years tell."""
FEWEST = 30
"""Lows a date needs before it has a climate: two years of such fortnights."""
_YEAR = 366


class UsualLows:
    """Mean and spread of the lows about each date of a year, over all years of a record."""

    def __init__(self, days: Iterable[Day]) -> None:
        self._counts = [0] * _YEAR
        self._sums = [0.0] * _YEAR
        self._squares = [0.0] * _YEAR
        for day in days:
            if day.low is not None:
                slot = _slot(day.on)
                self._counts[slot] += 1
                self._sums[slot] += day.low
                self._squares[slot] += day.low**2

    def on(self, day: date) -> Climate | None:
        """The usual low about a date and its spread; None where fewer than 30 lows tell of it."""
        slots = [(_slot(day) + step) % _YEAR for step in range(-EITHER_SIDE, EITHER_SIDE + 1)]
        count = sum(self._counts[slot] for slot in slots)
        if count < FEWEST:
            return None
        mean = sum(self._sums[slot] for slot in slots) / count
        variance = max(sum(self._squares[slot] for slot in slots) / count - mean**2, 0.0)
        return Climate(mean, sqrt(variance * count / (count - 1)))


def _slot(day: date) -> int:
    """The place of a date in a leap year, so that a date has the same place in every year."""
    return date(2000, day.month, day.day).timetuple().tm_yday - 1

"""The odds of a frost by a day of the season, from the dates of past seasons or from three dates a grower knows."""

from __future__ import annotations

from datetime import date, timedelta
from math import ceil, erfc, sqrt
from statistics import NormalDist, mean, stdev
from typing import NamedTuple

from assistant.model.case import FrostDates, MonthDay
from assistant.model.quantities import NotAValue
from assistant.reckoning.freeze_dates import (
    THRESHOLDS,
    Counted,
    FreezeDates,
    Hemisphere,
    SeasonDates,
    freeze_dates,
    hemisphere_of,
    season_starts,
)
from assistant.reckoning.intervals import exact_interval, wilson

__all__ = [
    "THRESHOLDS",
    "Counted",
    "FreezeDates",
    "Hemisphere",
    "Odds",
    "SeasonDates",
    "exact_interval",
    "freeze_dates",
    "hemisphere_of",
    "season_starts",
    "wilson",
]

FEWEST_SEASONS = 5
"""Fewer seasons give dates but no odds. Our choice."""
FEWEST_FREEZES = 5
USUAL_SPREAD = 12.0
"""Days; the standard deviation of first freezes where too few seasons froze to tell it: 9 to 10 on the High Plains,
10.7 to 11.8 in South Carolina, 15 to 18.5 in England and the Low Countries."""
SMALLEST_SPREAD = 1.0
"""Days; the same date in every year on record is chance. Our choice."""
HALF_DAY = 0.5
"""Dates are whole days, so by the end of a day counts the day itself."""
_STANDARD = NormalDist()
_Z90 = _STANDARD.inv_cdf(0.9)


class Odds(NamedTuple):
    """When a season's date comes, such as the first freeze of the fall: the share of seasons that have one, times a
    normal distribution of its day.

    Days are counted from 1 January of the year that names the season. The spread (standard deviation, days) may
    differ before and after the middle. `none_by` is the day up to which there has been none. Method: a freeze share
    and a distribution of dates, as in NOAA's 1971-2000 freeze tables; a normal one fits (Vestal 1971, Mon. Wea. Rev.
    99:650; published tables of Florence and Marion SC are met to .05 points).
    """

    middle: float
    early_spread: float
    late_spread: float
    share: float = 1.0
    seasons: int | None = None
    freezes: int | None = None
    none_by: int | None = None

    @classmethod
    def from_seasons(cls, seasons: SeasonDates) -> Odds | None:
        """The odds that past seasons give; None when fewer than five are known.

        Where fewer than five of them froze, the spread is the usual one. Where none did, the chance is 0,
        which `wilson(0, seasons)` puts a range to.
        """
        if seasons.number < FEWEST_SEASONS:
            return None
        days = seasons.day_numbers
        spread = max(stdev(days), SMALLEST_SPREAD) if len(days) >= FEWEST_FREEZES else USUAL_SPREAD
        middle = mean(days) if days else 0.0
        return cls(middle, spread, spread, len(days) / seasons.number, seasons.number, len(days))

    @classmethod
    def from_dates(cls, dates: FrostDates) -> Odds:
        """The odds from the dates by which a frost has come in 1, 5 and 9 years of 10, all three met exactly.

        A normal distribution with one spread before the middle and another after it. Raises `NotAValue` when
        the dates are not in order.
        """
        middle = dates.p50.in_year(_PLAIN_YEAR)
        early, late = middle - dates.p10.nearest(middle), dates.p90.nearest(middle) - middle
        if early <= timedelta() or late <= timedelta():
            raise NotAValue("the dates of 1, 5 and 9 years in 10 must follow one another, such as 10-08, 10-20, 11-02")
        return cls(_number(middle, _PLAIN_YEAR) + HALF_DAY, early.days / _Z90, late.days / _Z90)

    def by(self, day: date) -> float:
        """The chance (0 to 1) that it has come by the end of a day; 0 for days up to which there was none."""
        return self.by_number(self.number_of(day))

    def by_number(self, number: float) -> float:
        """The same for a day counted from 1 January of the year that names the season."""
        if self.none_by is None:
            return self.share * erfc(-self._spreads(number) / sqrt(2)) / 2
        if number <= self.none_by:
            return 0.0
        before = self._still_none(self.none_by)
        return 1 - self._still_none(number) / before if before else 1.0

    def after(self, day: date) -> Odds:
        """The odds once a day has ended and there has been none so far."""
        number = self.number_of(day)
        return self._replace(none_by=number if self.none_by is None else max(number, self.none_by))

    def quantile(self, chance: float, year: int) -> date | None:
        """The first day of a season by which the chance (between 0 and 1) is reached; None when it never is."""
        number = self.quantile_number(chance)
        if number is None:
            return None
        return date(year, 1, 1) + timedelta(days=ceil(number - HALF_DAY - 1e-9) - 1)

    def dates(self, year: int | None = None) -> FrostDates | None:
        """By when it has come in 1, 5 and 9 seasons of 10, told of any year or of one; None when one never comes."""
        days = (self.quantile(chance, year or _PLAIN_YEAR) for chance in (0.1, 0.5, 0.9))
        known = [MonthDay.of(day) for day in days if day]
        return FrostDates(*known) if len(known) == 3 else None

    def quantile_number(self, chance: float) -> float | None:
        """The same as a point in time on the normal curve, counted in days from 1 January."""
        if not 0 < chance < 1:
            raise ValueError(f"a chance lies between 0 and 1, not at {chance}")
        before = 1.0 if self.none_by is None else self._still_none(self.none_by)
        if self.none_by is not None and not before:
            return self.none_by + 1.0  # so far out in the tail that it is as good as certain on the next day
        left = (1 - chance) * before - (1 - self.share)
        if left <= 0 or not self.share:
            return None
        z = -_STANDARD.inv_cdf(min(left / self.share, 1 - 1e-15))
        return self.middle + z * (self.early_spread if z < 0 else self.late_spread)

    def standard_error(self, chance: float) -> float | None:
        """Days by which the date of a chance may be off, for want of seasons; None when not from seasons.

        The normal quantile's: spread * sqrt(1/n + z^2 / (2 (n - 1))), n being the freezes on record.
        """
        if not self.freezes or self.freezes < FEWEST_FREEZES:
            return None
        z = _STANDARD.inv_cdf(chance)
        return self.late_spread * sqrt(1 / self.freezes + z**2 / (2 * (self.freezes - 1)))

    def season_of(self, day: date) -> int:
        """The year that names the season of a day: the one in which the day lies nearest to the middle."""
        years = (day.year - 1, day.year, day.year + 1)
        return min(years, key=lambda year: abs(_number(day, year) - self.middle))

    def number_of(self, day: date) -> int:
        """A day counted from 1 January of the year that names its season."""
        return _number(day, self.season_of(day))

    def _still_none(self, number: float) -> float:
        """The chance, before the season, that there is none by the end of a day, exact far out in the tail."""
        return (1 - self.share) + self.share * erfc(self._spreads(number) / sqrt(2)) / 2

    def _spreads(self, number: float) -> float:
        """How many spreads after the middle a day ends."""
        apart = number + HALF_DAY - self.middle
        return apart / (self.early_spread if apart < 0 else self.late_spread)


_PLAIN_YEAR = 2031  # any year without a leap day


def _number(day: date, year: int) -> int:
    return (day - date(year, 1, 1)).days + 1

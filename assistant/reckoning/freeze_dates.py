"""The first freeze of each fall and the last of each spring, from a station's daily lows.

A day freezes at a threshold when its low, rounded to whole °F, is at or below it: GHCN-Daily keeps 28 °F as
-2.2 °C, which is 28.04 °F. A low belongs to the day that it is stamped with.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Mapping, Sequence
from datetime import date, timedelta
from enum import Enum
from math import sqrt
from statistics import linear_regression, mean, pstdev
from typing import NamedTuple

from assistant.model.case import MonthDay
from assistant.model.quantities import NotAValue
from assistant.model.readings import Span
from assistant.model.weather import StationRecord
from assistant.reckoning.intervals import CONFIDENCE, wilson

THRESHOLDS = (36, 32, 28)
"""°F: frost, freeze and hard freeze (US National Weather Service, weather.gov/jan/frostfreeze)."""
ROUNDING = 0.5
"""°F; 32.4 is written 32, 32.5 is written 33."""
MISSING_DAYS = 10
"""So many days missing where a freeze could have been make the season's date unknown (Utah Climate Center,
freeze-date table help)."""
MARGIN = timedelta(days=7)
"""How far before the earliest freeze of all other seasons one is still looked for. Our choice: a month missing in
summer hides no frost."""
FEWEST_FOR_TREND = 10
"""Seasons. Our choice."""
AS_WARM = 1.0
"""°F; two seasons closer than that don't tell which one is summer. Our choice."""


class Hemisphere(str, Enum):
    """Which half of the year is summer."""

    NORTH = "north"
    SOUTH = "south"

    @property
    def summer(self) -> int:
        """The month with whose first day a season of freezes starts, safely in summer."""
        return 8 if self is Hemisphere.NORTH else 2


class Counted(NamedTuple):
    """So many of so many seasons, and the range (0 to 1) for the share they stand for."""

    came: int
    seasons: int
    range: Span


class Trend(NamedTuple):
    """Days a decade, and their standard error."""

    days: float
    error: float


class SeasonDates(NamedTuple):
    """One date in each season on record, such as the first freeze; seasons by the year they are named after."""

    hemisphere: Hemisphere
    dates: Mapping[int, date]
    without: tuple[int, ...] = ()
    unknown: tuple[int, ...] = ()

    @property
    def number(self) -> int:
        """How many seasons are known, those without a freeze included."""
        return len(self.dates) + len(self.without)

    @property
    def day_numbers(self) -> list[int]:
        """The dates as days counted from 1 January (1) of the year that names the season, on past its end."""
        return [(day - date(year, 1, 1)).days + 1 for year, day in self.dates.items()]

    def percentile(self, share: float) -> float | None:
        """The day number that a share (0 to 1) of the dates do not exceed, straight between neighbours; None of none.

        As numpy's default, Hyndman and Fan's seventh definition (1996, Am. Stat. 50:361).
        """
        days = sorted(self.day_numbers)
        if not days:
            return None
        place = (len(days) - 1) * share
        below = int(place)
        above = min(below + 1, len(days) - 1)
        return days[below] + (days[above] - days[below]) * (place - below)

    def trend(self) -> Trend | None:
        """By how many days a decade the dates have moved, later being positive; None with fewer than ten.

        The least-squares line through dates and years, with its standard error.
        """
        if len(self.dates) < FEWEST_FOR_TREND:
            return None
        years, days = list(self.dates), self.day_numbers
        slope, start = linear_regression(years, days)
        left = sum((day - start - slope * year) ** 2 for year, day in zip(years, days, strict=True))
        error = sqrt(left / (len(days) - 2)) / (pstdev(years) * sqrt(len(years)))
        return Trend(slope * 10, error * 10)

    def counted(self, by: MonthDay, none_by: MonthDay | None = None, confidence: float = CONFIDENCE) -> Counted:
        """In how many seasons the date had come by a day; of those only in which it had not by another day."""
        days = [self._in_season(MonthDay.of(day)) for day in self.dates.values()]
        since = self._in_season(none_by) if none_by else (-1, 0)
        came = sum(since < day <= self._in_season(by) for day in days)
        seasons = sum(day > since for day in days) + len(self.without)
        return Counted(came, seasons, wilson(came, seasons, confidence))

    def _in_season(self, day: MonthDay) -> tuple[int, int]:
        return (day.month - self.hemisphere.summer) % 12, day.day


class FreezeDates(NamedTuple):
    """A station's freezes at or below a threshold (°F).

    `first_fall` goes by the year in which its season starts, `last_spring` by the year of its spring.
    """

    threshold: int
    first_fall: SeasonDates
    last_spring: SeasonDates


def hemisphere_of(record: StationRecord) -> Hemisphere:
    """Where summer falls, going by the lows of June to August and of December to February.

    Raises `NotAValue` when the record lacks either or they are alike.
    """
    lows: dict[int, list[float]] = {}
    for day in record.days:
        if day.low is not None:
            lows.setdefault(day.on.month, []).append(day.low)
    june, december = ([mean(lows[month]) for month in months if month in lows] for months in ((6, 7, 8), (12, 1, 2)))
    if not june or not december or abs(mean(june) - mean(december)) < AS_WARM:
        raise NotAValue("the record does not show when summer is; say --hemisphere north or --hemisphere south.")
    return Hemisphere.NORTH if mean(june) > mean(december) else Hemisphere.SOUTH


def season_starts(record: StationRecord, hemisphere: Hemisphere | None = None) -> tuple[date, ...]:
    """The first day of every season of which the record has a day: 1 August, in the south 1 February."""
    if not record.days:
        return ()
    month = (hemisphere or hemisphere_of(record)).summer
    first, last = record.days[0].on, record.days[-1].on
    years = range(first.year - (first.month < month), last.year - (last.month < month) + 1)
    return tuple(date(year, month, 1) for year in years)


def freeze_dates(record: StationRecord, threshold: int, hemisphere: Hemisphere | None = None) -> FreezeDates:
    """The first and last freezes at or below a threshold (°F), in every season of the record that is known.

    Raises `NotAValue` when the record does not show its hemisphere and none is given.
    """
    hemisphere = hemisphere or hemisphere_of(record)
    seasons = list(_seasons(record, threshold, hemisphere))
    return FreezeDates(threshold, _first_falls(seasons, hemisphere), _last_springs(seasons, hemisphere))


class _Season(NamedTuple):
    """A season's days with a low on record, and those of them that froze, in order; `end` is the next one's start."""

    start: date
    end: date
    known: Sequence[date]
    freezes: Sequence[date]

    @property
    def midwinter(self) -> date:
        """The new year, or 1 July: what lies before is fall, what lies after is spring."""
        return date(self.end.year, 1, 1) if self.start.month == Hemisphere.NORTH.summer else date(self.start.year, 7, 1)

    def missing(self, first: date, last: date) -> int:
        """How many days from the first to before the last have no low on record."""
        known = bisect_left(self.known, last) - bisect_left(self.known, first)
        return max(0, (last - first).days - known)


def _seasons(record: StationRecord, threshold: int, hemisphere: Hemisphere) -> Iterator[_Season]:
    known = [day.on for day in record.days if day.low is not None]
    freezes = [day.on for day in record.days if day.low is not None and day.low < threshold + ROUNDING]
    for start in season_starts(record, hemisphere):
        end = start.replace(year=start.year + 1)
        yield _Season(start, end, *(_between(days, start, end) for days in (known, freezes)))


def _between(days: Sequence[date], start: date, end: date) -> Sequence[date]:
    return days[bisect_left(days, start) : bisect_left(days, end)]


def _first_falls(seasons: Sequence[_Season], hemisphere: Hemisphere) -> SeasonDates:
    found: dict[int, date | None] = {}
    unknown = []
    for season in seasons:
        if season.known and season.known[0] < season.midwinter:
            first, last = _freezing_time(season, seasons)
            freeze = season.freezes[0] if season.freezes else None
            found[season.start.year] = freeze
            if season.missing(first, freeze or last) >= MISSING_DAYS:
                unknown.append(season.start.year)
    return _sorted_out(hemisphere, found, unknown)


def _last_springs(seasons: Sequence[_Season], hemisphere: Hemisphere) -> SeasonDates:
    found: dict[int, date | None] = {}
    unknown = []
    for season in seasons:
        if season.known and season.known[-1] >= season.midwinter:
            first, last = _freezing_time(season, seasons)
            freeze = season.freezes[-1] if season.freezes else None
            found[season.midwinter.year] = freeze
            if season.missing(freeze + timedelta(days=1) if freeze else first, last) >= MISSING_DAYS:
                unknown.append(season.midwinter.year)
    return _sorted_out(hemisphere, found, unknown)


def _sorted_out(hemisphere: Hemisphere, found: Mapping[int, date | None], unknown: Sequence[int]) -> SeasonDates:
    dates = {year: day for year, day in found.items() if day and year not in unknown}
    without = tuple(year for year, day in found.items() if day is None and year not in unknown)
    return SeasonDates(hemisphere, dates, without, tuple(unknown))


def _freezing_time(season: _Season, seasons: Sequence[_Season]) -> tuple[date, date]:
    """From when until when a season may freeze, going by all the others; the whole season when no other froze."""
    others = [other for other in seasons if other.freezes and other is not season]
    if not others:
        return season.start, season.end
    earliest = min(other.freezes[0] - other.start for other in others)
    latest = min(other.end - other.freezes[-1] for other in others)
    first = max(season.start, season.start + earliest - MARGIN)
    return first, min(season.end, season.end - latest + MARGIN)

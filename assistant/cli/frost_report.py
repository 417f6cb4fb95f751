"""What `frost` tells, before it is worded: a station's freezes, their odds, and the nights ahead."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from assistant.model.case import MonthDay
from assistant.model.weather import Forecast, StationRecord
from assistant.reckoning.climate import UsualLows
from assistant.reckoning.forecast_odds import chance_at_or_below
from assistant.reckoning.frost_odds import (
    THRESHOLDS,
    Counted,
    FreezeDates,
    Hemisphere,
    Odds,
    SeasonDates,
    freeze_dates,
)
from assistant.reckoning.nights_ahead import NightsAhead

STEP = 5
"""Days from one line of the table of chances to the next."""
RARE, NEARLY_SURE = 0.01, 0.99
PLAIN_YEAR = 2001  # any without a leap day


@dataclass(frozen=True)
class FrostReport:
    """A station's first and last freezes by threshold (°F); `none_by` is the day up to which there was none."""

    record: StationRecord
    freezes: Mapping[int, FreezeDates]
    none_by: date | None
    forecast: Forecast | None
    nights: NightsAhead

    @classmethod
    def of(
        cls,
        record: StationRecord,
        hemisphere: Hemisphere | None,
        none_by: date | None,
        forecast: Forecast | None,
        on: date,
    ) -> FrostReport:
        """The report on a record. Raises `NotAValue` when it does not show its hemisphere and none is given."""
        freezes = {threshold: freeze_dates(record, threshold, hemisphere) for threshold in THRESHOLDS}
        nights = NightsAhead(on, forecast, UsualLows(record.days).on)
        return cls(record, freezes, none_by, forecast, nights)

    @property
    def autumns(self) -> int:
        """How many autumns are known, at the freezing point."""
        return self.freezes[32].first_fall.number

    def odds(self, threshold: int) -> Odds | None:
        """The odds of the first freeze, after none so far where that is said; None with too few autumns."""
        odds = Odds.from_seasons(self.freezes[threshold].first_fall)
        return odds.after(self.none_by) if odds and self.none_by else odds

    @property
    def all_odds(self) -> dict[int, Odds]:
        """The odds that are known, by threshold."""
        found = {threshold: self.odds(threshold) for threshold in THRESHOLDS}
        return {threshold: odds for threshold, odds in found.items() if odds}

    def counted(self, threshold: int, by: date) -> Counted:
        """How many autumns had frozen by a day, of those that had not by the day up to which there was none."""
        none_by = MonthDay.of(self.none_by) if self.none_by else None
        return self.freezes[threshold].first_fall.counted(MonthDay.of(by), none_by)

    def night_chances(self, morning: date) -> dict[int, float]:
        """The chance of a low at or below each threshold, for a forecast night."""
        expected = self.nights.expected((morning - self.nights.on).days - 1)
        return {threshold: chance_at_or_below(threshold, expected) for threshold in THRESHOLDS} if expected else {}


def days_told(odds: Mapping[int, Odds], year: int) -> list[date]:
    """The days for a table or curve, from where the first threshold is rare to where the last is nearly sure."""
    told = [(day, _last(each, year)) for each in odds.values() if (day := each.quantile(RARE, year))]
    if not told:
        return []
    first, last = min(day for day, _ in told), max(day for _, day in told)
    return [first + timedelta(days=step) for step in range(0, (last - first).days + STEP, STEP)]


def _last(odds: Odds, year: int) -> date:
    """The day after which hardly any more freezes come, though not every season has one."""
    sure = odds._replace(share=1.0).quantile(NEARLY_SURE, year)
    assert sure
    return sure


def season_year(report: FrostReport) -> int:
    """The year whose dates stand for any season: that of the day up to which there was none, or a plain one."""
    if not report.none_by:
        return PLAIN_YEAR
    return next((odds.season_of(report.none_by) for odds in report.all_odds.values()), report.none_by.year)


def first_falls(report: FrostReport) -> dict[int, SeasonDates]:
    """The first freezes of fall by threshold."""
    return {threshold: freezes.first_fall for threshold, freezes in report.freezes.items()}


def last_springs(report: FrostReport) -> dict[int, SeasonDates]:
    """The last freezes of spring by threshold."""
    return {threshold: freezes.last_spring for threshold, freezes in report.freezes.items()}

"""A case: one garden on one day, what is known of it, and in a scenario what is expected of the rules."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from types import MappingProxyType
from typing import TYPE_CHECKING, NamedTuple

from assistant.model.place import NOWHERE, Place
from assistant.model.quantities import NotAValue, Units, parse_date
from assistant.model.readings import Known, Span

if TYPE_CHECKING:
    from assistant.model.weather import Weather


class MonthDay(NamedTuple):
    """A day of any year, such as a usual first frost."""

    month: int
    day: int

    def __str__(self) -> str:
        return f"{self.month:02d}-{self.day:02d}"

    @staticmethod
    def parse(text: str) -> MonthDay:
        """From text such as `10-20`. Raises `NotAValue` with what to write instead."""
        try:
            return MonthDay.of(parse_date(f"2032-{text}"))  # a leap year, which has every day
        except NotAValue:
            raise NotAValue(f"'{text}' is no day of the year; write it as month-day, such as 10-20") from None

    @staticmethod
    def of(day: date) -> MonthDay:
        """What a day is in any year."""
        return MonthDay(day.month, day.day)

    def in_year(self, year: int) -> date:
        """The day in that year; 29 February becomes the 28th where there is none."""
        try:
            return date(year, self.month, self.day)
        except ValueError:
            return date(year, self.month, self.day - 1)

    def nearest(self, on: date) -> date:
        """The occurrence nearest to a day, so seasons that cross the new year need no special case."""
        return min((self.in_year(on.year + step) for step in (-1, 0, 1)), key=lambda day: abs(day - on))


class FrostDates(NamedTuple):
    """Dates by which a frost has come in 1, 5 and 9 years of 10 (for a last frost: is still to come in 9, 5, 1)."""

    p10: MonthDay
    p50: MonthDay
    p90: MonthDay


class Garden(NamedTuple):
    """What stays the same about a garden from visit to visit."""

    dates: Mapping[str, FrostDates] = MappingProxyType({})

    def date_named(self, name: str) -> MonthDay | None:
        """One of the garden's own dates, such as `first_frost.p10`; None when it is not known."""
        group, _, part = name.partition(".")
        frost = self.dates.get(group)
        return getattr(frost, part) if frost else None

    def day_named(self, name: str, on: date, days: int = 0) -> date | None:
        """The same as a calendar day of the season at hand, moved by some days."""
        named = self.date_named(name)
        return named.nearest(on) + timedelta(days=days) if named else None


GARDEN_DATES = tuple(f"{group}.{part}" for group in ("first_frost", "last_frost") for part in ("p10", "p50", "p90"))


@dataclass(frozen=True)
class TestDig:
    """Root diameters (in) of each hill dug up to look, and the diameters wanted (in)."""

    __test__ = False  # not a test class, whatever its name says to pytest

    wanted: Span
    hills: tuple[tuple[float, ...], ...]


class WeatherFiles(NamedTuple):
    """Where a garden's weather is read from, as its case file says: files, and lows typed in; empty when not given.

    `lows_on` is the day the lows were typed in, tonight's first; None stands for the day of the case.
    """

    record: str = ""
    record_units: Units = Units.US
    forecast: str = ""
    lows: str = ""
    lows_on: date | None = None


class Expected(NamedTuple):
    """What a scenario says must come of its case; None means that nothing is said about it."""

    advice: str | None = None
    outcome: str | None = None
    fired: tuple[str, ...] | None = None
    not_fired: tuple[str, ...] | None = None
    open: tuple[str, ...] | None = None
    cautions: tuple[str, ...] | None = None
    disagreements: tuple[str, ...] | None = None
    act_by: date | None = None
    look_again: date | None = None
    findings: Mapping[str, str] | None = None


@dataclass(frozen=True)
class Case:
    """One garden on one day. `answers` holds only the signs that were answered or asked.

    `weather_files` says where the weather was read from, as written.
    """

    title: str
    rulebook: str
    on: date
    units: Units = Units.US
    garden: Garden = field(default_factory=Garden)
    answers: Mapping[str, Known] = field(default_factory=dict)
    test_dig: TestDig | None = None
    expected: Expected | None = None
    sources: tuple[str, ...] = ()
    place: Place = NOWHERE
    weather: Weather | None = None
    weather_files: WeatherFiles | None = None

"""Invented beds with the weather they may have, for the outlook."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from assistant.model.case import Case, FrostDates, Garden, MonthDay, TestDig
from assistant.model.readings import Known, Origin, Reading, Span, exactly, one_of
from assistant.model.weather import Day, Forecast, ForecastNight, StationRecord, Weather
from assistant.rulebook import read_rulebook

RULEBOOK = read_rulebook("sweetpotato/when-to-dig")
ON = date(2031, 10, 5)
SMALL = TestDig(Span(1.75, 3.5), ((2.1, 1.2, 1.4), (1.6, 1.3, 1.9, 1.5), (1.2, 2.2, 1.6)))
NO_FROST: dict[str, Reading] = {"vines": one_of("green"), "frost": one_of("none")}


def bed(
    on: date = ON,
    lows: Sequence[float] = (),
    record: StationRecord | None = None,
    dates: FrostDates | None = None,
    dig: TestDig | None = None,
    **answers: Reading,
) -> Case:
    """A bed planted 110 days ago, with no frost so far unless the answers say otherwise."""
    given = {"planted_on": exactly(on.toordinal() - 110), **NO_FROST, **answers}
    return Case(
        "A bed",
        RULEBOOK.name,
        on,
        garden=Garden({"first_frost": dates} if dates else {}),
        answers={name: Known(reading, Origin.ANSWERED) for name, reading in given.items()},
        test_dig=dig,
        weather=Weather(record, forecast(on, lows)) if record or lows else None,
    )


def forecast(on: date, lows: Sequence[float]) -> Forecast | None:
    """Lows of the coming nights, tonight's first."""
    nights = tuple(ForecastNight(on + timedelta(days=night + 1), low) for night, low in enumerate(lows))
    return Forecast(on, nights, "a friend") if nights else None


def dates_around(middle: date, days: int = 13) -> FrostDates:
    """A grower's own three dates about a middle one."""
    ends = (middle - timedelta(days=days), middle, middle + timedelta(days=days))
    return FrostDates(*(MonthDay(day.month, day.day) for day in ends))


def turned_over(record: StationRecord) -> StationRecord:
    """The same station in the southern hemisphere: every day half a year (182 days) later."""
    later = timedelta(days=182)
    return StationRecord(record.name, tuple(Day(day.on + later, day.low, day.high) for day in record.days))


def colder(record: StationRecord, by: float) -> StationRecord:
    """The same station with every low and high so much lower (°F)."""
    days = (
        Day(day.on, day.low - by, day.high - by) for day in record.days if day.low is not None and day.high is not None
    )
    return StationRecord(record.name, tuple(days))

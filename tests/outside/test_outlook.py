"""The outlook against what is known of two stations of South Carolina."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path

import pytest
from beds import RULEBOOK, bed

from assistant.model.case import FrostDates, MonthDay
from assistant.model.weather import StationRecord
from assistant.outlook.ahead import DayAhead, Outlook, View, outlook
from assistant.reckoning.frost_odds import freeze_dates
from assistant.weather import read_record


@cache
def clemson() -> StationRecord:
    return read_record(Path(__file__).parent / "data" / "clemson.csv")


def from_day(on: date, record: StationRecord | None = None, dates: FrostDates | None = None) -> Outlook:
    return outlook(RULEBOOK, bed(on, record=record, dates=dates))


def at(ahead: Outlook, month: int, day: int) -> DayAhead:
    return next(each for each in ahead.days if (each.on.month, each.on.day) == (month, day))


def test_with_no_freeze_by_25_october_clemson_has_one_by_5_november_in_29_autumns_of_64() -> None:
    """29/64 counted; (F(309.5) - F(298.5)) / (1 - F(298.5)) = .5036 by the normal of mean 305.24 and spread 11.62."""
    day = at(from_day(date(2031, 10, 25), clemson()), 11, 5)
    assert day.counted is not None
    assert (day.counted.came, day.counted.seasons) == (29, 64)
    assert day.by[32] == pytest.approx(0.5036, abs=0.001)


# Chances in percent that the fall's first freeze has come, weather.gov/ilm/freezeFlorence (read).
FLORENCE = {(10, 15): 0.6, (10, 20): 2.1, (10, 25): 5.9, (11, 1): 18.2, (11, 5): 29.6, (11, 10): 47.2, (11, 15): 65.4}


def test_the_three_published_dates_of_florence_give_its_published_chances() -> None:
    """Its 10, 50 and 90 % dates as a grower would write them; they are printed without their part of a day."""
    dates = FrostDates(MonthDay(10, 28), MonthDay(11, 10), MonthDay(11, 24))
    ahead = from_day(date(2031, 10, 5), dates=dates)
    for (month, day), percent in FLORENCE.items():
        assert at(ahead, month, day).by[32] == pytest.approx(percent / 100, abs=0.04)


@pytest.mark.parametrize("risk", [0.05, 0.1, 0.2])
def test_by_the_latest_safe_day_as_many_autumns_of_clemson_had_frozen_as_the_risk_says(risk: float) -> None:
    """From 1 October, 32 °F alone; two autumns in a hundred more or less are the normal curve's misfit."""
    ahead = replace(from_day(date(2031, 10, 1), clemson()), risk=risk)
    last = max(day.on for day in ahead.days if (day.by[32] or 0.0) <= risk)
    counted = freeze_dates(clemson(), 32).first_fall.counted(MonthDay(last.month, last.day), MonthDay(10, 1))
    assert counted.came / counted.seasons == pytest.approx(risk, abs=0.06)
    safe = ahead.latest_safe(View.HURTS)
    assert safe is not None
    assert safe.on <= last


def test_beyond_the_forecast_a_night_is_as_cold_as_that_date_has_been() -> None:
    """Of all lows on record at Clemson within a week of 1 November, the share that was 32 °F or below."""
    day = at(from_day(date(2031, 10, 5), clemson()), 10, 31)  # the night to 1 November
    near = [each.low for each in clemson().days if each.low is not None and _from_new_year(each.on) in range(298, 313)]
    frozen = sum(low < 32.5 for low in near) / len(near)
    assert day.night[32] == pytest.approx(frozen, abs=0.03)


def _from_new_year(on: date) -> int:
    return date(2001, on.month, on.day if (on.month, on.day) != (2, 29) else 28).timetuple().tm_yday

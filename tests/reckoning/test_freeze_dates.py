"""First and last freezes by season: new years crossed, leap days, gaps, seasons without, and the other hemisphere."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from stations import days_of, invented, usual_low, warm_but_for

from assistant.model.case import MonthDay
from assistant.model.quantities import NotAValue
from assistant.model.weather import Day, StationRecord
from assistant.reckoning.freeze_dates import (
    THRESHOLDS,
    Hemisphere,
    freeze_dates,
    hemisphere_of,
    season_starts,
)

SEEDS = st.integers(0, 10**6)


def shifted(record: StationRecord, days: int) -> StationRecord:
    """The same weather so many days later."""
    return StationRecord(record.name, tuple(day._replace(on=day.on + timedelta(days=days)) for day in record.days))


@pytest.mark.parametrize(
    ("low", "freezes"), [(28.0, True), (28.04, True), (28.4, True), (28.49, True), (28.5, False), (28.94, False)]
)
def test_a_low_is_held_against_the_threshold_in_whole_degrees(low: float, freezes: bool) -> None:
    record = warm_but_for(2031, 2032, {date(2031, 11, 5): low})
    assert (freeze_dates(record, 28).first_fall.dates.get(2031) == date(2031, 11, 5)) is freezes


def test_a_first_freeze_after_the_new_year_belongs_to_the_season_before() -> None:
    record = warm_but_for(2030, 2033, {date(2032, 1, 5): 30, date(2032, 12, 1): 30})
    found = freeze_dates(record, 32).first_fall
    assert found.dates == {2031: date(2032, 1, 5), 2032: date(2032, 12, 1)}
    assert found.day_numbers == [370, 336]


def test_a_last_freeze_before_the_new_year_is_the_last_of_the_spring_after() -> None:
    record = warm_but_for(2030, 2033, {date(2031, 12, 20): 30, date(2033, 2, 1): 30})
    found = freeze_dates(record, 32).last_spring
    assert found.dates == {2032: date(2031, 12, 20), 2033: date(2033, 2, 1)}
    assert found.day_numbers == [-11, 32]


def test_the_day_after_28_february_is_one_later_in_leap_years_only() -> None:
    record = warm_but_for(2031, 2033, {date(2031, 3, 1): 30, date(2032, 3, 1): 30, date(2033, 2, 28): 30})
    assert freeze_dates(record, 32).last_spring.day_numbers == [60, 61, 59]


def test_a_freeze_on_a_leap_day_is_counted_by_that_day_in_every_year() -> None:
    record = warm_but_for(2031, 2033, {date(2031, 3, 1): 30, date(2032, 2, 29): 30, date(2033, 2, 28): 30})
    found = freeze_dates(record, 32).last_spring
    assert [found.counted(MonthDay(2, day)).came for day in (27, 28, 29)] == [0, 1, 2]


FREEZES = {date(year, 11, day): 30.0 for year, day in ((2031, 1), (2032, 5), (2033, 9), (2034, 13), (2035, 17))}


def gap(first: date, days: int) -> list[date]:
    return [first + timedelta(days=step) for step in range(days)]


@pytest.mark.parametrize(
    ("first", "days", "unknown"),
    [
        (date(2033, 10, 30), 9, ()),  # nine days missing before the freeze of 9 November
        (date(2033, 10, 30), 10, (2033,)),
        (date(2033, 9, 1), 50, ()),  # to 20 October, when none of the others was near
        (date(2033, 9, 1), 64, (2033,)),  # to 3 November
        (date(2033, 11, 10), 20, ()),  # after the freeze was seen
    ],
)
def test_ten_days_missing_where_a_freeze_could_have_been_make_a_date_unknown(
    first: date, days: int, unknown: tuple[int, ...]
) -> None:
    found = freeze_dates(warm_but_for(2031, 2035, FREEZES, gap(first, days)), 32).first_fall
    assert found.unknown == unknown
    assert set(found.dates) == {2031, 2032, 2033, 2034, 2035} - {*unknown}
    assert found.number == 5 - len(unknown)


def test_a_season_without_a_freeze_is_not_one_whose_freeze_was_missed() -> None:
    seen = {on: low for on, low in FREEZES.items() if on.year not in (2033, 2034)}
    found = freeze_dates(warm_but_for(2031, 2036, seen, gap(date(2034, 11, 1), 10)), 32).first_fall
    assert set(found.dates) == {2031, 2032, 2035}
    assert found.without == (2033, 2036)
    assert found.unknown == (2034,)
    assert found.number == 5


def test_a_record_that_begins_in_winter_tells_no_first_freeze_of_that_season() -> None:
    whole = warm_but_for(2031, 2034, FREEZES | {date(2032, 1, 20): 25.0})
    late = StationRecord("Late", tuple(day for day in whole.days if date(2031, 12, 1) <= day.on < date(2035, 1, 1)))
    found = freeze_dates(late, 32)
    assert found.first_fall.unknown == (2031,)
    assert set(found.first_fall.dates) == {2032, 2033, 2034}


def test_the_only_season_of_a_record_may_not_lack_days_at_all() -> None:
    autumn = warm_but_for(2031, 2031, {date(2031, 11, 1): 30})
    assert freeze_dates(autumn, 32).first_fall.dates == {2031: date(2031, 11, 1)}
    holes = warm_but_for(2031, 2031, {date(2031, 11, 1): 30}, gap(date(2031, 8, 10), 10))
    assert freeze_dates(holes, 32).first_fall.unknown == (2031,)


def test_a_place_without_freezes_has_seasons_without_and_no_dates() -> None:
    found = freeze_dates(warm_but_for(2031, 2035, {}), 32).first_fall
    assert (dict(found.dates), found.without, found.unknown) == ({}, (2031, 2032, 2033, 2034), (2035,))
    assert found.percentile(0.5) is None


def test_seasons_start_in_summer_and_cover_every_day_of_the_record() -> None:
    record = warm_but_for(2031, 2032, {})
    assert season_starts(record) == (date(2030, 8, 1), date(2031, 8, 1), date(2032, 8, 1))
    assert season_starts(record, Hemisphere.SOUTH) == (date(2030, 2, 1), date(2031, 2, 1), date(2032, 2, 1))
    assert season_starts(StationRecord("Empty", ())) == ()


@given(SEEDS)
@settings(max_examples=10, deadline=None)
def test_half_a_year_later_the_same_freezes_are_those_of_the_other_hemisphere(seed: int) -> None:
    """1 August and 184 days are 1 February; the fall of a year is that of the next, the spring of a year its own."""
    north = invented(2001, 2005, seed)
    south = shifted(north, 184)
    assert (hemisphere_of(north), hemisphere_of(south)) == (Hemisphere.NORTH, Hemisphere.SOUTH)
    for threshold in THRESHOLDS:
        here, there = freeze_dates(north, threshold), freeze_dates(south, threshold)
        assert {year + 1: day + timedelta(days=184) for year, day in here.first_fall.dates.items()} == (
            there.first_fall.dates
        )
        assert {year: day + timedelta(days=184) for year, day in here.last_spring.dates.items()} == (
            there.last_spring.dates
        )


def test_a_record_of_one_season_does_not_tell_the_hemisphere() -> None:
    months = [day for day in days_of(2031, 2031) if 9 <= day.month <= 11]
    record = StationRecord("Autumn", tuple(Day(on, usual_low(on), None) for on in months))
    with pytest.raises(NotAValue, match="--hemisphere"):
        freeze_dates(record, 32)
    assert freeze_dates(record, 36, Hemisphere.NORTH).first_fall.number == 0


def test_where_every_month_is_alike_the_hemisphere_must_be_said() -> None:
    record = StationRecord("Tropics", tuple(Day(on, 75, 85) for on in days_of(2031, 2032)))
    with pytest.raises(NotAValue, match="--hemisphere"):
        hemisphere_of(record)


@given(SEEDS, st.dates(date(2001, 8, 1), date(2005, 7, 31)))
@settings(max_examples=25, deadline=None)
def test_one_more_frost_never_makes_one_less_likely_on_record(seed: int, night: date) -> None:
    before = invented(2001, 2005, seed)
    after = StationRecord("Colder", tuple(day._replace(low=20.0) if day.on == night else day for day in before.days))
    old, new = freeze_dates(before, 32).first_fall, freeze_dates(after, 32).first_fall
    for by in (MonthDay(9, 15), MonthDay(10, 15), MonthDay(11, 1), MonthDay(11, 15), MonthDay(12, 31)):
        less, more = old.counted(by), new.counted(by)
        assert more.seasons == less.seasons
        assert (more.came, more.range.low, more.range.high) >= (less.came, less.range.low, less.range.high)
        assert more.range.low <= more.came / more.seasons <= more.range.high


@given(SEEDS)
@settings(max_examples=15, deadline=None)
def test_warmer_limits_are_met_no_later(seed: int) -> None:
    record = invented(2001, 2004, seed)
    frost, freeze, hard = (freeze_dates(record, threshold).first_fall.dates for threshold in THRESHOLDS)
    assert all(frost[year] <= freeze[year] for year in freeze.keys() & frost.keys())
    assert all(freeze[year] <= hard[year] for year in hard.keys() & freeze.keys())

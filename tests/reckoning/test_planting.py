"""The day to plant, from records and from a grower's dates, north and south."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stations import invented

from assistant.model.case import FrostDates, MonthDay
from assistant.model.quantities import NotAValue
from assistant.model.weather import Day, StationRecord
from assistant.reckoning.frost_odds import Hemisphere, SeasonDates
from assistant.reckoning.planting import (
    AFTER_LAST_FROST,
    Spring,
    at_least_once,
    dates_of,
    ground_freezes,
    soil_warms,
    spring_from_dates,
    spring_of,
    start_of_slips,
)

OWN = FrostDates(MonthDay(4, 20), MonthDay(5, 5), MonthDay(5, 20))
SOUTHERN = FrostDates(MonthDay(8, 20), MonthDay(9, 5), MonthDay(9, 20))
HALF_A_YEAR = timedelta(days=182)
When = Callable[[StationRecord], SeasonDates]


def moved(record: StationRecord, by: timedelta) -> StationRecord:
    """The same weather at another time of year."""
    return StationRecord(record.name, tuple(Day(day.on + by, day.low, day.high) for day in record.days))


def test_the_later_of_frost_and_soil_decides() -> None:
    frost_last = spring_from_dates(OWN, MonthDay(5, 10)).plant_out(2032)
    assert (frost_last.last_freeze, frost_last.plant_out) == (date(2032, 5, 5), date(2032, 5, 19))
    soil_last = spring_from_dates(OWN, MonthDay(5, 25)).plant_out(2032)
    assert soil_last.plant_out == date(2032, 5, 25)


def test_one_date_alone_decides_where_the_other_is_not_known() -> None:
    assert spring_from_dates(OWN, None).plant_out(2032).plant_out == date(2032, 5, 19)
    only_soil = spring_from_dates(None, MonthDay(5, 25)).plant_out(2032)
    assert (only_soil.plant_out, only_soil.later_freeze) == (date(2032, 5, 25), None)
    assert Spring().plant_out(2032).plant_out is None


def test_own_dates_out_of_order_are_refused() -> None:
    with pytest.raises(NotAValue, match="follow one another"):
        spring_from_dates(FrostDates(*OWN[::-1]), None)


def test_own_dates_give_back_their_chances() -> None:
    spring = spring_from_dates(OWN, None)
    assert [spring.freeze_past(2032, chance) for chance in (0.1, 0.5, 0.9)] == [day.in_year(2032) for day in OWN]
    planting = spring.plant_out(2031, 0.5)
    assert planting.later_freeze == pytest.approx(0.1, abs=0.02)  # 19 May; the 20th leaves 1 in 10


@given(st.integers(0, 30), st.floats(0.05, 0.9))
def test_a_date_more_surely_past_is_never_earlier_and_leaves_less(step: int, chance: float) -> None:
    spring = spring_from_dates(OWN, None)
    sooner, later = spring.plant_out(2032, chance), spring.plant_out(2032, min(chance + step / 100, 0.95))
    assert sooner.plant_out is not None
    assert later.plant_out is not None
    assert sooner.plant_out <= later.plant_out
    assert (sooner.later_freeze or 0) >= (later.later_freeze or 0)


def test_the_next_planting_is_still_this_springs_for_six_weeks() -> None:
    spring = spring_from_dates(OWN, None)
    days = {on: spring.next_planting(on).plant_out for on in (date(2032, 6, 30), date(2032, 7, 1))}
    assert list(days.values()) == [date(2032, 5, 19), date(2033, 5, 19)]


def test_a_southern_spring_is_in_the_second_half_of_the_year() -> None:
    spring = spring_from_dates(SOUTHERN, MonthDay(11, 5))
    assert spring.next_planting(date(2032, 4, 30)).plant_out == date(2032, 11, 5)
    assert spring_from_dates(SOUTHERN, MonthDay(1, 5)).next_planting(date(2032, 4, 30)).plant_out == date(2033, 1, 5)


def test_slips_are_bedded_six_to_eight_weeks_before_and_woken_before_that() -> None:
    start = start_of_slips(date(2032, 5, 20))
    assert start.bed == (date(2032, 3, 25), date(2032, 4, 8))
    assert start.wake == (date(2032, 2, 26), date(2032, 3, 25))


def colder(record: StationRecord, by: float) -> StationRecord:
    """The same weather, so many °F colder."""
    days = (Day(day.on, (day.low or 0) - by, (day.high or 0) - by) for day in record.days)
    return StationRecord(record.name, tuple(days))


@pytest.mark.parametrize(("when", "colder_by"), [(soil_warms, 0), (ground_freezes, 20)], ids=["warm", "frozen"])
def test_half_a_year_on_the_record_gives_half_a_year_on_the_dates(when: When, colder_by: float) -> None:
    north = colder(invented(2001, 2012), colder_by)
    ahead, behind = dates_of(when(north)), dates_of(when(moved(north, HALF_A_YEAR)))
    assert ahead is not None
    assert behind is not None
    expected = ahead.p50.in_year(2031) + HALF_A_YEAR
    assert abs((behind.p50.nearest(expected) - expected).days) < 3


def test_a_southern_record_has_its_spring_in_the_second_half_of_the_year() -> None:
    south = moved(invented(2001, 2012), HALF_A_YEAR)
    planting = spring_of(south).plant_out(2031)
    assert soil_warms(south).hemisphere is Hemisphere.SOUTH
    assert planting.plant_out is not None
    assert date(2031, 9, 1) < planting.plant_out < date(2032, 1, 15)


def steady(mean: float, first: date, days: int) -> list[Day]:
    return [Day(first + timedelta(days=step), mean - 5, mean + 5) for step in range(days)]


def test_the_soil_is_warm_on_the_fourth_day_running() -> None:
    """Air of 40 °F until 1 May and 70 °F from then on: the soil closes a quarter of the gap a day and is at 65 on the
    seventh day (70 - 30 x .75^7 = 66.0, the sixth 64.7), so the tenth is the fourth running."""
    days = steady(40, date(2031, 1, 1), 120) + steady(70, date(2031, 5, 1), 245)
    warm = soil_warms(StationRecord("Invented", tuple(days)), Hemisphere.NORTH)
    assert dict(warm.dates) == {2031: date(2031, 5, 10)}


def test_a_spring_with_weeks_missing_is_not_known() -> None:
    days = steady(40, date(2031, 1, 1), 90) + steady(70, date(2031, 5, 1), 245)
    warm = soil_warms(StationRecord("Invented", tuple(days)), Hemisphere.NORTH)
    assert (warm.dates, warm.unknown) == ({}, (2031,))


def test_ground_that_never_freezes_is_a_winter_without() -> None:
    record = StationRecord("Invented", tuple(steady(60, date(2031, 1, 1), 365) + steady(60, date(2032, 1, 1), 366)))
    assert 2031 in ground_freezes(record, Hemisphere.NORTH).without


def test_two_weeks_are_two_weeks() -> None:
    assert AFTER_LAST_FROST.days == 14


@given(st.floats(0, 1), st.integers(1, 40))
def test_more_seasons_never_lower_the_chance_of_at_least_one(chance: float, seasons: int) -> None:
    assert 0 <= at_least_once(chance, seasons) <= at_least_once(chance, seasons + 1) <= 1
    assert at_least_once(chance, 1) == pytest.approx(chance)

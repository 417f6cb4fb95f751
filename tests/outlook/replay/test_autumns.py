"""Autumns cut out of a record: gaps, new years, other years' climate and dates, and nothing of what is to come."""

from datetime import date, timedelta
from statistics import mean, stdev

import pytest
from autumns_by_hand import PLANTED, lively, record

from assistant.model.case import MonthDay
from assistant.outlook.replay.autumns import AFTER, BEFORE, autumns
from assistant.outlook.replay.yardstick import LAST_DAY

YEARS = (date(2001, 1, 1), date(2004, 12, 31))


def low(on: date) -> float:
    return 50.0 + on.day


def test_an_autumn_runs_from_planting_on() -> None:
    found, skipped = autumns(record(low, *YEARS), PLANTED)
    assert [autumn.year for autumn in found] == [2001, 2002, 2003, 2004]
    assert not skipped
    assert found[0].lows[0] == low(date(2001, 6, 1))
    assert found[0].lows[LAST_DAY] == low(date(2001, 6, 1) + timedelta(days=LAST_DAY))
    assert found[0].on(10) == date(2001, 6, 11)


def test_a_month_missing_leaves_the_autumn_out_and_says_why() -> None:
    holed = record(lambda on: None if (on.year, on.month) == (2002, 9) else low(on), *YEARS)
    found, skipped = autumns(holed, PLANTED)
    assert [autumn.year for autumn in found] == [2001, 2003, 2004]
    assert skipped == {2002: "30 days in a row are not on record"}


def test_many_single_days_missing_leave_the_autumn_out_too() -> None:
    holed = record(lambda on: None if on.year == 2003 and on.day in (5, 15, 25) else low(on), *YEARS)
    found, skipped = autumns(holed, PLANTED)
    assert 2003 not in [autumn.year for autumn in found]
    assert "days are not on record" in skipped[2003]


def test_a_short_gap_is_filled_in_on_the_straight_line() -> None:
    holed = record(lambda on: None if on == date(2001, 7, 10) else low(on), *YEARS)
    found, _ = autumns(holed, PLANTED)
    assert found[0].lows[39] == pytest.approx((low(date(2001, 7, 9)) + low(date(2001, 7, 11))) / 2)


def test_a_record_that_ends_within_the_season_leaves_that_autumn_out() -> None:
    found, skipped = autumns(record(low, date(2001, 1, 1), date(2002, 10, 1)), PLANTED)
    assert [autumn.year for autumn in found] == [2001]
    assert 2002 in skipped


def test_seasons_may_cross_the_new_year() -> None:
    """Planted in November, dug in April, as in the southern half of the world."""
    found, _ = autumns(record(low, date(2001, 1, 1), date(2003, 12, 31)), MonthDay(11, 20))
    assert [autumn.year for autumn in found] == [2001, 2002]
    assert found[0].on(LAST_DAY).year == 2002


def test_a_leap_day_planting_has_its_day_in_every_year() -> None:
    found, _ = autumns(record(low, *YEARS), MonthDay(2, 29))
    assert [autumn.planted for autumn in found][:1] == [date(2001, 2, 28)]


def test_usual_lows_are_those_of_the_other_years() -> None:
    """Against the mean and spread taken by hand over a fortnight about the day."""
    made = lively(years=range(2001, 2006))
    found, _ = autumns(made, PLANTED)
    day = 120
    near = [found[number].lows[at] for number in range(1, len(found)) for at in range(day - 7, day + 8)]
    usual = found[0].usual[day]
    assert usual is not None
    assert (usual.mean, usual.spread) == pytest.approx((mean(near), stdev(near)))


def test_a_record_of_one_year_has_no_usual_lows_and_no_frost_dates() -> None:
    (only,), _ = autumns(record(low, date(2001, 1, 1), date(2001, 12, 31)), PLANTED)
    assert only.frost_dates is None
    assert set(only.usual) == {None}
    assert len(only.usual) == LAST_DAY + 1 + AFTER
    assert len(only.lows) == len(only.soil) == LAST_DAY + 1 + AFTER
    assert BEFORE > 14


def test_an_autumns_own_freeze_moves_its_frost_dates_by_nothing() -> None:
    made = lively()
    early = record(
        lambda on: 20.0 if on.year == 2005 and (on.month, on.day) > (8, 20) else made.by_date[on].low,
        made.days[0].on,
        made.days[-1].on,
        22,
    )
    before, after = ({autumn.year: autumn.frost_dates for autumn in autumns(one, PLANTED)[0]} for one in (made, early))
    assert before[2005] == after[2005] is not None
    assert before[2006] != after[2006]

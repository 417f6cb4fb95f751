"""The odds by date: laws that any such odds keep, records of few seasons, and three dates of a grower's own."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from assistant.model.case import FrostDates, MonthDay
from assistant.model.quantities import NotAValue
from assistant.reckoning.frost_odds import Hemisphere, Odds, SeasonDates, exact_interval, wilson

MARCH = date(2031, 3, 1)
ODDS = st.builds(
    Odds,
    middle=st.floats(250, 350),
    early_spread=st.floats(2, 25),
    late_spread=st.floats(2, 25),
    share=st.floats(0.05, 1.0),
    none_by=st.none(),
)
DAYS = st.dates(date(2031, 8, 1), date(2032, 2, 1))
CHANCES = st.floats(0.01, 0.99)


def seasons(days: list[int], without: int = 0, hemisphere: Hemisphere = Hemisphere.NORTH) -> SeasonDates:
    """Seasons from 1901 on that froze on the given days of the year, and some that did not."""
    dates = {1901 + at: date(1901 + at, 1, 1) + timedelta(days=day - 1) for at, day in enumerate(days)}
    return SeasonDates(hemisphere, dates, tuple(range(1801, 1801 + without)))


@given(ODDS, st.lists(DAYS, min_size=2, max_size=5))
def test_odds_lie_between_0_and_1_and_grow_with_the_days(odds: Odds, days: list[date]) -> None:
    chances = [odds.by(day) for day in sorted(days)]
    assert chances == sorted(chances)
    assert 0 <= chances[0] <= chances[-1] <= odds.share + 1e-12


@given(ODDS, DAYS, DAYS)
def test_after_none_so_far_the_rest_is_shared_out_among_the_days_to_come(odds: Odds, day: date, later: date) -> None:
    after = odds.after(day)
    assert after.by(day) == 0
    assume(later > day and odds.by(day) < 0.999)
    expected = (odds.by(later) - odds.by(day)) / (1 - odds.by(day))
    assert after.by(later) == pytest.approx(expected, abs=1e-9)
    assert 0 <= after.by(later) <= 1


@given(ODDS, DAYS, DAYS, DAYS)
def test_waiting_in_vain_never_makes_a_freeze_by_a_day_more_likely(
    odds: Odds, first: date, second: date, by: date
) -> None:
    early, late = sorted((first, second))
    assert odds.after(early).by(by) >= odds.after(late).by(by) - 1e-9
    assert odds.after(late).after(early) == odds.after(late)


@given(ODDS, CHANCES, st.none() | DAYS)
@example(
    Odds(middle=250, early_spread=2, late_spread=2), 0.5, date(2032, 1, 1)
)  # no frost at 58 spreads past the middle
def test_the_date_of_a_chance_is_the_first_day_by_which_it_is_reached(
    odds: Odds, chance: float, none_by: date | None
) -> None:
    odds = odds.after(none_by) if none_by else odds
    day = odds.quantile(chance, 2031)
    if day is None:
        assert odds.by_number(10_000) <= chance + 1e-9
        return
    number = (day - date(2031, 1, 1)).days + 1
    assert odds.by_number(number) >= chance - 1e-6
    assert odds.by_number(number - 1) < chance + 1e-6


@given(st.lists(st.integers(270, 340), min_size=5, max_size=40), st.integers(1, 20), st.integers(0, 5), DAYS)
def test_freezes_earlier_in_every_season_are_more_likely_by_any_day(
    days: list[int], earlier: int, without: int, by: date
) -> None:
    usual, colder = (Odds.from_seasons(seasons([day - step for day in days], without)) for step in (0, earlier))
    assert usual
    assert colder
    assert colder.by(by) >= usual.by(by)


@given(st.lists(st.integers(270, 340), min_size=5, max_size=40), st.integers(1, 20), DAYS)
def test_seasons_without_a_freeze_make_one_less_likely(days: list[int], without: int, by: date) -> None:
    usual, milder = Odds.from_seasons(seasons(days)), Odds.from_seasons(seasons(days, without))
    assert usual
    assert milder
    assert milder.by(by) == pytest.approx(usual.by(by) * len(days) / (len(days) + without))
    assert milder.share < 1
    assert milder.quantile(0.99, 2031) is None or milder.share > 0.99


def test_odds_long_after_the_season_stay_right_though_almost_nothing_is_left() -> None:
    odds = Odds(300, 10, 10).after(date(2031, 1, 1) + timedelta(days=379))  # eight spreads late
    chances = [odds.by_number(number) for number in (380, 381, 382, 390, 420)]
    assert chances[0] == 0
    assert 0.4 < chances[1] < 0.7
    assert chances == sorted(chances)
    assert Odds(300, 1, 1).after(date(2032, 2, 1)).by(date(2032, 2, 2)) == 1.0


def test_a_day_of_early_summer_belongs_to_the_fall_to_come() -> None:
    odds = Odds(305, 12, 12)
    assert odds.season_of(date(2031, 7, 1)) == 2031
    assert odds.season_of(date(2032, 1, 10)) == 2031
    assert odds.by(date(2031, 7, 1)) < 1e-9
    assert odds.by(date(2032, 1, 10)) > 1 - 1e-6
    assert odds.quantile(0.5, 2031) == date(2031, 11, 1)


def test_odds_need_five_seasons() -> None:
    assert Odds.from_seasons(seasons([300, 305, 310, 315])) is None
    odds = Odds.from_seasons(seasons([300, 305, 310, 315, 320]))
    assert odds
    assert (odds.middle, odds.share, odds.seasons, odds.freezes) == (310, 1, 5, 5)
    assert odds.early_spread == odds.late_spread == pytest.approx(62.5**0.5)


def test_where_few_seasons_froze_the_spread_is_the_usual_one() -> None:
    odds = Odds.from_seasons(seasons([300, 310], without=18))
    assert odds == Odds(305, 12, 12, 0.1, 20, 2)
    assert odds.standard_error(0.1) is None
    assert odds.quantile(0.5, 2031) is None


def test_where_no_season_froze_the_chance_is_none_and_its_range_is_wilsons() -> None:
    kept = seasons([], without=20)
    odds = Odds.from_seasons(kept)
    assert odds
    assert odds.by(date(2031, 12, 31)) == 0
    assert odds.quantile(0.01, 2031) is None
    assert kept.counted(MonthDay(12, 31)).range == wilson(0, 20)


def test_the_same_date_in_every_season_leaves_some_doubt() -> None:
    odds = Odds.from_seasons(seasons([300] * 6))
    assert odds
    assert 0 < odds.by_number(298) < 0.5 < odds.by_number(300) < 1


OWN = FrostDates(MonthDay(10, 8), MonthDay(10, 20), MonthDay(11, 2))


def test_three_dates_of_ones_own_are_met_exactly() -> None:
    odds = Odds.from_dates(OWN)
    for chance, day in zip((0.1, 0.5, 0.9), OWN, strict=True):
        assert odds.quantile(chance, 2031) == day.in_year(2031)
        assert odds.by(day.in_year(2031)) == pytest.approx(chance)
    assert odds.standard_error(0.1) is None


@given(st.integers(1, 60), st.integers(1, 60), st.integers(0, 364))
@settings(max_examples=50)
def test_three_dates_are_met_at_any_time_of_the_year(early: int, late: int, start: int) -> None:
    days = [date(2031, 1, 1) + timedelta(days=start + step) for step in (0, early, early + late)]
    assume(all((day.month, day.day) != (2, 29) for day in days))
    odds = Odds.from_dates(FrostDates(*(MonthDay(day.month, day.day) for day in days)))
    year = odds.season_of(days[1])
    for chance, day in zip((0.1, 0.5, 0.9), days, strict=True):
        found = odds.quantile(chance, year)
        assert found
        assert abs((found - day).days) <= 1  # a leap year has a day more


@pytest.mark.parametrize("swapped", [(1, 0, 2), (0, 2, 1), (0, 0, 2), (2, 1, 0)])
def test_dates_out_of_order_are_refused(swapped: tuple[int, int, int]) -> None:
    with pytest.raises(NotAValue, match="must follow one another"):
        Odds.from_dates(FrostDates(*(OWN[at] for at in swapped)))


@given(st.integers(0, 60), st.integers(0, 60))
def test_ranges_hold_the_share_that_was_seen_and_the_exact_one_is_wider(count: int, more: int) -> None:
    number = count + more
    assume(number > 0)
    near, far = wilson(count, number), exact_interval(count, number)
    for span in (near, far):
        assert 0 <= span.low <= count / number <= span.high <= 1
    assert far.high - far.low >= near.high - near.low - 0.01


def test_nothing_looked_at_leaves_every_share_open() -> None:
    assert (wilson(0, 0).low, wilson(0, 0).high) == (0, 1)
    assert (exact_interval(0, 0).low, exact_interval(0, 0).high) == (0, 1)
    with pytest.raises(ValueError, match="3 of 2"):
        wilson(3, 2)

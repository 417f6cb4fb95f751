"""Days counted, and the soonest of several candidate days."""

from datetime import date, timedelta

import pytest

from assistant.model.case import FrostDates, Garden, MonthDay
from assistant.model.readings import Span, exactly
from assistant.model.rules import AfterNights, InDays, OnGardenDate, WhenReached
from assistant.reckoning.days import days_since, soonest

VISIT = date(2031, 10, 4)
GARDEN = Garden({"first_frost": FrostDates(MonthDay(10, 8), MonthDay(10, 20), MonthDay(11, 2))})
READINGS = {"nights": Span(2, 5), "in_ground": Span(70, 80), "needed": Span(90, 110)}


def days_ahead(*choices: object, not_before: int = 0, garden: Garden = GARDEN) -> int | None:
    day = soonest(choices, VISIT, READINGS, garden, VISIT + timedelta(days=not_before))  # type: ignore[arg-type]
    return (day - VISIT).days if day else None


def test_the_earliest_start_gives_the_most_days() -> None:
    start = Span(date(2031, 6, 13).toordinal(), date(2031, 6, 27).toordinal())
    assert days_since(start, VISIT.toordinal()) == Span(99, 113)


def test_nights_until_a_frost_count_at_their_earliest() -> None:
    assert days_ahead(AfterNights("nights")) == 2


def test_a_count_of_days_reaches_the_least_that_is_needed() -> None:
    assert days_ahead(WhenReached("in_ground", "needed")) == 10


def test_the_gardens_own_date_counts_and_is_skipped_when_the_garden_has_none() -> None:
    assert days_ahead(OnGardenDate("first_frost.p10")) == 4
    assert days_ahead(OnGardenDate("first_frost.p10", -1)) == 3
    assert days_ahead(OnGardenDate("first_frost.p10"), garden=Garden()) is None
    assert days_ahead(OnGardenDate("first_frost.p10"), InDays(14), garden=Garden()) == 14


def test_the_soonest_candidate_wins_but_never_before_its_time() -> None:
    assert days_ahead(InDays(14), AfterNights("nights"), WhenReached("in_ground", "needed")) == 2
    assert days_ahead(InDays(0), not_before=1) == 1


def test_what_may_be_reached_already_is_no_day_to_wait_for() -> None:
    readings_now = {**READINGS, "in_ground": exactly(95)}
    assert soonest([WhenReached("in_ground", "needed")], VISIT, readings_now, GARDEN, VISIT) is None


@pytest.mark.parametrize(
    ("on", "day", "nearest"),
    [
        (date(2031, 10, 4), MonthDay(10, 8), date(2031, 10, 8)),
        (date(2031, 12, 28), MonthDay(1, 5), date(2032, 1, 5)),
        (date(2032, 1, 5), MonthDay(12, 28), date(2031, 12, 28)),
        (date(2031, 4, 4), MonthDay(5, 10), date(2031, 5, 10)),
        (date(2031, 3, 1), MonthDay(2, 29), date(2031, 2, 28)),
        (date(2032, 3, 1), MonthDay(2, 29), date(2032, 2, 29)),
    ],
)
def test_a_garden_date_is_the_one_nearest_to_the_visit(on: date, day: MonthDay, nearest: date) -> None:
    assert day.nearest(on) == nearest

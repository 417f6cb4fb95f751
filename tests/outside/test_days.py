"""Days in the ground and days to frost, against the standard library's calendar."""

from __future__ import annotations

from calendar import isleap
from datetime import date, timedelta

from gardens import RULEBOOK
from hypothesis import given
from hypothesis import strategies as st

from assistant.interview.answers import parse_answer
from assistant.measures import known_readings
from assistant.model.case import Case, FrostDates, Garden, MonthDay
from assistant.model.quantities import Units
from assistant.model.readings import exactly

DAYS = st.dates(date(1999, 1, 1), date(2101, 12, 31))


def _days_in_ground(planted: date, on: date) -> object:
    answer = parse_answer(RULEBOOK.signs["planted_on"], planted.isoformat(), on, Units.US)
    case = Case("Counting", RULEBOOK.name, on, answers={"planted_on": answer})
    return known_readings(RULEBOOK, case)["days_in_ground"].reading


@given(planted=DAYS, days=st.integers(0, 300))
def test_days_in_the_ground_are_the_difference_of_the_dates(planted: date, days: int) -> None:
    on = planted + timedelta(days=days)
    assert _days_in_ground(planted, on) == exactly((on - planted).days)


@given(year=st.integers(2000, 2100))
def test_a_leap_day_counts_as_a_day(year: int) -> None:
    assert _days_in_ground(date(year, 2, 1), date(year, 3, 1)) == exactly(29 if isleap(year) else 28)


@given(on=DAYS, month=st.integers(1, 12), day=st.integers(1, 28))
def test_days_to_frost_lead_to_that_day_of_the_calendar_and_to_the_nearest_one(on: date, month: int, day: int) -> None:
    frost = MonthDay(month, day)
    garden = Garden({"first_frost": FrostDates(frost, frost, frost)})
    reading = known_readings(RULEBOOK, Case("Counting", RULEBOOK.name, on, garden=garden))[
        "days_to_first_frost"
    ].reading
    ahead = next(days for days in range(-183, 184) if exactly(days) == reading)
    reached = on + timedelta(days=ahead)
    assert (reached.month, reached.day) == (month, day)

"""What a test dig says of the days ahead."""

from datetime import date, timedelta

import pytest

from assistant.measures import known_readings
from assistant.model.case import Case, FrostDates, Garden, MonthDay, TestDig
from assistant.model.readings import Known, Origin, Span, exactly
from assistant.reckoning.yields import root_grams
from assistant.rulebook import read_rulebook
from assistant.season import advise

RULEBOOK = read_rulebook("sweetpotato/when-to-dig")
ON = date(2031, 9, 1)
PLANTED = ON - timedelta(days=75)


DATES = FrostDates(MonthDay(11, 1), MonthDay(11, 12), MonthDay(11, 25))
"""Frost comes so late here that no date of it is the next day to look."""


def case(dig: TestDig | None) -> Case:
    planted = {"planted_on": Known(exactly(PLANTED.toordinal()), Origin.ANSWERED)}
    return Case("A bed", RULEBOOK.name, ON, garden=Garden({"first_frost": DATES}), answers=planted, test_dig=dig)


def dug(*hills: tuple[float, ...]) -> TestDig:
    return TestDig(Span(1.75, 3.5), hills)


def test_the_soonest_day_is_at_the_fastest_published_growth_and_the_latest_at_the_usual_one() -> None:
    """New Hampshire research summary 2015: the best line gained 23 g a plant a day, the U.S. crop 11; and weight goes
    with the square of the width (Japanese Journal of Crop Science 73:65)."""
    lacking = 5 * root_grams(1.4) * ((1.75 / 1.4) ** 2 - 1)
    found = known_readings(RULEBOOK, case(dug((1.4,) * 5, (1.4,) * 5)))["days_at_size"]
    assert isinstance(found.reading, Span)
    assert found.origin is Origin.TEST_DIG
    assert found.reading.low == pytest.approx(75 + lacking / 23)
    assert found.reading.high == pytest.approx(75 + lacking / 11)


def test_without_roots_nothing_is_known_of_the_day() -> None:
    for dig in (None, dug((), ())):
        assert known_readings(RULEBOOK, case(dig))["days_at_size"] == Known(Span(0, 300), Origin.NOT_ASKED)


def test_small_roots_are_looked_at_again_when_they_may_have_grown_and_after_two_weeks_at_the_latest() -> None:
    """Roots of 1.4 in may come to 1.75 within a week, thin ones by the dozen not within two."""
    soon, late = (advise(RULEBOOK, case(dig)) for dig in (dug((1.4,) * 5, (1.4,) * 5), dug((1.0,) * 12, (1.0,) * 12)))
    assert soon.advice == late.advice == "wait"
    assert soon.look_again is not None
    assert ON < soon.look_again < ON + timedelta(days=14)
    assert late.look_again == ON + timedelta(days=14)

"""What will be known of the same bed on a later day."""

from datetime import date, timedelta

import pytest
from beds import ON, RULEBOOK, SMALL, bed
from stations import invented, usual_low

from assistant.measures import known_readings
from assistant.model.case import Case
from assistant.model.readings import Choices, Known, Origin, Reading, Span, exactly, one_of
from assistant.outlook.cold import ColdAhead
from assistant.outlook.later import Later
from assistant.outlook.soil import Soil

STATION = invented(2000, 2031)


def then(case: Case, days: int, sign: str, growing: float = 1.0) -> Reading | None:
    """A sign of the case as it will be answered so many days on, growing so much a day."""
    later = Later(
        RULEBOOK,
        case,
        known_readings(RULEBOOK, case),
        ColdAhead(case, frozenset()),
        [Soil(60, 4, 3.6)] * 50,
        [Span(0, day * growing) for day in range(50)],
    )
    on_that_day = later.case_on(days)
    assert on_that_day.on == case.on + timedelta(days=days)
    known = on_that_day.answers.get(sign)
    return known.reading if known else None


@pytest.mark.parametrize(
    ("sign", "today", "in_three_days"),
    [
        ("heavy_rain_in", exactly(8), exactly(5)),
        ("heavy_rain_in", Span(4, 6), Span(1, 3)),
        ("heavy_rain_in", exactly(2), None),
        ("heavy_rain_in", exactly(10), Span(7, 10)),  # none in sight may come into sight
        ("frost_days_ago", exactly(1), exactly(4)),
        ("heat_units", exactly(2000), Span(2000, 2090)),  # a day adds 0 to 30
        ("planted_on", exactly(ON.toordinal() - 110), exactly(ON.toordinal() - 110)),
        ("variety", one_of("jewel"), one_of("jewel")),
        ("vines", one_of("yellowing"), one_of("yellowing")),
        ("forecast_low", exactly(33), None),
        ("recent_nights", exactly(52), exactly(52)),
    ],
)
def test_an_answer_is_kept_moved_on_or_taken_out(sign: str, today: Reading, in_three_days: Reading | None) -> None:
    assert then(bed(**{sign: today}), 3, sign) == in_three_days  # type: ignore[arg-type]


def test_the_past_weeks_nights_hold_for_three_days_and_no_longer() -> None:
    assert then(bed(recent_nights=exactly(52)), 4, "recent_nights") is None


def test_cant_tell_stays_cant_tell_of_all_that_it_can_be_that_day() -> None:
    case = bed()
    answers = {**case.answers, "planted_on": Known(RULEBOOK.signs["planted_on"].domain(ON), Origin.CANT_TELL)}
    case = Case(case.title, case.rulebook, case.on, answers=answers)
    assert then(case, 9, "planted_on") == RULEBOOK.signs["planted_on"].domain(ON + timedelta(days=9))


@pytest.mark.parametrize(
    ("seen", "in_a_week", "later"),
    [
        ("too-small", {"too-small"}, {"too-small", "right"}),
        ("right", {"right"}, {"right", "too-big"}),
        ("too-big", {"too-big"}, {"too-big"}),
    ],
)
def test_a_look_at_the_roots_holds_for_a_week_and_then_they_may_have_grown(
    seen: str, in_a_week: set[str], later: set[str]
) -> None:
    case = bed(roots=one_of(seen))
    assert then(case, 7, "roots") == Choices(frozenset(in_a_week))
    assert then(case, 8, "roots") == Choices(frozenset(later))
    assert then(case, 30, "roots", growing=0) == one_of(seen)


def test_a_test_dig_says_more_sizes_the_longer_the_roots_may_grow() -> None:
    case = bed(dig=SMALL)
    sizes = [then(case, days, "roots") for days in (1, 20, 45)]
    possible = [size.possible for size in sizes if isinstance(size, Choices)]
    assert len(possible) == 3
    assert possible[0] <= possible[1] <= possible[2]


def test_a_week_still_covered_by_the_forecast_is_told_by_it() -> None:
    case = bed(lows=[50, 49, 48, 40, 47, 46, 45, 52, 53])
    assert then(case, 1, "forecast_low") == exactly(40)
    assert then(case, 1, "forecast_low_in") == exactly(2)


def test_a_cold_night_in_a_forecast_that_ends_is_not_forgotten_and_a_mild_one_is_no_promise() -> None:
    assert then(bed(lows=[50, 49, 31]), 1, "forecast_low") == exactly(31)
    assert then(bed(lows=[50, 49, 45]), 1, "forecast_low") is None


def test_beyond_the_forecast_the_coldest_night_of_a_week_lies_below_the_usual_low() -> None:
    low = then(bed(record=STATION), 10, "forecast_low")
    assert isinstance(low, Span)
    mean = usual_low(date(2031, 10, 19))
    assert mean - 15 < low.low == low.high < mean


def test_soil_is_told_as_an_estimate_of_that_day_will_tell_it() -> None:
    soil = then(bed(record=STATION), 10, "soil_temperature")
    assert isinstance(soil, Span)
    assert soil.high - soil.low == pytest.approx(2 * 1.2816 * 3.6, abs=0.02)

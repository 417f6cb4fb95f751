"""What a grower who follows the assistant does, in autumns worked out by hand, and what nobody can know beforehand."""

from datetime import timedelta
from random import Random

import pytest
from autumns_by_hand import PLANTED, bed, lively, warm_but

from assistant.measures import known_readings
from assistant.model.case import Case
from assistant.model.readings import Choices, Known, Origin, Reading, exactly, one_of
from assistant.model.weather import Forecast, ForecastNight, StationRecord, Weather
from assistant.outlook.replay.autumns import Autumn, autumns
from assistant.outlook.replay.beds import DAYS, NEVER
from assistant.outlook.replay.eyes import Eyes
from assistant.outlook.replay.forecasts import Forecasts, forecasts
from assistant.outlook.replay.grower import Grower, Season
from assistant.outlook.replay.thumbs import THUMBS
from assistant.outlook.replay.yardstick import FIRST_LOOK, LAST_DAY
from assistant.rulebook import read_rulebook

RULEBOOK = read_rulebook("sweetpotato/when-to-dig")


def told(autumn: Autumn) -> Forecasts:
    """Forecasts without any error."""
    return [[round(autumn.lows[day + 1 + lead]) for lead in range(7)] for day in DAYS]


def dug(autumn: Autumn, days: range | list[int] = DAYS, offset: float = 0.0) -> Season:
    eyes = Eyes(RULEBOOK, "beauregard", bed(autumn, offset=offset), told(autumn))
    return Grower(eyes, Random(1), days).season()


def test_a_freeze_forecast_for_tonight_is_forestalled() -> None:
    assert dug(warm_but({95: 31})).dug == 94


def test_a_freeze_seen_days_ahead_is_forestalled_on_the_last_day_before_it() -> None:
    """The advice names a day to act by; the grower asks again until then."""
    assert dug(warm_but({100: 25})).dug == 99


def test_who_can_dig_at_weekends_only_digs_before_a_freeze_in_the_week() -> None:
    autumn = warm_but({95: 31})
    weekends = [day for day in DAYS if autumn.on(day).weekday() >= 5]
    season = dug(autumn, weekends)
    assert season.dug in weekends
    assert season.dug == max(day for day in weekends if day < 95)


def test_in_an_endless_summer_the_crop_is_dug_once_it_has_filled_out() -> None:
    season = dug(warm_but({}))
    assert 100 <= season.dug <= LAST_DAY
    assert season.visits >= 5
    assert season.hills % 2 == 0


def test_soil_that_turns_cold_is_not_waited_in() -> None:
    cold = warm_but(dict.fromkeys(range(100, 170), 38.0))
    assert dug(cold).dug < next(day for day in DAYS if cold.soil[day] < 50)


def test_what_comes_after_the_day_dug_never_changes_it() -> None:
    """The same autumn with another future, forecasts as they were: no peeking."""
    found, _ = autumns(lively(), PLANTED)
    for autumn in found[:6]:
        issued = forecasts(autumn, Random(autumn.year))
        first = Grower(Eyes(RULEBOOK, "beauregard", bed(autumn, luck=0.5), issued), Random(3)).season()
        turned = autumn._replace(
            lows=[*autumn.lows[: first.dug + 1], *(80.0 for _ in autumn.lows[first.dug + 1 :])],
            soil=[*autumn.soil[: first.dug + 1], *(85.0 for _ in autumn.soil[first.dug + 1 :])],
        )
        again = Grower(Eyes(RULEBOOK, "beauregard", bed(turned, luck=0.5), issued), Random(3)).season()
        assert again == first


@pytest.mark.parametrize("day", [FIRST_LOOK, 90, 120])
def test_the_assistant_is_told_what_a_garden_with_that_record_and_forecast_would_tell_it(day: int) -> None:
    """The readings made here against those that `measures` makes of a case, with a record that ends today."""
    made = lively()
    autumn = next(each for each in autumns(made, PLANTED)[0] if each.year == 2008)
    issued = forecasts(autumn, Random(1))
    eyes = Eyes(RULEBOOK, "beauregard", bed(autumn), issued)
    on = autumn.on(day)
    nights = tuple(ForecastNight(on + timedelta(days=lead + 1), low) for lead, low in enumerate(issued[day]))
    known_days = [each for each in made.days if each.on <= on or each.on > autumn.on(LAST_DAY)]
    case = Case(
        "A bed",
        RULEBOOK.name,
        on,
        garden=eyes.garden,
        answers={"planted_on": Known(exactly(autumn.planted.toordinal()), Origin.ANSWERED)},
        weather=Weather(StationRecord("Hollow Creek", tuple(known_days)), Forecast(on, nights)),
    )
    theirs, ours = known_readings(RULEBOOK, case), eyes.readings(day, "tomorrow")
    for name in ("forecast_low", "forecast_low_in", "cold_nights", "recent_nights", "heat_units"):
        assert ours[name] == theirs[name].reading, name
    assert ours["soil_temperature"].within(theirs["soil_temperature"].reading)
    for name in ("frost_chance_tonight", "frost_chance_week"):
        assert _low(ours[name]) == pytest.approx(_low(theirs[name].reading), abs=1.5), name


def _low(reading: Reading) -> float:
    assert not isinstance(reading, Choices)
    return reading.low


def test_roots_seen_once_are_never_smaller_later() -> None:
    eyes = Eyes(RULEBOOK, "beauregard", bed(warm_but({})), told(warm_but({})))
    readings = eyes.readings(100, "tomorrow", one_of("right", "too-big"))
    assert readings["roots"] == one_of("right", "too-big")


@pytest.mark.parametrize(
    ("rule", "day"),
    [
        ("day-90", 90),
        ("day-130", 130),
        ("first-forecast-frost", 89),
        ("day-after-first-frost", 97),
        ("when-vines-yellow", 96),
    ],
)
def test_rules_of_thumb_dig_on_their_day(rule: str, day: int) -> None:
    """One night of 34 °F on day 96, in plain sight a week before."""
    autumn = warm_but({96: 34})
    assert THUMBS[rule](bed(autumn), told(autumn)) == day


def test_a_rule_whose_sign_never_comes_digs_on_the_last_day() -> None:
    autumn = warm_but({})
    assert bed(autumn).first_frost == NEVER
    for rule in ("first-forecast-frost", "day-after-first-frost", "when-vines-yellow"):
        assert THUMBS[rule](bed(autumn), told(autumn)) == LAST_DAY

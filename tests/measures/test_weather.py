"""What a station and a forecast tell of the signs: within what they can know, and never over the grower's word."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from math import cos, pi

import pytest

from assistant.measures import domains, known_readings
from assistant.model.case import Case, FrostDates, Garden, MonthDay
from assistant.model.quantities import Kind
from assistant.model.readings import Choices, Known, Origin, Span, exactly, one_of
from assistant.model.signs import Effort, FromWeather, Sign
from assistant.model.weather import Day, Forecast, ForecastNight, StationRecord, Weather
from assistant.rulebook import read_rulebook

RULEBOOK = read_rulebook("sweetpotato/when-to-dig")
ON = date(2031, 9, 20)


def usual_low(day: date) -> float:
    """70 °F in mid-July, 20 °F in mid-January."""
    return 45 - 25 * cos(2 * pi * (day.timetuple().tm_yday - 15) / 365)


def record(years: int = 10, low: Callable[[date], float] = usual_low, until: date = ON) -> StationRecord:
    first = date(until.year - years, 1, 1)
    days = [first + timedelta(days=number) for number in range((until - first).days + 1)]
    wobble = [(-8, 3, 6, -2, 0, 5, -4)[number % 7] for number in range(len(days))]
    return StationRecord(
        "Hollow Creek", tuple(Day(day, low(day) + w, low(day) + w + 22) for day, w in zip(days, wobble, strict=True))
    )


def forecast(lows: list[float]) -> Forecast:
    return Forecast(ON, tuple(ForecastNight(ON + timedelta(days=n + 1), low) for n, low in enumerate(lows)), "a friend")


def known(weather: Weather, **answers: Known) -> dict[str, Known]:
    return known_readings(RULEBOOK, Case("A bed", RULEBOOK.name, ON, answers=answers, weather=weather))


def test_a_week_of_forecast_lows_answers_three_signs() -> None:
    told = known(Weather(forecast=forecast([50, 44, 36, 35, 41, 48, 50])))
    assert told["forecast_low"].reading == exactly(35)
    assert told["forecast_low_in"].reading == exactly(3)
    assert told["cold_nights"].reading == exactly(2)
    assert told["forecast_low"].origin is Origin.FORECAST
    assert told["vines"].origin is Origin.NOT_ASKED


def test_a_forecast_of_fewer_nights_says_only_how_cold_it_gets_at_least() -> None:
    told = known(Weather(forecast=forecast([50, 44, 40])))
    whole = domains(RULEBOOK, ON)["forecast_low"]
    assert isinstance(whole, Span)
    assert told["forecast_low"].reading == Span(whole.low, 40)
    assert told["cold_nights"].origin is Origin.NOT_ASKED


def test_what_the_grower_says_stands_above_the_station() -> None:
    answer = Known(exactly(31), Origin.ANSWERED, "31 F")
    assert known(Weather(record()), recent_nights=answer)["recent_nights"] is answer


def test_cant_tell_gives_way_to_what_the_station_tells() -> None:
    whole = domains(RULEBOOK, ON)["recent_nights"]
    told = known(Weather(record()), recent_nights=Known(whole, Origin.CANT_TELL, "can't tell"))["recent_nights"]
    assert told == known(Weather(record()))["recent_nights"]
    alone = known(Weather(), recent_nights=Known(whole, Origin.CANT_TELL, "can't tell"))["recent_nights"]
    assert alone.origin is Origin.CANT_TELL


def test_the_past_week_at_the_station_gives_the_typical_night() -> None:
    lows = sorted(day.low for day in record().days[-7:] if day.low is not None)
    assert known(Weather(record()))["recent_nights"].reading == exactly(round(lows[3], 2))


def test_a_warm_autumn_so_far_has_had_no_frost_and_a_cool_one_leaves_it_to_the_eye() -> None:
    assert known(Weather(record()))["frost"].reading == one_of("none")
    cool = record(low=lambda day: usual_low(day) - 20)
    assert known(Weather(cool))["frost"].origin is Origin.NOT_ASKED


def test_the_soil_is_a_range_about_what_the_air_has_been() -> None:
    steady = record(low=lambda day: 50)
    soil = known(Weather(steady))["soil_temperature"].reading
    assert isinstance(soil, Span)
    assert soil.low < 61 < soil.high  # lows about 50, highs 22 more
    assert soil.high - soil.low == pytest.approx(2 * 1.2816 * 3.6, abs=0.02)


def test_heat_units_are_added_up_since_planting_and_refused_where_nights_are_cool() -> None:
    planted = Known(exactly(date(2031, 6, 1).toordinal()), Origin.ANSWERED)
    warm = record(low=lambda day: 72)
    days = (ON - date(2031, 6, 1)).days
    expected = sum(
        min(day.high, 90) - 60
        for day in warm.days[-days - 1 : -1]
        if day.low is not None and day.high is not None and day.low >= 60
    )
    assert known(Weather(warm), planted_on=planted)["heat_units"].reading == exactly(expected)
    cool = known(Weather(record(low=lambda day: 55)), planted_on=planted)["heat_units"]
    assert cool.reading == domains(RULEBOOK, ON)["heat_units"]
    assert cool.origin is Origin.STATION


def test_the_records_frost_dates_stand_in_for_the_gardens_own() -> None:
    garden = Garden({"first_frost": FrostDates(MonthDay(9, 1), MonthDay(9, 20), MonthDay(10, 2))})
    case = Case("A bed", RULEBOOK.name, ON, weather=Weather(record()))
    by_record = known_readings(RULEBOOK, case)
    by_grower = known_readings(RULEBOOK, replace(case, garden=garden))
    measures = [name for name, measure in RULEBOOK.measures.items() if by_grower[name].origin is Origin.GARDEN]
    assert measures
    for name in measures:
        assert by_record[name].origin is Origin.GARDEN
        assert by_record[name].reading != by_grower[name].reading


def with_told(how: FromWeather, kind: Kind = Kind.NUMBER) -> Callable[[Weather], Known]:
    sign = Sign("risk", kind, "", "", Effort.LOOK_UP, low=-20, high=120, told=how)
    rulebook = replace(RULEBOOK, signs={**RULEBOOK.signs, "risk": sign})
    return lambda weather: known_readings(rulebook, Case("A bed", "x", ON, weather=weather))["risk"]


def test_chances_grow_as_the_forecast_gets_colder() -> None:
    risk = with_told(FromWeather("chance", 32, 7))
    lows = [risk(Weather(record(), forecast([low] * 7))).reading for low in (50, 40, 34, 28)]
    ends = [span.low for span in lows if isinstance(span, Span)]
    assert ends == sorted(ends)
    assert ends[0] < 5 < 60 < 90 < ends[-1]


def test_nobody_is_asked_what_only_the_weather_tells() -> None:
    unknown = with_told(FromWeather("chance", 32, 7))(Weather())
    assert unknown == Known(Span(-20, 120), Origin.CANT_TELL)


def test_without_a_forecast_the_usual_lows_give_the_chance() -> None:
    autumn = with_told(FromWeather("chance", 36, 7))(Weather(record()))
    assert autumn.origin is Origin.STATION
    winter = with_told(FromWeather("chance", 60, 7))(Weather(record()))
    assert isinstance(autumn.reading, Span)
    assert isinstance(winter.reading, Span)
    assert winter.reading.low > 90 > 20 > autumn.reading.high


def test_fewer_nights_are_less_of_a_risk() -> None:
    weather = Weather(record(), forecast([36] * 7))
    risks = [with_told(FromWeather("chance", 32, nights))(weather).reading for nights in (1, 3, 7)]
    ends = [span.low for span in risks if isinstance(span, Span)]
    assert ends[0] < ends[1] < ends[2]


def test_the_soil_ahead_follows_the_forecast_and_the_season() -> None:
    def ahead(lows: list[float]) -> Span:
        told = with_told(FromWeather("soil", nights=7), Kind.TEMPERATURE)
        reading = told(Weather(record(), forecast(lows))).reading
        assert isinstance(reading, Span)
        return reading

    assert ahead([35] * 7).high < ahead([50] * 7).high < ahead([65] * 7).high
    now = known(Weather(record()))["soil_temperature"].reading
    assert isinstance(now, Span)
    assert ahead([35] * 7).high < now.high


def test_every_reading_told_lies_within_the_signs_domain() -> None:
    whole = domains(RULEBOOK, ON)
    for weather in (Weather(record(), forecast([-60] * 7)), Weather(record(low=lambda day: 120)), Weather()):
        for name, its in known(weather).items():
            assert its.reading.within(whole[name]), name
            assert isinstance(its.reading, (Span, Choices))

"""What a station's record and a forecast say of the signs and measures of a rulebook on the day of a case."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from functools import lru_cache
from statistics import median

from assistant.model.case import Case, FrostDates
from assistant.model.quantities import NotAValue, rounded
from assistant.model.readings import Choices, Known, Origin, Reading, Span, exactly, one_of
from assistant.model.rules import Rulebook
from assistant.model.signs import CHANCE, FromWeather
from assistant.model.weather import StationRecord
from assistant.reckoning.climate import UsualLows
from assistant.reckoning.frost_odds import Odds, freeze_dates
from assistant.reckoning.heat_units import MOST_COOL_NIGHTS, share_of_cool_nights, sweet_potato_units
from assistant.reckoning.nights_ahead import WEEK, NightsAhead
from assistant.reckoning.soil_warmth import soil_course, soil_range

FROST, FREEZE = 36, 32
"""°F: lows that frost and freeze (US National Weather Service wording, from memory)."""
STATION_AND_BED = 2.0
"""°F by which a bed may be colder or warmer than the station at its usual best (our own judgement)."""
SOIL_NEEDS_DAYS = 14
"""Days of air before today that a soil estimate needs; after them its start no longer shows (closing 1/4 a day)."""
EVERYTHING = Span(-100_000, 100_000)
"""Wider than any domain: what says nothing of a number."""
FEWEST_NIGHTS = 4
"""Lows of the past week that its typical low needs."""


def signs_told(rulebook: Rulebook, case: Case) -> dict[str, Known]:
    """The signs the weather answers, each within its domain."""
    found = {}
    for name, known in (*_all_told(case), *_reckoned(rulebook, case)):
        sign = rulebook.signs.get(name)
        within = _within(known.reading, sign.domain(case.on)) if sign else None
        if within is not None:
            found[name] = Known(within, known.origin, known.written)
    return found


def _reckoned(rulebook: Rulebook, case: Case) -> Iterator[tuple[str, Known]]:
    """The signs that a rulebook has reckoned from the weather, as far as it is known."""
    origin = Origin.FORECAST if case.weather and case.weather.forecast else Origin.STATION
    for name, how in ((name, sign.told) for name, sign in rulebook.signs.items() if sign.told):
        span = _chance(how, case) if how.quantity == CHANCE else _soil_on(how.nights, case)
        if span is not None:
            yield name, Known(span, origin)


def _within(reading: Reading, domain: Reading) -> Reading | None:
    if isinstance(reading, Span):
        return reading.meet(domain) if isinstance(domain, Span) else None
    return reading if isinstance(domain, Choices) and reading.within(domain) else None


def _all_told(case: Case) -> Iterator[tuple[str, Known]]:
    yield from _forecast(case)
    record = case.weather.record if case.weather else None
    if record is not None:
        yield from _past_nights(record, case.on)
        yield from _soil(record, case.on)
        yield from _heat(record, case)


def _forecast(case: Case) -> Iterator[tuple[str, Known]]:
    """The coldest night of the coming week, when it is, and how many cold ones there are."""
    ahead = nights_ahead(case)
    coldest = ahead.lowest_forecast()
    if coldest is None or ahead.forecast is None:
        return
    night, told = coldest
    written = f"{ahead.forecast.source or 'forecast'} of {ahead.forecast.issued.isoformat()}"
    lows = [each.low for each in ahead.forecast_nights()]
    if len(lows) == WEEK:
        yield "forecast_low", Known(exactly(rounded(told.low)), Origin.FORECAST, written)
        yield "forecast_low_in", Known(exactly(night), Origin.FORECAST, written)
        yield "cold_nights", Known(exactly(sum(low <= FROST for low in lows)), Origin.FORECAST, written)
    else:
        at_most = Span(EVERYTHING.low, rounded(told.low))
        yield "forecast_low", Known(at_most, Origin.FORECAST, f"{written}, not all nights")


def _past_nights(record: StationRecord, on: date) -> Iterator[tuple[str, Known]]:
    week = [low for low in _lows(record, on - timedelta(days=WEEK - 1), on) if low is not None]
    if len(week) >= FEWEST_NIGHTS:
        yield "recent_nights", Known(exactly(rounded(median(week))), Origin.STATION, record.name)
    season = [low for low in _lows(record, on - timedelta(days=60), on) if low is not None]
    if len(season) >= 50 and min(season) > FROST + STATION_AND_BED:
        yield "frost", Known(one_of("none"), Origin.STATION, record.name)


def _lows(record: StationRecord, first: date, last: date) -> list[float | None]:
    days = (first + timedelta(days=step) for step in range((last - first).days + 1))
    return [day.low if day else None for day in map(record.by_date.get, days)]


def _soil(record: StationRecord, on: date) -> Iterator[tuple[str, Known]]:
    air = _air(record, on)
    if len(air) >= SOIL_NEEDS_DAYS:
        *_, now = soil_course(air)
        said = f"estimated from the air at {record.name}"
        yield "soil_temperature", Known(_rounded(soil_range(now)), Origin.STATION, said)


def _air(record: StationRecord, on: date) -> list[float]:
    """The daily means before a day that a soil estimate rests on."""
    days = [record.by_date.get(on - timedelta(days=back)) for back in range(2 * SOIL_NEEDS_DAYS, 0, -1)]
    return [(day.low + day.high) / 2 for day in days if day and day.low is not None and day.high is not None]


def _rounded(span: Span) -> Span:
    return Span(rounded(span.low), rounded(span.high))


def _heat(record: StationRecord, case: Case) -> Iterator[tuple[str, Known]]:
    """Heat units since planting by the sweet potato rule; anything where nights are too cool for it."""
    planted = case.answers.get("planted_on")
    if planted is None or not isinstance(planted.reading, Span):
        return
    first, last = (date.fromordinal(int(end)) for end in (planted.reading.low, planted.reading.high))
    days = [record.by_date.get(first + timedelta(days=step)) for step in range((case.on - first).days)]
    known = [(day.on, day.low, day.high) for day in days if day and day.low is not None and day.high is not None]
    if not known or len(known) < len(days):
        return
    if share_of_cool_nights(low for _, low, _ in known) > MOST_COOL_NIGHTS:
        yield "heat_units", Known(EVERYTHING, Origin.STATION, "nights are too cool for this sum")
        return
    most = sum(sweet_potato_units(low, high) for _, low, high in known)
    least = sum(sweet_potato_units(low, high) for on, low, high in known if on >= last)
    yield "heat_units", Known(Span(rounded(least), rounded(most)), Origin.STATION, record.name)


def _chance(how: FromWeather, case: Case) -> Span | None:
    chance = nights_ahead(case).chance(how.at_or_below, range(how.nights))
    return None if chance is None else exactly(rounded(100 * chance))


def _soil_on(days: int, case: Case) -> Span | None:
    """The soil so many days on, if the air goes on as usual for the dates and as the forecast has it."""
    record = case.weather.record if case.weather else None
    air = _air(record, case.on) if record else []
    if len(air) < SOIL_NEEDS_DAYS:
        return None
    ahead = nights_ahead(case)
    coming = [ahead.expected(night) for night in range(days)]
    known = [night.mean for night in coming if night is not None]
    if len(known) < days:
        return None
    *_, then = soil_course([*air, *(low + daily_swing(record) / 2 for low in known)])
    return _rounded(soil_range(then))


def nights_ahead(case: Case) -> NightsAhead:
    """The nights after the case, from its forecast and the usual lows of its station."""
    record = case.weather.record if case.weather else None
    usual = usual_lows(record).on if record else _no_climate
    return NightsAhead(case.on, case.weather.forecast if case.weather else None, usual)


def _no_climate(day: date) -> None:
    return None


@lru_cache(maxsize=4)
def usual_lows(record: StationRecord) -> UsualLows:
    """The usual lows of a station; the last few stations are kept."""
    return UsualLows(record.days)


@lru_cache(maxsize=4)
def daily_swing(record: StationRecord) -> float:
    """How far the high of a day lies above its low at a station, the middle of all days (°F)."""
    return median(day.high - day.low for day in record.days if day.low is not None and day.high is not None)


@lru_cache(maxsize=4)
def first_frost(record: StationRecord) -> FrostDates | None:
    """The dates by which a station has had a freeze in 1, 5 and 9 autumns of 10; None when they cannot be told."""
    try:
        odds = Odds.from_seasons(freeze_dates(record, FREEZE).first_fall)
    except NotAValue:
        return None
    return odds.dates() if odds else None

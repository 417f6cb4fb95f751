"""The soil ahead at 4 in (10 cm): what to expect of each day, if the air goes on as forecast and then as usual. °F."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from itertools import takewhile
from math import sqrt
from statistics import NormalDist
from typing import NamedTuple

from assistant.measures.weather import SOIL_NEEDS_DAYS, daily_swing, nights_ahead, usual_lows
from assistant.model.case import Case
from assistant.model.quantities import rounded
from assistant.model.readings import Known, Origin, Span
from assistant.model.weather import StationRecord
from assistant.reckoning.forecast_odds import NIGHT_TO_NIGHT, Climate
from assistant.reckoning.ranges import Range
from assistant.reckoning.soil_warmth import FOLLOWS, STANDARD_ERROR, WITHIN, soil_course

LAST_SAFE_SOIL = 50.0
"""°F below which every handbook wants the roots out (R14, R13, R15, R43); some see harm begin below 55 (R09, R11)."""


THERMOMETER = 1.0
"""°F; how far a kitchen thermometer in one spot may be off (standard deviation; our own judgement)."""


class Soil(NamedTuple):
    """The soil of one day: its mean, and the standard deviation of what it may really be.

    `then` is what will be left of the latter on the day itself, when the weather before it is known.
    """

    mean: float
    spread: float
    then: float

    @property
    def range(self) -> Range:
        """What holds it in 8 of 10 cases."""
        return Range(self.mean - WITHIN * self.spread, self.mean, self.mean + WITHIN * self.spread)

    @property
    def as_told_then(self) -> Span:
        """What an estimate will say on the day itself, if the weather turns out as expected."""
        return Span(rounded(self.mean - WITHIN * self.then), rounded(self.mean + WITHIN * self.then))

    def below(self, limit: float) -> float:
        """The chance (0 to 1) that it is colder than a limit."""
        return NormalDist(self.mean, self.spread).cdf(limit)


class _State(NamedTuple):
    """The soil on the way: its mean, the variance of how well it is known, and that from weather not known yet.

    `shared` is the covariance of the latter with the last night's departure from what was expected.
    """

    mean: float
    known: float = STANDARD_ERROR**2
    weather: float = 0.0
    shared: float = 0.0

    def next(self, air: Climate) -> _State:
        """A day later: the soil closes its share of the gap to the air, whose departures go from day to day."""
        kept = 1 - FOLLOWS
        carried = kept * NIGHT_TO_NIGHT * self.shared
        return _State(
            self.mean + FOLLOWS * (air.mean - self.mean),
            kept**2 * self.known + (1 - kept**2) * STANDARD_ERROR**2,
            kept**2 * self.weather + 2 * FOLLOWS * air.spread * carried + (FOLLOWS * air.spread) ** 2,
            carried + FOLLOWS * air.spread,
        )


def soil_ahead(case: Case, told: Known, days: int) -> list[Soil | None]:
    """The soil today and on each of the days after it; None where nothing tells.

    Begins with the grower's thermometer, else with the station's air of the past weeks, else with the usual air of
    the date. From there it follows the air with its lag, and the spread grows with the weather that is not known yet.
    """
    record = case.weather.record if case.weather else None
    state = _start(case, told, record)
    if state is None:
        return [None] * (days + 1)
    states = [state, *_course(state, _air_ahead(case, record, days))]
    course = [Soil(each.mean, sqrt(each.known + each.weather), sqrt(each.known)) for each in states]
    return [*course, *[None] * (days + 1 - len(course))]


def _air_ahead(case: Case, record: StationRecord | None, days: int) -> list[Climate]:
    """The daily means to expect, up to the first that is not known."""
    if record is None:
        return []  # lows alone don't tell how warm the days are
    nights, swing = nights_ahead(case), daily_swing(record) / 2
    known = takewhile(lambda low: low is not None, map(nights.expected, range(days)))
    return [Climate(low.mean + swing, low.spread) for low in known if low]


def _start(case: Case, told: Known, record: StationRecord | None) -> _State | None:
    if told.origin is Origin.ANSWERED and isinstance(told.reading, Span):
        low, high = told.reading.low, told.reading.high
        return _State((low + high) / 2, max((high - low) / 2 / WITHIN, THERMOMETER) ** 2)
    if record is None:
        return None
    past = [case.on - timedelta(days=back) for back in range(2 * SOIL_NEEDS_DAYS, 0, -1)]
    days = [record.by_date.get(day) for day in past]
    means = [(day.low + day.high) / 2 for day in days if day and day.low is not None and day.high is not None]
    if len(means) >= SOIL_NEEDS_DAYS:
        *_, mean = soil_course(means)
        return _State(mean)
    return _usual_start(record, past)


def _usual_start(record: StationRecord, past: Iterable[date]) -> _State | None:
    """The soil as it usually is after those days, which may be off by all of their weather."""
    lows = [usual_lows(record).on(day) for day in past]
    swing = daily_swing(record) / 2
    air = [Climate(low.mean + swing, low.spread) for low in lows if low]
    if len(air) < len(lows):
        return None
    *_, state = _course(_State(air[0].mean), air)
    return state


def _course(state: _State, air: Iterable[Climate]) -> Iterator[_State]:
    for day in air:
        state = state.next(day)
        yield state

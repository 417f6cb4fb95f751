"""The same garden on a later day: what will be known then, if nothing comes between that is not expected.

Answers that stay true are kept, those that run on with the calendar are moved on, those that the weather or growth
will change are put at what is expected, and those that nobody can know yet are taken out.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from math import sqrt
from statistics import median

from assistant.measures.digging import ROOTS, roots_dug
from assistant.model.case import Case
from assistant.model.quantities import rounded
from assistant.model.readings import Choices, Known, Origin, Reading, Span, exactly, one_of
from assistant.model.rules import Rulebook
from assistant.model.weather import Weather
from assistant.outlook.cold import FREEZE, FROST, ColdAhead
from assistant.outlook.size import fastest_grown
from assistant.outlook.soil import Soil
from assistant.reckoning.forecast_odds import Climate, chance_at_or_below, chance_on_some_night, forecast_spread
from assistant.reckoning.nights_ahead import WEEK

LOOK_LASTS = 7
"""Days for which the size seen at the last look is taken to hold: the fastest growth published adds about 160 g to a
plant in a week, which widens the roots of a two-pound plant by a twelfth."""
LASTS = {"forecast_low": 0, "forecast_low_in": 0, "cold_nights": 0, "recent_nights": 3, "soil_temperature": 1}
"""Days for which an answer of the weather holds where nothing tells of the next ones: of the nights of the past week
most are then the same, and the soil closes a quarter of its gap to the air each day. Our own judgement."""
MOST_UNITS_A_DAY = 30
"""Heat units that a day can add: a high of 90 °F or more less the base of 60 (R01)."""
SIZES = ("too-small", "right", "too-big")
EXPECTED = "expected"


@dataclass(frozen=True, eq=False)
class Later:
    """What is known of a garden today and of the days ahead of it."""

    rulebook: Rulebook
    case: Case
    known: Mapping[str, Known]
    cold: ColdAhead
    soil: Sequence[Soil | None]
    growing: Sequence[Span]

    def case_on(self, days: int) -> Case:
        """The case as it will be so many days on; today's as it is."""
        if days == 0:
            return self.case
        on = self.case.on + timedelta(days=days)
        expected = self._expected(days)
        answers = {}
        for name, sign in self.rulebook.signs.items():
            reading = expected.get(name) or self._then(name, days)
            within = _within(reading, sign.domain(on)) if reading else None
            if within is not None:
                answers[name] = self._said(name, within, on, name in expected)
        return replace(self.case, on=on, answers=answers, test_dig=None, weather=self._weather(days))

    def _said(self, name: str, reading: Reading, on: date, expected: bool) -> Known:
        now = self.known[name]
        if expected:
            return Known(reading, Origin.FORECAST, EXPECTED)
        if now.origin is Origin.CANT_TELL:
            return Known(self.rulebook.signs[name].domain(on), Origin.CANT_TELL)
        return Known(reading, now.origin, now.written)

    def _weather(self, days: int) -> Weather | None:
        """The forecast stays only while it or the usual lows tell of the whole week, lest its end pass for cold."""
        weather = self.case.weather
        known = all(self.cold.expected(days + night) for night in range(WEEK))
        return weather if known or weather is None else Weather(weather.record, None)

    def _expected(self, days: int) -> Mapping[str, Reading]:
        """The signs of the weather as they will likely stand so many days on, as far as anything tells."""
        found = dict(self.week_ahead(days))
        low, soil = self.nights_before(days), self.soil[days]
        if low is not None:
            found["recent_nights"] = exactly(rounded(low))
        if soil is not None:
            found["soil_temperature"] = soil.as_told_then
        return found

    def _then(self, name: str, days: int) -> Reading | None:
        """A sign that is known today as it will be; None when it will have to be looked at anew."""
        reading = self.known[name].reading
        if days > LASTS.get(name, days) or self.known[name].origin is Origin.NOT_ASKED:
            return None
        change = _CHANGES.get(name)
        return change(self, reading, days) if change else reading

    def week_ahead(self, days: int) -> Mapping[str, Reading]:
        """The signs of the forecast as they will likely stand so many days on, as far as anything tells."""
        nights = range(days, days + WEEK)
        told = {night: low for night in nights if (low := self.cold.forecast_low(night)) is not None}
        usual = {night: each for night in nights if night not in told and (each := self.cold.expected(night))}
        if len(told) + len(usual) < WEEK:
            return self._week_by_odds(days, min(told.values(), default=None))
        lows = told | {night: each.mean for night, each in usual.items()}
        coldest = min(nights, key=lambda night: lows[night])
        low = min(min(told.values(), default=150.0), _likely_lowest(list(usual.values())))
        cold = sum(each <= FROST for each in lows.values())
        return {
            "forecast_low": exactly(rounded(low)),
            "forecast_low_in": exactly(coldest - days),
            "cold_nights": exactly(max(cold, int(low <= FROST))),
        }

    def _week_by_odds(self, days: int, told: float | None) -> Mapping[str, Reading]:
        """The same by the odds of the first frost, which know limits only."""
        chances = {limit: self._in_week(limit, days) for limit in (FREEZE, FROST)}
        limits = [limit for limit, chance in chances.items() if chance is not None and chance >= 0.5]
        lows = [*limits[:1], *([told] if told is not None else [])]
        if None in chances.values():
            return {"forecast_low": exactly(told)} if told is not None and told <= FROST else {}
        if not lows:
            return {"forecast_low": Span(FROST + 1, 150), "cold_nights": exactly(0)}
        return {"forecast_low": exactly(min(lows))}

    def _in_week(self, limit: int, days: int) -> float | None:
        """The chance of a first low at a limit in the week after a day, none having come before."""
        *_, before = self.cold.by(limit, days)
        *_, after = self.cold.by(limit, days + WEEK)
        if before is None or after is None:
            return None
        return (after - before) / (1 - before) if before < 1 else 1.0

    def nights_before(self, days: int) -> float | None:
        """The typical low of the week before a later day; None when fewer than four of its nights are known."""
        lows = [low for night in range(days - WEEK, days) if (low := self._low(night)) is not None]
        return median(lows) if len(lows) > WEEK // 2 else None

    def _low(self, night: int) -> float | None:
        """The low of a night past or to come, as recorded, forecast or usual."""
        if night >= 0:
            told, expected = self.cold.forecast_low(night), self.cold.expected(night)
            return told if told is not None else expected.mean if expected else None
        morning: date = self.case.on + timedelta(days=night + 1)
        day = self.cold.record.by_date.get(morning) if self.cold.record else None
        return day.low if day else None


def _likely_lowest(usual: Sequence[Climate]) -> float:
    """The lowest of some nights' forecasts, as likely as not, where only their usual lows are known.

    Forecasts scatter less than the lows themselves, by the error that they still have.
    """
    if not usual:
        return 150.0
    error = forecast_spread(WEEK // 2)
    nights = [Climate(low.mean, sqrt(max(low.spread**2 - error**2, 1.0))) for low in usual]
    low, high = min(night.mean - 4 * night.spread for night in nights), min(night.mean for night in nights) + 1
    while high - low > 0.5:
        middle = (low + high) / 2
        likely = chance_on_some_night([chance_at_or_below(middle, night) for night in nights]) >= 0.5
        low, high = (low, middle) if likely else (middle, high)
    return high


def _roots(later: Later, reading: Reading, days: int) -> Reading | None:
    """The sizes that the roots may have by then: they grow or stand still, and never shrink."""
    if not isinstance(reading, Choices) or not later.growing[days].high:
        return reading
    dig = later.case.test_dig
    if dig is not None and ROOTS not in later.case.answers:
        grown = roots_dug(fastest_grown(dig, later.growing[days]), Choices(frozenset(SIZES)), later.case.units).reading
        return _sizes_between(reading, grown)
    return reading if days <= LOOK_LASTS else _sizes_between(reading, _larger(reading))


def _larger(reading: Choices) -> Choices:
    return one_of(*(SIZES[min(SIZES.index(size) + 1, 2)] for size in reading.possible if size in SIZES))


def _sizes_between(now: Choices, then: Reading) -> Choices:
    both = now.possible | (then.possible if isinstance(then, Choices) else frozenset())
    places = [SIZES.index(size) for size in both if size in SIZES]
    return Choices(frozenset(SIZES[min(places) : max(places) + 1])) if places else now


def _moved(steps: Callable[[int], tuple[float, float]]) -> Callable[[Later, Reading, int], Reading | None]:
    """A number that changes with the days by as much as `steps` says, at its low and at its high end."""

    def change(later: Later, reading: Reading, days: int) -> Reading | None:
        low, high = steps(days)
        return Span(reading.low + low, reading.high + high) if isinstance(reading, Span) else reading

    return change


def _rain(later: Later, reading: Reading, days: int) -> Reading | None:
    """Nearer by the days; the highest number says that none is in sight, and no more."""
    if not isinstance(reading, Span):
        return reading
    high = reading.high if reading.high >= later.rulebook.signs["heavy_rain_in"].high else reading.high - days
    return Span(min(reading.low - days, high), high)


_CHANGES: Mapping[str, Callable[[Later, Reading, int], Reading | None]] = {
    ROOTS: _roots,
    "heavy_rain_in": _rain,
    "frost_days_ago": _moved(lambda days: (days, days)),
    "heat_units": _moved(lambda days: (0, MOST_UNITS_A_DAY * days)),
}


def _within(reading: Reading, domain: Reading) -> Reading | None:
    if isinstance(reading, Span) and isinstance(domain, Span):
        return reading.meet(domain)
    return reading

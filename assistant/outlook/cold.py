"""The cold ahead: for every coming night the chance of frost and freezes, and the chance that one has come by then.

The forecast speaks as far as it goes. Beyond it speak the dates of past seasons (or the grower's own three dates),
none having come so far; where those can't speak, the usual lows of each date do.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cached_property, lru_cache
from itertools import accumulate

from assistant.measures.weather import nights_ahead
from assistant.model.case import Case, MonthDay
from assistant.model.quantities import NotAValue
from assistant.model.readings import Span
from assistant.model.weather import Forecast, ForecastNight, StationRecord
from assistant.reckoning.forecast_odds import NIGHT_TO_NIGHT, ROUNDING, Climate, chance_at_or_below
from assistant.reckoning.freeze_dates import Counted, FreezeDates, freeze_dates
from assistant.reckoning.frost_odds import THRESHOLDS, Odds
from assistant.reckoning.nights_ahead import NightsAhead
from assistant.reckoning.nights_in_a_row import chances_by_night

FROST, FREEZE, HARD_FREEZE = THRESHOLDS
"""°F: a frost, a freeze and a killing freeze (US National Weather Service)."""
USUALLY_APART = {FROST: -9.5, FREEZE: 0.0, HARD_FREEZE: 11.3}
"""Days from the first 32 °F to the first low at each limit: means of the 91 autumns of the Clemson record."""
OF_FROSTS = {"none": frozenset[int](), "light": frozenset({FROST, FREEZE}), "hard": frozenset(THRESHOLDS)}
"""The limits that a frost the grower has seen has passed."""
COLDEST_NIGHT = ("forecast_low", "forecast_low_in")
"""The signs that tell how cold the coldest night forecast is, and how many nights off."""
CLOSE_ENOUGH = 4
"""°F; a forecast low told as a range no wider than this counts as its middle. Our choice; a forecast errs as much."""
THIS_SEASON = 60
"""Days before today in which a low at the station counts as this season's; longer ago it may have been spring."""


def told_night(case: Case) -> Forecast | None:
    """The coldest night of the week, where the grower answered how cold and when."""
    low, nights = (case.answers[name].reading if name in case.answers else None for name in COLDEST_NIGHT)
    if not isinstance(low, Span) or not isinstance(nights, Span):
        return None
    if nights.low != nights.high or low.high - low.low > CLOSE_ENOUGH:
        return None
    morning = case.on + timedelta(days=int(nights.low) + 1)
    return Forecast(case.on, (ForecastNight(morning, (low.low + low.high) / 2),))


@dataclass(frozen=True, eq=False)
class ColdAhead:
    """The nights after a case and the odds of its season's first frost.

    `seen` holds the limits that the grower says have been passed, `at_station` those that the station
    has passed this season, so that "none so far" no longer holds there.
    """

    case: Case
    seen: frozenset[int]

    @cached_property
    def nights(self) -> NightsAhead:
        """The forecast, or the one night of it that the grower told, and the usual lows beyond it."""
        ahead = nights_ahead(self.case)
        return ahead if ahead.forecast else replace(ahead, forecast=told_night(self.case))

    @cached_property
    def odds(self) -> Mapping[int, Odds]:
        """The odds of the first at each limit: by the grower's own dates, else by the station's record."""
        record = self.record
        by_record = {at: odds for at, dates in _freezes(record).items() if (odds := _odds(dates))} if record else {}
        own = self.case.garden.dates.get("first_frost")
        if own is None:
            return by_record
        return _like(Odds.from_dates(own), by_record)

    @property
    def record(self) -> StationRecord | None:
        """The station's record, if there is one."""
        return self.case.weather.record if self.case.weather else None

    @cached_property
    def at_station(self) -> frozenset[int]:
        """The limits that the station has passed this season."""
        first = self.case.on - timedelta(days=THIS_SEASON)
        days = self.record.days if self.record else ()
        lows = [day.low for day in days if first < day.on <= self.case.on and day.low is not None]
        return frozenset(at for at in THRESHOLDS if lows and min(lows) <= at + ROUNDING)

    @cached_property
    def reach(self) -> int:
        """How many coming nights, from tonight on, the forecast speaks for without a gap that nothing fills."""
        covered = [told for told in range(20) if self.forecast_low(told) is not None]
        last = max(covered, default=-1) + 1
        return next((night for night in range(last) if self.nights.expected(night) is None), last)

    def forecast_low(self, night: int) -> float | None:
        """The low forecast for a coming night (°F); night 0 is tonight."""
        morning = self.case.on + timedelta(days=night + 1)
        told = self.nights.forecast.nights if self.nights.forecast else ()
        return next((each.low for each in told if each.morning == morning), None)

    def expected(self, night: int) -> Climate | None:
        """The low to expect of a coming night, as mean and spread."""
        return self.nights.expected(night)

    def that_night(self, limit: int, night: int) -> float | None:
        """The chance (0 to 1) of a low at or below a limit on one coming night; None when nothing is known."""
        expected = self.expected(night)
        if expected is not None:
            return chance_at_or_below(limit, expected)
        evening = self.case.on + timedelta(days=night)
        odds = self._first(limit)
        return odds.after(evening).by(evening + timedelta(days=1)) if odds else None

    def by(self, limit: int, days: int) -> list[float | None]:
        """For today and each of the days after it, the chance that a low at the limit comes before its daylight.

        The chance (0 to 1) never falls, and 32 °F lies between the other two. What the grower has seen is
        certain; what only the station has seen may come again. None from where nothing is known.
        """
        if limit in self.seen:
            return [1.0] * (days + 1)
        chances = self._by(limit, days)
        if limit == FREEZE:
            return chances
        keep = max if limit > FREEZE else min
        bounds = self.by(FREEZE, days)
        return [
            chance if chance is None or bound is None else keep(chance, bound)
            for chance, bound in zip(chances, bounds, strict=True)
        ]

    def _by(self, limit: int, days: int) -> list[float | None]:
        each = [self.that_night(limit, night) for night in range(days)]
        known = next((night for night, chance in enumerate(each) if chance is None), days)
        nightly = [chance for chance in each[:known] if chance is not None]
        near = [0.0, *chances_by_night(nightly[: self.reach], NIGHT_TO_NIGHT)]
        far = self._beyond(limit, near[-1], nightly)
        whole = accumulate(map(max, near + far, [0.0, *nightly]), max)
        return [*whole, *[None] * (days - known)]

    def _beyond(self, limit: int, near: float, nightly: list[float]) -> list[float]:
        """The chances by the days after the forecast's last night, the chance up to there being `near`."""
        odds = self._first(limit)
        if odds is None:
            return chances_by_night(nightly, NIGHT_TO_NIGHT)[self.reach :]
        end = self.case.on + timedelta(days=self.reach)
        later = odds.after(end)
        steps = range(1, len(nightly) - self.reach + 1)
        return [1 - (1 - near) * (1 - later.by(end + timedelta(days=step))) for step in steps]

    def _first(self, limit: int) -> Odds | None:
        """The odds of the season's first, as long as there has been none."""
        return None if limit in self.at_station else self.odds.get(limit)

    def counted(self, day: date) -> Counted | None:
        """Of the station's seasons without a freeze (32 °F) by today's date, how many had one by the day's."""
        dates = _freezes(self.record).get(FREEZE) if self.record else None
        if dates is None or FREEZE in self.at_station:
            return None
        return dates.first_fall.counted(MonthDay.of(day), MonthDay.of(self.case.on))


def _like(own: Odds, by_record: Mapping[int, Odds]) -> Mapping[int, Odds]:
    """The grower's own odds of the first 32 °F, and those of the other limits as far from it as at a station."""
    usual = by_record.get(FREEZE)
    if usual is None or not usual.freezes:
        return {limit: own._replace(middle=own.middle + days) for limit, days in USUALLY_APART.items()}
    return {
        limit: own._replace(
            middle=own.middle + (odds.middle - usual.middle if odds.freezes else 0.0),
            share=min(odds.share / usual.share, 1.0),
        )
        for limit, odds in by_record.items()
    }


def _odds(dates: FreezeDates) -> Odds | None:
    return Odds.from_seasons(dates.first_fall)


@lru_cache(maxsize=4)
def _freezes(record: StationRecord) -> Mapping[int, FreezeDates]:
    """A station's freezes at each limit; none where the record doesn't show when summer is."""
    try:
        return {limit: freeze_dates(record, limit) for limit in THRESHOLDS}
    except NotAValue:
        return {}

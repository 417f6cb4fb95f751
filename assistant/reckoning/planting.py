"""When to set slips out and when to start them: two weeks after the last frost or in warm soil, whichever is later.

Dates rest on a station's record, or on dates that the grower knows. °F throughout.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date, timedelta
from typing import NamedTuple

from assistant.model.case import FrostDates, MonthDay
from assistant.model.weather import StationRecord
from assistant.reckoning.freeze_dates import Hemisphere, SeasonDates, freeze_dates, hemisphere_of
from assistant.reckoning.frost_odds import Odds
from assistant.reckoning.soil_warmth import soil_course

AFTER_LAST_FROST = timedelta(weeks=2)
"""Slips wait about two weeks after the last frost (a grower's handbook)."""
WARM_SOIL = 65.0
"""°F at 4 in (Clemson, University of New Hampshire, NC Cooperative Extension); others say 60, from memory."""
FROZEN_SOIL = 32.0
RUNNING = 4
"""Days running that the soil is as warm (a grower's handbook) or as cold (our choice) before it counts."""
FREEZE = 32
STILL_TIME = timedelta(weeks=6)
"""After the first good day for planting; South Carolina's planting runs for four to eleven weeks (Clemson)."""
TO_SLIPS = (timedelta(weeks=6), timedelta(weeks=8))
"""From bedding the roots to slips (University of New Hampshire, LSU AgCenter)."""
TO_WAKE = (timedelta(weeks=2), timedelta(weeks=4))
"""Warmth before bedding (NC SweetPotato Commission)."""
LOOKED_FOR = 270
"""Days from midwinter on in which the soil warms, and from late summer on in which it freezes."""
MOST_MISSING = 20
"""Days missing of those before a season is taken for unknown. Our choice."""
_YEAR_OF_ODDS = 2031


class Spring(NamedTuple):
    """What decides when slips go out: the odds of the last freeze, and the dates by which the soil has warmed in
    1, 5 and 9 years of 10; None where it is not known."""

    last_freeze: Odds | None = None
    soil_warm: FrostDates | None = None

    def plant_out(self, year: int, chance: float = 0.5, soil: str = "p50") -> Planting:
        """The day in a year's spring, going by the last freeze as it has passed with this chance (0 to 1)."""
        frost = self.freeze_past(year, chance)
        named: MonthDay | None = getattr(self.soil_warm, soil) if self.soil_warm else None
        warm = named and (named.nearest(frost) if frost else named.in_year(year))
        return Planting(frost, warm, self._later_freeze(frost, warm))

    def freeze_past(self, year: int, chance: float) -> date | None:
        """The day of a year's spring by which the last freeze has passed with a chance (0 to 1); None when not known.

        A calendar date that is the same in leap years.
        """
        day = self.last_freeze.quantile(chance, _YEAR_OF_ODDS) if self.last_freeze else None
        return MonthDay.of(day).in_year(year) if day else None

    def _later_freeze(self, frost: date | None, warm: date | None) -> float | None:
        day = Planting(frost, warm).plant_out
        if day is None or self.last_freeze is None:
            return None
        return self.last_freeze.share - self.last_freeze.by(day)

    def next_planting(self, on: date, chance: float = 0.5) -> Planting:
        """The first planting whose time is not over on a day; without any date where nothing is known."""
        plantings = [self.plant_out(year, chance) for year in range(on.year - 1, on.year + 3)]
        open_still = (each for each in plantings if each.plant_out and each.plant_out + STILL_TIME >= on)
        return next(open_still, plantings[0])


class Planting(NamedTuple):
    """The last freeze and the first warm soil of a spring, and the chance (0 to 1) of a freeze after planting."""

    last_freeze: date | None
    soil_warm: date | None
    later_freeze: float | None = None

    @property
    def frost_is_past(self) -> date | None:
        """Two weeks after the last freeze."""
        return self.last_freeze + AFTER_LAST_FROST if self.last_freeze else None

    @property
    def plant_out(self) -> date | None:
        """The later of the two; of one alone where the other is not known, None where neither is."""
        return max((day for day in (self.frost_is_past, self.soil_warm) if day), default=None)


class Start(NamedTuple):
    """First and last day to bring seed roots into the warm, and to bed them."""

    wake: tuple[date, date]
    bed: tuple[date, date]


def start_of_slips(plant_out: date) -> Start:
    """When slips are started for a day of planting: bedded six to eight weeks before, woken two to four before that."""
    soonest, latest = plant_out - TO_SLIPS[1], plant_out - TO_SLIPS[0]
    return Start((soonest - TO_WAKE[1], latest - TO_WAKE[0]), (soonest, latest))


def spring_of(record: StationRecord, hemisphere: Hemisphere | None = None) -> Spring:
    """What a station's record says of its springs. Raises `NotAValue` when it does not show its hemisphere."""
    last = freeze_dates(record, FREEZE, hemisphere).last_spring
    return Spring(Odds.from_seasons(last), dates_of(soil_warms(record, hemisphere)))


def spring_from_dates(last_frost: FrostDates | None, soil_warm: MonthDay | None) -> Spring:
    """The same from a grower's own dates. Raises `NotAValue` where they are not in order."""
    warm = FrostDates(soil_warm, soil_warm, soil_warm) if soil_warm else None
    return Spring(Odds.from_dates(last_frost) if last_frost else None, warm)


def soil_warms(record: StationRecord, hemisphere: Hemisphere | None = None) -> SeasonDates:
    """The first day of each spring that ends four days running of soil at 65 °F or more, as estimated from the air."""
    hemisphere = hemisphere or hemisphere_of(record)
    return _soil_dates(record, hemisphere, _midwinter(hemisphere), lambda soil: soil >= WARM_SOIL)


def ground_freezes(record: StationRecord, hemisphere: Hemisphere | None = None) -> SeasonDates:
    """The first day of each winter that ends four days running of soil at 32 °F or less at 4 in."""
    hemisphere = hemisphere or hemisphere_of(record)
    return _soil_dates(record, hemisphere, hemisphere.summer, lambda soil: soil <= FROZEN_SOIL)


def _midwinter(hemisphere: Hemisphere) -> int:
    return 1 if hemisphere is Hemisphere.NORTH else 7


def dates_of(seasons: SeasonDates) -> FrostDates | None:
    """The dates by which it has come in 1, 5 and 9 years of 10; None when one of them is not known."""
    odds = Odds.from_seasons(seasons)
    return odds.dates() if odds else None


def _soil_dates(
    record: StationRecord, hemisphere: Hemisphere, month: int, counts: Callable[[float], bool]
) -> SeasonDates:
    """In every year the first day, from the first of a month on, that ends a run of days whose soil counts."""
    soil = _soil_by_day(record)
    found, without, unknown = {}, [], []
    for year in range(record.days[0].on.year, record.days[-1].on.year + 1) if record.days else ():
        days = [date(year, month, 1) + timedelta(days=step) for step in range(LOOKED_FOR)]
        day = _first_run(days, soil, counts)
        missing = sum(each not in soil for each in days if day is None or each <= day)
        if missing > MOST_MISSING:
            unknown.append(year)
        elif day is None:
            without.append(year)
        else:
            found[year] = day
    return SeasonDates(hemisphere, found, tuple(without), tuple(unknown))


def _soil_by_day(record: StationRecord) -> Mapping[date, float]:
    known = [(day.on, (day.low + day.high) / 2) for day in record.days if day.low is not None and day.high is not None]
    return dict(zip((on for on, _ in known), soil_course(mean for _, mean in known), strict=True))


def _first_run(days: list[date], soil: Mapping[date, float], counts: Callable[[float], bool]) -> date | None:
    running = 0
    for day in days:
        running = running + 1 if day in soil and counts(soil[day]) else 0
        if running == RUNNING:
            return day
    return None


def at_least_once(chance: float, seasons: int) -> float:
    """The chance that what comes in a season with a chance (0 to 1) comes at least once in so many: 1 - (1 - P)^n.

    FAO's frost handbook (Snyder and others 2005, vol. 2); from memory.
    """
    return float(1 - (1 - chance) ** seasons)

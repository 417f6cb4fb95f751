"""Station records made by hand, for replays whose outcome one can work out on paper."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date, timedelta
from random import Random

from assistant.model.case import MonthDay
from assistant.model.readings import Span
from assistant.model.weather import Day, StationRecord
from assistant.outlook.replay.autumns import Autumn, autumns
from assistant.outlook.replay.beds import DAYS, Bed, Nature
from assistant.outlook.replay.yardstick import LAST_DAY, Growth

PLANTED = MonthDay(6, 1)
WANTED = Span(1.75, 3.5)


def record(lows: Callable[[date], float | None], first: date, last: date, range_: float = 20) -> StationRecord:
    """A record with these lows, each day's high so much above its low."""
    dates = (first + timedelta(days=number) for number in range((last - first).days + 1))
    days = ((on, lows(on)) for on in dates)
    return StationRecord("Hollow Creek", tuple(Day(on, low, None if low is None else low + range_) for on, low in days))


def warm_but(cold: Mapping[int, float], low: float = 68) -> Autumn:
    """An autumn of mild nights but for those given by day after planting, and no other year to go by."""
    planted = PLANTED.in_year(2031)
    made = record(
        lambda on: cold.get((on - planted).days, low),
        planted - timedelta(days=40),
        planted + timedelta(days=LAST_DAY + 10),
    )
    (autumn,), skipped = autumns(made, PLANTED)
    assert not skipped
    return autumn


STEADY = Growth(begins=40, rate=11, full_days=100, late=0, fades=150, no_growth_below=50)


def bed(autumn: Autumn, growth: Growth = STEADY, luck: float = 0.0, offset: float = 0.0) -> Bed:
    """A bed of five roots a plant; with luck 0 every night that can frost does."""
    return Bed(autumn, Nature(growth, 5.0, offset, [luck] * len(DAYS)), WANTED)


def lively(seed: int = 1, years: range = range(2001, 2013)) -> StationRecord:
    """A record with a September that may and a November that surely will frost, drawn by lot."""
    random = Random(seed)
    drawn: dict[date, float] = {}
    departure = 0.0
    on = date(years.start, 1, 1)
    while on.year < years.stop:
        departure = 0.6 * departure + 0.8 * random.gauss(0, 1)
        season = abs((on - date(on.year, 7, 20)).days) / 183
        drawn[on] = 68 - 45 * season**1.3 + 7 * departure
        on += timedelta(days=1)
    return record(drawn.get, date(years.start, 1, 1), date(years.stop - 1, 12, 31), 22)

"""The autumns of a station's record as a planting on one date lives through them. °F, days counted from planting."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, timedelta
from math import sqrt
from typing import NamedTuple

from assistant.model.case import FrostDates, MonthDay
from assistant.model.quantities import NotAValue
from assistant.model.weather import Day, StationRecord
from assistant.outlook.replay.yardstick import LAST_DAY
from assistant.reckoning.climate import EITHER_SIDE, FEWEST
from assistant.reckoning.forecast_odds import Climate
from assistant.reckoning.freeze_dates import SeasonDates, freeze_dates
from assistant.reckoning.frost_odds import Odds
from assistant.reckoning.soil_warmth import soil_course

BEFORE = 28
"""Days before planting that the soil's estimate starts from; its start no longer shows after half of them."""
AFTER = 7
"""Days after the last one that a forecast still looks at."""
MOST_MISSING = 10
"""Days that may lack a low or a high, as in freeze-date tables (Utah Climate Center); with more it is left out."""
MOST_IN_A_ROW = 3
"""So many may be missing together and are filled in from the days around; a frost could hide in more. Our choice."""
FREEZE = 32
"""°F of the freeze whose dates the garden goes by."""


class Autumn(NamedTuple):
    """One season's lows, highs and estimated soil, from planting on, and what the record's other years say of it.

    `before` are the lows of the week before planting. `usual` is the climate of each day by the other years, None
    where they are too few; `frost_dates` are theirs too, so nothing in them knows of this year.
    """

    planted: date
    lows: Sequence[float]
    soil: Sequence[float]
    highs: Sequence[float]
    usual: Sequence[Climate | None]
    frost_dates: FrostDates | None

    @property
    def year(self) -> int:
        """The year of its planting, which names it."""
        return self.planted.year

    def on(self, day: int) -> date:
        """The date so many days after planting."""
        return self.planted + timedelta(days=day)


def autumns(record: StationRecord, planted: MonthDay) -> tuple[tuple[Autumn, ...], Mapping[int, str]]:
    """Every autumn of the record that a bed planted on that date can be followed through; and why others cannot."""
    seasons: dict[int, _Season] = {}
    skipped: dict[int, str] = {}
    for year in _years(record):
        season = _season(record, planted.in_year(year))
        why = _why_not(season)
        if why:
            skipped[year] = why
        else:
            seasons[year] = season
    usual = _usual_lows(seasons)
    dates = _first_freezes(record)
    return tuple(_autumn(season, usual[year], dates) for year, season in seasons.items()), skipped


class _Season(NamedTuple):
    planted: date
    days: Sequence[Day]


def _years(record: StationRecord) -> range:
    return range(record.days[0].on.year, record.days[-1].on.year + 1) if record.days else range(0)


def _season(record: StationRecord, planted: date) -> _Season:
    dates = (planted + timedelta(days=number) for number in range(-BEFORE, LAST_DAY + 1 + AFTER))
    return _Season(planted, [record.by_date.get(day) or Day(day, None, None) for day in dates])


def _why_not(season: _Season) -> str:
    """Why a season cannot be followed; empty when it can."""
    needed = season.days[: BEFORE + LAST_DAY + 1]
    missing = [day.low is None or day.high is None for day in needed]
    longest = max(map(len, "".join("x" if gone else " " for gone in missing).split()), default=0)
    if longest > MOST_IN_A_ROW:
        return f"{longest} days in a row are not on record"
    return f"{sum(missing)} days are not on record" if sum(missing) > MOST_MISSING else ""


def _autumn(season: _Season, usual: Sequence[Climate | None], freezes: SeasonDates | None) -> Autumn:
    lows, highs = (_filled([getattr(day, end) for day in season.days]) for end in ("low", "high"))
    soil = list(soil_course((low + high) / 2 for low, high in zip(lows, highs, strict=True)))
    dates = _frost_dates(freezes, season.planted)
    return Autumn(season.planted, lows[BEFORE:], soil[BEFORE:], highs[BEFORE:], usual, dates)


def _filled(values: Sequence[float | None]) -> list[float]:
    """The values with each gap on the straight line between its neighbours; beyond the ends as the last one known."""
    known = [at for at, value in enumerate(values) if value is not None]
    return [_between(values, known, at) if value is None else value for at, value in enumerate(values)]


def _between(values: Sequence[float | None], known: Sequence[int], at: int) -> float:
    before = max((other for other in known if other < at), default=None)
    after = min((other for other in known if other > at), default=None)
    ends = [values[end] for end in (before, after) if end is not None]
    if before is None or after is None:
        return float(ends[0] or 0.0)
    low, high = (float(end or 0.0) for end in ends)
    return low + (high - low) * (at - before) / (after - before)


def _usual_lows(seasons: Mapping[int, _Season]) -> dict[int, list[Climate | None]]:
    """For each year, mean and spread of the lows about each day in all the other years."""
    sums = {year: list(_windows([day.low for day in season.days[BEFORE:]])) for year, season in seasons.items()}
    totals = [tuple(map(sum, zip(*day, strict=True))) for day in zip(*sums.values(), strict=True)]
    return {
        year: [
            _climate(*(every - its for every, its in zip(total, own, strict=True)))
            for total, own in zip(totals, owns, strict=True)
        ]
        for year, owns in sums.items()
    }


def _windows(lows: Sequence[float | None]) -> Iterator[tuple[int, float, float]]:
    """About each day how many lows are known, their sum and the sum of their squares."""
    for at in range(len(lows)):
        near = [low for low in lows[max(0, at - EITHER_SIDE) : at + EITHER_SIDE + 1] if low is not None]
        yield len(near), sum(near), sum(low * low for low in near)


def _climate(count: float, total: float, squares: float) -> Climate | None:
    if count < FEWEST:
        return None
    mean = total / count
    return Climate(mean, sqrt(max(squares / count - mean**2, 0.0) * count / (count - 1)))


def _first_freezes(record: StationRecord) -> SeasonDates | None:
    try:
        return freeze_dates(record, FREEZE).first_fall
    except NotAValue:
        return None


def _frost_dates(freezes: SeasonDates | None, planted: date) -> FrostDates | None:
    """The dates by which 1, 5 and 9 of 10 other autumns froze; None when they cannot be told."""
    if freezes is None:
        return None
    ends = planted + timedelta(days=LAST_DAY)
    own = ends.year if ends.month >= freezes.hemisphere.summer else ends.year - 1
    others = freezes._replace(
        dates={year: day for year, day in freezes.dates.items() if year != own},
        without=tuple(year for year in freezes.without if year != own),
    )
    odds = Odds.from_seasons(others)
    return odds.dates(own) if odds else None

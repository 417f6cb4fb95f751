"""Which values of a station's record to believe: lows above highs, spikes and values out of season are left out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from statistics import median
from typing import NamedTuple

from assistant.model.weather import Day
from assistant.weather.gathering import IMPOSSIBLE, LowHigh, possible

LOW_ABOVE_HIGH = "low above high"
SPIKE = "spike"
OUT_OF_SEASON = "out of season"

NEIGHBOURS = [timedelta(days=step) for step in (-3, -2, -1, 1, 2, 3)]
FAR = 27.0
"""°F (15 °C) from the median of the six days around. Lows in South Carolina come this far apart in real cold snaps,
so it counts only together with a value far from the season's."""
VERY_FAR = 45.0
"""°F (25 °C): the step that NOAA's own checks call a spike (Durre et al. 2010, J. Appl. Meteor. Climatol. 49:1615;
from memory)."""
SPREADS_WITH_FAR, SPREADS_WITH_VERY_FAR, SPREADS_ALONE = 6.0, 3.0, 10.0
"""Standard deviations from what the season is used to. Six is NOAA's limit for an outlier (same paper, from memory);
three and ten are our choice: a spike of 45 °F must at least be unusual, and ten happen at no place on earth."""
SMALLEST_SPREAD = 3.0
"""°F; a calm half-month of a short record must not make an ordinary night look strange. Our choice."""
FEWEST = 10
"""Values of a half-month without which its climate is not known. Our choice."""
_QUARTILES_APART = 1.349  # interquartile range of a normal distribution in standard deviations


class _Usual(NamedTuple):
    """What a half-month is used to, °F; spread is a standard deviation told by the quartiles."""

    middle: float
    spread: float


def screened(days: Mapping[date, LowHigh], set_aside: Counter[str]) -> tuple[Day, ...]:
    """The days in order with the values that can be believed; the others are counted in `set_aside`, by kind."""
    lows: dict[date, float] = {}
    highs: dict[date, float] = {}
    for on, (low, high) in days.items():
        if low is not None and high is not None and possible(low) and possible(high) and low > high:
            set_aside[LOW_ABOVE_HIGH] += 1
            continue
        for value, known in ((low, lows), (high, highs)):
            if not possible(value):
                set_aside[IMPOSSIBLE] += 1
            elif value is not None:
                known[on] = value
    lows, highs = _believed(lows, set_aside), _believed(highs, set_aside)
    return tuple(Day(on, lows.get(on), highs.get(on)) for on in sorted(lows.keys() | highs.keys()))


def _believed(values: dict[date, float], set_aside: Counter[str]) -> dict[date, float]:
    """The values without spikes and without those that no such season ever has."""
    usual = _climate(values)
    doubted: dict[date, str] = {}
    for on, value in values.items():
        season = usual.get(_half_month(on))
        if season and abs(value - season.middle) <= SPREADS_WITH_VERY_FAR * season.spread:
            continue
        kind = _doubt(value, season, [values[on + step] for step in NEIGHBOURS if on + step in values])
        if kind:
            doubted[on] = kind
    set_aside.update(doubted.values())
    return {on: value for on, value in values.items() if on not in doubted}


def _doubt(value: float, season: _Usual | None, around: Sequence[float]) -> str | None:
    """Why a value far from its season cannot be believed; None when it can."""
    spreads = abs(value - season.middle) / season.spread if season else 0.0
    apart = abs(value - median(around)) if len(around) > 1 else 0.0
    if apart > VERY_FAR or (apart > FAR and spreads > SPREADS_WITH_FAR):
        return SPIKE
    return OUT_OF_SEASON if spreads > SPREADS_ALONE else None


def _climate(values: Mapping[date, float]) -> dict[int, _Usual]:
    """The usual values by half-month, for the half-months with enough of them."""
    seasons: dict[int, list[float]] = {}
    for on, value in values.items():
        seasons.setdefault(_half_month(on), []).append(value)
    return {season: _usual(sorted(found)) for season, found in seasons.items() if len(found) >= FEWEST}


def _usual(ordered: Sequence[float]) -> _Usual:
    quarter = len(ordered) // 4
    spread = (ordered[-1 - quarter] - ordered[quarter]) / _QUARTILES_APART
    return _Usual(median(ordered), max(spread, SMALLEST_SPREAD))


def _half_month(on: date) -> int:
    return on.month * 2 + (on.day > 15)

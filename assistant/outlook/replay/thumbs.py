"""Rules of thumb, each kept to the day: what the assistant is held against. They see no more than a grower does."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from assistant.outlook.replay.beds import Bed
from assistant.outlook.replay.forecasts import Forecasts
from assistant.outlook.replay.yardstick import FIRST_LOOK, LAST_DAY

FORECAST_FROST = 36
"""°F; a forecast low at which frost is spoken of (National Weather Service, frost at 33 to 36)."""
Thumb = Callable[[Bed, Forecasts], int]
"""The day on which a rule of thumb digs a bed, given the forecasts issued."""


def on_day(number: int) -> Thumb:
    """So many days after planting, whatever the weather."""
    return lambda bed, forecasts: number


def first_forecast_frost(bed: Bed, forecasts: Forecasts) -> int:
    """The day on which the week's forecast first shows a night of 36 °F or below."""
    return next((day for day in _WATCHED if min(forecasts[day]) <= FORECAST_FROST), LAST_DAY)


def day_after_first_frost(bed: Bed, forecasts: Forecasts) -> int:
    """The day after the first frosty morning."""
    return min(bed.first_frost + 1, LAST_DAY)


def when_vines_yellow(bed: Bed, forecasts: Forecasts) -> int:
    """The first day on which the vines are no longer green."""
    return next((day for day in _WATCHED if bed.vines(day) != "green"), LAST_DAY)


_WATCHED = range(FIRST_LOOK, LAST_DAY)

THUMBS: Mapping[str, Thumb] = {
    **{f"day-{number}": on_day(number) for number in (90, 100, 110, 120, 130)},
    "first-forecast-frost": first_forecast_frost,
    "day-after-first-frost": day_after_first_frost,
    "when-vines-yellow": when_vines_yellow,
}

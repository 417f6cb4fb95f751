"""Forecast lows from a file, or as somebody types them."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from datetime import date, timedelta
from pathlib import Path

from assistant.model.place import BadInput, Place, refuse
from assistant.model.quantities import Kind, NotAValue, Units, format_date, parse_value
from assistant.model.weather import Forecast, ForecastNight
from assistant.weather.bulletin import is_bulletin, read_bulletin
from assistant.weather.gathering import possible
from assistant.weather.periods import read_periods
from assistant.weather.text_files import whole_text

FARTHEST = 16
"""Nights; nobody forecasts a night's low farther ahead."""
BIGGEST = 5_000_000
"""Characters; a forecast has some thousands."""
TYPED = "typed in"
_LOW = re.compile(r"(?<![\w.])([-−]?\d+(?:\.\d+)?)\s*°?\s*([fFcC]?)(?![\w.])")
_EXAMPLE = "write one low a night, tonight's first, such as 44 40 38 or 7 C, 4 C"


def read_forecast(path: Path, on: date) -> Forecast:
    """The lows still to come on a day, from the US weather service's `forecast` (JSON) or a MEX bulletin (text).

    A night's low belongs to the day of its morning. Raises `BadInput` with the place of the fault, also
    for a forecast whose nights are over.
    """
    text = whole_text(path, BIGGEST)
    read: Callable[[str, str], Forecast] = read_bulletin if is_bulletin(text) else read_periods
    return _still_to_come(read(text, str(path)), on, Place(str(path), 1, 1))


def _still_to_come(forecast: Forecast, on: date, place: Place) -> Forecast:
    """The nights after a day, each once; an impossible low is left out."""
    ahead = range(1, FARTHEST + 1)
    nights = {night.morning: night for night in forecast.nights if (night.morning - on).days in ahead}
    usable = [nights[morning] for morning in sorted(nights) if possible(nights[morning].low)]
    if not usable:
        raise _of_another_time(forecast, on, place)
    return Forecast(forecast.issued, tuple(usable), forecast.source)


def _of_another_time(forecast: Forecast, on: date, place: Place) -> BadInput:
    issued = format_date(forecast.issued.toordinal())
    message = f"This forecast of {issued} has no low for the nights after {format_date(on.toordinal())}."
    return refuse("old-forecast", place, message, "Get a new forecast, or type the lows in.")


def typed_forecast(text: str, on: date, units: Units = Units.US) -> Forecast:
    """Lows as one types them, such as "44 40 38" or "7 C, 4 C": tonight's first, whose morning is tomorrow.

    Bare numbers are in the given units. Raises `NotAValue` with what to write instead.
    """
    if re.sub(r"[\s,;]", "", _LOW.sub("", text)) or not _LOW.search(text):
        raise NotAValue(f"'{text.strip()}' is no list of lows; {_EXAMPLE}")
    lows = [parse_value(Kind.TEMPERATURE, number + unit, units) for number, unit in _LOW.findall(text)]
    if len(lows) > FARTHEST:
        raise NotAValue(f"these are {len(lows)} lows, and nobody knows more than {FARTHEST} nights ahead; {_EXAMPLE}")
    for low in lows:
        if not possible(low):
            raise NotAValue(f"no night ever had a low of {low:g} °F; {_EXAMPLE}")
    return Forecast(on, tuple(_nights(lows, on)), TYPED)


def _nights(lows: Iterable[float], on: date) -> Iterable[ForecastNight]:
    for ahead, low in enumerate(lows, start=1):
        yield ForecastNight(on + timedelta(days=ahead), low)

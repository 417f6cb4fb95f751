"""The MEX bulletin: lows and highs for eight days, as plain text, from the US weather service's GFS statistics.

Layout and sample: the Meteorological Development Laboratory's page on the MEX message (vlab.noaa.gov/web/mdl/mex-card).
The row X/N (N/X from the noon run) holds the highs valid at 00 UTC and the lows valid at 12 UTC of the hours ahead in
the row FHR, then the month's usual values; 999 stands for none, and is no possible temperature. 12 UTC is a morning
anywhere in the United States.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import datetime, timedelta

from assistant.model.place import BadInput, Place, refuse
from assistant.model.weather import Forecast, ForecastNight

LOW_AT = 12  # UTC
USUAL_VALUES = 2
"""The month's usual low and high, which stand after the hours where the row is whole."""
_HEAD = re.compile(
    r"^\s*([A-Z0-9]{3,8})\s+GFSX\s+MOS\s+GUIDANCE\s+(\d{1,2})/(\d{1,2})/(\d{4})\s+(\d{2})(\d{2})\s+UTC", re.MULTILINE
)
_NUMBER = re.compile(r"-?[0-9]{1,4}")


def is_bulletin(text: str) -> bool:
    """Whether a text is such a bulletin, whole or not."""
    return _HEAD.search(text) is not None


def read_bulletin(text: str, file: str) -> Forecast:
    """The lows of a bulletin of one station. Raises `BadInput` for several stations or missing rows."""
    heads = list(_HEAD.finditer(text))
    stations = [head[1] for head in heads]
    if len(heads) > 1:
        message = f"A second station, {stations[1]}, begins here, after {stations[0]}."
        raise refuse("two-stations", _place(text, heads[1].start(1), file), message, "Keep one station's bulletin.")
    month, day, year, hour, minute = map(int, heads[0].groups()[1:])
    try:
        run = datetime(year, month, day, hour, minute)
        nights = tuple(_nights(text, run, file))
    except (ValueError, OverflowError):
        raise refuse("not-a-forecast", _place(text, heads[0].start(2), file), "There is no such day.") from None
    if not nights:
        raise _no_rows(file)
    return Forecast(run.date(), nights, f"MEX bulletin for {stations[0]}")


def _nights(text: str, run: datetime, file: str) -> Iterator[ForecastNight]:
    hours, _ = _row(text, "FHR", file)
    values, place = _row(text, "X/N|N/X", file)
    if len(values) - len(hours) not in (0, USUAL_VALUES):
        raise _not_whole(place, f"There are {len(values)} values here for {len(hours)} hours.")
    for hour, value in zip(hours, values, strict=False):
        valid = run + timedelta(hours=hour)
        if valid.hour == LOW_AT:
            yield ForecastNight(valid.date(), float(value))


def _row(text: str, name: str, file: str) -> tuple[list[int], Place]:
    """The numbers of a row and where it stands. What is no number is refused, for all after it would move up."""
    found = re.search(rf"^[^\S\n]*({name})\s(.*)$", text, re.MULTILINE)
    if not found:
        raise _no_rows(file)
    place = _place(text, found.start(1), file)
    words = found[2].replace("|", " ").split()
    for word in words:
        if not _NUMBER.fullmatch(word):
            raise _not_whole(place, f"'{word[:20]}' in this row is no number.")
    return [int(word) for word in words], place


def _not_whole(place: Place, message: str) -> BadInput:
    return refuse("not-a-forecast", place, message, "Save the whole bulletin, or type the lows in.")


def _no_rows(file: str) -> BadInput:
    message = "This MEX bulletin lacks the rows FHR and X/N, or every low in them."
    return _not_whole(Place(file, 1, 1), message)


def _place(text: str, at: int, file: str) -> Place:
    return Place(file, text.count("\n", 0, at) + 1, at - text.rfind("\n", 0, at))

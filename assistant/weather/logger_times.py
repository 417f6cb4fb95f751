"""When a logger's readings were taken: days and clocks as loggers write them, in order, across changes of the clock."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import datetime, timedelta
from itertools import pairwise
from statistics import median_low
from typing import NamedTuple

from assistant.model.quantities import Units

SET_BACK, SET_FORWARD = "clock set back", "clock set forward"
HOUR = timedelta(hours=1)
SLACK = timedelta(minutes=2)
"""How far readings stray from their usual distance (our own judgement)."""
SPRING_AND_AUTUMN = frozenset({3, 4, 9, 10, 11})
"""Months in which clocks are changed, on either side of the equator, as they are since 2007 (from memory)."""
SUNDAY = 6
AFTERNOON, NOON = "PM", 12

_TIME = re.compile(
    r"(\d{1,4})[-/.](\d{1,2})[-/.](\d{1,4})(?:[T\s]+(\d{1,2}):(\d{2})(?::(\d{2})(?:\.\d+)?)?"
    r"\s*([AP]M)?\s*(Z|[+-]\d{2}:?\d{2})?)?",
    re.IGNORECASE,
)
_DOTTED = re.compile(r"\d+\.\d+\.")
_YEAR, _MONTH, _DAY = (0, 1, 2), (2, 0, 1), (2, 1, 0)  # where year, month and day stand in each order


class _Written(NamedTuple):
    """A time as written: the three numbers of its day, its clock, and how far it is from Greenwich."""

    day: tuple[int, int, int]
    clock: timedelta
    from_greenwich: timedelta | None

    def read(self, order: tuple[int, int, int], here: timedelta) -> datetime | None:
        """The time so far from Greenwich, or as it stands where that is not told; None when there is no such day."""
        moved = timedelta() if self.from_greenwich is None else here - self.from_greenwich
        year, month, day = (self.day[at] for at in order)
        try:
            return datetime(year + 2000 * (year < 100), month, day) + self.clock + moved
        except (ValueError, OverflowError):
            return None


def read_times(texts: Sequence[str], units: Units) -> list[datetime | None]:
    """The times of all rows; None for what is no time.

    Whether the month or the day comes first is the same in the whole file: the way in which more can be read, or
    else the log spans less time, since logs run for weeks and not for years; or else as is usual with the units,
    the day first where dots part the numbers.
    """
    day_first = units is Units.METRIC or any(_DOTTED.match(text) for text in texts[:1])
    orders = (_YEAR, _DAY, _MONTH) if day_first else (_YEAR, _MONTH, _DAY)
    written = [_written(text) for text in texts]
    here = next((time.from_greenwich for time in written if time and time.from_greenwich is not None), timedelta())
    return min(([time and time.read(order, here) for time in written] for order in orders), key=_strangeness)


def _strangeness(times: Sequence[datetime | None]) -> tuple[int, float]:
    known = [time for time in times if time]
    return times.count(None), (max(known) - min(known)).total_seconds() if known else 0.0


def _written(text: str) -> _Written | None:
    match = _TIME.fullmatch(text.strip())
    if match is None:
        return None
    first, second, third, hours, minutes, seconds, half, zone = match.groups()
    hour = int(hours or 0)
    if half:
        if not 1 <= hour <= NOON:
            return None
        hour = hour % NOON + NOON * (half.upper() == AFTERNOON)
    if hour > 23 or int(minutes or 0) > 59 or int(seconds or 0) > 59:
        return None
    clock = timedelta(hours=hour, minutes=int(minutes or 0), seconds=int(seconds or 0))
    return _Written((int(first), int(second), int(third)), clock, _zone(zone))


def _zone(text: str | None) -> timedelta | None:
    if not text:
        return None
    if text.upper() == "Z":
        return timedelta()
    away = timedelta(hours=int(text[1:3]), minutes=int(text[-2:]))
    return -away if text[0] == "-" else away


def steady_clock(times: Sequence[datetime]) -> tuple[list[datetime], list[str]]:
    """The times on the clock that the log began with, and each change of the clock that was found.

    Clocks set back make a regular log tell one hour twice; set forward, they make it leave one out early on a Sunday
    in spring or autumn, which nothing else tells from a gap.
    """
    if len(times) < 3:
        return list(times), []
    usual = median_low(after - before for before, after in pairwise(times) if after > before) if _rises(times) else HOUR
    told, changes, shift = [times[0]], [], timedelta()
    for before, after in pairwise(times):
        change = _change(before, after, usual)
        if change:
            changes.append(change)
            shift += HOUR if change == SET_BACK else -HOUR
        told.append(after + shift)
    return told, changes


def _rises(times: Sequence[datetime]) -> bool:
    return any(after > before for before, after in pairwise(times))


def _change(before: datetime, after: datetime, usual: timedelta) -> str | None:
    """How the clock was changed between two readings in a row; None when it was not."""
    if usual > HOUR or after.weekday() != SUNDAY or after.month not in SPRING_AND_AUTUMN or after.hour > 4:
        return None
    strange = after - before - usual
    if abs(strange + HOUR) <= SLACK:
        return SET_BACK
    return SET_FORWARD if abs(strange - HOUR) <= SLACK and before.hour < after.hour - 1 else None


def oldest_first(times: Sequence[datetime]) -> bool:
    """Whether the file runs with time; many loggers write the newest reading first."""
    steps = list(pairwise(times))
    return sum(after >= before for before, after in steps) * 2 >= len(steps)

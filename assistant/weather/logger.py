"""A logger's temperatures and humidities, screened: each moment once, in order, what was set aside counted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import datetime, timedelta
from itertools import pairwise
from pathlib import Path
from statistics import median_low

from assistant.model.place import Place, refuse
from assistant.model.quantities import Units
from assistant.model.room_log import Gap, RoomLog, RoomReading
from assistant.weather.gathering import DIFFERING, DUPLICATE, UNREADABLE
from assistant.weather.logger_csv import A_LOG, IMPOSSIBLE, Row, Rows, read_rows
from assistant.weather.logger_times import oldest_first, read_times, steady_clock
from assistant.weather.screening import SPIKE
from assistant.weather.text_files import open_lines

MOST_BAD, FEW = 0.1, 10
"""The share of rows that may be bad, and how many in any case, before the file is not what it seems. Our choice."""
COLD_ROOM = 41.0
"""°F (5 °C); a whole log below it is in °C, for roots kept so cold are lost. Our choice."""
JUMP = 25.0
"""°F from the readings on both sides within two hours: a logger carried in a hand or the sun. Our choice."""
NEAR = timedelta(hours=2)
LONG_STEPS, SHORTEST_GAP = 3, timedelta(hours=2)
"""A gap is longer than so many usual steps, and than this. Our choice."""


def read_log(path: Path, units: Units = Units.US) -> RoomLog:
    """The readings of a logger, in °F and percent; `units` are those of a temperature that the header gives none.

    Raises `BadInput` with the place of the fault when the file is no such log; a few bad rows are only set aside and
    counted, and so are changes of the clock.
    """
    with open_lines(path) as lines:
        rows = read_rows(lines, units)
    times = read_times([row.time for row in rows.rows], units)
    timed = [(time, row) for time, row in zip(times, rows.rows, strict=True) if time]
    _count_timeless(rows, times)
    _check(Place(str(path), 1, 1), rows, timed)
    readings = _readings(timed, rows.set_aside)
    if not readings:
        raise refuse("no-readings", Place(str(path), 1, 1), "This file holds no reading that can be used.", A_LOG)
    return RoomLog(path.stem, readings, dict(rows.set_aside), gaps(readings))


def gaps(readings: Sequence[RoomReading]) -> tuple[Gap, ...]:
    """Where readings are missing, by the usual distance of the others."""
    steps = [Gap(before.at, after.at) for before, after in pairwise(readings)]
    if not steps:
        return ()
    longest = max(median_low(step.length for step in steps) * LONG_STEPS, SHORTEST_GAP)
    return tuple(step for step in steps if step.length > longest)


def _count_timeless(rows: Rows, times: Sequence[datetime | None]) -> None:
    bad = times.count(None)
    if bad:
        rows.set_aside[UNREADABLE] += bad


def _check(place: Place, rows: Rows, timed: Sequence[tuple[datetime, Row]]) -> None:
    """Refuse a file with many rows that cannot be read, or in other units than said."""
    bad = rows.set_aside[UNREADABLE]
    if bad and (not timed or bad > max(FEW, MOST_BAD * (bad + len(timed)))):
        problem = rows.unreadable
        at = problem.place if problem else place
        message = f"{bad} of {bad + len(timed)} rows of this log cannot be read."
        raise refuse("unreadable-row", at, message, "Write times as 2031-10-04 08:00, and numbers for the rest.")
    warm = [row.temperature for _, row in timed if row.temperature is not None]
    if not warm and rows.set_aside[IMPOSSIBLE]:
        raise refuse("wrong-units", place, "No temperature of this log can be one.", "Check the units of the logger.")
    if warm and max(warm) < COLD_ROOM and rows.columns.units is None:
        message = f"It was never warmer than {max(warm):g} °F: this looks like °C."
        raise refuse("wrong-units", place, message, "Say --units metric, or name the unit in the header.")


def _readings(timed: Sequence[tuple[datetime, Row]], set_aside: Counter[str]) -> tuple[RoomReading, ...]:
    """In order of time, on one clock, each moment once."""
    if not oldest_first([time for time, _ in timed]):
        timed = timed[::-1]
    times, changes = steady_clock([time for time, _ in timed])
    set_aside.update(changes)
    told = (
        RoomReading(at, row.temperature, row.humidity)
        for at, (_, row) in zip(times, timed, strict=True)
        if row.temperature is not None or row.humidity is not None
    )
    return _without_spikes(_once(sorted(told, key=lambda reading: reading.at), set_aside), set_aside)


def _once(readings: Sequence[RoomReading], set_aside: Counter[str]) -> list[RoomReading]:
    """A moment told twice in the same words counts once; in different words it is not believed at all."""
    moments: dict[datetime, list[RoomReading]] = {}
    for reading in readings:
        moments.setdefault(reading.at, []).append(reading)
    kept = []
    for told in moments.values():
        if len(set(told)) == 1:
            kept.append(told[0])
            set_aside.update([DUPLICATE] * (len(told) - 1))
        else:
            set_aside[DIFFERING] += 1
    return kept


def _without_spikes(readings: Sequence[RoomReading], set_aside: Counter[str]) -> tuple[RoomReading, ...]:
    """Without single readings far from the ones on both sides, all within a short time."""
    kept = list(readings[:1])
    for before, here, after in zip(readings, readings[1:], readings[2:], strict=False):
        if _is_spike(before, here, after):
            set_aside[SPIKE] += 1
        else:
            kept.append(here)
    return (*kept, *readings[1:][-1:])


def _is_spike(before: RoomReading, here: RoomReading, after: RoomReading) -> bool:
    if before.temperature is None or here.temperature is None or after.temperature is None:
        return False
    up, down = here.temperature - before.temperature, here.temperature - after.temperature
    return after.at - before.at <= 2 * NEAR and min(abs(up), abs(down)) > JUMP and up * down > 0

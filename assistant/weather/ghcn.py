"""NOAA's GHCN-Daily files: fixed columns by month (.dly), and one value a row (by-station CSV).

Both are in tenths of °C, with -9999 for a missing value; a value with a quality flag failed one of NOAA's own checks
and is not used. Layout: NOAA's readme.txt and readme-by_station.txt of GHCN-Daily.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator
from datetime import date

from assistant.model.place import Problem, refuse
from assistant.model.quantities import fahrenheit
from assistant.weather.gathering import EARLIEST_YEAR, FLAGGED, LATEST_YEAR, Gathered
from assistant.weather.text_files import Lines

LOW, HIGH = "TMIN", "TMAX"
MISSING = "-9999"
FIRST_VALUE, VALUE_WIDTH, DAYS = 21, 8, 31  # of .dly, counted from 0: 5 characters of value, then 3 flags
QUALITY_FLAG = 6  # its place within those eight

_DLY = re.compile(r"[A-Z]{2}[A-Z0-9_-]{9}\d{6}[A-Z]{2}[A-Z0-9]{2}[ -]*\d")
_BY_STATION = re.compile(r'"?[A-Z]{2}[A-Z0-9_-]{9}"?,"?\d{8}"?,"?[A-Z0-9]{4}"?,')


def is_dly(line: str) -> bool:
    """Whether a file that begins so is in fixed columns."""
    return _DLY.match(line) is not None


def is_by_station(line: str) -> bool:
    """Whether a file that begins so has one value a row."""
    return _BY_STATION.match(line) is not None


def read_dly(lines: Lines, gathered: Gathered) -> str:
    """Fill in the lows and highs of a .dly file; its station."""
    station = lines.first[:11]
    for line in lines:
        _one_station(lines, station, line[:11])
        element = line[17:21]
        if element in (LOW, HIGH):
            _month(lines, line, element, gathered)
    return station


def _month(lines: Lines, line: str, element: str, gathered: Gathered) -> None:
    """The values of one month; the days that a short month does not have are padded as missing."""
    try:
        year, month = int(line[11:15]), int(line[15:17])
    except ValueError:
        year = month = 0
    for day in range(1, DAYS + 1):
        column = FIRST_VALUE + VALUE_WIDTH * (day - 1)
        text = line[column : column + 5].strip()
        if text not in ("", MISSING):
            flag = line[column + QUALITY_FLAG : column + QUALITY_FLAG + 1].strip()
            _take(lines, gathered, (year, month, day), element, text, flag, column + 1)


def read_by_station(lines: Lines, gathered: Gathered) -> str:
    """Fill in the lows and highs of a by-station file; its station."""
    station = lines.first.partition(",")[0].strip('"')
    for row in csv.reader(_of_interest(lines, station)):
        if not row:
            continue
        if len(row) < 6 or not row[1].isdecimal():
            gathered.rows += 1
            gathered.skip(_unreadable(lines, 1))
            continue
        _one_station(lines, station, row[0])
        if row[2] in (LOW, HIGH) and row[3] != MISSING:
            digits = row[1]
            on = int(digits[:-4] or 0), int(digits[-4:-2] or 0), int(digits[-2:])
            _take(lines, gathered, on, row[2], row[3], row[5].strip(), len(row[0]) + 2)
    return station


def _of_interest(lines: Lines, station: str) -> Iterator[str]:
    """All lines but those that well-formedly tell of other things than temperature, such as rain."""
    for line in lines:
        told = line[21:25]
        if told in (LOW, HIGH) or line[25:26] != "," or not line.startswith(station):
            yield line


def _take(
    lines: Lines, gathered: Gathered, on: tuple[int, int, int], element: str, text: str, flag: str, column: int
) -> None:
    """One value of a day, unless it is flagged or cannot be read."""
    gathered.rows += 1
    if flag:
        gathered.set_aside[FLAGGED] += 1
        return
    try:
        day, value = date(*on), fahrenheit(int(text) / 10)
        if not EARLIEST_YEAR <= day.year <= LATEST_YEAR:
            raise ValueError
    except ValueError:
        gathered.skip(_unreadable(lines, column))
        return
    gathered.add(day, value if element == LOW else None, value if element == HIGH else None, lines.number)


def _unreadable(lines: Lines, column: int) -> Problem:
    message = "This is no day with a temperature of a GHCN-Daily file."
    return Problem("unreadable-row", lines.place(column), message, "Give the file as it was downloaded.")


def _one_station(lines: Lines, station: str, here: str) -> None:
    if here != station:
        message = f"A second station, {here.strip()}, begins here, after {station}."
        raise refuse("two-stations", lines.place(), message, "Keep the rows of the station nearest to the garden.")

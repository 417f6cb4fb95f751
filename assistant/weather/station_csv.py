"""A daily record as CSV with a header, as NOAA's climate data pages give it: DATE, TMIN and TMAX, others ignored."""

from __future__ import annotations

import csv
from collections.abc import Iterator, Sequence
from datetime import date
from typing import NamedTuple

from assistant.model.place import BadInput, Place, Problem, refuse
from assistant.model.quantities import Units, fahrenheit, rounded
from assistant.weather.gathering import EARLIEST_YEAR, LATEST_YEAR, Gathered
from assistant.weather.text_files import Lines, csv_rows

NEEDED = ("DATE", "TMIN", "TMAX")
STATION, NAME = "STATION", "NAME"
MISSING = frozenset({"", "NA", "N/A", "NULL", "NONE", "M", "-"})
MISSING_NUMBERS = frozenset({-9999.0, 9999.0, -999.0, 999.0, -99.9, 999.9})
"""How files write that nothing was measured (common practice)."""


class _Columns(NamedTuple):
    """Where in a row the fields stand that are read; None for those that a file need not have."""

    date: int
    low: int
    high: int
    station: int | None
    name: int | None


def read_csv(lines: Lines, gathered: Gathered, units: Units) -> str:
    """Fill in from a CSV file with a header; the station's name, empty when the file does not tell."""
    rows = csv_rows(lines)
    try:
        columns = _columns(lines, next(rows))
        return _read_rows(lines, rows, columns, gathered, units)
    except csv.Error as error:
        message = f"This is no CSV: {error}."
        raise refuse("not-csv", lines.place(), message, "Separate the fields with commas.") from error


def _columns(lines: Lines, header: Sequence[str]) -> _Columns:
    """Where the needed columns are, whatever the case of their names. Raises `BadInput` when one is not there."""
    names = [name.strip().upper() for name in header]
    missing = [name for name in NEEDED if name not in names]
    if missing:
        raise _no_column(lines.place(), missing, names)
    on, low, high = map(names.index, NEEDED)
    station, name = (names.index(wanted) if wanted in names else None for wanted in (STATION, NAME))
    return _Columns(on, low, high, station, name)


def _no_column(place: Place, missing: Sequence[str], names: Sequence[str]) -> BadInput:
    several = "s" if len(missing) > 1 else ""
    message = f"The header of this file has no column{several} {' and '.join(missing)}."
    hint = "Its first line must name DATE, TMIN and TMAX, separated by commas; or give a GHCN-Daily file."
    if len(names) == 1 and any(mark in names[0] for mark in ";\t"):
        hint = "Separate the fields with commas."
    return refuse("missing-column", place, message, hint)


def _read_rows(lines: Lines, rows: Iterator[list[str]], columns: _Columns, gathered: Gathered, units: Units) -> str:
    """Every row after the header; the station's name or number."""
    station = name = ""
    widest = max(columns.date, columns.low, columns.high)
    for row in rows:
        if not row:
            continue
        gathered.rows += 1
        if len(row) <= widest:
            gathered.skip(_short(lines, len(row), widest + 1))
            continue
        if columns.station is not None:
            here = row[columns.station]
            station = station or here
            if here != station:
                raise _two_stations(lines, station, here)
        if columns.name is not None:
            name = name or row[columns.name]
        _take(lines, row, columns, gathered, units)
    return (name or station).strip()


def _take(lines: Lines, row: Sequence[str], columns: _Columns, gathered: Gathered, units: Units) -> None:
    """One row's day, or a note that it cannot be read."""
    column = columns.date
    try:
        on = _day(row[column].strip())
        column = columns.low
        low = _temperature(row[column], units)
        column = columns.high
        high = _temperature(row[column], units)
    except ValueError:
        gathered.skip(_unreadable(lines, row, column, columns))
        return
    gathered.add(on, low, high, lines.number)


def _day(text: str) -> date:
    """A day as 1936-07-18 or 19360718. Raises `ValueError` for anything else."""
    if len(text) == 8 and text.isdecimal():
        text = f"{text[:4]}-{text[4:6]}-{text[6:]}"
    day = date.fromisoformat(text)
    if not EARLIEST_YEAR <= day.year <= LATEST_YEAR:
        raise ValueError(text)
    return day


def _temperature(text: str, units: Units) -> float | None:
    """A temperature in °F, None where it was not measured. Raises `ValueError` for what is no number."""
    try:
        number = float(text)
    except ValueError:
        if text.strip().upper() in MISSING:
            return None
        raise
    if number in MISSING_NUMBERS or number != number:
        return None
    return fahrenheit(number) if units is Units.METRIC else rounded(number)


def _short(lines: Lines, fields: int, needed: int) -> Problem:
    message = f"This row has {fields} fields where DATE, TMIN and TMAX need {needed}."
    return Problem("unreadable-row", lines.place(), message, "Leave a field empty where nothing was measured.")


def _unreadable(lines: Lines, row: Sequence[str], column: int, columns: _Columns) -> Problem:
    place = lines.place(_character(lines.text, column))
    if column == columns.date:
        message = f"'{row[column].strip()}' is no day."
        return Problem("unreadable-row", place, message, "Write it as year-month-day, such as 2031-06-20.")
    message = f"'{row[column].strip()}' is no temperature."
    return Problem("unreadable-row", place, message, "Write a number; where nothing was measured, leave it empty.")


def _character(line: str, column: int) -> int:
    """At which character of a line, counted from 1, a field begins."""
    quoted, fields = False, 0
    for at, character in enumerate(line, start=1):
        if fields == column:
            return at
        quoted ^= character == '"'
        fields += character == "," and not quoted
    return 1


def _two_stations(lines: Lines, station: str, here: str) -> BadInput:
    message = f"A second station, {here.strip()}, begins here, after {station.strip()}."
    return refuse("two-stations", lines.place(), message, "Keep the rows of the station nearest to the garden.")

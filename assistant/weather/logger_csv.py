"""The rows of a logger's CSV file: which columns hold what, and in which units."""

from __future__ import annotations

import csv
import re
from collections import Counter
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from assistant.model.place import Problem, refuse
from assistant.model.quantities import Units, fahrenheit, rounded
from assistant.weather.gathering import UNREADABLE
from assistant.weather.station_csv import MISSING
from assistant.weather.text_files import Lines, csv_rows

A_LOG = "A log is a CSV file with a header that names a time, a temperature and a humidity, a reading a row."
IMPOSSIBLE = "impossible value"
COLDEST, HOTTEST = -40.0, 160.0
"""°F; what loggers can measure at all (common practice)."""
DRIEST, SATURATED, TOO_DAMP = 1.0, 100.0, 105.0
"""Percent; damp sensors read a little over 100 in saturated air, which then counts as 100 (common practice)."""
LONG_PREAMBLE = 20
"""Lines before the header in which loggers tell about themselves (common practice)."""

_TIME = re.compile(r"date|time|timestamp", re.IGNORECASE)
_TEMPERATURE = re.compile(r"temp|°\s*[fc]\b|^[fc]$", re.IGNORECASE)
_HUMIDITY = re.compile(r"hum|\brh\b|%", re.IGNORECASE)
_DEW = re.compile(r"dew|wet.?bulb|vpd|absolute", re.IGNORECASE)
_CELSIUS = re.compile(r"celsius|°\s*c\b|[(\[_ ]c\b|^c$", re.IGNORECASE)
_FAHRENHEIT = re.compile(r"fahrenheit|°\s*f\b|[(\[_ ]f\b|^f$", re.IGNORECASE)


class Columns(NamedTuple):
    """Where in a row the fields stand: one or two for the time; and the temperature's unit where it is told."""

    time: tuple[int, ...]
    temperature: int
    humidity: int | None
    units: Units | None


class Row(NamedTuple):
    """A row as written: its time, and its values on the program's scale."""

    time: str
    temperature: float | None
    humidity: float | None
    line: int


class Rows(NamedTuple):
    """All rows of a file that can be read, how many cannot, and the first of those."""

    columns: Columns
    rows: list[Row]
    set_aside: Counter[str]
    unreadable: Problem | None


def read_rows(lines: Lines, units: Units) -> Rows:
    """The rows in the order of the file. Raises `BadInput` when there is no header that names the columns."""
    try:
        separator = _separator(lines.first)
        columns, table = _header(lines, csv_rows(lines, separator))
        comma = separator != ","
        return _rows(lines, table, columns, columns.units or units, comma)
    except csv.Error as error:
        raise refuse("not-csv", lines.place(), f"This is no CSV: {error}.", A_LOG) from error


def _separator(line: str) -> str:
    return max(",;\t", key=line.count)


def _header(lines: Lines, table: Iterator[list[str]]) -> tuple[Columns, Iterator[list[str]]]:
    """The columns by the first line that names them; loggers often tell about themselves above it."""
    for row in table:
        columns = _columns(row)
        if columns:
            return columns, table
        if lines.number >= LONG_PREAMBLE:
            break
    place = lines.place()._replace(line=1)
    raise refuse("missing-column", place, "No line of this file names a time and a temperature.", A_LOG)


def _columns(names: Sequence[str]) -> Columns | None:
    told = [name for name in names if not _DEW.search(name)]
    times = tuple(names.index(name) for name in told if _TIME.search(name))[:2]
    warm = [name for name in told if _TEMPERATURE.search(name) and not _TIME.search(name)]
    damp = [name for name in told if _HUMIDITY.search(name) and name not in warm]
    if not times or not warm:
        return None
    unit = Units.METRIC if _CELSIUS.search(warm[0]) else Units.US if _FAHRENHEIT.search(warm[0]) else None
    return Columns(times, names.index(warm[0]), names.index(damp[0]) if damp else None, unit)


def _rows(lines: Lines, table: Iterator[list[str]], columns: Columns, units: Units, comma: bool) -> Rows:
    found: list[Row] = []
    set_aside: Counter[str] = Counter()
    unreadable: Problem | None = None
    for fields in table:
        if not any(field.strip() for field in fields):
            continue
        try:
            row = _row(fields, columns, units, comma, lines.number, set_aside)
        except (ValueError, IndexError):
            set_aside[UNREADABLE] += 1
            unreadable = unreadable or _problem(lines)
            continue
        found.append(row)
    return Rows(columns, found, set_aside, unreadable)


def _row(fields: Sequence[str], columns: Columns, units: Units, comma: bool, line: int, set_aside: Counter[str]) -> Row:
    time = " ".join(fields[column].strip() for column in columns.time)
    if not re.search(r"\d", time):
        raise ValueError(time)
    warm = _number(fields[columns.temperature], comma)
    damp = None if columns.humidity is None else _number(fields[columns.humidity], comma)
    if warm is not None:
        warm = fahrenheit(warm) if units is Units.METRIC else rounded(warm)
    warm = _believed(warm, COLDEST, HOTTEST, set_aside)
    damp = _believed(damp, DRIEST, TOO_DAMP, set_aside)
    return Row(time, warm, None if damp is None else min(rounded(damp), SATURATED), line)


def _believed(value: float | None, low: float, high: float, set_aside: Counter[str]) -> float | None:
    """The value, or None and a count where no logger can mean it."""
    if value is None or low <= value <= high:
        return value
    set_aside[IMPOSSIBLE] += 1
    return None


def _number(text: str, comma: bool) -> float | None:
    """A number with or without its unit; None where nothing was measured. Raises `ValueError` for anything else."""
    text = re.sub(r"\s*(?:°?\s*[FC]|%)?\s*(?:RH)?$", "", text.strip(), flags=re.IGNORECASE)
    if text.upper() in MISSING:
        return None
    number = float(text.replace(",", ".") if comma else text)
    if number != number:
        return None
    return number


def _problem(lines: Lines) -> Problem:
    message = "This row has no time, or a temperature or humidity that is no number."
    return Problem("unreadable-row", lines.place(), message, "Leave a field empty where nothing was measured.")

"""A station's daily record from a file, whatever of the three layouts it is in."""

from __future__ import annotations

from pathlib import Path

from assistant.model.place import Place, refuse
from assistant.model.quantities import Units
from assistant.model.weather import StationRecord
from assistant.weather import ghcn, station_csv
from assistant.weather.gathering import UNREADABLE, Gathered, possible
from assistant.weather.screening import screened
from assistant.weather.text_files import Lines, open_lines

MOST_BAD = 0.1
"""The share of rows that may be bad before the whole file is not what it seems. Our choice."""
FEW = 10
A_YEAR = 300
COLDEST_SUMMER = 60.0
"""°F; where no day of a year gets warmer, nobody grows sweet potatoes: the file is in °C. Our choice."""

A_RECORD = "A record is a CSV file with a header holding DATE, TMIN and TMAX, or a GHCN-Daily file."


def read_record(path: Path, units: Units = Units.US) -> StationRecord:
    """The daily lows and highs of a station, screened, in °F to a hundredth.

    `units` are those of a CSV file with a header; GHCN-Daily files are in tenths of °C by definition.
    Raises `BadInput` with the place of the fault when the file is no such record; a few bad rows are
    only set aside and counted.
    """
    gathered = Gathered()
    with open_lines(path) as lines:
        name = _read(lines, gathered, units)
    gathered.finish()
    place = Place(str(path), 1, 1)
    _check(place, gathered, units)
    days = screened(gathered.days, gathered.set_aside)
    if not any(day.low is not None for day in days):
        raise refuse("no-days", place, "This file holds no low of any day that can be used.", A_RECORD)
    return StationRecord(name or path.stem, days, dict(gathered.set_aside))


def _read(lines: Lines, gathered: Gathered, units: Units) -> str:
    """Fill in from the layout that the first line shows; the station's name, empty when it is not told."""
    first = lines.first
    if ghcn.is_dly(first):
        return ghcn.read_dly(lines, gathered)
    if ghcn.is_by_station(first):
        return ghcn.read_by_station(lines, gathered)
    return station_csv.read_csv(lines, gathered, units)


def _check(place: Place, gathered: Gathered, units: Units) -> None:
    """Refuse a file with many unreadable rows, or in other units than said."""
    many = max(FEW, gathered.rows * MOST_BAD)
    if gathered.unreadable and (not gathered.days or gathered.set_aside[UNREADABLE] > many):
        raise _with_count(gathered)
    impossible = sum(not possible(value) for day in gathered.days.values() for value in day)
    if impossible > many:
        raise _too_hot(place._replace(line=gathered.first_impossible), impossible, units)
    highs = [high for _, high in gathered.days.values() if high is not None]
    if len(highs) >= A_YEAR and max(highs) < COLDEST_SUMMER:
        message = f"In {len(highs)} days it was never warmer than {max(highs):g} °F: this looks like °C."
        raise refuse("wrong-units", place, message, "Say --units metric.")


def _with_count(gathered: Gathered) -> Exception:
    problem = gathered.unreadable
    assert problem
    bad = gathered.set_aside[UNREADABLE]
    number = f"{bad} of {gathered.rows} rows cannot be read; this is the first. " if bad > 1 else ""
    return refuse(problem.code, problem.place, number + problem.message, problem.hint)


def _too_hot(place: Place, number: int, units: Units) -> Exception:
    message = f"{number} temperatures are beyond anything ever measured; this is the first."
    hint = "Temperatures in tenths of °C are read from a station's .dly file, not from CSV."
    if units is Units.METRIC:
        hint = f"If they are in °F, leave out --units metric. {hint}"
    return refuse("wrong-units", place, message, hint)

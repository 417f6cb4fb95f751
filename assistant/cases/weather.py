"""The weather of a case: its station's record and its forecast, read from the files it names."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from pathlib import Path

from assistant.model.case import Case, WeatherFiles
from assistant.model.quantities import Units
from assistant.model.weather import Forecast, StationRecord, Weather
from assistant.weather import read_forecast, read_record, typed_forecast


def with_weather(case: Case, files: WeatherFiles) -> Case:
    """The case with the weather in the files, which are looked for beside the case file.

    Raises `BadInput` for a file that cannot be used, `NotAValue` for lows that are none.
    """
    folder = Path(case.place.file).parent
    record = _record_of(folder / files.record, files.record_units) if files.record else None
    if files.lows and files.lows_on is None:
        files = files._replace(lows_on=case.on)
    return replace(case, weather=Weather(record, _forecast(case, files, folder)), weather_files=files)


def _forecast(case: Case, files: WeatherFiles, folder: Path) -> Forecast | None:
    if files.lows:
        return typed_forecast(files.lows, files.lows_on or case.on, case.units)
    return read_forecast(folder / files.forecast, case.on) if files.forecast else None


def _record_of(path: Path, units: Units) -> StationRecord:
    return _record(path, units, path.stat().st_mtime_ns)


@lru_cache(maxsize=4)
def _record(path: Path, units: Units, changed: int) -> StationRecord:
    """The last few records are kept while their files stay as they are: long ones take a while to read."""
    return read_record(path, units)

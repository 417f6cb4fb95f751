"""Weather as the rooms pass it on: a station's daily record, and a forecast. All temperatures in °F."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from typing import NamedTuple


class Day(NamedTuple):
    """The lowest and highest temperature stamped on a day; None where it was not measured or was set aside."""

    on: date
    low: float | None
    high: float | None


@dataclass(frozen=True, eq=False)
class StationRecord:
    """The daily record of a station, screened: days in order, each once, gaps left out.

    `set_aside` counts what was not used, by kind, such as `spike` or `low above high`.
    """

    name: str
    days: tuple[Day, ...]
    set_aside: Mapping[str, int] = field(default_factory=dict)

    @cached_property
    def by_date(self) -> Mapping[date, Day]:
        """The days that are on record."""
        return {day.on: day for day in self.days}


class ForecastNight(NamedTuple):
    """The low forecast for one night, by the date of its morning; `spread` is its standard deviation where given."""

    morning: date
    low: float
    spread: float | None = None


@dataclass(frozen=True)
class Forecast:
    """The nights ahead as somebody forecast them on a day, the nearest first; `source` says who."""

    issued: date
    nights: tuple[ForecastNight, ...]
    source: str = ""


@dataclass(frozen=True, eq=False)
class Weather:
    """What is known of a garden's weather: the record of a station near it, a forecast, both or neither."""

    record: StationRecord | None = None
    forecast: Forecast | None = None

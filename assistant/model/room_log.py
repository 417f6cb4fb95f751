"""The air of a curing place or a store over time, as a thermometer or a logger told it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, timedelta
from typing import NamedTuple


class RoomReading(NamedTuple):
    """The air at one moment: temperature in °F, relative humidity in percent; None for what was not measured.

    `at` is on the clock that the log began with: once clocks are set back or forward it goes on regardless.
    """

    at: datetime
    temperature: float | None
    humidity: float | None


class Gap(NamedTuple):
    """A time of which the log tells nothing, from the last reading before it to the first after."""

    start: datetime
    end: datetime

    @property
    def length(self) -> timedelta:
        """How long it is."""
        return self.end - self.start


class RoomLog(NamedTuple):
    """Readings in order of time, each moment once, and what was set aside by kind and number."""

    name: str
    readings: tuple[RoomReading, ...]
    set_aside: Mapping[str, int]
    gaps: tuple[Gap, ...] = ()

    @property
    def start(self) -> datetime:
        """The time of the first reading."""
        return self.readings[0].at

    @property
    def end(self) -> datetime:
        """The time of the last reading."""
        return self.readings[-1].at

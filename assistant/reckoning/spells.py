"""A log cut into spells, each with the air of one reading, so that hours and not readings are counted."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta
from itertools import pairwise
from statistics import median_low
from typing import NamedTuple

from assistant.model.room_log import RoomLog, RoomReading

HOUR = timedelta(hours=1)


class Spell(NamedTuple):
    """Some hours with the air of one reading: °F and percent, None for what was not measured."""

    start: datetime
    hours: float
    temperature: float | None
    humidity: float | None

    @property
    def days(self) -> float:
        """Its length in days."""
        return self.hours / 24


def spells_of(log: RoomLog) -> tuple[Spell, ...]:
    """Each reading holds until the next one, or for the usual step where the log has a gap or ends.

    A log of one reading tells of no time at all.
    """
    readings = log.readings
    step = median_low([after.at - before.at for before, after in pairwise(readings)] or [timedelta(0)])
    after_gap = {gap.start for gap in log.gaps}
    return tuple(_spells(readings, step, after_gap))


def _spells(readings: Sequence[RoomReading], step: timedelta, cut_at: Iterable[datetime]) -> Iterable[Spell]:
    cut = set(cut_at)
    for reading, after in zip(readings, [*readings[1:], None], strict=True):
        untold = after is None or reading.at in cut
        length = step if after is None or untold else after.at - reading.at
        yield Spell(reading.at, length / HOUR, reading.temperature, reading.humidity)


def mean_of(values: Iterable[tuple[float, float | None]]) -> float | None:
    """The mean of values weighted by hours, those not measured left out; None where there are none."""
    told = [(hours, value) for hours, value in values if value is not None]
    total = sum(hours for hours, _ in told)
    if not told:
        return None
    return sum(hours * value for hours, value in told) / total if total else told[-1][1]

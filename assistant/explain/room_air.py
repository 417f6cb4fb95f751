"""The air of a place as series to draw, against what roots want of it while they cure and while they are kept."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from assistant.explain.log_plot import Series
from assistant.model.quantities import Units, celsius
from assistant.model.readings import Span
from assistant.model.room_log import RoomReading


class WantedAir(NamedTuple):
    """°F and percent from the lowest to the highest."""

    temperature: Span
    humidity: Span


CURING = WantedAir(Span(80, 90), Span(80, 95))
"""From the lowest to the highest that the recipes at full heat ask for."""
KEEPING = WantedAir(Span(55, 60), Span(75, 95))
"""In which roots keep (North Carolina, Iowa; the damp spans all published advice)."""


def air_series(readings: Iterable[RoomReading], wanted: WantedAir, units: Units) -> Iterator[Series]:
    """Warmth and damp, each where it was measured at all."""
    told = tuple(readings)
    warm = [(each.at, _shown(each.temperature, units)) for each in told if each.temperature is not None]
    damp = [(each.at, each.humidity) for each in told if each.humidity is not None]
    if warm:
        limits = Span(_shown(wanted.temperature.low, units), _shown(wanted.temperature.high, units))
        yield Series("Warmth", "°F" if units is Units.US else "°C", tuple(warm), limits)
    if damp:
        yield Series("Damp", "%", tuple(damp), wanted.humidity)


def _shown(fahrenheit: float, units: Units) -> float:
    return fahrenheit if units is Units.US else round(celsius(fahrenheit), 1)

"""How cold the nights were and were forecast to be, as a bed's visits were told, against frost and freezes."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import NamedTuple

from assistant.explain.range_plot import Chart, Mark
from assistant.model.quantities import Kind, Units, celsius, format_number, format_value, short_day
from assistant.model.readings import Span
from assistant.reckoning.frost_odds import THRESHOLDS
from assistant.reckoning.ranges import Range

NAMES: Mapping[float, str] = dict(zip(THRESHOLDS, ("frost", "freeze", "killing freeze"), strict=True))
STEPS = (4.0, 8.0, 16.0)
"""°F a line; of 4, so that frost and the freezes each have a line of their own."""
SHOWN = Span(28.0, 40.0)
"""°F that are shown in any case; what is warmer only where there is room."""
SHAPES = {False: "●", True: "○"}
"""Of a night that was, and of one that was forecast."""


class Night(NamedTuple):
    """A low (°F) that a visit was told of, and the days in which its night lies: of the past week, or ahead."""

    is_forecast: bool
    first: date
    last: date
    low: Span


def night_chart(nights: tuple[Night, ...], units: Units) -> Chart:
    """The lows with lines at frost, freeze and killing freeze."""

    def label(fahrenheit: float) -> str:
        return f"{fahrenheit:g}" if units is Units.US else f"{celsius(fahrenheit):.0f}"

    marks = tuple(
        Mark(night.first, night.last, _range(night.low), SHAPES[night.is_forecast], _short(night.low, units))
        for night in nights
    )
    unit = "°F" if units is Units.US else "°C"
    heading = f"Nights, {unit}: {SHAPES[False]} past week {SHAPES[True]} forecast"
    shows = Span(min(SHOWN.low, *(mark.value.likely for mark in marks)), SHOWN.high)
    return Chart(heading, marks, shows, STEPS, label, NAMES)


def night_words(nights: tuple[Night, ...], units: Units) -> list[str]:
    """The same in sentences, and where the last of them lies."""
    told = [_sentence(night, units) for night in nights]
    return [*told, _against(nights[-1], units)]


def _sentence(night: Night, units: Units) -> str:
    words = format_value(Kind.TEMPERATURE, night.low.high, units)
    if night.low.low < night.low.high:
        words = f"{format_value(Kind.TEMPERATURE, night.low.low, units).partition(' ')[0]} to {words}"
    if not night.is_forecast:
        return f"{short_day(night.first)}: nights of the past week {words}."
    days = short_day(night.first)
    when = days if night.first == night.last else f"some night from {days} to {short_day(night.last)}"
    return f"Lowest forecast {words}, {when}."


def _against(night: Night, units: Units) -> str:
    """How far down the coldest that it may be reaches."""
    reached = [limit for limit in NAMES if night.low.low <= limit]
    limit = min(reached, default=max(NAMES))
    line = f"{format_value(Kind.TEMPERATURE, limit, units)} ({NAMES[limit]})"
    if not reached:
        return f"The last of these is above {line}."
    return f"The last of these {'is' if night.low.high <= limit else 'may be'} at or below {line}."


def _range(low: Span) -> Range:
    return Range(low.low, (low.low + low.high) / 2, low.high)


def _short(low: Span, units: Units) -> str:
    ends = [end if units is Units.US else round(celsius(end)) for end in (low.low, low.high)]
    first, last = map(format_number, ends)
    return first if first == last else f"{first}-{last}"

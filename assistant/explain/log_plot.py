"""A log against its limits in plain characters; what lies outside is told by shape and not by colour."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from math import ceil, floor
from typing import NamedTuple

from assistant.model.quantities import format_number, short_day
from assistant.model.readings import Span

INSIDE, OUTSIDE, LIMITS = "█", "░", "·"
HEIGHT = 14
SCALE = 6  # letters for the numbers at the left
LABEL = 8  # letters that a date and the space after it take
STEPS = (1, 2, 5, 10, 20, 50)


class Series(NamedTuple):
    """One quantity over time, in the units it is shown in, and the limits it should keep."""

    name: str
    unit: str
    points: tuple[tuple[datetime, float], ...]
    limits: Span

    @property
    def ends(self) -> Span:
        """From the lowest to the highest there is to show, limits included."""
        values = [value for _, value in self.points]
        return Span(min(self.limits.low, *values), max(self.limits.high, *values))

    @property
    def time(self) -> timedelta:
        """From the first to the last reading, at least an hour."""
        return max(self.points[-1][0] - self.points[0][0], timedelta(hours=1))

    def along(self, at: datetime) -> float:
        """Where a moment lies, from 0 at the first to 1 at the last reading."""
        return (at - self.points[0][0]) / self.time

    @property
    def heading(self) -> str:
        """What it is and what it should be."""
        return f"{self.name}, {self.unit} ({LIMITS} {self.wanted} wanted, {OUTSIDE} outside)"

    @property
    def wanted(self) -> str:
        """The limits in words."""
        return f"{self.limits.low:g} to {self.limits.high:g}"


def plot_lines(series: Series, width: int, height: int = HEIGHT) -> list[str]:
    """The plot as at most so many lines of at most so many letters, highest values first, days below."""
    columns = max(width - SCALE - 2, LABEL)
    step = _step(series.ends, height - 2)
    lowest, highest = floor(series.ends.low / step), ceil(series.ends.high / step)
    marks = {(floor(value / step), int(series.along(at) * (columns - 1))): value for at, value in _by_time(series)}
    short = f"{series.name}, {series.unit}: {LIMITS} {series.wanted} wanted"
    lines = [series.heading if len(series.heading) <= width else short]
    for row in range(highest, lowest - 1, -1):
        text = "".join(_mark(series, marks.get((row, column)), row, step) for column in range(columns))
        lines.append(f"{row * step:>{SCALE}g} │{text}".rstrip())
    return [*lines, " " * (SCALE + 2) + days_line(series.points[0][0], series.time, columns)]


def series_words(series: Series) -> str:
    """The same in a sentence: how many readings, from when to when, between what, how many outside, and the last."""
    values = [value for _, value in series.points]
    days = _from_to(short_day(series.points[0][0]), short_day(series.points[-1][0]))
    ends = _from_to(format_number(min(values)), format_number(max(values)))
    outside = sum(not _inside(series, value) for value in values)
    where = f"{outside} of them outside" if outside else "all inside"
    return (
        f"{series.name}: {len(values)} reading{'s' * (len(values) != 1)}, {days}: {ends} {series.unit}, {where} the "
        f"{series.wanted} wanted; the last {format_number(values[-1])}."
    )


def _from_to(first: str, last: str) -> str:
    return first if first == last else f"{first} to {last}"


def _by_time(series: Series) -> Iterator[tuple[datetime, float]]:
    """Readings inside the limits first, so that one outside is seen where both fall on one letter."""
    return iter(sorted(series.points, key=lambda point: not _inside(series, point[1])))


def _inside(series: Series, value: float) -> bool:
    return series.limits.low <= value <= series.limits.high


def _mark(series: Series, value: float | None, row: int, step: float) -> str:
    if value is not None:
        return INSIDE if _inside(series, value) else OUTSIDE
    return LIMITS if series.limits.low <= row * step < series.limits.high else " "


def _step(ends: Span, rows: int) -> float:
    fits = (step for step in STEPS if ceil(ends.high / step) - floor(ends.low / step) < rows)
    return next(fits, STEPS[-1])


def days_line(start: datetime, time: timedelta, columns: int) -> str:
    """Under so many columns from the start on, a date wherever there is room for one."""
    each = max(1, ceil(LABEL * time / timedelta(days=1) / columns))
    line = ""
    for days in range(0, time // timedelta(days=1) + 1, each):
        day = start + timedelta(days=days)
        at = int((day - start) / time * (columns - 1))
        if len(line) <= at <= columns - len(short_day(day)):
            line = f"{line:{at}}{short_day(day)} "
    return line.rstrip()

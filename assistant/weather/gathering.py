"""Lows and highs as they come off a file: each day once, impossible values left out, everything counted."""

from __future__ import annotations

from collections import Counter
from datetime import date

from assistant.model.place import Problem

LOWEST, HIGHEST = -130.0, 135.0
"""°F; just beyond the coldest and hottest ever measured, -128.6 (Vostok 1983) and 134.1 (Death Valley 1913). From
memory of the World Meteorological Organization's list of extremes."""
EARLIEST_YEAR, LATEST_YEAR = 1700, 2200
"""No thermometer record begins before, and no garden is planned after."""

IMPOSSIBLE = "impossible value"
UNREADABLE = "unreadable row"
FLAGGED = "flagged by the weather service"
DUPLICATE = "duplicate"
DIFFERING = "differing duplicates"
MISSING_DAY = "missing day"


class Gathered:
    """What a file said of each day. A day told twice in different words is not believed at all."""

    def __init__(self) -> None:
        self.days: dict[date, tuple[float | None, float | None]] = {}
        self.set_aside: Counter[str] = Counter()
        self.disputed: set[date] = set()
        self.rows = 0
        self.unreadable: Problem | None = None
        self.first_impossible = 0

    def add(self, on: date, low: float | None, high: float | None, line: int) -> None:
        """One row: the low and the high of a day in °F, None for what the row does not tell."""
        now = self._possible(low, line), self._possible(high, line)
        before = self.days.get(on)
        self.days[on] = now if before is None else self._joined(on, before, now)

    def skip(self, problem: Problem) -> None:
        """A row that cannot be read; the first is kept, to be shown when the whole file turns out unusable."""
        self.set_aside[UNREADABLE] += 1
        self.unreadable = self.unreadable or problem

    def finish(self) -> None:
        """Forget the days in dispute and count those that the file leaves out."""
        told = len(self.days)
        if told:
            self._count(MISSING_DAY, (max(self.days) - min(self.days)).days + 1 - told)
        self._count(DIFFERING, len(self.disputed))
        for day in self.disputed:
            del self.days[day]

    def _count(self, kind: str, number: int) -> None:
        if number:
            self.set_aside[kind] += number

    def _possible(self, value: float | None, line: int) -> float | None:
        if value is None or LOWEST <= value <= HIGHEST:
            return value
        self.set_aside[IMPOSSIBLE] += 1
        self.first_impossible = self.first_impossible or line
        return None

    def _joined(
        self, on: date, before: tuple[float | None, float | None], now: tuple[float | None, float | None]
    ) -> tuple[float | None, float | None]:
        """A day that was told already: filled up, or the same again, or in dispute."""
        both = [(old, new) for old, new in zip(before, now, strict=True) if old is not None and new is not None]
        if any(old != new for old, new in both):
            self.disputed.add(on)
        elif both:
            self.set_aside[DUPLICATE] += 1
        low, high = (new if old is None else old for old, new in zip(before, now, strict=True))
        return low, high

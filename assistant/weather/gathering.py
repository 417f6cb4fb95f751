"""Lows and highs as they come off a file: each day once, and a count of what cannot be used."""

from __future__ import annotations

from collections import Counter
from datetime import date

from assistant.model.place import Problem

LOWEST, HIGHEST = -130.0, 135.0
"""°F; just beyond the coldest and hottest ever measured, -128.6 (Vostok 1983) and 134.1 (Death Valley 1913). From
memory of the World Meteorological Organization's list of extremes."""
IMPOSSIBLE = "impossible value"
EARLIEST_YEAR, LATEST_YEAR = 1700, 2200
"""No thermometer record begins before, and no garden is planned after."""

UNREADABLE = "unreadable row"
FLAGGED = "flagged by the weather service"
DUPLICATE = "duplicate"
DIFFERING = "differing duplicates"
MISSING_DAY, MISSING_LOW, MISSING_HIGH = "missing day", "missing low", "missing high"

LowHigh = tuple[float | None, float | None]
"""The low and the high of a day in °F, None for what is not known."""


def possible(value: float | None) -> bool:
    """Whether a temperature can be one; what is not known can."""
    return value is None or LOWEST <= value <= HIGHEST


class Gathered:
    """What a file said of each day. A day told twice in different words is not believed at all."""

    def __init__(self) -> None:
        self.days: dict[date, LowHigh] = {}
        self.set_aside: Counter[str] = Counter()
        self.disputed: set[date] = set()
        self.rows = 0
        self.unreadable: Problem | None = None
        self.first_impossible = 0

    def add(self, on: date, low: float | None, high: float | None, line: int) -> None:
        """One row: the low and the high of a day in °F, None for what the row does not tell."""
        if not self.first_impossible and not (possible(low) and possible(high)):
            self.first_impossible = line
        before = self.days.get(on)
        self.days[on] = (low, high) if before is None else self._joined(on, before, (low, high))

    def skip(self, problem: Problem) -> None:
        """A row that cannot be read; the first is kept, to be shown when the whole file turns out unusable."""
        self.set_aside[UNREADABLE] += 1
        self.unreadable = self.unreadable or problem

    def finish(self) -> None:
        """Forget the days in dispute, and count what the file leaves out from its first day to its last."""
        told = [(low is not None, high is not None) for low, high in self.days.values()]
        known = len(told) - told.count((False, False))
        span = (max(self.days) - min(self.days)).days + 1 if told else 0
        counts = {
            MISSING_DAY: span - known,
            MISSING_LOW: told.count((False, True)),
            MISSING_HIGH: told.count((True, False)),
            DIFFERING: len(self.disputed),
        }
        self.set_aside.update({kind: number for kind, number in counts.items() if number})
        for day in self.disputed:
            del self.days[day]

    def _joined(self, on: date, before: LowHigh, now: LowHigh) -> LowHigh:
        """A day that was told already: filled up, or the same again, or in dispute."""
        both = [(old, new) for old, new in zip(before, now, strict=True) if old is not None and new is not None]
        if any(old != new for old, new in both):
            self.disputed.add(on)
        elif both:
            self.set_aside[DUPLICATE] += 1
        low, high = (new if old is None else old for old, new in zip(before, now, strict=True))
        return low, high

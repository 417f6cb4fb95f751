"""A reading is a range: whatever is known of a sign, from one exact value to its whole domain."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum
from typing import NamedTuple


@dataclass(frozen=True)
class Span:
    """Numbers, temperatures (°F), lengths (in) or days: everything from low to high, both included."""

    low: float
    high: float

    def __post_init__(self) -> None:
        if self.low > self.high:
            raise ValueError(f"a span runs from low to high, not {self.low}..{self.high}")

    def within(self, other: Reading) -> bool:
        """Whether this reading says at least as much as the other."""
        return isinstance(other, Span) and other.low <= self.low and self.high <= other.high

    def meet(self, other: Span) -> Span | None:
        """What both spans allow; None when they exclude each other."""
        low, high = max(self.low, other.low), min(self.high, other.high)
        return Span(low, high) if low <= high else None


@dataclass(frozen=True)
class Choices:
    """The choices still possible; one alone is certain. Never empty."""

    possible: frozenset[str]

    def __post_init__(self) -> None:
        if not self.possible:
            raise ValueError("a reading allows at least one choice")

    def within(self, other: Reading) -> bool:
        """Whether this reading says at least as much as the other."""
        return isinstance(other, Choices) and self.possible <= other.possible


Reading = Span | Choices


def exactly(value: float) -> Span:
    """The reading of one exact value."""
    return Span(value, value)


def one_of(*choices: str) -> Choices:
    """The reading that allows just these choices."""
    return Choices(frozenset(choices))


def hull(spans: Iterable[Span]) -> Span:
    """The smallest span that covers all the given ones (at least one)."""
    spans = tuple(spans)
    return Span(min(span.low for span in spans), max(span.high for span in spans))


class Origin(str, Enum):
    """Where a reading came from."""

    ANSWERED = "answered"
    CANT_TELL = "can't tell"
    NOT_ASKED = "not asked"
    TEST_DIG = "test dig"
    GARDEN = "garden's frost dates"
    RECKONED = "reckoned"
    FORECAST = "forecast"
    STATION = "station's record"
    NOTEBOOK = "notebook"


class Known(NamedTuple):
    """A reading with where it came from and, where a person wrote it, their words."""

    reading: Reading
    origin: Origin
    written: str = ""

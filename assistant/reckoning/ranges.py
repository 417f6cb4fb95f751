"""A likely value with a range around it, and the range for the mean of a few unlike things."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from math import atan, cos, exp, pi, sin, sqrt
from typing import NamedTuple

CONFIDENCE = 0.90
"""How often a range should hold the truth, unless said otherwise."""


class Range(NamedTuple):
    """A likely value and the range around it; low <= likely <= high."""

    low: float
    likely: float
    high: float

    def times(self, factor: float) -> Range:
        """The range of so many times the value; the factor is not negative."""
        return Range(self.low * factor, self.likely * factor, self.high * factor)


def mean_range(
    values: Sequence[float], usual_spread: float, weight: int = 4, confidence: float = CONFIDENCE
) -> Range | None:
    """The mean of some positive values, with a range for the mean they were drawn from; None without any.

    Few values say little of their own spread, so `usual_spread` (standard deviation over mean) counts as
    much as `weight` degrees of freedom beside theirs: one value alone has a range too, and two that agree by
    chance don't fake certainty. Student's t on the scale of ratios, so that the low end stays above zero.
    """
    if not values or not sum(values):
        return Range(0, 0, 0) if values else None
    mean = sum(values) / len(values)
    freedom = weight + len(values) - 1
    seen = (len(values) - 1) * pooled_spread([values]) ** 2 if len(values) > 1 else 0.0
    spread = sqrt((weight * usual_spread**2 + seen) / freedom)
    factor = exp(student_t(freedom, confidence) * spread / sqrt(len(values)))
    return Range(mean / factor, mean, mean * factor)


def pooled_spread(groups: Sequence[Sequence[float]]) -> float:
    """The standard deviation within groups over the mean of all: the coefficient of variation of a field trial."""
    squares = sum((value - sum(group) / len(group)) ** 2 for group in groups for value in group)
    number = sum(map(len, groups))
    return sqrt(squares / (number - len(groups))) / (sum(map(sum, groups)) / number)


@lru_cache(maxsize=256)
def student_t(freedom: int, confidence: float = CONFIDENCE) -> float:
    """How many standard errors either side hold the truth with this confidence, at whole degrees of freedom."""
    low, high = 0.0, 1.0
    while _within(high, freedom) < confidence:
        high *= 2
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if _within(middle, freedom) < confidence else (low, middle)
    return high


def _within(t: float, freedom: int) -> float:
    """The chance that Student's t lies within -t..t: Abramowitz and Stegun (1964), 26.7.3 and 26.7.4."""
    angle = atan(t / sqrt(freedom))
    odd = freedom % 2
    term = cos(angle) if odd else 1.0
    total = term if freedom > 1 else 0.0
    for step in range(2 + odd, freedom, 2):
        term *= cos(angle) ** 2 * (step - 1) / step
        total += term
    return 2 / pi * (angle + sin(angle) * total) if odd else sin(angle) * total

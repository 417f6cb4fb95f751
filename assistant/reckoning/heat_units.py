"""Heat units: warmth added up day by day, by the published sweet potato rule and by the usual methods."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from enum import Enum
from math import asin, cos, pi

SWEET_POTATO_BASE = 60.0
"""°F taken off each day's high. The abstract of Villordon et al. 2009 (R01) has a letter; the number is from memory."""
SWEET_POTATO_CEILING = 90.0
"""°F above which a day's high counts no more (Villordon et al. 2009, R01)."""


_Curve = Callable[[float, float, float], float]


class Method(str, Enum):
    """How the course of a day's temperature is taken."""

    AVERAGE = "average"
    CLIPPED = "clipped"
    SINGLE_TRIANGLE = "single triangle"
    DOUBLE_TRIANGLE = "double triangle"
    SINGLE_SINE = "single sine"
    DOUBLE_SINE = "double sine"


def sweet_potato_units(low: float, high: float) -> float:
    """Heat units of one day (°F days) from its low and high (°F).

    None when the low is below 60 °F; else the high, at most 90 °F, less 60 °F. Louisiana; a prompt for
    a test dig, and refused where nights are cool. Source: Villordon, LaBonte, Firon, Kfir, Pressman
    and Schwartz 2009, HortScience 44 (R01); the base of 60 °F from memory.
    """
    if low < SWEET_POTATO_BASE:
        return 0.0
    return min(high, SWEET_POTATO_CEILING) - SWEET_POTATO_BASE


def share_of_cool_nights(lows: Iterable[float]) -> float:
    """The share of nights (0 to 1) below 60 °F, on which the sweet potato rule counts nothing. Zero for no nights."""
    nights = list(lows)
    return sum(low < SWEET_POTATO_BASE for low in nights) / len(nights) if nights else 0.0


MOST_COOL_NIGHTS = 0.5
"""Share of cool nights beyond which the rule is refused (our own judgement, after the maritime sums in R63)."""


def average_units(low: float, high: float, base: float) -> float:
    """Heat units of a day: its mean less the base, never below zero (McMaster and Wilhelm 1997, method 1)."""
    return max(0.0, (low + high) / 2 - base)


def clipped_units(low: float, high: float, base: float, ceiling: float | None = None) -> float:
    """The same with low and high each first brought between base and ceiling (McMaster and Wilhelm 1997, method 2)."""
    most = float("inf") if ceiling is None else ceiling
    low, high = (min(max(value, base), most) for value in (low, high))
    return (low + high) / 2 - base


def units(method: Method, low: float, high: float, next_low: float, base: float, ceiling: float | None = None) -> float:
    """Heat units of one day between two thresholds, the upper one cutting off level.

    Triangles and sines run from the low to the high and back to the same low (single) or to the next
    day's (double). In the degrees given. Source: Zalom et al. 1983, UC leaflet 21373.
    """
    match method:
        case Method.AVERAGE:
            return average_units(low, high if ceiling is None else min(high, ceiling), base)
        case Method.CLIPPED:
            return clipped_units(low, high, base, ceiling)
        case Method.SINGLE_TRIANGLE:
            return _between(_triangle, low, high, base, ceiling)
        case Method.SINGLE_SINE:
            return _between(_sine, low, high, base, ceiling)
        case Method.DOUBLE_TRIANGLE:
            return _halves(_triangle, low, high, next_low, base, ceiling)
        case Method.DOUBLE_SINE:
            return _halves(_sine, low, high, next_low, base, ceiling)


def _halves(curve: _Curve, low: float, high: float, next_low: float, base: float, ceiling: float | None) -> float:
    return (_between(curve, low, high, base, ceiling) + _between(curve, next_low, high, base, ceiling)) / 2


def _between(curve: _Curve, low: float, high: float, base: float, ceiling: float | None) -> float:
    above = curve(low, high, base)
    return above if ceiling is None else above - curve(low, high, ceiling)


def _triangle(low: float, high: float, threshold: float) -> float:
    """Degree days above a threshold under straight lines from the low to the high and back."""
    if high <= threshold:
        return 0.0
    if low >= threshold:
        return (low + high) / 2 - threshold
    return (high - threshold) ** 2 / (2 * (high - low))


def _sine(low: float, high: float, threshold: float) -> float:
    """Degree days above a threshold under a sine from the low to the high and back."""
    if high <= threshold:
        return 0.0
    middle, swing = (low + high) / 2, (high - low) / 2
    if low >= threshold:
        return middle - threshold
    crossing = asin((threshold - middle) / swing)
    return ((middle - threshold) * (pi / 2 - crossing) + swing * cos(crossing)) / pi

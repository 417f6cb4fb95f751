"""Ranges for a share of which some were counted: how often it is, going by so many of so many."""

from __future__ import annotations

from collections.abc import Callable
from math import exp, lgamma, log, sqrt
from statistics import NormalDist

from assistant.model.readings import Span

CONFIDENCE = 0.95
"""How often such a range should hold the truth, unless said otherwise."""


def wilson(count: int, number: int, confidence: float = CONFIDENCE) -> Span:
    """The range (0 to 1) for a share of which `count` in `number` were seen; everything when none was looked at.

    Wilson's score interval (1927, J. Am. Stat. Assoc. 22:209); on average it holds the truth about as
    often as it says, also for few counts (Newcombe 1998, Stat. Med. 17:857).
    """
    _check(count, number)
    if not number:
        return Span(0.0, 1.0)
    z2 = NormalDist().inv_cdf((1 + confidence) / 2) ** 2
    middle = (count + z2 / 2) / (number + z2)
    half = sqrt(z2) / (number + z2) * sqrt(count * (number - count) / number + z2 / 4)
    return Span(max(0.0, middle - half) if count else 0.0, min(1.0, middle + half) if count < number else 1.0)


def exact_interval(count: int, number: int, confidence: float = CONFIDENCE) -> Span:
    """The same, never holding the truth less often than it says, and so wider.

    Clopper and Pearson (1934, Biometrika 26:404): the shares under which so many, or so few, would be rarer
    than half of what the confidence leaves.
    """
    _check(count, number)
    tail = (1 - confidence) / 2
    low = _where(lambda share: _at_least(count, number, share) >= tail) if count else 0.0
    high = _where(lambda share: _at_least(count + 1, number, share) >= 1 - tail) if count < number else 1.0
    return Span(low, high)


def _check(count: int, number: int) -> None:
    if not 0 <= count <= number:
        raise ValueError(f"{count} of {number} is no share")


def _at_least(count: int, number: int, share: float) -> float:
    """The chance of so many or more of a number, each with the share's chance: the binomial distribution's tail."""
    ways = lgamma(number + 1)
    return sum(
        exp(ways - lgamma(k + 1) - lgamma(number - k + 1) + k * log(share) + (number - k) * log(1 - share))
        for k in range(count, number + 1)
    )


def _where(holds: Callable[[float], bool]) -> float:
    """The share from which on a condition holds, by halving."""
    low, high = 0.0, 1.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (low, middle) if holds(middle) else (middle, high)
    return (low + high) / 2

"""What a few hills dug up say of the whole bed."""

from __future__ import annotations

from math import comb

from assistant.model.readings import Span

CONFIDENCE = 0.90


def median_range(diameters: list[float], confidence: float = CONFIDENCE) -> Span | None:
    """A range that holds the bed's median root diameter with at least the given confidence.

    Diameters in any unit; the answer is in the same unit. The range runs between two order
    statistics whose binomial coverage reaches the confidence; None with too few roots for that
    (fewer than 5 at 90 %). It treats roots as drawn one by one from the bed.
    Source: the distribution-free interval for a median, as in standard texts on order statistics
    (coverage from the binomial distribution with p = 1/2).
    """
    ordered = sorted(diameters)
    number = len(ordered)
    ranks = [rank for rank in range(1, number // 2 + 1) if _coverage(number, rank) >= confidence]
    return Span(ordered[ranks[-1] - 1], ordered[number - ranks[-1]]) if ranks else None


def _coverage(number: int, rank: int) -> float:
    """The chance that a median lies between the rank-th smallest and the rank-th largest of so many."""
    return float(sum(comb(number, count) for count in range(rank, number - rank + 1))) / 2.0**number

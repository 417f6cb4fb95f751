"""What a few hills dug up say of the whole bed. Hills are the sample: the roots of one hill are alike."""

from __future__ import annotations

from bisect import bisect
from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache
from itertools import accumulate
from math import exp, log

from assistant.model.case import TestDig
from assistant.model.readings import Span
from assistant.reckoning.ranges import CONFIDENCE, Range

Counts = tuple[tuple[int, int], ...]
"""For each hill, how many of its roots count, and how many roots it has."""

MOST_ALIKE = 0.5
"""Up to how alike the roots of one hill may be (correlation within a hill; each value from 0 to here is held as
likely as another). No published figure for sweet potatoes; our own judgement, on the wide side."""

_CELLS, _STEPS = 100, 8
_SHARES = tuple((cell + 0.5) / _CELLS for cell in range(_CELLS))
_LIKENESS = tuple((step + 0.5) / _STEPS * MOST_ALIKE for step in range(_STEPS))


def share_at_size(dig: TestDig, confidence: float = CONFIDENCE) -> Range:
    """The share of the bed's roots whose diameter is wanted (both ends included)."""
    return share_range(counts(dig.hills, lambda root: dig.wanted.low <= root <= dig.wanted.high), confidence)


def counts(hills: Iterable[Sequence[float]], wanted: Callable[[float], bool]) -> Counts:
    """How many roots of each hill are as wanted, of how many."""
    return tuple((sum(map(wanted, hill)), len(hill)) for hill in hills)


def share_range(counted: Counts, confidence: float = CONFIDENCE) -> Range:
    """The share of the bed's roots that count, 0 to 1, with a range that holds it about so often.

    The likely value is the plain share of all roots dug; without any roots it is one half. The range is that of
    the beta-binomial model with every share equally likely beforehand (Skellam 1948 for the model; from memory),
    widened to the likely value where hills of many roots differ from hills of few.
    """
    roots = sum(of for _, of in counted)
    likely = sum(some for some, _ in counted) / roots if roots else 0.5
    tail = (1 - confidence) / 2
    low = 0.0 if likely == 0 else _quantile(counted, tail)
    high = 1.0 if likely == 1 else _quantile(counted, 1 - tail)
    return Range(min(low, likely), likely, max(high, likely))


def median_range(hills: Sequence[Sequence[float]], confidence: float = CONFIDENCE) -> Span | None:
    """A range that holds the bed's middle root diameter about so often; None when the roots are too few to tell.

    Diameters in any unit; the answer is in the same unit. The ends are the furthest roots in that the middle
    root can still be told to lie beyond, by the range for the share of smaller (or larger) roots: Woodruff 1952,
    Journal of the American Statistical Association 47:635 (from memory).
    """
    ordered = sorted(diameter for hill in hills for diameter in hill)
    low = _furthest(ordered, lambda end: counts(hills, lambda root: root < end), confidence)
    high = _furthest(ordered[::-1], lambda end: counts(hills, lambda root: root > end), confidence)
    return None if low is None or high is None else Span(low, high)


def _furthest(ends: Sequence[float], beyond: Callable[[float], Counts], confidence: float) -> float | None:
    """The last of the ends, outermost first, of which surely less than half the roots lie beyond."""
    tail = (1 - confidence) / 2
    # The further in, the more roots lie beyond, so the first end that fails can be bisected for.
    failing = bisect(range((len(ends) + 1) // 2), False, key=lambda at: chance_of_most(beyond(ends[at])) > tail)
    return ends[failing - 1] if failing else None


def chance_of_most(counted: Counts) -> float:
    """The chance that more than half of the bed's roots count."""
    return 1 - _chances(_sorted(counted))[_CELLS // 2]


def _quantile(counted: Counts, chance: float) -> float:
    """The share that the bed's stays below with this chance."""
    chances = _chances(_sorted(counted))
    cell = next(at for at in range(_CELLS) if chances[at + 1] >= chance)
    within = (chance - chances[cell]) / (chances[cell + 1] - chances[cell])
    return (cell + within) / _CELLS


def _sorted(counted: Counts) -> Counts:
    return tuple(sorted(hill for hill in counted if hill[1]))


@lru_cache(maxsize=8192)
def _chances(counted: Counts) -> tuple[float, ...]:
    """The chance that the share is below each hundredth, from 0 to 1."""
    some = _deeper(some for some, _ in counted)
    others = _deeper(of - some for some, of in counted)
    roots = _deeper(of for _, of in counted)
    logs = [_log_likelihood(step, some, others, roots) for step in range(_STEPS)]
    most = max(map(max, logs))
    cells = [sum(exp(value - most) for value in column) for column in zip(*logs, strict=True)]
    total = sum(cells)
    return (0.0, *(value / total for value in accumulate(cells)))


def _deeper(numbers: Iterable[int]) -> list[int]:
    """How many of the numbers are above 0, above 1, and so on."""
    numbers = list(numbers)
    return [sum(number > depth for number in numbers) for depth in range(max(numbers, default=0))]


def _log_likelihood(step: int, some: list[int], others: list[int], roots: list[int]) -> list[float]:
    """For each share at one likeness, the logarithm of how well it fits the hills."""
    fit = [-sum(hills * log(1 - _LIKENESS[step] + at * _LIKENESS[step]) for at, hills in enumerate(roots))] * _CELLS
    for at, hills in enumerate(some):
        fit = [value + hills * term for value, term in zip(fit, _logs(step, at), strict=True)]
    for at, hills in enumerate(others):
        fit = [value + hills * term for value, term in zip(fit, reversed(_logs(step, at)), strict=True)]
    return fit


@lru_cache(maxsize=1024)
def _logs(step: int, at: int) -> tuple[float, ...]:
    """For each share, the logarithm of the weight of one more root like `at` others of its hill."""
    alike = _LIKENESS[step]
    return tuple(log(share * (1 - alike) + at * alike) for share in _SHARES)

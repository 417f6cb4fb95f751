"""The chance of a cold night among several in a row, which go together. Pure arithmetic, no units."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from itertools import pairwise
from math import inf, sqrt
from operator import mul, truediv
from statistics import NormalDist
from typing import NamedTuple

_NORMAL = NormalDist()
_EDGES = (-inf, *(-3.5 + 0.25 * step for step in range(23)), inf)
"""Departures of a night, in standard deviations, that part it into cells: finest where cold is seldom."""
_ROUNDS = 30  # of balancing, after which the cells keep their shares to nine places


def chances_by_night(chances: Iterable[float], next_night: float) -> list[float]:
    """For each night, the chance (0 to 1) that it or one before it is cold, from every night's own chance.

    `next_night` is the correlation of one night's departure with the next one's; departures are normal
    and each depends on the one before alone (a first-order autoregression). Reckoned on 24 cells of the
    departure, so never falling as nights are added or as one of them turns colder; within .005 of trials by lot.
    """
    cells = _cells(next_night)
    spared: Sequence[float] = ()
    together: list[float] = []
    for chance in chances:
        spared = [sum(map(mul, row, spared)) for row in cells.onward] if spared else cells.shares
        spared = [
            here * min(max((below - chance) / share, 0.0), 1.0)
            for here, below, share in zip(spared, cells.below, cells.shares, strict=True)
        ]
        together.append(min(max(1 - sum(spared), together[-1] if together else 0.0), 1.0))
    return together


class _Cells(NamedTuple):
    """The share of nights in each cell, in it or below, and how one night's cells feed the next one's."""

    shares: tuple[float, ...]
    below: tuple[float, ...]
    onward: tuple[tuple[float, ...], ...]


@lru_cache(maxsize=4)
def _cells(next_night: float) -> _Cells:
    below = tuple(map(_NORMAL.cdf, _EDGES[1:]))
    shares = tuple(high - low for low, high in pairwise((0.0, *below)))
    middles = [
        (_density(low) - _density(high)) / share for (low, high), share in zip(pairwise(_EDGES), shares, strict=True)
    ]
    pairs = [[share * move for share, move in zip(shares, _moves(end, middles, next_night), strict=True)]
             for end in pairwise(_EDGES)]  # fmt: skip
    for _ in range(_ROUNDS):
        pairs = _balanced(_balanced(pairs, shares), shares)
    return _Cells(shares, below, tuple(tuple(map(truediv, row, shares)) for row in pairs))


def _moves(end: tuple[float, float], middles: Sequence[float], next_night: float) -> Iterator[float]:
    """The chance that a night lands between two departures, from the middle of each cell."""
    apart = sqrt(1 - next_night**2)
    for middle in middles:
        low, high = (_NORMAL.cdf((edge - next_night * middle) / apart) for edge in end)
        yield high - low


def _balanced(pairs: Sequence[Sequence[float]], shares: Sequence[float]) -> list[list[float]]:
    """The table turned on its side, each of its rows first brought to the share that its cell has."""
    rows = [[value * share / sum(row) for value in row] for row, share in zip(pairs, shares, strict=True)]
    return [list(column) for column in zip(*rows, strict=True)]


def _density(departure: float) -> float:
    return 0.0 if departure in (-inf, inf) else _NORMAL.pdf(departure)

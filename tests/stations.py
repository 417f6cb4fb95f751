"""Invented weather stations."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date, timedelta
from math import cos, pi
from random import Random

from assistant.model.weather import Day, StationRecord

MIDSUMMER = date(2001, 7, 20)


def days_of(first: int, last: int) -> Iterable[date]:
    """Every day from the first year's 1 January to the last year's 31 December."""
    start, end = date(first, 1, 1), date(last, 12, 31)
    return (start + timedelta(days=step) for step in range((end - start).days + 1))


def usual_low(on: date) -> float:
    """A northern garden's usual low of a date: 70 °F in midsummer, 30 °F half a year later."""
    return 50 + 20 * cos(2 * pi * (on - MIDSUMMER).days / 365.2425)


def invented(first: int, last: int, seed: int = 1, spread: float = 6.0) -> StationRecord:
    """Some years of a northern garden: the usual low and a random departure."""
    random = Random(seed)
    lows = ((on, round(random.gauss(usual_low(on), spread), 2)) for on in days_of(first, last))
    return StationRecord("Invented", tuple(Day(on, low, low + 20) for on, low in lows))


def warm_but_for(first: int, last: int, cold: Mapping[date, float], without: Iterable[date] = ()) -> StationRecord:
    """Some years in which no night is below 40 °F but for the given ones, some days left out."""
    gone = set(without)
    lows = {on: max(40.0, usual_low(on)) for on in days_of(first, last) if on not in gone} | dict(cold)
    return StationRecord("Invented", tuple(Day(on, low, low + 20) for on, low in sorted(lows.items())))

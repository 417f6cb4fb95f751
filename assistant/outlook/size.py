"""The roots ahead: how wide they may be on each day, and how many at the wanted size, by the test dig and growth."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate
from typing import NamedTuple

from assistant.model.case import TestDig
from assistant.model.readings import Span
from assistant.outlook.soil import Soil
from assistant.reckoning.growth import SEASON_GROWTH, growing_share, grown, mean_size, share_expected, widening
from assistant.reckoning.ranges import Range, student_t
from assistant.reckoning.yields import hill_grams

NOT_KNOWN = Span(0, 1)
"""The share of full growth in soil of which nothing is known."""


class Roots(NamedTuple):
    """The bed's roots on a day: the share at the wanted size (0 to 1), and the width of the mean root (in)."""

    share: Range
    width: Range


def growing_days(soil: Sequence[Soil | None], vines_dead: bool) -> list[Span]:
    """For today and each day after it, how many days of full growth lie between: none under dead vines."""
    daily = [_growing(day, vines_dead) for day in soil[:-1]]
    return list(accumulate(daily, lambda one, other: Span(one.low + other.low, one.high + other.high),
                           initial=Span(0, 0)))  # fmt: skip


def _growing(soil: Soil | None, vines_dead: bool) -> Span:
    if vines_dead:
        return Span(0, 0)
    return growing_share(Span(soil.range.low, soil.range.high)) if soil else NOT_KNOWN


def grams_gained(growing: Span) -> Range:
    """Grams that a plant may gain in so many days of full growth; it may also gain nothing at all (R03)."""
    return Range(0, SEASON_GROWTH.likely * (growing.low + growing.high) / 2, SEASON_GROWTH.high * growing.high)


def roots_after(dig: TestDig, growing: Span) -> Roots | None:
    """The roots after so many days of full growth; None when the dig found none."""
    if not any(dig.hills):
        return None
    size = mean_size(dig.hills)
    room = size.error * student_t(size.freedom)
    plant = sum(map(hill_grams, dig.hills)) / len(dig.hills)
    wider = [widening(plant, grams) for grams in grams_gained(growing)]
    width = Range((size.inches - room) * wider[0], size.inches * wider[1], (size.inches + room) * wider[2])
    return Roots(share_expected(dig, growing), width)


def fastest_grown(dig: TestDig, growing: Span) -> TestDig:
    """The same hills after the fastest growth published."""
    return grown(dig, grams_gained(growing).high)

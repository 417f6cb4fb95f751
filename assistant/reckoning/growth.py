"""How roots may grow on in the ground: from published limits, and from two digs of the same bed.

No bulletin gives the growth of roots late in the season, and trials found the gain from a later dig
inconsistent, so everything here is a range that begins at no growth at all.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import inf, sqrt
from typing import NamedTuple

from assistant.model.case import TestDig
from assistant.model.readings import Span
from assistant.reckoning.ranges import CONFIDENCE, Range, student_t
from assistant.reckoning.test_dig import share_at_size
from assistant.reckoning.yields import hill_grams

SEASON_GROWTH = Range(0, 11, 23)
"""Grams a plant a day: means over a bulking of 60 days, from the U.S. crop (438 bu/acre, about 11 g) and the best
trial line (887 bu/acre, about 23 g) at 14,520 plants an acre. New Hampshire research summary 2015; our arithmetic."""

GROWTH_ENDS = Span(50, 55)
"""°F of the soil: no growth below, some growth may go on between. FAO gives 10 °C (50 °F) as the end of root
growth; injury begins below 55 °F (University of Georgia)."""

USUAL_SPREAD_OF_MEANS = 0.25
"""How much the mean diameters of single hills differ, as a share of the mean. No published figure; our judgement,
which counts as much as five hills."""

LOOK_AHEAD = 120
"""Days beyond which two digs tell nothing of the day a size is reached; our own judgement."""


def grams_per_plant_per_day(soil: Span | None = None, vines_dead: bool = False) -> Range:
    """Growth of the roots of one plant in grams a day, at a soil temperature in °F (None: warm enough).

    Zero under dead vines and in cold soil; where the soil may be too cold, the low end and the likely value fall.
    """
    if vines_dead or (soil and soil.high < GROWTH_ENDS.low):
        return Range(0, 0, 0)
    if soil and soil.low < GROWTH_ENDS.high:
        share = growing_share(soil)
        return Range(0, SEASON_GROWTH.likely * (share.low + share.high) / 2, SEASON_GROWTH.high * share.high)
    return SEASON_GROWTH


def growing_share(soil: Span) -> Span:
    """The share of full growth at a soil temperature in °F: none below 50, all from 55, in between by proportion."""
    low, high = GROWTH_ENDS.low, GROWTH_ENDS.high
    return Span(*(min(max((end - low) / (high - low), 0.0), 1.0) for end in (soil.low, soil.high)))


def widening(plant_grams: float, grams_gained: float) -> float:
    """By what factor the roots of a plant of so many grams get wider when it gains so many.

    Length is settled within about 50 days of planting and width grows to the end (Japanese Journal of Crop
    Science 73(1):65, abstract read), so weight goes with the square of the width.
    """
    return sqrt((plant_grams + grams_gained) / plant_grams) if plant_grams > 0 else 1.0


_USUAL_WEIGHT = 4


class MeanSize(NamedTuple):
    """The bed's mean root diameter by one dig: its value and standard error (in), and its degrees of freedom."""

    inches: float
    error: float
    freedom: int


def share_expected(dig: TestDig, growing_days: Span, confidence: float = CONFIDENCE) -> Range:
    """The share of roots at the wanted size after so many days of full growth (count cold days in part or not at all).

    Covers the sampling of the dig and everything from no growth to the fastest published; more growth can also
    lower the share, where roots outgrow what is wanted.
    """
    usual = SEASON_GROWTH.likely * (growing_days.low + growing_days.high) / 2
    gains = (usual, *_gains(dig, SEASON_GROWTH.high * growing_days.high))
    shares = [share_at_size(grown(dig, gain), confidence) for gain in gains]
    return Range(min(share.low for share in shares), shares[0].likely, max(share.high for share in shares))


def _gains(dig: TestDig, most: float) -> list[float]:
    """No gain, the most, and one between each two at which some root comes to the wanted size or outgrows it."""
    plant = _grams_per_hill(dig)
    ends = ((end, root) for hill in dig.hills for root in hill for end in (dig.wanted.low, dig.wanted.high))
    changes = (plant * ((end / root) ** 2 - 1) for end, root in ends)
    cuts = sorted({0.0, most, *(gain for gain in changes if 0 < gain < most)})
    return [0.0, most, *((one + next_one) / 2 for one, next_one in pairwise(cuts))]


def grown(dig: TestDig, grams_gained: float) -> TestDig:
    """The same hills after every plant has gained so many grams, shared by its roots in proportion to their weight."""
    factor = widening(_grams_per_hill(dig), grams_gained)
    return TestDig(dig.wanted, tuple(tuple(diameter * factor for diameter in hill) for hill in dig.hills))


def _grams_per_hill(dig: TestDig) -> float:
    return sum(map(hill_grams, dig.hills)) / len(dig.hills) if dig.hills else 0.0


def mean_size(hills: Sequence[Sequence[float]]) -> MeanSize:
    """The mean diameter of a bed's roots by the roots of some hills (in), at least one root among them.

    The ratio estimator of cluster sampling, hills being the clusters (Cochran 1977, section 9A; from memory), its
    spread between hills eked out by the usual one.
    """
    hills = [hill for hill in hills if hill]
    roots = sum(map(len, hills))
    mean = sum(map(sum, hills)) / roots
    seen = sum(((sum(hill) - mean * len(hill)) * len(hills) / roots / mean) ** 2 for hill in hills)
    freedom = _USUAL_WEIGHT + len(hills) - 1
    spread = sqrt((_USUAL_WEIGHT * USUAL_SPREAD_OF_MEANS**2 + seen) / freedom)
    return MeanSize(mean, mean * spread / sqrt(len(hills)), freedom)


def growth_per_day(
    earlier: Sequence[Sequence[float]], later: Sequence[Sequence[float]], days: int, confidence: float = CONFIDENCE
) -> Range:
    """Inches by which the mean root widened a day between two digs so many days apart.

    A low end of zero or less means that the digs do not show that anything grew.
    """
    before, after = mean_size(earlier), mean_size(later)
    growth = (after.inches - before.inches) / days
    room = _times_error(before, after, confidence) * sqrt(before.error**2 + after.error**2) / days
    return Range(growth - room, growth, growth + room)


def days_to_size(
    earlier: Sequence[Sequence[float]],
    later: Sequence[Sequence[float]],
    days: int,
    wanted: float,
    confidence: float = CONFIDENCE,
) -> Span | None:
    """Days from the later dig until the mean root is so wide (in), if it goes on as between the digs.

    None where the digs cannot tell: the range of the line through the two means does not pass the size within
    120 days. Inverse prediction as by Fieller 1954, Journal of the Royal Statistical Society B 16:175 (from memory).
    """
    before, after = mean_size(earlier), mean_size(later)
    times = _times_error(before, after, confidence)
    soonest = latest = inf
    for ahead in range(LOOK_AHEAD, -1, -1):
        beyond = ahead / days
        middle = after.inches + (after.inches - before.inches) * beyond
        room = times * sqrt(((1 + beyond) * after.error) ** 2 + (beyond * before.error) ** 2)
        latest = ahead if middle - room >= wanted else latest
        soonest = ahead if middle + room >= wanted else soonest
    return None if latest == inf else Span(soonest, latest)


def days_at_published_growth(hills: Sequence[Sequence[float]], wanted: float) -> Span | None:
    """Days of full growth until the mean root of one dig is so wide (in): from the fastest to the usual growth.

    The later end is no promise, since a crop may also stand still. None without any root.
    """
    grams = [hill_grams(hill) for hill in hills]
    if not sum(grams):
        return None
    plant = sum(grams) / len(grams)
    lacking = plant * (max(wanted / mean_size(hills).inches, 1.0) ** 2 - 1)
    return Span(lacking / SEASON_GROWTH.high, lacking / SEASON_GROWTH.likely)


def _times_error(before: MeanSize, after: MeanSize, confidence: float) -> float:
    return student_t(before.freedom + after.freedom, confidence)

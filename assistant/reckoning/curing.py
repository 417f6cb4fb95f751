"""How far a cure has come: a range from what the slowest to what the quickest handbook says of its warmth and damp.

Temperatures in °F, relative humidity in percent, time in days. No refereed table of time against temperature is known;
the paces are read off published recipes, and between them we interpolate (our own judgement). Where handbooks disagree
on whether anything heals at all, the slow end counts nothing and the quick end counts it: nothing is averaged.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import timedelta
from itertools import pairwise
from typing import NamedTuple

from assistant.model.readings import Span
from assistant.model.room_log import RoomReading

ANY_TEMPERATURE, ANY_HUMIDITY = Span(20, 130), Span(0, 100)
"""What nobody has measured may be anything."""

SLOWEST = ((70.0, 1 / 21), (80.0, 1 / 14), (90.0, 1 / 14), (95.0, 0.0))
"""Share of a cure in a day by temperature: three weeks at 70 °F (Michigan State 1997; read), 14 days at 80 to 90 (Texas
A&M 2000; USDA 1944 at 80 to 85; read). Nothing below 70 (Clemson, from memory). No handbook cures above 90; that it
fades out by 95 is our own judgement, for heaters swing."""
QUICKEST = ((60.0, 0.0), (65.0, 1 / 14), (70.0, 1 / 14), (80.0, 1 / 4), (90.0, 1 / 4), (100.0, 1 / 4))
"""The same by the quickest: two weeks at 65 to 70 °F (Michigan State; read), four days at 80 to 85 (North Carolina;
read). Nothing at 60, where a cure worked worse (Daines and others 1974; read); up to 100 as Nielsen and Johnson (1974;
read) warmed roots before the cure with success."""

DRY, DAMP = 75.0, 85.0
"""At 65 ± 10 % some kinds never close their wounds (van Oirschot and others 2006; read), and 85 is the driest that the
recipes at full heat ask for: by the slowest nothing heals at or below the one, all at or above the other."""
DRIEST = 50.0
"""At 50 to 85 % the skins of all kinds tried held better after a week (Blankenship and Boyette 2002; read)."""
LEAST = 80.0
"""The driest of any recipe (encyclopaedia; read)."""

COLD, COOL, HOT = 60.0, 70.0, 90.0
"""No handbook cures below the first or above the last; between the first two they disagree."""
LONGEST_STEP = timedelta(hours=36)
"""Between readings further apart nobody knows what the air was; logs by hand have one or two a day. Our choice."""
_DAY = timedelta(days=1)
_ALMOST = 1e-9  # of a cure, as sums of shares are off


class Pace(NamedTuple):
    """The share of a whole cure that a day is worth, by the slowest and the quickest handbook."""

    slow: float
    quick: float


class Stretch(NamedTuple):
    """So many days between these temperatures and humidities; `known` is False where the log has a gap."""

    days: float
    temperature: Span
    humidity: Span
    known: bool = True


class Progress(NamedTuple):
    """The share of a cure that is done, by the slowest and the quickest handbook; 1 is done.

    The days are those of the log, and of them those that were cold, disputed, hot, dry or not known.
    """

    slow: float
    quick: float
    days: float
    cold: float
    disputed: float
    hot: float
    dry: float
    unknown: float


class Recipe(NamedTuple):
    """A published recipe: temperature, humidity and days."""

    named: str
    temperature: Span
    humidity: Span
    days: Span
    sources: tuple[str, ...] = ()


def pace(temperature: Span, humidity: Span) -> Pace:
    """The pace of a cure in air that is somewhere in these ranges."""
    slow = min(_along(SLOWEST, temperature.low), _along(SLOWEST, temperature.high))
    hottest = QUICKEST[-1][0]
    quick = 0.0 if temperature.low > hottest else _along(QUICKEST, min(temperature.high, hottest))
    return Pace(slow * _slow_share(humidity.low), quick if humidity.high >= DRIEST else 0.0)


def stretches(readings: Sequence[RoomReading]) -> Iterator[Stretch]:
    """From each reading to the next; between two the air is taken to be between what they say."""
    for before, after in pairwise(readings):
        step = after.at - before.at
        known = step <= LONGEST_STEP
        yield Stretch(
            step / _DAY,
            _between(before.temperature, after.temperature, ANY_TEMPERATURE) if known else ANY_TEMPERATURE,
            _between(before.humidity, after.humidity, ANY_HUMIDITY) if known else ANY_HUMIDITY,
            known,
        )


def progress(stretches: Iterable[Stretch]) -> Progress:
    """What these days come to."""
    stretches = tuple(stretches)
    paces = [(stretch.days, pace(stretch.temperature, stretch.humidity)) for stretch in stretches]
    known = [stretch for stretch in stretches if stretch.known]
    return Progress(
        sum(days * each.slow for days, each in paces),
        sum(days * each.quick for days, each in paces),
        sum(stretch.days for stretch in stretches),
        cold=sum(stretch.days for stretch in known if stretch.temperature.low < COLD),
        disputed=sum(stretch.days for stretch in known if COLD <= stretch.temperature.low < COOL),
        hot=sum(stretch.days for stretch in known if stretch.temperature.high > HOT),
        dry=sum(stretch.days for stretch in known if stretch.humidity.low < LEAST and stretch.humidity != ANY_HUMIDITY),
        unknown=sum(stretch.days for stretch in stretches if not stretch.known),
    )


def days_to_go(so_far: Progress, at: Pace) -> tuple[float, float | None]:
    """The fewest and the most days left at this pace; None for the most where by the slowest it is never done.

    Where even by the quickest nothing heals, the fewest are infinite.
    """
    fewest = _days(1 - so_far.quick, at.quick)
    most = _days(1 - so_far.slow, at.slow)
    return fewest, None if most == float("inf") else most


def by_recipe(recipe: Recipe, stretches: Iterable[Stretch]) -> Span:
    """The share of the recipe's days that the log has had at its temperature and humidity, or warmer and damper.

    The low end holds the longest it asks against the time that was surely so, the high end the shortest against the
    time that may have been; warmer than 90 °F counts for no recipe.
    """
    sure = maybe = 0.0
    for days, temperature, humidity, _ in stretches:
        within = recipe.temperature.low <= temperature.low and temperature.high <= HOT
        sure += days * (within and humidity.low >= recipe.humidity.low)
        maybe += days * (temperature.high >= recipe.temperature.low and temperature.low <= HOT
                         and humidity.high >= recipe.humidity.low)  # fmt: skip
    return Span(sure / recipe.days.high, maybe / recipe.days.low)


def _along(curve: Sequence[tuple[float, float]], at: float) -> float:
    """The height of a curve of straight pieces; 0 before its first point and after its last."""
    if at < curve[0][0]:
        return 0.0
    for (low, start), (high, end) in pairwise(curve):
        if at <= high:
            return start + (end - start) * (at - low) / (high - low)
    return 0.0


def _slow_share(humidity: float) -> float:
    """How much of the pace air as dry as this leaves, by the slowest."""
    return min(max((humidity - DRY) / (DAMP - DRY), 0.0), 1.0)


def _between(before: float | None, after: float | None, unknown: Span) -> Span:
    if before is None or after is None:
        return unknown
    return Span(min(before, after), max(before, after))


def _days(left: float, share: float) -> float:
    if left <= _ALMOST:
        return 0.0
    return left / share if share else float("inf")

"""A simulated bed in one autumn: how its roots grow, what cold does to them, and what a hill dug up shows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate
from operator import mul
from random import Random
from statistics import fmean
from typing import NamedTuple

from assistant.model.readings import Span
from assistant.outlook.replay import yardstick
from assistant.outlook.replay.autumns import Autumn
from assistant.outlook.replay.yardstick import LAST_DAY, Growth, View
from assistant.reckoning.growth import SEASON_GROWTH
from assistant.reckoning.soil_warmth import STANDARD_ERROR
from assistant.reckoning.yields import root_diameter

NEVER = LAST_DAY + 1000
"""The day of a frost that does not come while the bed is watched."""
YELLOWING_NIGHTS = 50
"""°F: vines yellow once the nights of a week fall into the 40s on average (common practice)."""
DAYS = range(LAST_DAY + 1)


class Nature(NamedTuple):
    """What differs between beds and autumns: growth, roots a plant, the soil's offset (°F), luck by night (0 to 1)."""

    growth: Growth
    roots: float
    soil_offset: float
    luck: Sequence[float]


def nature(random: Random, full_days: Span) -> Nature:
    """A bed drawn at random from the published ranges; `full_days` are those its variety takes."""
    begins = random.uniform(yardstick.BULKING_BEGINS.low, yardstick.BULKING_BEGINS.high)
    full = random.uniform(full_days.low, full_days.high)
    growth = Growth(
        begins=begins,
        rate=_triangular(random, (SEASON_GROWTH.low, SEASON_GROWTH.likely, SEASON_GROWTH.high)),
        full_days=full,
        late=_triangular(random, yardstick.LATE_GROWTH),
        fades=max(full, random.uniform(yardstick.GROWTH_FADES.low, yardstick.GROWTH_FADES.high)),
        no_growth_below=random.uniform(yardstick.NO_GROWTH_BELOW.low, yardstick.NO_GROWTH_BELOW.high),
    )
    roots = _triangular(random, yardstick.ROOTS_PER_PLANT)
    return Nature(growth, roots, random.gauss(0, STANDARD_ERROR), [random.random() for _ in DAYS])


def _triangular(random: Random, ends: tuple[float, float, float]) -> float:
    low, usual, high = ends
    return random.triangular(low, high, usual)


@dataclass(frozen=True, eq=False)
class Bed:
    """One bed in one autumn. Dug on a day, it has lived through the nights up to that day's morning."""

    autumn: Autumn
    nature: Nature
    wanted: Span

    @cached_property
    def soil(self) -> list[float]:
        """The soil's true temperature at 4 in: the estimate from the air and this bed's offset from it."""
        return [estimate + self.nature.soil_offset for estimate in self.autumn.soil]

    @cached_property
    def first_frost(self) -> int:
        """The first morning with frost on the vines, which ends all growth; `NEVER` when there is none."""
        frosty = (day for day in DAYS if self.nature.luck[day] < yardstick.chance_of_frost(self.autumn.lows[day]))
        return next(frosty, NEVER)

    @cached_property
    def plant_grams(self) -> list[float]:
        """Grams of roots a plant, for a dig on each day."""
        grams, grown, course = 0.0, 0.0, []
        for day in DAYS:
            course.append(grams)
            if day < self.first_frost:
                step = yardstick.warmth(self.soil[day], self.nature.growth.no_growth_below)
                pace = self.nature.growth.pace(day, grown)
                grown += step * (day >= self.nature.growth.begins)
                grams += self.nature.growth.rate * step * pace
        return course

    @cached_property
    def kept(self) -> Mapping[View, Sequence[float]]:
        """The share of its worth that the crop keeps, for a dig on each day."""
        return {view: [self._kept(view, day) for day in DAYS] for view in View}

    @cached_property
    def worth(self) -> Mapping[View, Sequence[float]]:
        """What a plant is worth on each day, in grams of roots at the wanted size."""
        roots = self.nature.roots
        sound = [roots * yardstick.worth_of_roots(grams / roots, self.wanted) for grams in self.plant_grams]
        return {view: [whole * kept for whole, kept in zip(sound, self.kept[view], strict=True)] for view in View}

    def _kept(self, view: View, day: int) -> float:
        kept = self._left_by_cold[day]
        if day >= self.first_frost:
            kept *= yardstick.kept_after_frost(view, day - self.first_frost)
        return kept if kept > yardstick.NOTHING_LEFT else 0.0

    @cached_property
    def _left_by_cold(self) -> list[float]:
        """What hard freezes and cold soil have left of the roots by each day, whatever one thinks of light frosts."""
        exposed = [day >= yardstick.EXPOSED_FROM for day in DAYS]
        nights = [yardstick.kept_after_night(self.autumn.lows[day]) if exposed[day] else 1.0 for day in DAYS]
        deadly = [0.0 if exposed[day] and self.soil[day] < yardstick.DEADLY_SOIL else 1.0 for day in DAYS]
        chilly = accumulate(exposed[day] and self.soil[day] < yardstick.CHILLING_SOIL for day in DAYS)
        left = accumulate(map(mul, nights, deadly), mul)
        return [frozen * yardstick.kept_after_chill(days) for frozen, days in zip(left, chilly, strict=True)]

    def vines(self, day: int) -> str:
        """What the vines look like: frosted, yellowing after a week of cold nights, or green."""
        if day >= self.first_frost:
            return "frost-blackened"
        return "yellowing" if fmean(self.autumn.lows[max(0, day - 6) : day + 1]) < YELLOWING_NIGHTS else "green"

    def frost(self, day: int) -> str:
        """The hardest frost so far: none, light or hard."""
        if min(self.autumn.lows[: day + 1]) < yardstick.HARD_FREEZE + 0.5:
            return "hard"
        return "light" if day >= self.first_frost else "none"

    def hill(self, day: int, random: Random) -> tuple[float, ...]:
        """The diameters (in) of the roots of one hill dug up to look."""
        of_hills, of_roots = yardstick.log_scatter()
        middle = self.plant_grams[day] / self.nature.roots * random.lognormvariate(-(of_hills**2) / 2, of_hills)
        number = max(1, round(random.gauss(self.nature.roots, 1)))
        weights = (middle * random.lognormvariate(-(of_roots**2) / 2, of_roots) for _ in range(number))
        return tuple(max(0.1, round(root_diameter(grams), 1)) for grams in weights)

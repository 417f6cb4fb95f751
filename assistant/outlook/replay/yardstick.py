"""What a crop is worth on the day it is dug: the published figures that every policy of the replay is held to.

Nothing here knows of any policy. Where no figure is published the judgement is ours and says so. Temperatures in °F,
weights in grams, diameters in inches, days counted from planting.
"""

from __future__ import annotations

from enum import Enum
from math import floor, log, sqrt
from statistics import NormalDist
from typing import NamedTuple

from assistant.model.readings import Span
from assistant.reckoning.yields import root_grams

LAST_DAY = 169
"""The last day after planting that counts: the highest yields took 130 to 170 days in Missouri (University of Missouri
Extension 2013)."""

FIRST_LOOK = 56
"""The first day on which anybody looks at the bed: two weeks after the roots have formed. Our choice."""

BULKING_BEGINS = Span(28, 49)
"""Days: roots begin to swell in weeks 4 to 7 (Sweetpotato DiagNotes, Crop development)."""
GROWTH_FADES = Span(130, 170)
"""Days until the highest total yield (University of Missouri Extension 2013): by then growth has faded to nothing."""
LATE_GROWTH = (0.0, 0.0, 1.0)
"""Least, most usual and most growth, as a share of what went before, once the variety has had its days. Trials found
the gain from a delayed harvest inconsistent over two sites and two years (Arancibia and others 2014, HortTechnology
24:16); the shape is our judgement."""

NO_GROWTH_BELOW = Span(50, 60)
"""°F of the soil: the bases in use are 50 and 60 (Washington State University, ASHS 2025 abstract); FAO T0554E has
growth stop below 50."""
BEST_SOIL = 77
"""°F at which roots enlarge best (FAO T0554E)."""
NO_GROWTH_ABOVE = 104
"""°F; as far above the best as 50 is below it. Heat that long does not occur at 4 in; our judgement."""
SUMMER_SOIL = 80
"""°F of the soil in the summers that growth rates and varieties' days come from (Clemson record, June to August)."""

ROOTS_PER_PLANT = (3.4, 5.0, 10.0)
"""Least, most usual and most: 3.4 in cool maritime trials, 4 to 10 in Kansas (Kansas State, Johnson County)."""
ROOT_SPREAD = 0.6
"""Standard deviation of the weight of a bed's roots over their mean. No published figure; our judgement."""
ALIKE_IN_A_HILL = 0.25
"""Share of that scatter (as variance of the logarithm) that the roots of one hill have in common; our judgement."""

CANNER = 1.0
"""Inches; roots from here up to the wanted size go for canning (USDA grade for canning, 1 to 2.25 in)."""
OFF_SIZE_WORTH = 0.5
"""Worth of a pound of roots too small or too big beside one of the wanted size. Canners and jumbos are trade words
and sold for less (LSU AgCenter 2009); how much less is our judgement."""


class View(str, Enum):
    """The two sides that handbooks take on a light frost."""

    HARMLESS = "harmless"
    HURTS = "hurts"


FROST_NEVER = 37
"""°F; frost forms at 33 to 36 on clear and still nights (National Weather Service), so from here up never."""
FROST_SURE = 32
"""°F; at a freeze or below always (National Weather Service)."""
DUG_PROMPTLY = 4
"""Days after a frost that still count as prompt under the view that it is harmless: roots left 5 to 11 days under dead
vines were harmed (Ezell and Wilcox, about 1959)."""
KEEPING_LOST = 0.10
"""What any frost costs under the other view (Price 1923, Alabama: such roots do not keep as well whatever the cure). He
gives no figure. Ours: they shrink like uncured ones, 2 points a month more (NC SweetPotato Commission) for 5 months."""
LOST_EACH_DAY = 0.05
"""What each further day under dead vines costs: it grows with delay (Price 1923; Ezell and Wilcox). Our judgement."""
MOST_LOST_TO_FROST = 0.5
"""More than this no light frost costs; our judgement."""

HARD_FREEZE = 28
"""°F at which the top of the soil freezes with the roots in it (National Weather Service hard freeze; University of
Georgia: the crop is in trouble only then)."""
LEFT_BY_HARD_FREEZE = 0.5
"""What each such night leaves: the roots near the surface are ruined, the deep ones may be sound. Our judgement."""
DEEP_FREEZE = 24
"""°F; a severe freeze (NOAA wording, from memory). A deep freeze usually ruins the crop (common practice)."""
CHILLING_SOIL = 50
"""°F; three days there can give hard centres (Mississippi State 2015), and handbooks want the roots out by then."""
CHILLING_DAYS = 3
LOST_TO_CHILL = 0.10
"""What the third day costs, and `LOST_EACH_DAY` each day more: long cold is said to spoil the crop (Kansas State)
without a figure; our judgement."""
DEADLY_SOIL = 40
"""°F; a night of it breaks the roots down inside (NC SweetPotato Commission)."""
NOTHING_LEFT = 0.1
"""A crop that keeps less of its worth than this is lost: it is not worth the digging. Our judgement."""
EXPOSED_FROM = 40
"""Days after planting before which no cold counts: there are no roots yet to harm. Our judgement."""


def warmth(soil: float, no_growth_below: float) -> float:
    """Growth at a soil temperature beside that of a summer's soil: even slopes from the best to where it ends."""
    share = (
        (soil - no_growth_below) / (BEST_SOIL - no_growth_below)
        if soil < BEST_SOIL
        else (NO_GROWTH_ABOVE - soil) / (NO_GROWTH_ABOVE - BEST_SOIL)
    )
    summer = (NO_GROWTH_ABOVE - SUMMER_SOIL) / (NO_GROWTH_ABOVE - BEST_SOIL)
    return max(0.0, share) / summer


class Growth(NamedTuple):
    """How one bed grows: when it begins, how fast in summer's soil (grams a plant a day), when it slows and fades."""

    begins: float
    rate: float
    full_days: float
    late: float
    fades: float
    no_growth_below: float

    def pace(self, day: int, grown: float) -> float:
        """Growth on a day beside full growth, `grown` summer days of it after the bulking began."""
        if day < self.begins:
            return 0.0
        if grown < self.full_days - self.begins:
            return 1.0
        if day >= self.fades:
            return 0.0
        return self.late * min(1.0, (self.fades - day) / max(self.fades - self.full_days, 1.0))


def worth_of_roots(mean_grams: float, wanted: Span) -> float:
    """Worth of a root of a bed on average, in grams of roots at the wanted size.

    The weights of roots are lognormal about the mean; by weight, such a distribution lies a variance higher.
    """
    if mean_grams <= 0:
        return 0.0
    middle = log(mean_grams) + _VARIANCE / 2
    canners, right, big = (_heavier(root_grams(end), middle) for end in (CANNER, wanted.low, wanted.high))
    return mean_grams * (right - big + OFF_SIZE_WORTH * (max(canners - right, 0.0) + big))


def _heavier(grams: float, middle: float) -> float:
    """The share of the weight in roots heavier than this, the logarithm of half the weight being given."""
    return 1 - _NORMAL.cdf((log(grams) - middle) / sqrt(_VARIANCE))


def chance_of_frost(low: float) -> float:
    """How likely a night with such a low (at the station) frosts the vines: sure at 32, never at 37."""
    return min(max((FROST_NEVER - whole(low)) / (FROST_NEVER - FROST_SURE), 0.0), 1.0)


def kept_after_frost(view: View, days: int) -> float:
    """What a crop keeps of its worth when dug so many days after the morning of its first frost."""
    if view is View.HURTS:
        return 1 - min(KEEPING_LOST + LOST_EACH_DAY * days, MOST_LOST_TO_FROST)
    return 1 - min(LOST_EACH_DAY * max(0, days - DUG_PROMPTLY), MOST_LOST_TO_FROST)


def kept_after_night(low: float) -> float:
    """What a night with such a low leaves of the roots themselves, under both views."""
    if whole(low) <= DEEP_FREEZE:
        return 0.0
    return LEFT_BY_HARD_FREEZE if whole(low) <= HARD_FREEZE else 1.0


def kept_after_chill(days: int) -> float:
    """What so many days of soil below 50 °F leave."""
    if days < CHILLING_DAYS:
        return 1.0
    return max(0.0, 1 - LOST_TO_CHILL - LOST_EACH_DAY * (days - CHILLING_DAYS))


def whole(low: float) -> int:
    """A low as it is recorded, in whole °F: 28.04 is 28."""
    return floor(low + 0.5)


def log_scatter() -> tuple[float, float]:
    """Standard deviations of the logarithm of root weights: of hills among each other, and of roots within a hill."""
    return sqrt(_VARIANCE * ALIKE_IN_A_HILL), sqrt(_VARIANCE * (1 - ALIKE_IN_A_HILL))


_VARIANCE = log(1 + ROOT_SPREAD**2)
_NORMAL = NormalDist()

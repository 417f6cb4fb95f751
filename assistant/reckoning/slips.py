"""From pounds wanted to feet of row, plants, slips and seed roots, each with its range; and the ceiling of nitrogen.

Weights in pounds, rows and distances in feet and inches as named, areas in square feet. Every source is a range, and
they disagree up to tenfold, so ranges are multiplied as independent ones: in ratios, by the root of the sum of squares.
"""

from __future__ import annotations

from math import exp, log, sqrt
from typing import NamedTuple

from assistant.reckoning.ranges import Range
from assistant.reckoning.yields import SQUARE_FEET_PER_ACRE, plants_per_foot

POUNDS_PER_FOOT = Range(0.6, 1.2, 2.5)
"""Dug from a foot of row. Low: 6 to 15 lb from 10 ft in gardens (Nebraska Extension); high: 2.5 lb a plant, a foot
apart (NC Cooperative Extension); the US mean is 1.5 (438 bu of 50 lb an acre, rows 3 ft apart; University of New
Hampshire, our arithmetic). The likely value is our judgement. Claims of 5 lb are left out: they don't fit their own
pounds a plant."""
USABLE = {"eaten": Range(0.8, 0.9, 0.95), "sold": Range(0.5, 0.7, 0.8)}
"""Share of what is dug. Sold: 300 to 350 bu of No. 1 an acre (Oklahoma State) of 438 bu of all roots are .68 to .80;
the low end, and what is eaten at home, are our judgement."""
MONTHLY_LOSS = Range(0.01, 0.015, 0.02)
"""Share of its weight that a cured crop loses in a month of store (1 to 2 %, NC SweetPotato Commission)."""
STAND = Range(0.8, 0.9, 0.98)
"""Share of the slips set out that grow; common practice is to have a tenth to spare."""
SLIPS_PER_POUND = Range(10, 15, 20)
"""400 to 800 from a box of 40 lb (LSU AgCenter)."""
SLIPS_PER_ROOT = Range(4, 8, 25)
"""From one garden root: 4 or 5 easily (Nebraska Extension), 20 eyes, 25 to 50 from a big one (magazine caption,
credited to NC State). Half a pound at 10 to 20 a pound is 5 to 10; the likely value is our judgement."""
POUNDS_PER_BOX = 40
PRESPROUTED = Range(2, 2.5, 3)
"""So many times as many slips after two to four weeks of warmth (NC SweetPotato Commission)."""
METRES_PER_FOOT = 0.3048  # exact by definition (international foot, 1959)
NITROGEN_CEILING = 75.0
"""Pounds an acre (84 kg/ha), above which the yield may fall (New England guide; University of New Hampshire)."""


class Layout(NamedTuple):
    """Inches between plants and between rows."""

    spacing: float = 12
    row_width: float = 36


class SlipPlan(NamedTuple):
    """What so many pounds take: pounds dug, feet of row, plants, slips, and seed in roots, pounds and 40-lb boxes."""

    dug: Range
    row_feet: Range
    plants: Range
    slips: Range
    seed_roots: Range
    seed_pounds: Range
    boxes: Range


def slip_plan(
    pounds: float,
    use: str,
    months: float,
    layout: Layout = Layout(),  # noqa: B008  (immutable)
    per_foot: Range = POUNDS_PER_FOOT,
    presprouted: bool = False,
) -> SlipPlan:
    """What it takes to have so many pounds to be `eaten` or `sold` after so many months of store, on the average.

    Raises `KeyError` for another use.
    """
    dug = divided(pounds, USABLE[use], kept(months))
    row_feet = divided(1, inverse(dug), per_foot)
    plants = row_feet.times(plants_per_foot(layout.spacing))
    slips = divided(1, inverse(plants), STAND)
    more = PRESPROUTED if presprouted else Range(1, 1, 1)
    seed_pounds = divided(1, inverse(slips), SLIPS_PER_POUND, more)
    seed_roots = divided(1, inverse(slips), SLIPS_PER_ROOT, more)
    return SlipPlan(dug, row_feet, plants, slips, seed_roots, seed_pounds, seed_pounds.times(1 / POUNDS_PER_BOX))


def kept(months: float) -> Range:
    """The share of a cured crop's weight that is left after so many months: each month takes its share of the rest."""
    return Range(*((1 - loss) ** months for loss in (MONTHLY_LOSS.high, MONTHLY_LOSS.likely, MONTHLY_LOSS.low)))


def divided(amount: float, *by: Range) -> Range:
    """An amount divided by ranges above zero that are off independently of one another."""
    likely = amount
    for each in by:
        likely /= each.likely
    lower = sqrt(sum(log(each.high / each.likely) ** 2 for each in by))
    higher = sqrt(sum(log(each.likely / each.low) ** 2 for each in by))
    return Range(likely / exp(lower), likely, likely * exp(higher))


def inverse(of: Range) -> Range:
    """One over a range above zero."""
    return Range(1 / of.high, 1 / of.likely, 1 / of.low)


def slips_from_boxes(boxes: float) -> Range:
    """The slips that boxes of 40 lb of seed roots give."""
    return SLIPS_PER_POUND.times(boxes * POUNDS_PER_BOX)


def bed_area(row_feet: float, row_width: float) -> float:
    """The square feet that so many feet of row take, rows so far apart (in)."""
    return row_feet * row_width / 12


def most_nitrogen(area: float) -> float:
    """The pounds of nitrogen that an area (sq ft) may have in a season, from all that is spread."""
    return NITROGEN_CEILING * area / SQUARE_FEET_PER_ACRE


def most_fertilizer(area: float, percent: float) -> float:
    """The pounds of a fertilizer with so much nitrogen (percent, above 0) that reach the ceiling on an area (sq ft)."""
    return most_nitrogen(area) / (percent / 100)

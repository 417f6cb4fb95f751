"""From roots to weight: grams of a root by its size, and pounds a plant, a foot of row, a bed and an acre.

Lengths in inches unless named otherwise, weights in grams, rows in feet.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import pi
from typing import NamedTuple

from assistant.reckoning.ranges import CONFIDENCE, Range, mean_range

GRAMS_PER_POUND = 453.59237  # exact by definition (international pound, 1959)
OUNCES_PER_POUND = 16
GRAMS_PER_CUBIC_INCH = 2.54**3 * 1.0
"""Density 1.0 g/ml, the middle of what sinks and floats; from memory, and covered by the error of a weight."""

LENGTH_OF_A_ROOT = 2.4
"""Lengths to a diameter where nobody measured the length. Four Nigerian varieties come to 2.2 to 2.5 by their mean
diameters and sphericities (Obomeghei and Ebabhamiegbebho 2020, abstract; our arithmetic), Jewel in another trial
to 1.8 and a round kind to 1.2 (Adetola and others 2021, abstract)."""

WEIGHT_ERROR = {"weighed": 0.02, "length": 0.20, "diameter": 0.40}
"""How far the mean weight may be off, as a share of it, by what was measured. For `length` the ellipsoid of those two
trials is off by -14 and +9 %; `diameter` adds the length that nobody measured. Our own judgement."""

USUAL_SPREAD = 0.50
"""Plants differ in weight by 40 to 60 % (standard deviation over mean); from memory, weak, no published figure."""

SQUARE_FEET_PER_ACRE = 43_560
BUSHELS = {"50 lb": 50.0, "55 lb": 55.0}
"""Pounds in a bushel: 50 (Oklahoma State; cured roots elsewhere) or 55 as dug (trade). Both are in use."""

MISSED = 0.20
"""Share of marketable roots left in the ground by plow or fork (University of Delaware)."""


class Root(NamedTuple):
    """One root: what was measured, diameter and length in inches, weight in grams; None where it was not."""

    diameter: float | None = None
    length: float | None = None
    grams: float | None = None


class Bed(NamedTuple):
    """Distance between plants (in), and where known between rows (in), and feet of row in the bed."""

    spacing: float
    row_width: float | None = None
    row_feet: float | None = None

    def per_foot(self, per_plant: Range) -> Range:
        """A foot of row from a plant, in the same unit of weight."""
        return per_plant.times(plants_per_foot(self.spacing))

    def in_bed(self, per_plant: Range) -> Range | None:
        """The whole bed from a plant; None where its length is not known."""
        return None if self.row_feet is None else self.per_foot(per_plant).times(self.row_feet)

    def per_acre(self, per_plant: Range) -> Range | None:
        """An acre from a plant; None where the distance between rows is not known."""
        return None if self.row_width is None else self.per_foot(per_plant).times(row_feet_per_acre(self.row_width))


def root_grams(diameter: float, length: float | None = None) -> float:
    """The weight of a root of this diameter (in), taken as an ellipsoid; without a length, of the usual shape."""
    length = diameter * LENGTH_OF_A_ROOT if length is None else length
    return pi / 6 * diameter**2 * length * GRAMS_PER_CUBIC_INCH


def root_diameter(grams: float) -> float:
    """The diameter (in) of a root of the usual shape and this weight; off by half the error of a weight at most."""
    return float((grams / root_grams(1.0)) ** (1 / 3))


def hill_grams(diameters: Iterable[float]) -> float:
    """The weight of a hill's roots by their diameters (in) alone."""
    return sum(map(root_grams, diameters))


def weight_of(root: Root) -> float:
    """The grams of a root: as weighed, or by its size."""
    if root.grams is not None:
        return root.grams
    assert root.diameter is not None, "a root is measured or weighed"
    return root_grams(root.diameter, root.length)


def weight_error(roots: Iterable[Root]) -> float:
    """How far the mean weight of these roots may be off, by the poorest way that any of them was measured."""
    return max(map(_error, roots), default=0.0)


def _error(root: Root) -> float:
    if root.grams is not None:
        return WEIGHT_ERROR["weighed"]
    return WEIGHT_ERROR["diameter" if root.length is None else "length"]


def grams_per_plant(hills: Sequence[Sequence[Root]], confidence: float = CONFIDENCE) -> Range | None:
    """Grams a plant of the bed, one hill being one plant; a hill without roots counts. None without any hill.

    The range covers the plants that were not dug and the error of weights that nobody weighed.
    """
    sampled = mean_range([sum(map(weight_of, hill)) for hill in hills], USUAL_SPREAD, confidence=confidence)
    if sampled is None:
        return None
    error = weight_error(root for hill in hills for root in hill)
    return Range(sampled.low * (1 - error), sampled.likely, sampled.high * (1 + error))


def plants_per_foot(spacing: float) -> float:
    """Plants in a foot of row at this distance (in)."""
    return 12 / spacing


def row_feet_per_acre(row_width: float) -> float:
    """Feet of row in an acre at this distance between rows (in)."""
    return SQUARE_FEET_PER_ACRE / (row_width / 12)


def bushels_per_acre(pounds: float, row_feet: float, row_width: float, bushel: float = BUSHELS["50 lb"]) -> float:
    """Bushels an acre from pounds dug in so many feet of row, rows so far apart (in)."""
    return pounds / row_feet * row_feet_per_acre(row_width) / bushel

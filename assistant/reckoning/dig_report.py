"""All that one test dig says of its bed, each part worked out when it is looked at."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from assistant.model.case import TestDig
from assistant.model.readings import Span
from assistant.reckoning.grades import grade_counts, stricter_counts, trial_counts
from assistant.reckoning.hills import Hill
from assistant.reckoning.ranges import CONFIDENCE, Range, pooled_spread
from assistant.reckoning.sampling import Progress, progress
from assistant.reckoning.test_dig import Counts, median_range, share_range
from assistant.reckoning.yields import Root, grams_per_plant, weight_of

DIAMETER_ERROR = 1.15
"""By what factor diameters that were reckoned from weights may be off as a whole: the cube root of the error of a
weight by its diameter."""


@dataclass(frozen=True)
class DigReport:
    """The hills of a test dig, held against the wanted diameters (in)."""

    hills: tuple[Hill, ...]
    wanted: Span
    confidence: float = CONFIDENCE

    @cached_property
    def roots(self) -> tuple[Root, ...]:
        """Every root that was measured or weighed."""
        return tuple(root for hill in self.hills for root in hill.roots)

    @property
    def root_count(self) -> int:
        """How many roots were dug, counted ones included."""
        return sum(hill.size for hill in self.hills)

    @property
    def only_counted(self) -> bool:
        """Whether some hill was only sorted by size class, so that nothing is known of weights."""
        return any(hill.classes for hill in self.hills)

    @property
    def weighed_only(self) -> bool:
        """Whether some diameters are reckoned from weights."""
        return any(root.diameter is None for root in self.roots)

    @cached_property
    def dig(self) -> TestDig:
        """The diameters alone, as a case keeps them."""
        return TestDig(self.wanted, tuple(hill.diameters for hill in self.hills))

    @cached_property
    def share(self) -> Range:
        """The share of the bed's roots at the wanted size."""
        return self._range("right")

    @cached_property
    def too_small(self) -> Range:
        """The share of the bed's roots below the wanted size."""
        return self._range("small")

    @cached_property
    def too_big(self) -> Range:
        """The share of the bed's roots above the wanted size."""
        return self._range("big")

    @cached_property
    def middle(self) -> Span | None:
        """The range of the bed's middle root (in); None when the roots are too few, or some were only counted."""
        if self.only_counted:
            return None
        middle = median_range(self.dig.hills, self.confidence)
        if middle is None or not self.weighed_only:
            return middle
        return Span(middle.low / DIAMETER_ERROR, middle.high * DIAMETER_ERROR)

    @cached_property
    def plan(self) -> Progress:
        """Whether to dig another hill."""
        return progress(self.counts("right"))

    @cached_property
    def per_plant(self) -> Range | None:
        """Grams a plant; None when some hill was only counted."""
        return None if self.only_counted else grams_per_plant([hill.roots for hill in self.hills], self.confidence)

    @cached_property
    def spread(self) -> float | None:
        """How much the plants dug differ in weight: standard deviation over mean; None for want of two weights."""
        weights = [sum(map(weight_of, hill.roots)) for hill in self.hills]
        return None if self.only_counted or len(weights) < 2 else pooled_spread([weights])

    @cached_property
    def grades(self) -> dict[str, int]:
        """How many measured roots have the size of each grade."""
        return grade_counts(self.roots)

    @cached_property
    def stricter(self) -> dict[str, int]:
        """How many would pass the grades that ask for more than U.S. No. 1."""
        return stricter_counts(self.roots)

    @cached_property
    def trial(self) -> dict[str, int]:
        """How many fall in each weight class of a trial."""
        return trial_counts(self.roots)

    def counts(self, size: str, factor: float = 1.0) -> Counts:
        """For each hill, its roots of a size class (small, right, big) and all its roots; diameters times a factor."""
        return tuple((self._count(hill, size, factor), hill.size) for hill in self.hills)

    def _count(self, hill: Hill, size: str, factor: float) -> int:
        if hill.classes:
            return int(getattr(hill.classes, size))
        return sum(self.class_of(diameter * factor) == size for diameter in hill.diameters)

    def class_of(self, diameter: float) -> str:
        """Whether a diameter (in) is small, right or big."""
        diameter = round(diameter, 2)
        return "small" if diameter < self.wanted.low else "big" if diameter > self.wanted.high else "right"

    def _range(self, size: str) -> Range:
        """A share's range; where diameters are reckoned from weights, whichever way those are off."""
        here = share_range(self.counts(size), self.confidence)
        if not self.weighed_only:
            return here
        factors = (1 / DIAMETER_ERROR, 1.0, DIAMETER_ERROR)
        shares = [share_range(self.counts(size, factor), self.confidence) for factor in factors]
        return Range(min(share.low for share in shares), here.likely, max(share.high for share in shares))

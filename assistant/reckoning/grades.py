"""Roots by the sizes of grades. Sizes alone: shape, skin and damage, which grades also ask for, are not judged."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from typing import NamedTuple

from assistant.model.readings import Span
from assistant.model.rules import How
from assistant.reckoning.hills import diameter_of
from assistant.reckoning.yields import GRAMS_PER_POUND, OUNCES_PER_POUND, Root, weight_of

NO_LIMIT = 1e9
"""Where a grade sets no upper limit."""

OUNCE = GRAMS_PER_POUND / OUNCES_PER_POUND
_ANY = Span(0, NO_LIMIT)


class Grade(NamedTuple):
    """The sizes of a grade, ends included: diameter and length in inches, the largest weight in ounces."""

    name: str
    diameter: Span
    length: Span = _ANY
    ounces: float = NO_LIMIT
    how: How = How.FROM_MEMORY

    def fits(self, root: Root) -> bool:
        """Whether a root has the sizes, as far as they were measured; its length and weight count only if they were."""
        return (
            self.diameter.low <= round(diameter_of(root), 2) <= self.diameter.high
            and (root.length is None or self.length.low <= root.length <= self.length.high)
            and (root.grams is None or root.grams <= self.ounces * OUNCE)
        )


US_NO_1 = Grade("us-no-1", Span(1.75, 3.5), Span(3, 9), 20, How.READ)
"""LSU AgCenter, Smith 2009, "Sweet potatoes get grades"."""
GRADES = (
    US_NO_1,
    Grade("us-no-1-petite", Span(1.5, 2.25), Span(3, 7)),
    Grade("us-no-2", Span(1.5, NO_LIMIT), ounces=36),
    Grade("canning-no-1", Span(1, 2.25), Span(2, 7), how=How.READ),
)
"""From the dearest down. Petite: Federal Register 05-5608 of 2005 made it, its sizes are from memory, as is U.S. No. 2;
the canning and freezing standard is USDA AMS."""
STRICTER = (
    Grade("us-extra-no-1", Span(1.75, 3.25), Span(3, 9), 18),
    Grade("research-no-1", Span(2, 3.5), Span(3, 9), how=How.READ),
)
"""Two that ask for more than U.S. No. 1: the extra grade, and what trials count as No. 1, which begins at 5.1 cm
(release of Orleans, HortScience 47(12):1817). Where the minimum lies, 1 3/4 or 2 in, is in dispute."""
NO_GRADE = "no-grade"

TRIAL_POUNDS = {"cull": 0.0, "small": 0.25, "large": 1.0, "jumbo": 2.0}
"""Least pounds of each class of a Cornell trial that graded by weight; below 1 1/2 in across is a cull too."""
TRIAL_LEAST_DIAMETER = 1.5


def grade_counts(roots: Iterable[Root]) -> dict[str, int]:
    """How many roots have the size of each grade, every root in the dearest that takes it; all names, in order."""
    counted = Counter(next((grade.name for grade in GRADES if grade.fits(root)), NO_GRADE) for root in roots)
    return {name: counted[name] for name in (*(grade.name for grade in GRADES), NO_GRADE)}


def stricter_counts(roots: Iterable[Root]) -> dict[str, int]:
    """How many roots have the size of each grade that asks for more than U.S. No. 1."""
    roots = tuple(roots)
    return {grade.name: sum(map(grade.fits, roots)) for grade in STRICTER}


def trial_counts(roots: Iterable[Root]) -> dict[str, int]:
    """How many roots fall in each weight class of the trial, by their weights or by their sizes."""
    counted = Counter(map(_trial_class, roots))
    return {name: counted[name] for name in TRIAL_POUNDS}


def _trial_class(root: Root) -> str:
    pounds = weight_of(root) / GRAMS_PER_POUND
    if root.diameter is not None and root.diameter < TRIAL_LEAST_DIAMETER:
        return "cull"
    return max((least, name) for name, least in TRIAL_POUNDS.items() if pounds >= least)[1]

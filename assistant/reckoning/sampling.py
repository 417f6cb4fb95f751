"""Dig another hill or stop, and how many hills a wanted precision takes.

The plan is Wald's sequential probability ratio test (Wald 1947, Sequential Analysis; from memory) with the hill,
not the root, as the observation: roots of one hill are alike, so a hill counts by the beta-binomial law.
"""

from __future__ import annotations

from collections import defaultdict
from enum import Enum
from functools import lru_cache
from math import ceil, comb, log
from statistics import NormalDist
from typing import NamedTuple

from assistant.reckoning.ranges import CONFIDENCE
from assistant.reckoning.test_dig import Counts

LIKENESS = 0.25
"""How alike the roots of one hill are taken to be when hills are planned (correlation within a hill). No published
figure; our own judgement, the middle of what `test_dig` allows."""


class Answer(str, Enum):
    """What a sequence of hills may come to."""

    MOST = "most"
    FEW = "few"
    BETWEEN = "between"


class Plan(NamedTuple):
    """When to stop digging hills: tells a bed with `most` of its roots at the size from one with `few`.

    `wrong_most` is how often a bed of few may be taken for one of most, `wrong_few` the other way round. After
    `most_hills` hills the plan stops without either answer: the share is between, and both answers cost little.
    All of these are our own judgement; a garden can spare few hills.
    """

    few: float = 0.35
    most: float = 0.65
    wrong_most: float = 0.10
    wrong_few: float = 0.10
    likeness: float = LIKENESS
    most_hills: int = 8

    @property
    def lower(self) -> float:
        """The evidence at or below which the answer is few."""
        return log(self.wrong_few / (1 - self.wrong_most))

    @property
    def upper(self) -> float:
        """The evidence at or above which the answer is most."""
        return log((1 - self.wrong_few) / self.wrong_most)

    def weight(self, some: int, of: int) -> float:
        """What one hill adds to the evidence: the logarithm of its chance under most over that under few."""
        return log(hill_chance(some, of, self.most, self.likeness) / hill_chance(some, of, self.few, self.likeness))

    def answer(self, evidence: float, hills: int) -> Answer | None:
        """The answer that this evidence of so many hills gives; None to dig another."""
        if evidence >= self.upper:
            return Answer.MOST
        if evidence <= self.lower:
            return Answer.FEW
        return Answer.BETWEEN if hills >= self.most_hills else None


class Progress(NamedTuple):
    """Where a test dig stands in its plan: the answer (None: dig on), the evidence, and hills still to be expected."""

    answer: Answer | None
    evidence: float
    more_hills: int


class Prospect(NamedTuple):
    """How the rest of a plan may go: the chance of each answer, and the hills it takes on average."""

    most: float
    few: float
    between: float
    hills: float


USUAL_ROOTS = 5
"""Roots a hill where none has been dug: 4 to 10 (Kansas State, Johnson County), 3.4 in the cool maritime trials."""


def progress(counted: Counts, plan: Plan | None = None) -> Progress:
    """Where the hills dug so far leave the plan (the standing one unless another is given)."""
    plan = plan or Plan()
    hills = [(some, of) for some, of in counted if of]
    evidence = sum(plan.weight(some, of) for some, of in hills)
    answer = plan.answer(evidence, len(counted))
    if answer:
        return Progress(answer, evidence, 0)
    roots = sum(of for _, of in hills)
    share = (sum(some for some, _ in hills) + 0.5) / (roots + 1)
    each = min(round(roots / len(hills)), _MOST_ROOTS) if hills else USUAL_ROOTS
    ahead = prospect(plan, share, max(each, 1), evidence, len(counted))
    return Progress(None, evidence, max(1, round(ahead.hills)))


@lru_cache(maxsize=1024)
def prospect(plan: Plan, share: float, roots: int, evidence: float = 0.0, dug: int = 0) -> Prospect:
    """How the plan goes on from here in a bed with this share at the size and so many roots in every hill.

    Exact but for rounding: follows every sum of evidence that the hills can give, to the last hill.
    """
    steps = [(plan.weight(some, roots), hill_chance(some, roots, share, plan.likeness)) for some in range(roots + 1)]
    ends: dict[Answer, float] = dict.fromkeys(Answer, 0.0)
    walking, hills = {round(evidence, 9): 1.0}, 0.0
    while walking:
        dug += 1
        hills += sum(walking.values())
        further: dict[float, float] = defaultdict(float)
        for so_far, chance in walking.items():
            for weight, step in steps:
                further[round(so_far + weight, 9)] += chance * step
        walking = {}
        for total, chance in further.items():
            answer = plan.answer(total, dug)
            if answer:
                ends[answer] += chance
            else:
                walking[total] = chance
    return Prospect(ends[Answer.MOST], ends[Answer.FEW], ends[Answer.BETWEEN], hills)


_MOST_ROOTS = 8  # in a hill, when the hills ahead are followed one by one


def hill_chance(some: int, of: int, share: float, likeness: float) -> float:
    """The chance that some of a hill's roots are at the size: beta-binomial, binomial at a likeness of 0."""
    chance = float(comb(of, some))
    for at in range(some):
        chance *= share * (1 - likeness) + at * likeness
    for at in range(of - some):
        chance *= (1 - share) * (1 - likeness) + at * likeness
    for at in range(of):
        chance /= 1 - likeness + at * likeness
    return chance


def hills_for_share(
    within: float, share: float, roots: float, likeness: float = LIKENESS, confidence: float = CONFIDENCE
) -> int:
    """Hills to dig, so many roots in each, to know a share of about this size to within so much either way.

    The normal sample size times the design effect 1 + (roots - 1) x likeness (Kish 1965; from memory).
    """
    effect = 1 + (roots - 1) * likeness
    return ceil(_deviations(confidence) ** 2 * share * (1 - share) * effect / roots / within**2)


def hills_for_weight(within: float, spread: float, confidence: float = CONFIDENCE) -> int:
    """Plants to weigh so as to know the mean weight to within this share of it, where plants spread like this."""
    return ceil((_deviations(confidence) * spread / within) ** 2)


def _deviations(confidence: float) -> float:
    return NormalDist().inv_cdf((1 + confidence) / 2)

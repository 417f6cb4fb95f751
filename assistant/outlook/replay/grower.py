"""A grower who does what the assistant says: looks when told to, digs up hills when asked, digs by the day given."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import timedelta
from random import Random
from typing import NamedTuple

from assistant.inference.evaluator import evaluate
from assistant.measures.digging import ROOTS, roots_dug
from assistant.model.case import TestDig
from assistant.model.readings import Choices, Reading, one_of
from assistant.model.rules import ADVICE, Rule, Rulebook
from assistant.outlook.replay.beds import DAYS, NEVER
from assistant.outlook.replay.eyes import Eyes
from assistant.outlook.replay.yardstick import FIRST_LOOK
from assistant.reckoning.days import soonest

HILLS = 2
"""Hills dug up for one look."""
LONGEST = 14
"""Days at the most between two walks to the bed; our choice."""
UNSAID = 7
"""Days until the next walk where the advice names no day; our choice."""
SOME_DAYS = 3
"""Days to the next chance to dig that still count as two or three."""
SIZES = ("too-small", "right", "too-big")
DIGGING = frozenset({"sort-and-salvage", "dig-at-once", "dig-before-frost", "dig-now"})
"""Advice that ends the season; all other leaves the crop in the ground."""
BY_A_DAY = frozenset({"dig-before-frost"})
"""Advice that is carried out on the last chance up to the day it names, asking again on each chance before."""


class Season(NamedTuple):
    """How an autumn went: the day dug, the walks to the bed and the hills dug up to look."""

    dug: int
    visits: int
    hills: int


class Verdict(NamedTuple):
    """What the rules say on a day: the advice, and the days after planting to act by and to look again on."""

    advice: str | None
    act_by: int | None
    look_again: int | None


@dataclass
class Grower:
    """One grower in one autumn. `days` are those, in order, on which there is time to look and to dig."""

    eyes: Eyes
    random: Random
    days: Sequence[int] = DAYS
    hills: int = field(default=0, init=False)
    roots: Reading | None = field(default=None, init=False)

    def season(self) -> Season:
        """Ask the assistant on every day there is time for it, look at the bed when told to, dig when told to."""
        look, visits = FIRST_LOOK, 0
        for day in self.days[bisect_left(self.days, FIRST_LOOK) : -1]:
            looking = day >= look
            verdict = self._look(day) if looking else self._ask(day, self.roots)
            visits += looking
            if self._must_dig(day, verdict):
                return Season(day, visits + (not looking), self.hills)
            if looking:
                look = min(verdict.look_again or day + UNSAID, day + LONGEST)
        return Season(self.days[-1], visits + 1, self.hills)

    def _look(self, day: int) -> Verdict:
        """The verdict once the bed was looked at; hills are dug up when their roots can change it."""
        verdict = self._ask(day, self.roots)
        if verdict.advice not in DIGGING and self._roots_matter(day, verdict):
            hills = tuple(self.eyes.bed.hill(day, self.random) for _ in range(HILLS))
            self.hills += HILLS
            sizes = roots_dug(TestDig(self.eyes.bed.wanted, hills), self.eyes.domains(day)[ROOTS]).reading
            verdict, self.roots = self._ask(day, sizes), _or_larger(sizes)
        return verdict

    def _roots_matter(self, day: int, verdict: Verdict) -> bool:
        return verdict.advice == "test-dig" or any(
            self._ask(day, one_of(size)).advice != verdict.advice for size in SIZES
        )

    def _ask(self, day: int, roots: Reading | None) -> Verdict:
        """What the rules say with what is known on a day."""
        readings = self.eyes.readings(day, self._next_chance(day), roots)
        advice, rules = advised(self.eyes.rulebook, readings, self.eyes.domains(day))
        on, garden = self.eyes.bed.autumn.on(day), self.eyes.garden
        by = soonest((each for rule in rules for each in rule.act_by), on, readings, garden, on)
        tomorrow = on + timedelta(days=1)
        again = soonest((each for rule in rules for each in rule.look_again), on, readings, garden, tomorrow)
        return Verdict(advice, *(None if when is None else day + (when - on).days for when in (by, again)))

    def _must_dig(self, day: int, verdict: Verdict) -> bool:
        """Whether to dig on this day; what may be done by a later day waits for the last chance before it."""
        if verdict.advice not in DIGGING:
            return False
        last = verdict.act_by if verdict.advice in BY_A_DAY else None
        return last is None or self._next_day(day) > last

    def _next_day(self, day: int) -> int:
        after = bisect_right(self.days, day)
        return self.days[after] if after < len(self.days) else NEVER

    def _next_chance(self, day: int) -> str:
        away = self._next_day(day) - day
        return "tomorrow" if away == 1 else "days" if away <= SOME_DAYS else "week"


def advised(
    rulebook: Rulebook, readings: Mapping[str, Reading], domains: Mapping[str, Reading]
) -> tuple[str | None, list[Rule]]:
    """The advice that the rules come to, and the rules that give it."""
    evaluation = evaluate(rulebook, readings, domains)
    fired = set(evaluation.fired)
    rules = rulebook.rules_concluding(ADVICE, evaluation.advice) if evaluation.advice else ()
    return evaluation.advice, [rule for rule in rules if rule.name in fired]


def _or_larger(sizes: Reading) -> Reading:
    """The sizes that roots may have on a later day, since they never shrink."""
    assert isinstance(sizes, Choices)
    smallest = min(SIZES.index(size) for size in sizes.possible)
    return one_of(*SIZES[smallest:])

"""A garden's own frost dates as questions: which answers to them can go together.

A measure of the days until a frost date is no sign, but gardens differ in it as they do in signs. So a
rulebook is proved with each such measure as a number to be answered, and the answers that no garden
can give are left out.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cached_property
from itertools import product

from assistant.interview.remainder import Remainder
from assistant.model.case import FrostDates, MonthDay
from assistant.model.quantities import Kind
from assistant.model.readings import exactly
from assistant.model.rules import Rulebook
from assistant.model.signs import DaysUntil, Effort, Measure, Sign

FURTHEST = 182
"""Days to a frost date at most: dates are those nearest to the visit, so within half a year."""

_PARTS = FrostDates._fields


def frost_measures(rulebook: Rulebook) -> dict[str, Measure]:
    """The measures that count days to a frost date of the garden's own."""
    return {name: measure for name, measure in rulebook.measures.items() if isinstance(measure.how, DaysUntil)}


def widened(rulebook: Rulebook) -> Rulebook:
    """The rulebook with a sign in place of each measure of the days until a frost date."""
    asked = frost_measures(rulebook)
    signs = {
        name: Sign(name, Kind.NUMBER, "", "", Effort.LOOK_UP, low=measure.low, high=measure.high)
        for name, measure in asked.items()
    }
    kept = {name: measure for name, measure in rulebook.measures.items() if name not in asked}
    return replace(rulebook, signs={**signs, **rulebook.signs}, measures=kept)


@dataclass(frozen=True, eq=False)
class Frosts:
    """The first or the last frost of a garden: its three dates are known together or not at all, and in order."""

    name: str
    measures: tuple[Measure, ...]
    rest: Remainder
    unknown: Mapping[str, int]

    @cached_property
    def _days(self) -> dict[str, dict[int, frozenset[int]]]:
        """For each measure and each of its options, the days that fall under it."""
        return {measure.name: self._days_of(measure) for measure in self.measures}

    def _days_of(self, measure: Measure) -> dict[int, frozenset[int]]:
        found: dict[int, set[int]] = {}
        for day in range(-FURTHEST, FURTHEST + 1):
            if measure.low <= day <= measure.high:
                found.setdefault(self.rest.option_for(measure.name, exactly(day)), set()).add(day)
        return {option: frozenset(days) for option, days in found.items()}

    def possible(self) -> Iterator[dict[str, int]]:
        """Every choice of options, one a measure, that some garden gives."""
        names = [measure.name for measure in self.measures]
        for numbers in product(*(range(len(self.rest.options[name].all)) for name in names)):
            ways = dict(zip(names, numbers, strict=True))
            if self.may_be_unknown(ways) or self.days(ways):
                yield ways

    def may_be_unknown(self, ways: Mapping[str, int]) -> bool:
        """Whether a garden without frost dates gives these options; a measure without one may have any."""
        return all(ways.get(name, option) == option for name, option in self.unknown.items())

    def days(self, ways: Mapping[str, int]) -> tuple[int, ...] | None:
        """Days to the three dates that give these options, the first as near as can be; None when none do."""
        sets = [self._days_to(part, ways) for part in _PARTS]
        for first in sorted(sets[0], key=abs):
            chosen = [first]
            for later in sets[1:]:
                next_one = min((day for day in later if day > chosen[-1]), default=None)
                if next_one is None:
                    break
                chosen.append(next_one)
            else:
                return tuple(chosen)
        return None

    def _days_to(self, part: str, ways: Mapping[str, int]) -> frozenset[int]:
        """The days to one of the dates that all measures of it allow."""
        left = frozenset(range(-FURTHEST, FURTHEST + 1))
        for measure in self.measures:
            assert isinstance(measure.how, DaysUntil)
            if measure.how.garden_date == f"{self.name}.{part}" and measure.name in ways:
                left &= self._days[measure.name].get(ways[measure.name], frozenset())
        return left

    def dates(self, ways: Mapping[str, int], on: date) -> FrostDates | None:
        """Dates of a garden that gives these options on a day; None for a garden that does not know its own."""
        days = None if self.may_be_unknown(ways) else self.days(ways)
        return FrostDates(*(MonthDay.of(on + timedelta(days=ahead)) for ahead in days)) if days else None


def frosts_of(rulebook: Rulebook, rest: Remainder, unknown: Mapping[str, int]) -> tuple[Frosts, ...]:
    """The first and last frost, as far as the rulebook measures days to them."""
    groups: dict[str, list[Measure]] = {}
    for measure in frost_measures(rulebook).values():
        assert isinstance(measure.how, DaysUntil)
        groups.setdefault(measure.how.garden_date.partition(".")[0], []).append(measure)
    return tuple(
        Frosts(group, tuple(measures), rest, {measure.name: unknown[measure.name] for measure in measures})
        for group, measures in groups.items()
    )

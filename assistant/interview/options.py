"""The readings of a sign that a rulebook tells apart: one representative for each way its tests can come out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import combinations
from math import ceil, comb
from typing import NamedTuple

from assistant.inference.branches import SCALE, Test
from assistant.interview.outcomes import Outcomes
from assistant.model.quantities import Kind, rounded
from assistant.model.readings import Choices, Reading, Span
from assistant.model.rules import Rulebook
from assistant.model.signs import Sign

MOST_SETS = 4096
"""Sets of choices of one sign that are listed: all those of twelve choices that the rules tell apart."""


class TooManyChoices(ValueError):
    """A sign has more choices that rules tell apart than sets of them can be listed."""


class Option(NamedTuple):
    """A representative reading of a sign: `exact` if it is a single value or choice, `whole` if the whole domain.

    `outcome` has a bit for each test, set when the reading passes it.
    """

    reading: Reading
    exact: bool
    whole: bool
    outcome: int


class Options:
    """All the options of a sign, exact ones first, and the way from a reading to its own. Raises `TooManyChoices`."""

    def __init__(self, rulebook: Rulebook, sign: Sign, tests: tuple[Test, ...], domains: Mapping[str, Reading]) -> None:
        self._outcomes = Outcomes(rulebook, sign, tests, domains)
        self._bits = {test: 1 << number for number, test in enumerate(tests)}
        found: dict[int, Option] = {}
        for reading in _candidates(sign, self._outcomes):
            outcome = self._outcomes.of(reading)
            if outcome not in found:
                found[outcome] = Option(reading, _is_exact(reading), reading == domains[sign.name], outcome)
        self.all = tuple(found.values())
        self._numbers = {outcome: number for number, outcome in enumerate(found)}
        self.whole = self.index_of(domains[sign.name])
        """The number of the option of the whole domain, which an exact one may share."""

    def index_of(self, reading: Reading) -> int:
        """The number of the option that a reading belongs to."""
        return self._numbers[self._outcomes.of(reading)]

    def passing(self, test: Test) -> frozenset[int]:
        """The numbers of the options that pass a test on the sign or a measure of it."""
        bit = self._bits[test]
        return frozenset(number for number, option in enumerate(self.all) if option.outcome & bit)


def _is_exact(reading: Reading) -> bool:
    return reading.low == reading.high if isinstance(reading, Span) else len(reading.possible) == 1


def _candidates(sign: Sign, outcomes: Outcomes) -> Iterator[Reading]:
    """Readings enough to meet every outcome: exact ones, the whole domain, then vaguer ones."""
    if isinstance(outcomes.domain, Choices):
        return _sets(sign, outcomes)
    return _runs(sign, outcomes, outcomes.domain)


def _runs(sign: Sign, outcomes: Outcomes, domain: Span) -> Iterator[Span]:
    """Single cells, the whole domain, and every run of neighbouring cells, by the values the cells start at."""
    starts = sorted(_cell_starts(outcomes, domain))
    step = 1 if sign.kind is Kind.DATE else 1 / SCALE
    yield from (Span(start, start) for start in starts)
    yield domain
    yield from (Span(low, high) for low, high in combinations(starts, 2))
    if domain.high - domain.low > step:
        yield Span(rounded(domain.low + step), domain.high)
        yield Span(domain.low, rounded(domain.high - step))


def _cell_starts(outcomes: Outcomes, domain: Span) -> set[float]:
    """The values from which on some test comes out otherwise, and the start of the domain."""
    starts = {domain.low}
    for edge, counts_back in outcomes.edges():
        starts.add(outcomes.today - ceil(edge / SCALE) + 1 if counts_back else edge / SCALE)
    return {start for start in starts if domain.low <= start <= domain.high}


def _sets(sign: Sign, outcomes: Outcomes) -> Iterator[Choices]:
    """Sets of choices, taking together those that no test tells apart."""
    choices = frozenset(sign.choices)
    yield from (Choices(frozenset((choice,))) for choice in sign.choices)
    yield Choices(choices)
    classes = _classes(sign, outcomes)
    largest = len(classes) if outcomes.most_needed is None else min(outcomes.most_needed, len(classes))
    if sum(comb(len(classes), size) for size in range(largest + 1)) > MOST_SETS:
        raise TooManyChoices(
            f"the rules tell {len(classes)} choices of {sign.name} apart: too many sets to try them all"
        )
    for size in range(1, largest + 1):
        yield from (Choices(frozenset().union(*some)) for some in combinations(classes, size))
    yield from (Choices(choices - {choice}) for choice in sign.choices if len(choices) > 1)


def _classes(sign: Sign, outcomes: Outcomes) -> list[frozenset[str]]:
    """The choices grouped by how the tests tell them apart."""
    groups: dict[tuple[object, ...], set[str]] = {}
    for choice in sign.choices:
        groups.setdefault(outcomes.mark(choice), set()).add(choice)
    return [frozenset(group) for group in groups.values()]

"""The readings of a sign that a rulebook tells apart: one representative for each way its tests can come out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import combinations
from math import ceil

from assistant.inference.branches import SCALE, ChoiceTest, SpanTest, Test, hundredths
from assistant.inference.evaluator import knowledge
from assistant.model.conditions import Knowledge
from assistant.model.quantities import Kind, rounded
from assistant.model.readings import Choices, Reading, Span
from assistant.model.rules import Rulebook
from assistant.model.signs import DaysSince, Measure, Sign
from assistant.reckoning.derived import derived

MOST_CLASSES = 12
"""Choices the rules tell apart in one sign; beyond this many, the sets of them grow too many to list."""


class TooManyChoices(ValueError):
    """A sign has more choices that rules tell apart than sets of them can be listed."""


@dataclass(frozen=True, eq=False)
class Option:
    """A representative reading of a sign, and what the sign and its measures come to with it.

    `exact` is whether it is a single value or choice; `whole` whether it is the whole domain.
    """

    reading: Reading
    state: Knowledge
    exact: bool
    whole: bool


@dataclass(frozen=True, eq=False)
class Options:
    """All the options of a sign, and the way from a reading to its own."""

    scene: _Scene
    all: tuple[Option, ...]
    numbers: Mapping[tuple[bool, ...], int]

    def index_of(self, reading: Reading) -> int:
        """The number of the option that a reading belongs to."""
        return self.numbers[self.scene.outcome(self.scene.state(reading))]


def options_of(rulebook: Rulebook, sign: Sign, tests: tuple[Test, ...], domains: Mapping[str, Reading]) -> Options:
    """One option for each outcome that the tests on a sign and its measures can have together, exact ones first.

    Raises `TooManyChoices`.
    """
    scene = _Scene(rulebook, sign, tests, domains)
    found: dict[tuple[bool, ...], Option] = {}
    for reading in scene.candidates():
        state = scene.state(reading)
        outcome = scene.outcome(state)
        if outcome not in found:
            found[outcome] = Option(reading, state, _is_exact(reading), reading == domains[sign.name])
    return Options(scene, tuple(found.values()), {outcome: number for number, outcome in enumerate(found)})


def _is_exact(reading: Reading) -> bool:
    return reading.low == reading.high if isinstance(reading, Span) else len(reading.possible) == 1


@dataclass(frozen=True)
class _Scene:
    """One sign with its tests and the measures reckoned from it."""

    rulebook: Rulebook
    sign: Sign
    tests: tuple[Test, ...]
    domains: Mapping[str, Reading]

    @property
    def measures(self) -> list[Measure]:
        return [measure for measure in self.rulebook.measures.values() if measure.sign == self.sign.name]

    @property
    def domain(self) -> Reading:
        return self.domains[self.sign.name]

    def state(self, reading: Reading) -> Knowledge:
        """What the sign and its measures are with a reading."""
        readings: dict[str, Reading] = {self.sign.name: reading}
        for measure in self.measures:
            readings[measure.name] = derived(measure, reading, self.rulebook.tables, self._today)
        return knowledge(readings, {name: self.domains[name] for name in readings})

    def outcome(self, state: Knowledge) -> tuple[bool, ...]:
        """How each test comes out."""
        return tuple(test.holds(state) for test in self.tests)

    def candidates(self) -> Iterator[Reading]:
        """Readings enough to meet every outcome: exact ones, the whole domain, then vaguer ones."""
        if isinstance(self.domain, Choices):
            return self._sets(sorted(self.domain.possible))
        return self._runs(self.domain)

    @property
    def _today(self) -> float:
        """The ordinal day of the visit, told by the domain of a date sign; no other sign needs it."""
        return self.domain.high + self.sign.low if isinstance(self.domain, Span) else 0

    def _runs(self, domain: Span) -> Iterator[Span]:
        """Single cells, the whole domain, and every run of neighbouring cells, by the values the cells start at."""
        starts = sorted(self._cell_starts(domain))
        step = 1 if self.sign.kind is Kind.DATE else 1 / SCALE
        yield from (Span(start, start) for start in starts)
        yield domain
        yield from (Span(low, high) for low, high in combinations(starts, 2))
        if domain.high - domain.low > step:
            yield Span(rounded(domain.low + step), domain.high)
            yield Span(domain.low, rounded(domain.high - step))

    def _cell_starts(self, domain: Span) -> set[float]:
        """The values from which on some test comes out otherwise, and the start of the domain."""
        since = {measure.name for measure in self.measures if isinstance(measure.how, DaysSince)}
        starts = {domain.low}
        for test in self.tests:
            assert isinstance(test, SpanTest)
            for edge in _edges(test):
                starts.add(self._today - ceil(edge / SCALE) + 1 if test.reading in since else edge / SCALE)
        return {start for start in starts if domain.low <= start <= domain.high}

    def _sets(self, choices: list[str]) -> Iterator[Choices]:
        """Sets of choices, taking together those that no test tells apart."""
        yield from (Choices(frozenset((choice,))) for choice in self._order(choices))
        yield Choices(frozenset(choices))
        classes = list(self._classes(choices).values())
        by_ends_only = all(isinstance(test, SpanTest) for test in self.tests)
        largest = min(2, len(classes)) if by_ends_only else len(classes)
        if largest > MOST_CLASSES:
            raise TooManyChoices(
                f"the rules tell {largest} choices of {self.sign.name} apart, more than {MOST_CLASSES}"
            )
        for size in range(1, largest + 1):
            yield from (Choices(frozenset().union(*some)) for some in combinations(classes, size))
        yield from (Choices(frozenset(choices) - {choice}) for choice in choices if len(choices) > 1)

    def _order(self, choices: list[str]) -> list[str]:
        order = list(self.sign.choices)
        return sorted(choices, key=order.index)

    def _classes(self, choices: list[str]) -> dict[tuple[object, ...], frozenset[str]]:
        """The choices grouped by how each comes out of every part of every test."""
        groups: dict[tuple[object, ...], frozenset[str]] = {}
        for choice in choices:
            state = self.state(Choices(frozenset((choice,))))
            mark = tuple(part for test in self.tests for part in _parts(test, choice, state))
            groups[mark] = groups.get(mark, frozenset()) | {choice}
        return groups


def _parts(test: Test, choice: str, state: Knowledge) -> Iterator[bool]:
    if isinstance(test, ChoiceTest):
        yield from (choice in test.possible, choice in test.impossible)
    elif isinstance(test, SpanTest):
        span = state.readings[test.reading]
        assert isinstance(span, Span)
        low, high = hundredths(span.low), hundredths(span.high)
        yield from (test.low_from is None or low >= test.low_from, test.low_to is None or low <= test.low_to)
        yield from (test.high_from is None or high >= test.high_from, test.high_to is None or high <= test.high_to)


def _edges(test: SpanTest) -> Iterator[int]:
    """The hundredths from which on the test comes out otherwise."""
    for start in (test.low_from, test.high_from):
        if start is not None:
            yield start
    for end in (test.low_to, test.high_to):
        if end is not None:
            yield end + 1

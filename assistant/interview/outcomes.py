"""How the tests on one sign come out, as bits: one for each test, set when the test passes."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterator, Mapping
from functools import partial
from typing import TypeVar

from assistant.inference.branches import ChoiceTest, SpanTest, Test, hundredths
from assistant.model.readings import Choices, Reading, Span
from assistant.model.rules import Rulebook
from assistant.model.signs import DaysSince, Sign
from assistant.reckoning.derived import derived

ALL_PASS = -1
"""Every bit set."""
T = TypeVar("T")


class Outcomes:
    """The tests on a sign and on the measures reckoned from it, ready to be tried on many readings of the sign."""

    def __init__(self, rulebook: Rulebook, sign: Sign, tests: tuple[Test, ...], domains: Mapping[str, Reading]) -> None:
        self.tests = tests
        self.domain = domains[sign.name]
        self.today = self.domain.high + sign.low if isinstance(self.domain, Span) else 0
        self._tables = rulebook.tables
        self._measures = {m.name: m for m in rulebook.measures.values() if m.sign == sign.name}
        spans: dict[str, dict[int, SpanTest]] = {}
        self._choices: dict[int, ChoiceTest] = {}
        for number, test in enumerate(tests):
            if isinstance(test, SpanTest):
                spans.setdefault(test.reading, {})[number] = test
            elif isinstance(test, ChoiceTest):
                self._choices[number] = test
        self._ends = {name: _Ends(its, domains[name]) for name, its in spans.items()}

    @property
    def most_needed(self) -> int | None:
        """How many choices together are enough to meet every outcome: one for each end looked at; None if no bound."""
        return None if self._choices else 2 * len(self._ends)

    def of(self, reading: Reading) -> int:
        """Which tests a reading of the sign passes."""
        bits = (1 << len(self.tests)) - 1
        for name, ends in self._ends.items():
            bits &= ends.outcome(self._span(name, reading))
        if isinstance(reading, Choices):
            possible = reading.possible
            bits &= _passing(self._choices, lambda t: t.possible <= possible and not t.impossible & possible)
        return bits

    def mark(self, choice: str) -> tuple[object, ...]:
        """What the tests can tell of a choice: choices of one mark are alike to them, alone and among others."""
        alone = Choices(frozenset((choice,)))
        stretches = [ends.stretches(self._span(name, alone)) for name, ends in self._ends.items()]
        named = [(choice in test.possible, choice in test.impossible) for test in self._choices.values()]
        return (*stretches, *named)

    def edges(self) -> Iterator[tuple[int, bool]]:
        """The hundredths from which on some test on a number comes out otherwise; True when they count days back."""
        for name, ends in self._ends.items():
            counts_back = name in self._measures and isinstance(self._measures[name].how, DaysSince)
            yield from ((edge, counts_back) for edge in ends.edges)

    def _span(self, name: str, reading: Reading) -> Span:
        if name in self._measures:
            return derived(self._measures[name], reading, self._tables, self.today)
        assert isinstance(reading, Span), f"{name} is tested as a number"
        return reading


class _Ends:
    """The tests on one number: which of them each of its ends passes, by the stretch between edges it lies in."""

    def __init__(self, tests: Mapping[int, SpanTest], domain: Reading) -> None:
        self.domain = domain
        self.edges = sorted({edge for test in tests.values() for edge in _edges(test)})
        starts = [self.edges[0] - 1, *self.edges] if self.edges else [0]
        self._lows = [_passing(tests, partial(_low_passes, at)) for at in starts]
        self._highs = [_passing(tests, partial(_high_passes, at)) for at in starts]
        self._as_whole = _passing(tests, lambda test: test.whole is not False)
        self._as_part = _passing(tests, lambda test: test.whole is not True)

    def stretches(self, span: Span) -> tuple[int, int]:
        """The stretches in which the low and the high end lie."""
        return bisect_right(self.edges, hundredths(span.low)), bisect_right(self.edges, hundredths(span.high))

    def outcome(self, span: Span) -> int:
        """The bits of the tests that pass; those of tests on other numbers are set."""
        low, high = self.stretches(span)
        return self._lows[low] & self._highs[high] & (self._as_whole if span == self.domain else self._as_part)


def _passing(tests: Mapping[int, T], passes: Callable[[T], bool]) -> int:
    bits = ALL_PASS
    for number, test in tests.items():
        if not passes(test):
            bits &= ~(1 << number)
    return bits


def _low_passes(at: int, test: SpanTest) -> bool:
    return _between(test.low_from, at, test.low_to)


def _high_passes(at: int, test: SpanTest) -> bool:
    return _between(test.high_from, at, test.high_to)


def _between(start: int | None, at: int, end: int | None) -> bool:
    return (start is None or start <= at) and (end is None or at <= end)


def _edges(test: SpanTest) -> Iterator[int]:
    for start in (test.low_from, test.high_from):
        if start is not None:
            yield start
    for end in (test.low_to, test.high_to):
        if end is not None:
            yield end + 1

"""Branches: a condition as alternatives of simple tests, any one of which makes it hold.

A test looks at the ends of a span, at which choices are possible, or at which values of a finding
were concluded. A branch is a handful of tests on different names that must all hold. Numbers are
whole hundredths, the scale on which all values are compared, so "above 5" is "from 501".
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from assistant.model.conditions import Knowledge
from assistant.model.quantities import DECIMALS
from assistant.model.readings import Choices, Span

SCALE: int = 10**DECIMALS


def hundredths(value: float) -> int:
    """A value on the program's scale as a whole number of hundredths."""
    return round(value * SCALE)


class SpanTest(NamedTuple):
    """Bounds, both included, on the low and the high end of a number's reading; None is no bound.

    `whole` asks that the reading is the whole domain (True) or is not (False).
    """

    reading: str
    low_from: int | None = None
    low_to: int | None = None
    high_from: int | None = None
    high_to: int | None = None
    whole: bool | None = None

    def tidied(self) -> SpanTest | None:
        """The same without bounds that follow from the others; None when nothing can pass it."""
        bounds = ((self.low_from, self.low_to), (self.high_from, self.high_to), (self.low_from, self.high_to))
        if any(start is not None and end is not None and start > end for start, end in bounds):
            return None
        low_to = None if _at_least_as_strict_to(self.high_to, self.low_to) else self.low_to
        high_from = None if _at_least_as_strict_from(self.low_from, self.high_from) else self.high_from
        if (low_to, high_from) == (self.low_to, self.high_from):
            return self
        return self._replace(low_to=low_to, high_from=high_from)

    def merged(self, other: SpanTest) -> SpanTest | None:
        """The test that passes what both pass; None when nothing can."""
        if self.whole is not None and other.whole is not None and self.whole != other.whole:
            return None
        return SpanTest(
            self.reading,
            low_from=_later(self.low_from, other.low_from),
            low_to=_sooner(self.low_to, other.low_to),
            high_from=_later(self.high_from, other.high_from),
            high_to=_sooner(self.high_to, other.high_to),
            whole=self.whole if other.whole is None else other.whole,
        ).tidied()

    def implies(self, other: Test) -> bool:
        """Whether everything that passes this test passes the other."""
        return (
            isinstance(other, SpanTest)
            and other.whole in (None, self.whole)
            and _at_least_as_strict_from(self.low_from, other.low_from)
            and _at_least_as_strict_to(self.high_to, other.high_to)
            and _at_least_as_strict_from(_later(self.low_from, self.high_from), other.high_from)
            and _at_least_as_strict_to(_sooner(self.low_to, self.high_to), other.low_to)
        )

    def holds(self, known: Knowledge) -> bool:
        """Whether what is known passes the test."""
        reading = known.readings[self.reading]
        assert isinstance(reading, Span), f"{self.reading} is tested as a number"
        low, high = hundredths(reading.low), hundredths(reading.high)
        return (
            (self.low_from is None or low >= self.low_from)
            and (self.low_to is None or low <= self.low_to)
            and (self.high_from is None or high >= self.high_from)
            and (self.high_to is None or high <= self.high_to)
            and self.whole in (None, reading == known.domains[self.reading])
        )


class ChoiceTest(NamedTuple):
    """Choices of a sign that must still be possible, and choices that must no longer be.

    `among` holds all choices of the sign, in order.
    """

    reading: str
    among: tuple[str, ...]
    possible: frozenset[str] = frozenset()
    impossible: frozenset[str] = frozenset()

    def tidied(self) -> ChoiceTest | None:
        """The same without what follows from the rest; None when nothing can pass it."""
        left = frozenset(self.among) - self.impossible
        if not left or not self.possible <= left:
            return None
        return self._replace(possible=frozenset()) if len(left) == 1 else self

    def merged(self, other: ChoiceTest) -> ChoiceTest | None:
        """The test that passes what both pass; None when nothing can."""
        return self._replace(
            possible=self.possible | other.possible, impossible=self.impossible | other.impossible
        ).tidied()

    def implies(self, other: Test) -> bool:
        """Whether everything that passes this test passes the other."""
        if not isinstance(other, ChoiceTest):
            return False
        left = frozenset(self.among) - self.impossible
        possible = left if len(left) == 1 else self.possible
        return other.possible <= possible and other.impossible <= self.impossible

    def holds(self, known: Knowledge) -> bool:
        """Whether what is known passes the test."""
        reading = known.readings[self.reading]
        assert isinstance(reading, Choices), f"{self.reading} is tested as a choice"
        return self.possible <= reading.possible and not self.impossible & reading.possible


class FindingTest(NamedTuple):
    """Values of a finding that some rule must have concluded, and values that none may have.

    `among` holds all values of the finding, in order.
    """

    finding: str
    among: tuple[str, ...]
    concluded: frozenset[str] = frozenset()
    not_concluded: frozenset[str] = frozenset()

    def tidied(self) -> FindingTest | None:
        """The test itself; None when nothing can pass it."""
        return None if self.concluded & self.not_concluded else self

    def merged(self, other: FindingTest) -> FindingTest | None:
        """The test that passes what both pass; None when nothing can."""
        return self._replace(
            concluded=self.concluded | other.concluded,
            not_concluded=self.not_concluded | other.not_concluded,
        ).tidied()

    def implies(self, other: Test) -> bool:
        """Whether everything that passes this test passes the other."""
        return (
            isinstance(other, FindingTest)
            and other.concluded <= self.concluded
            and other.not_concluded <= self.not_concluded
        )

    def holds(self, known: Knowledge) -> bool:
        """Whether what was concluded passes the test."""
        concluded = known.concluded.get(self.finding, frozenset())
        return self.concluded <= concluded and not self.not_concluded & concluded


Test = SpanTest | ChoiceTest | FindingTest
BySubject = dict[tuple[bool, str], Test]


def merge(first: Test, second: Test) -> Test | None:
    """Two tests on one name as one; None when nothing can pass both."""
    if isinstance(first, SpanTest) and isinstance(second, SpanTest):
        return first.merged(second)
    if isinstance(first, ChoiceTest) and isinstance(second, ChoiceTest):
        return first.merged(second)
    if isinstance(first, FindingTest) and isinstance(second, FindingTest):
        return first.merged(second)
    raise TypeError(f"{first} and {second} look at different kinds of things")


class Branch(NamedTuple):
    """Tests on different names that must all hold; with no tests, always. In the order written."""

    tests: tuple[Test, ...] = ()

    @property
    def readings(self) -> tuple[str, ...]:
        """The signs and measures the branch looks at."""
        return tuple(test.reading for test in self.tests if not isinstance(test, FindingTest))

    @property
    def findings(self) -> tuple[FindingTest, ...]:
        """The tests on findings."""
        return tuple(test for test in self.tests if isinstance(test, FindingTest))

    def joined(self, other: Branch) -> Branch | None:
        """The branch that holds when both do; None when they exclude each other."""
        tests = self.by_subject()
        for test in other.tests:
            subject = _subject(test)
            both = merge(tests[subject], test) if subject in tests else test
            if both is None:
                return None
            tests[subject] = both
        return Branch(tuple(tests.values()))

    def implies(self, other: Branch) -> bool:
        """Whether the other branch holds whenever this one does."""
        return _imply(self.by_subject(), other.by_subject())

    def by_subject(self) -> BySubject:
        """The tests by what they are about."""
        return {_subject(test): test for test in self.tests}

    def holds(self, known: Knowledge) -> bool:
        """Whether all tests hold of what is known."""
        return all(test.holds(known) for test in self.tests)


def branch_of(test: Test) -> tuple[Branch, ...]:
    """The one branch of one test; no branch when nothing can pass it."""
    tidy = test.tidied()
    return () if tidy is None else (Branch((tidy,)),)


def absorbed(branches: Iterable[Branch]) -> tuple[Branch, ...]:
    """The branches without those that hold only when another one does, in the same order."""
    branches = tuple(branches)
    if len(branches) < 2:
        return branches
    kept: list[tuple[Branch, BySubject]] = []
    for branch in branches:
        tests = branch.by_subject()
        if not any(_imply(tests, others) for _, others in kept):
            kept = [(other, others) for other, others in kept if not _imply(others, tests)]
            kept.append((branch, tests))
    return tuple(branch for branch, _ in kept)


def _imply(tests: BySubject, others: BySubject) -> bool:
    """Whether the others hold whenever these tests do."""
    for subject, other in others.items():
        test = tests.get(subject)
        if test is None or not test.implies(other):
            return False
    return True


def _subject(test: Test) -> tuple[bool, str]:
    """What a test is about: a finding or a reading, and its name."""
    return (True, test.finding) if isinstance(test, FindingTest) else (False, test.reading)


def _later(first: int | None, second: int | None) -> int | None:
    if first is None or second is None:
        return second if first is None else first
    return max(first, second)


def _sooner(first: int | None, second: int | None) -> int | None:
    if first is None or second is None:
        return second if first is None else first
    return min(first, second)


def _at_least_as_strict_from(mine: int | None, theirs: int | None) -> bool:
    return theirs is None or (mine is not None and mine >= theirs)


def _at_least_as_strict_to(mine: int | None, theirs: int | None) -> bool:
    return theirs is None or (mine is not None and mine <= theirs)

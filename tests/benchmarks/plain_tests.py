"""A rulebook in the terms that any rule engine has: layers of conclusions, each of them a choice of plain comparisons.

Names are such as every engine takes: `r3_low`, `r3_high`, `r3_whole` of a number in whole hundredths, `r4_v0` for
the first choice of another sign being possible, `f1_v2` for the third value of a finding being concluded.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from assistant.inference.branches import ChoiceTest, FindingTest, SpanTest, Test, hundredths
from assistant.inference.sides import branches_of_rules
from assistant.interview.remainder import Ending
from assistant.model.readings import Choices, Reading, Span
from assistant.model.rules import ADVICE, Rulebook, Several


class Comparison(NamedTuple):
    """A fact compared with a whole number, by >=, <= or ==."""

    subject: str
    part: str
    sign: str
    value: int

    @property
    def fact(self) -> str:
        """The name of what is compared."""
        return f"{self.subject}_{self.part}"


Branch = tuple[Comparison, ...]


class Conclusion(NamedTuple):
    """A value of a finding or of the advice, and the branches any one of which concludes it."""

    subject: str
    value: int
    branches: tuple[Branch, ...]

    @property
    def fact(self) -> str:
        """The name of what is concluded, 1 or 0."""
        return f"{self.subject}_v{self.value}"


class PlainTests:
    """The layers of a rulebook, the facts of a garden, and what conclusions come to."""

    def __init__(self, rulebook: Rulebook, domains: Mapping[str, Reading]) -> None:
        self.domains = domains
        self.readings = {name: f"r{number}" for number, name in enumerate(domains)}
        self.findings = {name: f"f{number}" for number, name in enumerate([*rulebook.findings, ADVICE])}
        self.choices = {name: tuple(sign.choices) for name, sign in rulebook.signs.items() if sign.choices}
        self.values = {name: tuple(finding.values) for name, finding in rulebook.findings.items()}
        self.values[ADVICE] = tuple(rulebook.advice)
        self.must_agree = rulebook.several is Several.MUST_AGREE
        self.layers = tuple(tuple(self._conclusions(rulebook, layer)) for layer in rulebook.layers())
        self.subjects = tuple(dict.fromkeys(c.subject for layer in self.layers for c in layer))

    def _conclusions(self, rulebook: Rulebook, layer: Iterable[object]) -> Iterator[Conclusion]:
        branches = branches_of_rules(rulebook)
        found: dict[tuple[str, str], list[Branch]] = {}
        for rule in layer:
            ready = (
                tuple(c for test in branch.tests for c in self._comparisons(test)) for branch in branches[rule.name]
            )
            found.setdefault((rule.concludes, rule.value), []).extend(ready)
        for (name, value), mine in found.items():
            yield Conclusion(self.findings[name], self.values[name].index(value), tuple(mine))

    def _comparisons(self, test: Test) -> Iterator[Comparison]:
        if isinstance(test, SpanTest):
            subject = self.readings[test.reading]
            bounds = (
                ("low", ">=", test.low_from),
                ("low", "<=", test.low_to),
                ("high", ">=", test.high_from),
                ("high", "<=", test.high_to),
                ("whole", "==", None if test.whole is None else int(test.whole)),
            )
            yield from (Comparison(subject, part, sign, bound) for part, sign, bound in bounds if bound is not None)
        elif isinstance(test, ChoiceTest):
            yield from _flags(self.readings[test.reading], test.among, test.possible, test.impossible)
        elif isinstance(test, FindingTest):
            yield from _flags(self.findings[test.finding], test.among, test.concluded, test.not_concluded)

    def facts(self, readings: Mapping[str, Reading]) -> dict[str, int]:
        """Every reading of a garden as plain numbers."""
        facts: dict[str, int] = {}
        for name, reading in readings.items():
            facts.update((f"{self.readings[name]}_{part}", value) for part, value in self.parts(name, reading))
        return facts

    def parts(self, name: str, reading: Reading) -> Iterator[tuple[str, int]]:
        """One reading as plain numbers."""
        if isinstance(reading, Span):
            low, high = hundredths(reading.low), hundredths(reading.high)
            whole = self.domains[name]
            assert isinstance(whole, Span)
            yield from (("low", low), ("high", high))
            yield "whole", int(low == hundredths(whole.low) and high == hundredths(whole.high))
        elif isinstance(reading, Choices):
            for number, choice in enumerate(self.choices[name]):
                yield f"v{number}", int(choice in reading.possible)

    def ending(self, concluded: Iterable[tuple[str, int]]) -> Ending:
        """What the values concluded, each named once, come to."""
        given: dict[str, list[int]] = {}
        for subject, value in concluded:
            given.setdefault(subject, []).append(value)
        advice = given.pop(self.findings[ADVICE], [])
        disagree = self.must_agree and len(advice) > 1
        conflict = disagree or any(len(values) > 1 for values in given.values())
        return Ending(None if disagree or not advice else self.values[ADVICE][min(advice)], conflict)


def _flags(subject: str, among: tuple[str, ...], yes: frozenset[str], no: frozenset[str]) -> Iterator[Comparison]:
    for number, value in enumerate(among):
        if value in yes | no:
            yield Comparison(subject, f"v{number}", "==", int(value in yes))

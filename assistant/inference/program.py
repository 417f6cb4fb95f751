"""A rulebook as rulesets of the engine: plain dictionaries, and the facts each of them is given.

Every layer of rules has rulesets of its own, so that what a layer concluded is closed before the
next one looks at it, and no ruleset needs negation. A layer is spread over several rulesets where
it would outgrow the limits of the engine's tables, which it checks late or not at all.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from typing import Any, NamedTuple

from assistant.inference.branches import Branch, ChoiceTest, FindingTest, SpanTest, Test, hundredths
from assistant.inference.sides import TooManyBranches, branches_of, branches_of_rules, lookup_ends
from assistant.model.conditions import CompareTo, Condition, Knowledge, leaves
from assistant.model.readings import Choices, Span
from assistant.model.rules import Caution, Rule, Rulebook

Ruleset = dict[str, dict[str, Any]]
Fact = dict[str, str | int]

START = "start"
END = "end"
_NEVER = "never"

MOST_TESTS_OF_A_BRANCH = 15
"""The engine holds at most 16 facts of one rule together."""
MOST_RULES_ON_A_PATTERN = 200
"""From 256 rules that share a pattern on, the engine crashes."""
MOST_PATTERNS_OF_A_KIND = 50
"""Beyond 64 patterns that one fact meets at a time, the engine refuses the fact."""
MOST_KINDS = 200
"""Beyond some 500 patterns side by side, the engine loops for ever."""

Pattern = list[dict[str, Any]]
Tests = dict[str, Test | None]  # by kind of fact; None asks only that there is one


class Head(NamedTuple):
    """A rule or caution by name, and one of the branches of its condition with its number."""

    name: str
    number: int
    branch: Branch


class RulesetDraft:
    """One ruleset while it is filled: its rules, and the tests by kind of fact that it needs facts for."""

    def __init__(self) -> None:
        self.rules: Ruleset = {}
        self.heads: dict[str, Head] = {}
        self.subjects: dict[str, Test] = {}
        self.uses: Counter[tuple[str, Test | None]] = Counter()
        self.patterns: Counter[str] = Counter()

    def has_room_for(self, tests: Tests) -> bool:
        """Whether the ruleset stays within the engine's limits with one more branch of these tests."""
        return len(self.patterns) < MOST_KINDS and all(
            self.uses[kind, test] < MOST_RULES_ON_A_PATTERN and self.patterns[kind] < MOST_PATTERNS_OF_A_KIND
            for kind, test in tests.items()
        )

    def add(self, head: Head, tests: Tests) -> None:
        """One engine rule for one branch, with a pattern for each test."""
        action = f"{head.name} / {head.number}"
        patterns = [[{"kind": kind}, *_expressions(test)] for kind, test in tests.items()]
        self.rules[action] = {
            "all": [{f"fact_{number}": {"$and": pattern}} for number, pattern in enumerate(patterns)],
            "run": action,
        }
        self.heads[action] = head
        for kind, test in tests.items():
            self.patterns[kind] += not self.uses[kind, test]
            self.uses[kind, test] += 1
            if test is not None:
                self.subjects[kind] = test

    def closed(self) -> Ruleset:
        """The rules, with one that every fact belongs to and that never fires, and one that fires last."""
        return {
            END: {"all": [{"fact": {"kind": END}}], "pri": 1, "run": END},
            "any fact": {"all": [{"fact": {"$neq": {"kind": _NEVER}}}, {"never": {"kind": _NEVER}}], "run": _NEVER},
            **self.rules,
        }

    def facts(self, known: Knowledge) -> list[Fact]:
        """What is known, as far as this ruleset looks at it."""
        return [{"kind": START}, *(_fact(kind, test, known) for kind, test in self.subjects.items()), {"kind": END}]


class Layer(NamedTuple):
    """The rules of one layer in rulebook order, and their rulesets."""

    rules: tuple[Rule, ...]
    rulesets: tuple[RulesetDraft, ...]


class Program(NamedTuple):
    """The layers of rules, and the rulesets of the cautions.

    `lookups` holds the low and high ends, in hundredths, of the measures that others are compared with.
    """

    layers: tuple[Layer, ...]
    cautions: tuple[RulesetDraft, ...]
    lookups: Mapping[str, tuple[frozenset[int], frozenset[int]]]

    @property
    def rulesets(self) -> tuple[RulesetDraft, ...]:
        """All rulesets in the order they run."""
        return (*(ruleset for layer in self.layers for ruleset in layer.rulesets), *self.cautions)

    def check_lookups(self, known: Knowledge) -> None:
        """Raises `ValueError` when a measure others are compared with has ends that its table does not have."""
        for name, (lows, highs) in self.lookups.items():
            reading = known.readings[name]
            assert isinstance(reading, Span), f"{name} is read off a table of spans"
            if hundredths(reading.low) not in lows or hundredths(reading.high) not in highs:
                raise ValueError(f"{name} is {reading.low:g}..{reading.high:g}, which no row of its table gives")


def program_of(rulebook: Rulebook) -> Program:
    """Compiles all rules and cautions. Raises `ValueError` naming the rule whose condition is too large."""
    cautions = list(rulebook.cautions.values())
    ready = branches_of_rules(rulebook)
    return Program(
        tuple(
            Layer(layer, _rulesets((rule.name, _checked(rule.name, ready[rule.name])) for rule in layer))
            for layer in rulebook.layers()
        ),
        _rulesets((caution.name, _checked(caution.name, _of_caution(caution, rulebook))) for caution in cautions),
        _lookups([*(rule.when for rule in rulebook.rules), *(caution.when for caution in cautions)], rulebook),
    )


def _rulesets(conditions: Iterable[tuple[str, tuple[Branch, ...]]]) -> tuple[RulesetDraft, ...]:
    """As few rulesets as hold one layer."""
    drafts = [RulesetDraft()]
    for name, branches in conditions:
        for number, branch in enumerate(branches):
            tests = _tests(branch)
            if drafts[-1].rules and not drafts[-1].has_room_for(tests):
                drafts.append(RulesetDraft())
            drafts[-1].add(Head(name, number, branch), tests)
    return tuple(draft for draft in drafts if draft.rules)


def _of_caution(caution: Caution, rulebook: Rulebook) -> tuple[Branch, ...]:
    try:
        return branches_of(caution.when, rulebook)
    except ValueError as problem:
        raise type(problem)(f"{caution.name}: {problem}") from problem


def _checked(name: str, branches: tuple[Branch, ...]) -> tuple[Branch, ...]:
    longest = max((len(branch.tests) for branch in branches), default=0)
    if longest > MOST_TESTS_OF_A_BRANCH:
        raise TooManyBranches(
            f"{name}: looks at {longest} things at once, more than {MOST_TESTS_OF_A_BRANCH}; split the rule"
        )
    return branches


def _lookups(conditions: Iterable[Condition], rulebook: Rulebook) -> dict[str, tuple[frozenset[int], frozenset[int]]]:
    others = {leaf.other for condition in conditions for leaf in leaves(condition) if isinstance(leaf, CompareTo)}
    ends = {name: lookup_ends(name, rulebook) for name in sorted(others)}
    return {name: (frozenset(lows), frozenset(highs)) for name, (lows, highs) in ends.items()}


def _kind(test: Test) -> str:
    return f"finding {test.finding}" if isinstance(test, FindingTest) else test.reading


def _tests(branch: Branch) -> Tests:
    """Each test by its own kind of fact; a branch without tests looks at the one that is always there."""
    return {_kind(test): test for test in branch.tests} or {START: None}


def _expressions(test: Test | None) -> Pattern:
    if test is None:
        return []
    if isinstance(test, ChoiceTest):
        return _flags(test.among, test.possible, test.impossible)
    if isinstance(test, FindingTest):
        return _flags(test.among, test.concluded, test.not_concluded)
    bounds = (
        ("$gte", "low", test.low_from),
        ("$lte", "low", test.low_to),
        ("$gte", "high", test.high_from),
        ("$lte", "high", test.high_to),
    )
    wanted: Pattern = [{sign: {end: bound}} for sign, end, bound in bounds if bound is not None]
    return wanted if test.whole is None else [*wanted, {"whole": int(test.whole)}]


def _flags(among: tuple[str, ...], yes: frozenset[str], no: frozenset[str]) -> Pattern:
    """Values are told by their number, so that no name can clash with the engine's own words."""
    return [{f"value_{number}": int(value in yes)} for number, value in enumerate(among) if value in yes | no]


def _fact(kind: str, test: Test, known: Knowledge) -> Fact:
    if isinstance(test, SpanTest):
        reading = known.readings[test.reading]
        assert isinstance(reading, Span), f"{test.reading} is tested as a number"
        whole = int(reading == known.domains[test.reading])
        return {"kind": kind, "low": hundredths(reading.low), "high": hundredths(reading.high), "whole": whole}
    if isinstance(test, ChoiceTest):
        choices = known.readings[test.reading]
        assert isinstance(choices, Choices), f"{test.reading} is tested as a choice"
        there = choices.possible
    else:
        there = known.concluded.get(test.finding, frozenset())
    return {"kind": kind, **{f"value_{number}": int(value in there) for number, value in enumerate(test.among)}}

"""Compiles a condition to the branches of one of its sides.

A condition has four sides: it surely holds, it surely does not, it may hold (not surely not), it may
not hold (not surely). Each side of a condition is made of sides of its parts, down to single tests,
so negation and *could* leave no trace in the branches.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from enum import Enum
from weakref import WeakKeyDictionary

from assistant.inference.branches import (
    Branch,
    ChoiceTest,
    FindingTest,
    SpanTest,
    absorbed,
    branch_of,
    hundredths,
)
from assistant.model.conditions import (
    All,
    AnyOf,
    CantTell,
    Compare,
    CompareTo,
    Concluded,
    Condition,
    Could,
    Not,
    OneOf,
    Op,
)
from assistant.model.rules import ADVICE, Rule, Rulebook
from assistant.model.signs import Lookup

MOST_BRANCHES = 200
_MOST_BEFORE_ABSORBING = 1000


class TooManyBranches(ValueError):
    """A condition falls apart into more alternatives than can be handled; write it as several rules."""


class Side(Enum):
    """What is asked of a condition."""

    SURELY = "surely"
    SURELY_NOT = "surely not"
    MAY = "may"
    MAY_NOT = "may not"

    @property
    def negative(self) -> bool:
        """Whether the side speaks of the condition not holding."""
        return self in (Side.SURELY_NOT, Side.MAY_NOT)

    @property
    def negated(self) -> Side:
        """The side of a part that makes up this side of its negation."""
        return _NEGATED[self]

    @property
    def within_could(self) -> Side:
        """The side of a part that makes up this side of *could* that part."""
        return Side.SURELY_NOT if self.negative else Side.MAY


_NEGATED = {
    Side.SURELY: Side.SURELY_NOT,
    Side.SURELY_NOT: Side.SURELY,
    Side.MAY: Side.MAY_NOT,
    Side.MAY_NOT: Side.MAY,
}

Branches = tuple[Branch, ...]


def branches_of(condition: Condition, rulebook: Rulebook, side: Side = Side.SURELY) -> Branches:
    """The branches of one side of a condition: it is so exactly when one of them holds.

    Raises `TooManyBranches` beyond 200 of them, and `ValueError` for a comparison with a
    reading that no table gives.
    """
    match condition:
        case OneOf(reading, choices):
            return _one_of(reading, choices, rulebook, side)
        case Concluded(finding, values):
            return _concluded(finding, values, rulebook, side)
        case All(parts):
            sides = [branches_of(part, rulebook, side) for part in parts]
            return _any_of(sides) if side.negative else _all_of(sides)
        case AnyOf(parts):
            sides = [branches_of(part, rulebook, side) for part in parts]
            return _all_of(sides) if side.negative else _any_of(sides)
        case Not(part):
            return branches_of(part, rulebook, side.negated)
        case Could(part):
            return branches_of(part, rulebook, side.within_could)
        case CantTell(sign):
            return _cant_tell(sign, rulebook, not side.negative)
        case Compare(reading, op, bound):
            return _compare(reading, op.opposite if side.negative else op, bound, _is_sure(side))
        case CompareTo(reading, op, other):
            return _compare_to(reading, op.opposite if side.negative else op, other, rulebook, _is_sure(side))


_RULE_BRANCHES: WeakKeyDictionary[Rulebook, dict[str, Branches]] = WeakKeyDictionary()


def branches_of_rules(rulebook: Rulebook) -> dict[str, Branches]:
    """The branches on which each rule fires, worked out once for a rulebook.

    Raises `ValueError` that begins with the name of the rule at fault.
    """
    found = _RULE_BRANCHES.get(rulebook)
    if found is None:
        found = {rule.name: _named_branches(rule, rulebook) for rule in rulebook.rules}
        _RULE_BRANCHES[rulebook] = found
    return found


def _named_branches(rule: Rule, rulebook: Rulebook) -> Branches:
    try:
        return branches_of(rule.when, rulebook)
    except ValueError as problem:
        raise type(problem)(f"{rule.name}: {problem}") from problem


def _is_sure(side: Side) -> bool:
    return side in (Side.SURELY, Side.SURELY_NOT)


def _all_of(sides: Sequence[Branches]) -> Branches:
    joined, *others = sides or ((Branch(),),)
    for side in others:
        if len(joined) * len(side) > _MOST_BEFORE_ABSORBING:
            raise _too_many(len(joined) * len(side))
        pairs = (first.joined(second) for first in joined for second in side)
        joined = _limited(absorbed(branch for branch in pairs if branch is not None))
    return joined


def _any_of(sides: Iterable[Branches]) -> Branches:
    return _limited(absorbed(branch for side in sides for branch in side))


def _limited(branches: Branches) -> Branches:
    if len(branches) > MOST_BRANCHES:
        raise _too_many(len(branches))
    return branches


def _too_many(count: int) -> TooManyBranches:
    return TooManyBranches(f"the condition has {count} alternatives, more than {MOST_BRANCHES}; split the rule")


def _compare(reading: str, op: Op, bound: float, sure: bool) -> Branches:
    """The reading's end that decides: for *surely* the one nearer to failing, for *may* the other."""
    return branch_of(_end_test(reading, op, hundredths(bound), looks_low=op.looks_low is sure))


def _end_test(reading: str, op: Op, bound: int, looks_low: bool) -> SpanTest:
    """A comparison on one end of a reading, in whole hundredths."""
    match op:
        case Op.AT_LEAST | Op.ABOVE:
            start = bound + (op is Op.ABOVE)
            return SpanTest(reading, low_from=start) if looks_low else SpanTest(reading, high_from=start)
        case Op.AT_MOST | Op.BELOW:
            end = bound - (op is Op.BELOW)
            return SpanTest(reading, low_to=end) if looks_low else SpanTest(reading, high_to=end)


def lookup_ends(name: str, rulebook: Rulebook) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """The low and the high ends, in hundredths, that a looked-up measure can have, in order.

    Raises `ValueError` when the name is not that of a measure read off a table.
    """
    measure = rulebook.measures.get(name)
    if measure is None or not isinstance(measure.how, Lookup):
        raise ValueError(f"'{name}' is not read off a table, so nothing can be compared with it")
    spans = (measure.domain, *rulebook.tables[measure.how.table].column(measure.how.column).values())
    return (
        tuple(sorted({hundredths(span.low) for span in spans})),
        tuple(sorted({hundredths(span.high) for span in spans})),
    )


def _compare_to(reading: str, op: Op, other: str, rulebook: Rulebook, sure: bool) -> Branches:
    """One branch for each value that the other's deciding end can take: it is no further, and we are past that."""
    looks_low = op.looks_low is sure
    lows, highs = lookup_ends(other, rulebook)
    ends = highs if looks_low else lows
    tests = ((_end_test(reading, op, end, looks_low), _reach(other, op, end, sure)) for end in ends)
    return _limited(tuple(Branch(both) for both in tests))


def _reach(other: str, op: Op, end: int, sure: bool) -> SpanTest:
    """The other reading's deciding end lies no further than the given value."""
    if op.looks_low:
        return SpanTest(other, high_to=end) if sure else SpanTest(other, low_to=end)
    return SpanTest(other, low_from=end) if sure else SpanTest(other, high_from=end)


def _cant_tell(sign: str, rulebook: Rulebook, whole: bool) -> Branches:
    among = tuple(rulebook.signs[sign].choices)
    if not among:
        return branch_of(SpanTest(sign, whole=whole))
    if whole:
        return branch_of(ChoiceTest(sign, among, possible=frozenset(among)))
    return _any_of(branch_of(ChoiceTest(sign, among, impossible=frozenset({choice}))) for choice in among)


def _one_of(sign: str, choices: frozenset[str], rulebook: Rulebook, side: Side) -> Branches:
    among = tuple(rulebook.signs[sign].choices)
    wanted = frozenset(among) - choices if side.negative else choices
    if _is_sure(side):
        unwanted = frozenset(among) - wanted
        return branch_of(ChoiceTest(sign, among, impossible=unwanted)) if unwanted else (Branch(),)
    return _any_of(
        branch_of(ChoiceTest(sign, among, possible=frozenset({choice}))) for choice in among if choice in wanted
    )


def _concluded(finding: str, values: frozenset[str], rulebook: Rulebook, side: Side) -> Branches:
    among = tuple(rulebook.advice if finding == ADVICE else rulebook.findings[finding].values)
    wanted = frozenset(among) - values if side.negative else values
    if _is_sure(side):
        return _any_of(
            branch_of(FindingTest(finding, among, concluded=frozenset({value}))) for value in among if value in wanted
        )
    unwanted = frozenset(among) - wanted
    return branch_of(FindingTest(finding, among, not_concluded=unwanted)) if unwanted else (Branch(),)

"""Conditions over readings: true when they must hold, false when they cannot, otherwise open.

A condition has two sides that are asked for apart: `surely` (it holds for everything the readings
allow) and `surely_not` (it holds for nothing they allow). Neither is an open condition. Both sides
of a plain condition only ever turn from no to yes as readings narrow. `Could` is the one that
turns the other way.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import Enum
from types import MappingProxyType
from typing import NamedTuple

from assistant.model.readings import Choices, Reading, Span


class Op(str, Enum):
    """How a number is compared; the value is the word authors write."""

    AT_LEAST = "at_least"
    ABOVE = "above"
    AT_MOST = "at_most"
    BELOW = "below"

    @property
    def opposite(self) -> Op:
        """The comparison that holds exactly when this one does not."""
        return _OPPOSITE[self]

    def holds(self, value: float, bound: float) -> bool:
        """The comparison on two plain numbers."""
        if self is Op.AT_LEAST:
            return value >= bound
        if self is Op.ABOVE:
            return value > bound
        if self is Op.AT_MOST:
            return value <= bound
        return value < bound

    def holds_throughout(self, span: Span, bound: float) -> bool:
        """The comparison on everything in the span."""
        return self.holds(span.low if self.looks_low else span.high, bound)

    @property
    def looks_low(self) -> bool:
        """Whether the low end of a reading decides the comparison."""
        return self in (Op.AT_LEAST, Op.ABOVE)


_OPPOSITE = {Op.AT_LEAST: Op.BELOW, Op.BELOW: Op.AT_LEAST, Op.ABOVE: Op.AT_MOST, Op.AT_MOST: Op.ABOVE}


class Compare(NamedTuple):
    """A number, temperature, length or measure against a fixed bound on the program's scale."""

    reading: str
    op: Op
    bound: float


class CompareTo(NamedTuple):
    """A number against another reading, such as days in the ground at least the days needed."""

    reading: str
    op: Op
    other: str


@dataclass(frozen=True)
class OneOf:
    """A choice among the given ones."""

    reading: str
    choices: frozenset[str]


@dataclass(frozen=True)
class CantTell:
    """The sign's reading is its whole domain: not asked, or the grower can't tell. Never open."""

    sign: str


@dataclass(frozen=True)
class Concluded:
    """A finding (or, for cautions, the advice) has one of the given values; open until a rule concludes it."""

    finding: str
    values: frozenset[str]


@dataclass(frozen=True)
class _OfParts:
    parts: tuple[Condition, ...]


class All(_OfParts):
    """Every part holds; with no parts, always."""


class AnyOf(_OfParts):
    """At least one part holds."""


@dataclass(frozen=True)
class _OfOne:
    part: Condition


class Not(_OfOne):
    """The part does not hold."""


class Could(_OfOne):
    """The part may hold for all that is known: anything but surely not. Never open."""


Condition = Compare | CompareTo | OneOf | CantTell | Concluded | All | AnyOf | Not | Could

ALWAYS = All(())


class Knowledge(NamedTuple):
    """What conditions are held against: readings, their whole domains, and the findings concluded so far."""

    readings: Mapping[str, Reading]
    domains: Mapping[str, Reading]
    concluded: Mapping[str, frozenset[str]] = MappingProxyType({})


class Truth(str, Enum):
    """The state of a condition. DISPUTED: a finding it rests on was concluded two ways."""

    TRUE = "true"
    FALSE = "false"
    OPEN = "open"
    DISPUTED = "disputed"


def truth(condition: Condition, known: Knowledge) -> Truth:
    """The state of a condition, both sides together."""
    yes, no = surely(condition, known), surely_not(condition, known)
    if yes:
        return Truth.DISPUTED if no else Truth.TRUE
    return Truth.FALSE if no else Truth.OPEN


def surely(condition: Condition, known: Knowledge) -> bool:
    """Whether the condition holds for everything the readings allow."""
    match condition:
        case Compare(name, op, bound):
            return op.holds_throughout(_span(known, name), bound)
        case CompareTo(name, op, other):
            mine, theirs = _span(known, name), _span(known, other)
            return op.holds_throughout(mine, theirs.high if op.looks_low else theirs.low)
        case OneOf(name, choices):
            return _possible(known, name) <= choices
        case CantTell(name):
            return known.readings[name] == known.domains[name]
        case Concluded(finding, values):
            return bool(known.concluded.get(finding, frozenset()) & values)
        case All(parts):
            return all(surely(part, known) for part in parts)
        case AnyOf(parts):
            return any(surely(part, known) for part in parts)
        case Not(part):
            return surely_not(part, known)
        case Could(part):
            return not surely_not(part, known)


def surely_not(condition: Condition, known: Knowledge) -> bool:
    """Whether the condition holds for nothing the readings allow."""
    match condition:
        case Compare(name, op, bound):
            return surely(Compare(name, op.opposite, bound), known)
        case CompareTo(name, op, other):
            return surely(CompareTo(name, op.opposite, other), known)
        case OneOf(name, choices):
            return not _possible(known, name) & choices
        case CantTell():
            return not surely(condition, known)
        case Concluded(finding, values):
            return bool(known.concluded.get(finding, frozenset()) - values)
        case All(parts):
            return any(surely_not(part, known) for part in parts)
        case AnyOf(parts):
            return all(surely_not(part, known) for part in parts)
        case Not(part):
            return surely(part, known)
        case Could(part):
            return surely_not(part, known)


def leaves(condition: Condition) -> Iterator[Condition]:
    """The comparisons, choices and findings a condition is made of, in the order written."""
    if isinstance(condition, _OfParts):
        for part in condition.parts:
            yield from leaves(part)
    elif isinstance(condition, _OfOne):
        yield from leaves(condition.part)
    else:
        yield condition


def readings_in(condition: Condition) -> tuple[str, ...]:
    """The names of the signs and measures a condition looks at, each once, in the order written."""
    names: dict[str, None] = {}
    for leaf in leaves(condition):
        match leaf:
            case Compare(name) | OneOf(name) | CantTell(name):
                names[name] = None
            case CompareTo(name, _, other):
                names[name] = names[other] = None
    return tuple(names)


def findings_in(condition: Condition) -> tuple[str, ...]:
    """The names of the findings a condition rests on, each once, in the order written."""
    return tuple(dict.fromkeys(leaf.finding for leaf in leaves(condition) if isinstance(leaf, Concluded)))


def is_plain(condition: Condition) -> bool:
    """Whether the condition is free of *could* and *can't tell*, so that a sharper answer never un-fires it."""
    match condition:
        case All(parts) | AnyOf(parts):
            return all(is_plain(part) for part in parts)
        case Not(part):
            return is_plain(part)
        case Could() | CantTell():
            return False
        case _:
            return True


def _span(known: Knowledge, name: str) -> Span:
    reading = known.readings[name]
    assert isinstance(reading, Span), f"{name} is compared as a number"
    return reading


def _possible(known: Knowledge, name: str) -> frozenset[str]:
    reading = known.readings[name]
    assert isinstance(reading, Choices), f"{name} is compared as a choice"
    return reading.possible

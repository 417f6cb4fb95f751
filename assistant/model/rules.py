"""A rulebook as data: findings, advice, rules, cautions, disagreements and their sources."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from enum import Enum
from functools import cached_property
from typing import NamedTuple

from assistant.model.conditions import Concluded, Condition, findings_in, is_plain
from assistant.model.place import NOWHERE, Place
from assistant.model.signs import Measure, Sign, Table

ADVICE = "advice"
COMMON_PRACTICE = "common practice"


class Several(str, Enum):
    """What it means when rules give several pieces of advice; the value is what authors write."""

    FIRST_WINS = "the first listed wins"
    MUST_AGREE = "they must agree"


class How(str, Enum):
    """How a source's figure is known."""

    READ = "read"
    FROM_MEMORY = "from memory"
    RECKONED = "reckoned"


class Source(NamedTuple):
    """A published source; `grade` runs from A (refereed, government standard) to D (old bulletin)."""

    id: str
    title: str
    year: str
    how: How
    grade: str = ""
    where: str = ""
    place: Place = NOWHERE


class Finding(NamedTuple):
    """Something rules conclude on the way to the advice, with its possible values and their meaning."""

    name: str
    says: str
    values: Mapping[str, str]
    place: Place = NOWHERE


class Advice(NamedTuple):
    """One piece of advice: its headline, what it means, and what to do next, step by step.

    `urgency` ranks how pressing it is, the higher the more so; None when the author does not say.
    """

    name: str
    headline: str
    says: str
    steps: tuple[str, ...] = ()
    urgency: int | None = None
    place: Place = NOWHERE


class InDays(NamedTuple):
    """So many days after the visit."""

    days: int


class AfterNights(NamedTuple):
    """As many days after the visit as the reading says at the earliest, such as the nights until a frost."""

    reading: str


class OnGardenDate(NamedTuple):
    """A date of the garden's own, moved by some days; skipped when the garden does not give it."""

    garden_date: str
    days: int = 0


class WhenReached(NamedTuple):
    """The earliest day on which a count of days can reach another reading's low end; skipped when unknown."""

    reading: str
    other: str


DayChoice = InDays | AfterNights | OnGardenDate | WhenReached


class Rule(NamedTuple):
    """If the condition must hold, then the conclusion; with the days to act by or look again on.

    `act_by` and `look_again` list candidate days of which the soonest counts.
    `disputed` names the disagreements that matter when the rule fires. `because` is why a rulebook
    that builds on another has the rule otherwise than that one.
    """

    name: str
    says: str
    when: Condition
    concludes: str
    value: str
    act_by: tuple[DayChoice, ...] = ()
    look_again: tuple[DayChoice, ...] = ()
    sources: tuple[str, ...] = ()
    disputed: tuple[str, ...] = ()
    because: str = ""
    place: Place = NOWHERE


class Caution(NamedTuple):
    """A word of warning, shown with a verdict when its condition must hold; it may look at the advice."""

    name: str
    text: str
    when: Condition
    sources: tuple[str, ...] = ()
    disputed: tuple[str, ...] = ()
    place: Place = NOWHERE


class Side(NamedTuple):
    """One side of a disagreement and who takes it."""

    says: str
    sources: tuple[str, ...]


class Disagreement(NamedTuple):
    """Where handbooks differ: the sides, and the one this rulebook takes with its reason."""

    name: str
    about: str
    sides: tuple[Side, ...]
    taken: str
    place: Place = NOWHERE


class Direction(NamedTuple):
    """A promise of the author: as the sign goes this way, the advice never gets less urgent.

    `order` lists the choices of the sign from the least to the most pressing; for a number it is
    `("lower",)` or `("higher",)`, the way that presses.
    """

    name: str
    says: str
    sign: str
    order: tuple[str, ...]
    sources: tuple[str, ...] = ()
    place: Place = NOWHERE


class Silenced(NamedTuple):
    """A rule of the rulebook built on that does not hold here, and why."""

    name: str
    because: str
    sources: tuple[str, ...] = ()
    place: Place = NOWHERE


@dataclass(frozen=True, eq=False)
class Rulebook:
    """Everything the rules of one question are made of, read and checked.

    `advice` is in the order in which kinds win. `raw` holds the bytes of its files in order, those
    of the rulebook it builds on first.
    """

    name: str
    title: str
    version: str
    about: str
    signs: Mapping[str, Sign]
    measures: Mapping[str, Measure]
    tables: Mapping[str, Table]
    findings: Mapping[str, Finding]
    advice: Mapping[str, Advice]
    several: Several
    rules: tuple[Rule, ...]
    cautions: Mapping[str, Caution]
    disagreements: Mapping[str, Disagreement]
    sources: Mapping[str, Source]
    directions: Mapping[str, Direction] = field(default_factory=dict)
    builds_on: str = ""
    silenced: Mapping[str, Silenced] = field(default_factory=dict)
    raw: tuple[bytes, ...] = ()
    place: Place = NOWHERE

    @property
    def digest(self) -> str:
        """The SHA-256 over the bytes of its files, in hex: two rulebooks of one digest are the same."""
        from hashlib import sha256  # slow to import, and seldom asked for

        return sha256(b"".join(self.raw)).hexdigest()

    def rule(self, name: str) -> Rule:
        """The rule of that name. Raises `KeyError`."""
        for rule in self.rules:
            if rule.name == name:
                return rule
        raise KeyError(name)

    def rules_concluding(self, conclusion: str, value: str | None = None) -> Iterator[Rule]:
        """The rules that conclude a finding or the advice, or one value of it, in order."""
        for rule in self.rules:
            if rule.concludes == conclusion and value in (None, rule.value):
                yield rule

    def layers(self) -> tuple[tuple[Rule, ...], ...]:
        """The rules in layers, each resting only on findings that earlier layers conclude.

        Raises `ValueError` naming the findings when some rest on each other in a circle.
        """
        return self._layers

    @cached_property
    def _layers(self) -> tuple[tuple[Rule, ...], ...]:
        depth = _depths(self.rules)
        return tuple(
            tuple(rule for rule in self.rules if depth[rule.concludes] == level)
            for level in range(max(depth.values(), default=-1) + 1)
        )

    def is_plain(self, rule: Rule) -> bool:
        """Whether the rule, and every rule it rests on, is free of *could* and *can't tell*."""
        return is_plain(rule.when) and all(
            self.is_plain(earlier) for finding in findings_in(rule.when) for earlier in self.rules_concluding(finding)
        )


def _depths(rules: tuple[Rule, ...]) -> dict[str, int]:
    """How many layers lie below each conclusion."""
    needs: dict[str, set[str]] = {}
    for rule in rules:
        needs.setdefault(rule.concludes, set()).update(findings_in(rule.when))
    depth: dict[str, int] = {}
    while len(depth) < len(needs):
        ready = [
            name
            for name, below in needs.items()
            if name not in depth and all(finding in depth or finding not in needs for finding in below)
        ]
        if not ready:
            circle = ", ".join(sorted(set(needs) - set(depth)))
            raise ValueError(f"these findings rest on each other in a circle: {circle}")
        for name in ready:
            depth[name] = max((depth[finding] + 1 for finding in needs[name] if finding in depth), default=0)
    return depth


def advice_is(*values: str) -> Concluded:
    """The condition of a caution that goes with certain advice."""
    return Concluded(ADVICE, frozenset(values))

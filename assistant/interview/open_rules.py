"""Which questions can still matter, by following the rules that the unasked signs leave open.

Quick and never too few, but now and then one too many: for rulebooks whose remainder is too large to
hold. A side of a condition (see `assistant.model.conditions`) is settled when no unasked sign can
change it. Questions go by effort, the least first.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

from assistant.model.conditions import (
    All,
    AnyOf,
    Concluded,
    Condition,
    Could,
    Knowledge,
    Not,
    readings_in,
    surely,
    surely_not,
)
from assistant.model.readings import Known, Origin, Reading
from assistant.model.rules import ADVICE, Rule, Rulebook, Several


class Fate(NamedTuple):
    """What can still become of a side: settled as yes or no, or open and hanging on some unasked signs."""

    settled: bool | None
    signs: frozenset[str] = frozenset()


_YES, _NO = Fate(True), Fate(False)


def questions_left(rulebook: Rulebook, known: Mapping[str, Known], domains: Mapping[str, Reading]) -> tuple[str, ...]:
    """The unasked signs that an open rule needs and that could still change the advice, least effort first."""
    follower = _Follower(rulebook, known, domains)
    needed = set[str]().union(*advice_at_stake(rulebook, known, domains).values())
    needed = needed.union(
        *(_behind_a_clash(follower, finding.name, finding.values) for finding in rulebook.findings.values())
    )
    order = list(rulebook.signs)
    return tuple(sorted(needed, key=lambda name: (rulebook.signs[name].effort.cost, order.index(name))))


def advice_at_stake(
    rulebook: Rulebook, known: Mapping[str, Known], domains: Mapping[str, Reading]
) -> dict[str, frozenset[str]]:
    """For each piece of advice that is still open, the unasked signs it hangs on."""
    follower = _Follower(rulebook, known, domains)
    at_stake: dict[str, frozenset[str]] = {}
    for advice in rulebook.advice:
        fate = follower.conclusion(ADVICE, frozenset((advice,)))
        if fate.settled is None:
            at_stake[advice] = fate.signs
        if fate.settled and rulebook.several is Several.FIRST_WINS:
            break
    return at_stake


def _behind_a_clash(follower: _Follower, finding: str, values: Iterable[str]) -> frozenset[str]:
    """The unasked signs that decide whether a finding comes out in more than one way."""
    fates = [follower.conclusion(finding, frozenset((value,))) for value in values]
    possible = [fate for fate in fates if fate.settled is not False]
    return frozenset().union(*(fate.signs for fate in possible)) if len(possible) > 1 else frozenset()


@dataclass
class _Follower:
    """Follows conditions down to the unasked signs, remembering each rule's fate."""

    rulebook: Rulebook
    known: Mapping[str, Known]
    domains: Mapping[str, Reading]
    fates: dict[str, Fate] = field(default_factory=dict)

    def conclusion(self, finding: str, values: frozenset[str]) -> Fate:
        """Whether some rule concludes the finding as one of the values."""
        rules = [rule for rule in self.rulebook.rules_concluding(finding) if rule.value in values]
        return _any(self.rule(rule) for rule in rules)

    def rule(self, rule: Rule) -> Fate:
        """Whether the rule fires."""
        if rule.name not in self.fates:
            self.fates[rule.name] = self.surely(rule.when)
        return self.fates[rule.name]

    def surely(self, condition: Condition) -> Fate:
        """The fate of the side that says the condition must hold."""
        match condition:
            case All(parts):
                return _all(map(self.surely, parts))
            case AnyOf(parts):
                return _any(map(self.surely, parts))
            case Not(part):
                return self.surely_not(part)
            case Could(part):
                return _flip(self.surely_not(part))
            case Concluded(finding, values):
                return self.conclusion(finding, values)
            case _:
                return self._leaf(condition, surely)

    def surely_not(self, condition: Condition) -> Fate:
        """The fate of the side that says the condition cannot hold."""
        match condition:
            case All(parts):
                return _any(map(self.surely_not, parts))
            case AnyOf(parts):
                return _all(map(self.surely_not, parts))
            case Not(part):
                return self.surely(part)
            case Could(part):
                return self.surely_not(part)
            case Concluded(finding, values):
                others = frozenset(self.rulebook.findings[finding].values) - values
                return self.conclusion(finding, others)
            case _:
                return self._leaf(condition, surely_not)

    def _leaf(self, leaf: Condition, side: Callable[[Condition, Knowledge], bool]) -> Fate:
        names = {self._sign(name) for name in readings_in(leaf)} - {None}
        unasked = frozenset(n for n in names if n and self.known[n].origin is Origin.NOT_ASKED)
        if unasked:
            return Fate(None, unasked)
        readings = {name: self.known[name].reading for name in readings_in(leaf)}
        return _YES if side(leaf, Knowledge(readings, self.domains)) else _NO

    def _sign(self, name: str) -> str | None:
        return name if name in self.rulebook.signs else self.rulebook.measures[name].sign


def _all(parts: Iterable[Fate]) -> Fate:
    fates = list(parts)
    if any(fate.settled is False for fate in fates):
        return _NO
    if all(fate.settled for fate in fates):
        return _YES
    return Fate(None, frozenset().union(*(fate.signs for fate in fates)))


def _any(parts: Iterable[Fate]) -> Fate:
    return _flip(_all(_flip(fate) for fate in parts))


def _flip(fate: Fate) -> Fate:
    return fate if fate.settled is None else (_NO if fate.settled else _YES)

"""The meaning of a rulebook as formulas for a general solver, written from the meaning of conditions alone.

A range is two whole numbers, its ends in hundredths (whole days for dates); a set of choices is a truth for each
choice; *can't tell* is the whole domain. No code that compiles rules for the engine or for the remainder is used.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import combinations
from operator import ge, gt, le, lt
from typing import Any

import z3

from assistant.interview.remainder import Ending
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
from assistant.model.quantities import Kind
from assistant.model.readings import Choices, Reading, Span
from assistant.model.rules import ADVICE, Rulebook, Several
from assistant.model.signs import DaysSince, Lookup, Measure

Formula = Any  # the solver's library has no types
_COMPARED = {Op.AT_LEAST: ge, Op.ABOVE: gt, Op.AT_MOST: le, Op.BELOW: lt}


class Formulas:
    """Every garden there can be, and what the rules make of it; `today` is the ordinal day of the visit.

    `domains` are those of the signs; `fixed` holds the measures that no sign decides.
    """

    def __init__(
        self, rulebook: Rulebook, domains: Mapping[str, Reading], fixed: Mapping[str, Span], today: int
    ) -> None:
        self.rulebook = rulebook
        self.today = today
        self.solver = z3.Solver()
        self.ends: dict[str, tuple[Formula, Formula]] = {}
        self.possible: dict[str, dict[str, Formula]] = {}
        self.unknown: dict[str, Formula] = {}
        for name in rulebook.signs:
            self._sign(name, domains[name])
        for measure in rulebook.measures.values():
            self._measure(measure, fixed)
        self.fires = {rule.name: z3.Bool(f"{rule.name} fires") for rule in rulebook.rules}
        self.concluded = {
            (name, value): z3.Bool(f"{name} is {value}")
            for name in (*rulebook.findings, ADVICE)
            for value in self._values(name)
        }
        self._rules()

    def _rules(self) -> None:
        """Each rule fires exactly when its condition must hold; a value is concluded when some rule for it fires."""
        for rule in self.rulebook.rules:
            self.solver.add(self.fires[rule.name] == self._holds(rule.when))
        for (name, value), concluded in self.concluded.items():
            rules = self.rulebook.rules_concluding(name, value)
            self.solver.add(concluded == z3.Or(*(self.fires[rule.name] for rule in rules)))

    def _sign(self, name: str, domain: Reading) -> None:
        if isinstance(domain, Choices):
            self.possible[name] = {choice: z3.Bool(f"{name} {choice}") for choice in domain.possible}
            self.unknown[name] = z3.And(*self.possible[name].values())
            self.solver.add(z3.Or(*self.possible[name].values()))
            return
        low, high = self.ends[name] = (z3.Int(f"{name} from"), z3.Int(f"{name} to"))
        least, most = (round(end * self._steps(name)) for end in (domain.low, domain.high))
        self.unknown[name] = z3.And(low == least, high == most)
        self.solver.add(least <= low, low <= high, high <= most)

    def _steps(self, name: str) -> int:
        return 1 if self.rulebook.signs[name].kind is Kind.DATE else 100

    def _measure(self, measure: Measure, fixed: Mapping[str, Span]) -> None:
        low, high = self.ends[measure.name] = (z3.Int(f"{measure.name} from"), z3.Int(f"{measure.name} to"))
        match measure.how:
            case DaysSince(sign):
                first, last = self.ends[sign]
                self.solver.add(low == 100 * (self.today - last), high == 100 * (self.today - first))
            case Lookup(sign, table, column):
                rows = self.rulebook.tables[table].column(column)
                self._covers(low, high, [(there, rows[choice]) for choice, there in self.possible[sign].items()])
            case _:
                self.solver.add(low == _hundredths(fixed[measure.name].low))
                self.solver.add(high == _hundredths(fixed[measure.name].high))

    def _covers(self, low: Formula, high: Formula, spans: list[tuple[Formula, Span]]) -> None:
        """The range from low to high reaches over every span that is there, and ends where one of them does."""
        lows = [(there, _hundredths(span.low)) for there, span in spans]
        highs = [(there, _hundredths(span.high)) for there, span in spans]
        self.solver.add(*(z3.Implies(there, low <= end) for there, end in lows))
        self.solver.add(*(z3.Implies(there, high >= end) for there, end in highs))
        self.solver.add(z3.Or(*(z3.And(there, low == end) for there, end in lows)))
        self.solver.add(z3.Or(*(z3.And(there, high == end) for there, end in highs)))

    def _holds(self, condition: Condition, so: bool = True) -> Formula:
        """That the condition is so (or is not so) for everything the readings allow.

        A comparison that comes out the same at both ends of a range does so between them.
        """
        match condition:
            case Compare(name, op, bound):
                return _each(op, self.ends[name], (_hundredths(bound),), so)
            case CompareTo(name, op, other):
                return _each(op, self.ends[name], self.ends[other], so)
            case OneOf(name, choices):
                return z3.Not(z3.Or(*(there for c, there in self.possible[name].items() if (c in choices) != so)))
            case CantTell(sign):
                return self.unknown[sign] == so
            case Concluded(finding, values):
                return z3.Or(*(self.concluded[finding, v] for v in self._values(finding) if (v in values) == so))
            case All(parts):
                return (z3.And if so else z3.Or)(*(self._holds(part, so) for part in parts))
            case AnyOf(parts):
                return (z3.Or if so else z3.And)(*(self._holds(part, so) for part in parts))
            case Not(part):
                return self._holds(part, not so)
            case Could(part):
                never = self._holds(part, so=False)
                return z3.Not(never) if so else never

    def _values(self, name: str) -> Iterable[str]:
        return self.rulebook.advice if name == ADVICE else self.rulebook.findings[name].values

    def both(self, name: str, one: str, other: str) -> Formula:
        """That two values of a finding, or two pieces of advice, are both concluded."""
        return z3.And(self.concluded[name, one], self.concluded[name, other])

    def clash(self, name: str) -> Formula:
        """That a finding, or the advice, is concluded in two ways."""
        return z3.Or(*(self.both(name, *pair) for pair in combinations(self._values(name), 2)))

    def endings(self) -> Iterator[tuple[Ending, Formula]]:
        """Every ending one could think of, and that a garden comes to it."""
        agree = self.rulebook.several is Several.MUST_AGREE
        disputed = z3.Or(*(self.clash(finding) for finding in self.rulebook.findings))
        torn = self.clash(ADVICE) if agree else z3.BoolVal(False)
        earlier: list[Formula] = []
        for advice in (*self.rulebook.advice, None):
            wins = z3.Not(z3.Or(*earlier))
            if advice is not None:
                earlier.append(self.concluded[ADVICE, advice])
                wins = z3.And(wins, earlier[-1])
            yield Ending(advice), z3.And(wins, z3.Not(torn), z3.Not(disputed))
            left_open = z3.And(wins, z3.Not(torn), disputed)
            yield Ending(advice, conflict=True), left_open if advice else z3.Or(left_open, torn)

    def exact(self) -> Formula:
        """That every sign is answered with one value or one choice."""
        spans = [low == high for name, (low, high) in self.ends.items() if name in self.rulebook.signs]
        return z3.And(*spans, *(z3.AtMost(*its.values(), 1) for its in self.possible.values()))

    def can_be(self, *wanted: Formula) -> bool:
        """Whether the formulas are so in some garden."""
        return bool(self.solver.check(*wanted) == z3.sat)

    def garden(self, wanted: Formula) -> dict[str, Reading] | None:
        """The readings of a garden in which the formula is so; None when there is none."""
        if not self.can_be(wanted):
            return None
        model = self.solver.model()
        return {name: self._reading(model, name) for name in self.rulebook.signs}

    def _reading(self, model: Formula, name: str) -> Reading:
        if name in self.possible:
            there = {c for c, there in self.possible[name].items() if model.eval(there, model_completion=True)}
            return Choices(frozenset(there))
        ends = (model.eval(end, model_completion=True).as_long() for end in self.ends[name])
        return Span(*(end / self._steps(name) for end in ends))


def _hundredths(value: float) -> int:
    return round(value * 100)


def _each(op: Op, mine: Iterable[Formula], theirs: Iterable[Formula | int], so: bool) -> Formula:
    return z3.And(*(_COMPARED[op](one, other) == so for one in mine for other in theirs))

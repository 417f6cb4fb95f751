"""What a general solver says can happen in some garden, and what the remainder says: the same, rule by rule.

The solver is Z3 (de Moura and Bjørner 2008); formulas.py tells it what the rules mean. Where the solver finds a
garden, the rules are tried on it too, so that the formulas are held to the evaluator as well.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from itertools import combinations
from random import Random

import pytest
from outside.formulas import Formulas
from random_rulebooks import ON, Maker

from assistant.inference import evaluate
from assistant.interview.diagrams import Diagram, Leaf, leaves_below
from assistant.interview.remainder import Ending, all_open, ending_of, whole_remainder
from assistant.measures import domains, known_readings
from assistant.model.case import Case, FrostDates, Garden, MonthDay
from assistant.model.readings import Known, Origin, Reading, Span
from assistant.model.rules import ADVICE, Rulebook
from assistant.rulebook import read_rulebook, shipped_rulebooks

Pair = tuple[str, str, str]


class Both:
    """One rulebook as formulas and as the remainder with nothing asked."""

    def __init__(self, rulebook: Rulebook, garden: Garden) -> None:
        self.rulebook, self.place = rulebook, garden
        self.whole = domains(rulebook, ON)
        known = self.known({})
        fixed = {name: item.reading for name, item in known.items() if isinstance(item.reading, Span)}
        self.formulas = Formulas(rulebook, self.whole, fixed, ON.toordinal())
        self.rest = whole_remainder(rulebook, all_open(rulebook, known), self.whole)

    def known(self, signs: dict[str, Reading]) -> dict[str, Known]:
        answers = {name: Known(reading, Origin.ANSWERED) for name, reading in signs.items()}
        return known_readings(self.rulebook, Case("", self.rulebook.name, ON, garden=self.place, answers=answers))

    def evaluated(self, signs: dict[str, Reading]) -> Ending:
        readings = {name: item.reading for name, item in self.known(signs).items()}
        found = evaluate(self.rulebook, readings, self.whole)
        return Ending(found.advice, bool(found.conflicts))

    def concluded(self, name: str, value: str) -> Diagram:
        return self.rest.concluded.get((name, value), self.rest.diagrams.leaf(False))

    def rules(self) -> tuple[set[str], set[str]]:
        """The rules that fire in some garden, by the solver and by the remainder."""
        fires = {name for name, formula in self.formulas.fires.items() if self.formulas.can_be(formula)}
        return fires, {name for name, diagram in self.rest.fired.items() if can_be(diagram)}

    def pairs(self) -> tuple[set[Pair], set[Pair]]:
        """The values of a finding, or pieces of advice, that come together in some garden, by each."""
        values = {name: list(finding.values) for name, finding in self.rulebook.findings.items()}
        values[ADVICE] = list(self.rulebook.advice)
        all_pairs = [(name, *pair) for name, its in values.items() for pair in combinations(its, 2)]
        return (
            {pair for pair in all_pairs if self.formulas.can_be(self.formulas.both(*pair))},
            {
                (name, one, other)
                for name, one, other in all_pairs
                if can_be(self.rest.diagrams.all_of((self.concluded(name, one), self.concluded(name, other))))
            },
        )

    def endings(self) -> tuple[set[Ending], set[Ending]]:
        """The endings of some garden, no advice among them, by each; the solver's gardens are tried out."""
        found = {ending: self.formulas.garden(formula) for ending, formula in self.formulas.endings()}
        for ending, signs in found.items():
            assert signs is None or self.evaluated(signs) == self.rest.decide(signs) == ending
        there = {ending for ending, signs in found.items() if signs is not None}
        return there, {ending_of(leaf) for leaf in leaves_below(self.rest.root)}

    def exact_endings(self) -> tuple[set[Ending], set[Ending]]:
        """The endings of some garden in which every question is answered exactly, by each."""
        exact = self.formulas.exact()
        by_the_solver = {e for e, formula in self.formulas.endings() if self.formulas.can_be(formula, exact)}
        return by_the_solver, {ending_of(leaf) for leaf in self._exact_leaves(self.rest.root, set())}

    def exact_rules(self) -> tuple[set[str], set[str]]:
        """The rules that fire in some garden in which every question is answered exactly, by each."""
        exact = self.formulas.exact()
        fires = {name for name, formula in self.formulas.fires.items() if self.formulas.can_be(formula, exact)}
        fired = self.rest.fired.items()
        return fires, {
            name for name, diagram in fired if any(leaf.value for leaf in self._exact_leaves(diagram, set()))
        }

    def _exact_leaves(self, diagram: Diagram, seen: set[int]) -> Iterator[Leaf]:
        if isinstance(diagram, Leaf):
            yield diagram
        elif id(diagram) not in seen:
            seen.add(id(diagram))
            options = self.rest.options[self.rest.questions[diagram.question]].all
            for option, child in zip(options, diagram.children, strict=True):
                if option.exact:
                    yield from self._exact_leaves(child, seen)


def can_be(diagram: Diagram) -> bool:
    return any(leaf.value for leaf in leaves_below(diagram))


@pytest.mark.parametrize("seed", range(200))
def test_on_random_rulebooks_the_solver_finds_what_the_remainder_finds(seed: int) -> None:
    both = Both(Maker(Random(seed)).rulebook(rules=6 + seed % 9), Garden())
    for look in (both.rules, both.exact_rules, both.pairs, both.endings, both.exact_endings):
        by_the_solver, by_the_remainder = look()
        assert by_the_solver == by_the_remainder


FROST = FrostDates(MonthDay(10, 8), MonthDay(10, 20), MonthDay(11, 2))
SHIPPED = pytest.mark.parametrize("name", shipped_rulebooks())
DATES = pytest.mark.parametrize("dates", [True, False], ids=["frost dates known", "frost dates unknown"])


@cache
def shipped(name: str, dates: bool) -> Both:
    return Both(read_rulebook(name), Garden({"first_frost": FROST} if dates else {}))


@SHIPPED
@DATES
def test_the_solver_finds_the_shipped_rules_that_can_fire(name: str, dates: bool) -> None:
    both = shipped(name, dates)
    for by_the_solver, by_the_remainder in (both.rules(), both.exact_rules()):
        assert by_the_solver == by_the_remainder


@SHIPPED
@DATES
def test_the_solver_finds_the_advice_and_findings_that_come_together(name: str, dates: bool) -> None:
    by_the_solver, by_the_remainder = shipped(name, dates).pairs()
    assert by_the_solver == by_the_remainder


@SHIPPED
@DATES
def test_the_solver_finds_a_garden_for_every_ending_and_for_no_other(name: str, dates: bool) -> None:
    both = shipped(name, dates)
    for by_the_solver, by_the_remainder in (both.endings(), both.exact_endings()):
        assert by_the_solver == by_the_remainder

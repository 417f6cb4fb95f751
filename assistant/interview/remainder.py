"""What remains of a rulebook once the known readings are put in: a decision diagram over the unasked signs.

Each unasked sign is a question whose options are all the readings that the rules tell apart, vague
ones and can't tell included. Two gardens that come to the same advice whatever else is answered are
at the same node, so a question is in the diagram exactly when its answer can still change the advice.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from typing import NamedTuple

from assistant.inference.branches import Branch, FindingTest, Test
from assistant.inference.evaluator import knowledge
from assistant.inference.sides import branches_of_rules
from assistant.interview.diagrams import MOST_NODES, Diagram, Diagrams, Leaf, TooLarge, questions_in
from assistant.interview.options import Options, TooManyChoices
from assistant.interview.order import question_order
from assistant.model.readings import Known, Origin, Reading
from assistant.model.rules import ADVICE, Rule, Rulebook, Several

MOST_NODES_AT_A_QUESTION = 10_000
"""Nodes made before giving up when answers are put in, which is tried anew after every one: a third of a second."""


class Ending(NamedTuple):
    """What a way of answering comes to. With `conflict`, rules disagree over a finding or the advice."""

    advice: str | None
    conflict: bool = False


def ending_of(diagram: Diagram) -> Ending:
    """The ending of a diagram with no question left."""
    assert isinstance(diagram, Leaf)
    assert isinstance(diagram.value, Ending)
    return diagram.value


class Remainder(NamedTuple):
    """The questions in their order, the options of each, and the diagram over them whose leaves are endings.

    `fired` tells where each rule fires, `concluded` where each value of a finding or of the advice is
    concluded: diagrams whose leaves are true and false, with nothing answered.
    """

    questions: tuple[str, ...]
    options: Mapping[str, Options]
    diagrams: Diagrams
    root: Diagram
    fired: Mapping[str, Diagram]
    concluded: Mapping[tuple[str, str], Diagram]

    @property
    def open(self) -> frozenset[str]:
        """The questions whose answer can still change the advice."""
        return frozenset(self.questions[number] for number in questions_in(self.root))

    def after(self, diagram: Diagram, answers: Mapping[str, int]) -> Diagram:
        """What remains of a diagram once some questions have been answered, each with one of its options."""
        numbered = {self.questions.index(question): option for question, option in answers.items()}
        return self.diagrams.restrict(diagram, numbered)

    def option_for(self, question: str, reading: Reading) -> int:
        """The option a reading belongs to: the one that every test on the sign takes the same way."""
        return self.options[question].index_of(reading)

    def decide(self, readings: Mapping[str, Reading]) -> Ending:
        """What the readings of all questions come to."""
        diagram = self.root
        while not isinstance(diagram, Leaf):
            name = self.questions[diagram.question]
            diagram = diagram.children[self.options[name].index_of(readings[name])]
        return ending_of(diagram)


def whole_remainder(rulebook: Rulebook, known: Mapping[str, Known], domains: Mapping[str, Reading]) -> Remainder:
    """The rulebook with nothing put in that a visit asks; what the weather or the garden tells stays as known.

    A told sign that stands as not asked is left open too. The last few are kept, since a visit asks for
    the same one again and again. Raises `TooLarge`, `TooManyChoices`.
    """
    reckoned = [name for name, measure in rulebook.measures.items() if measure.sign is None]
    told = [name for name, sign in rulebook.signs.items() if sign.told and known[name].origin is not Origin.NOT_ASKED]
    fixed = tuple((name, known[name]) for name in (*reckoned, *told))
    whole = _kept(rulebook, fixed, tuple(domains.items()))
    if isinstance(whole, ValueError):
        raise whole
    return whole


def all_open(rulebook: Rulebook, known: Mapping[str, Known]) -> dict[str, Known]:
    """The same with what the weather tells as open as what is asked, for it too may turn out otherwise."""
    told = {name: known[name]._replace(origin=Origin.NOT_ASKED) for name, sign in rulebook.signs.items() if sign.told}
    return {**known, **told}


@lru_cache(maxsize=8)
def _kept(
    rulebook: Rulebook, fixed: tuple[tuple[str, Known], ...], domains: tuple[tuple[str, Reading], ...]
) -> Remainder | TooLarge | TooManyChoices:
    """The whole remainder, or why there is none, so that it is not tried again at every question."""
    try:
        return _Builder(rulebook, dict(fixed), dict(domains), MOST_NODES).build()
    except (TooLarge, TooManyChoices) as reason:
        return reason


def remainder(rulebook: Rulebook, known: Mapping[str, Known], domains: Mapping[str, Reading]) -> Remainder:
    """The rulebook with the known readings put in, simplified, from the whole one that is kept for the next question.

    Raises `TooLarge`, `TooManyChoices`.
    """
    whole = whole_remainder(rulebook, known, domains)
    answered = [name for name in whole.questions if known[name].origin is not Origin.NOT_ASKED]
    options = {name: whole.option_for(name, known[name].reading) for name in answered}
    try:
        return whole._replace(root=whole.after(whole.root, options))
    except TooLarge:  # many visits have filled what is kept
        _kept.cache_clear()
        whole = whole_remainder(rulebook, known, domains)
        return whole._replace(root=whole.after(whole.root, options))


def remainder_of_unasked(rulebook: Rulebook, known: Mapping[str, Known], domains: Mapping[str, Reading]) -> Remainder:
    """The same built from what is unasked alone, which is small unless the rulebook is large."""
    open_signs = unasked(known)
    fixed = {name: its for name, its in known.items() if _sign(rulebook, name) not in open_signs}
    return _Builder(rulebook, fixed, domains, MOST_NODES_AT_A_QUESTION).build()


def unasked(known: Mapping[str, Known]) -> frozenset[str]:
    """The names of what has not been asked yet."""
    return frozenset(name for name, its in known.items() if its.origin is Origin.NOT_ASKED)


def _sign(rulebook: Rulebook, reading: str) -> str | None:
    """The sign that a reading is, or is reckoned from."""
    return reading if reading in rulebook.signs else rulebook.measures[reading].sign


class _Builder:
    def __init__(
        self, rulebook: Rulebook, fixed: Mapping[str, Known], domains: Mapping[str, Reading], most_nodes: int
    ) -> None:
        self.rulebook = rulebook
        self.fixed = knowledge({name: known.reading for name, known in fixed.items()}, domains)
        self.branches = branches_of_rules(rulebook)
        self.questions = tuple(name for name in question_order(rulebook) if name not in fixed)
        tests = self._tests_by_sign()
        self.options = {
            name: Options(rulebook, rulebook.signs[name], tuple(tests.get(name, ())), domains)
            for name in self.questions
        }
        self.diagrams = Diagrams(tuple(len(self.options[name].all) for name in self.questions), most_nodes)
        self.position = {name: number for number, name in enumerate(self.questions)}
        self.passing: dict[Test, frozenset[int]] = {}
        self.fired: dict[str, Diagram] = {}
        self.concluded: dict[tuple[str, str], Diagram] = {}

    def _tests_by_sign(self) -> dict[str, list[Test]]:
        found: dict[str, dict[Test, None]] = {}
        for test in (test for branches in self.branches.values() for branch in branches for test in branch.tests):
            sign = None if isinstance(test, FindingTest) else _sign(self.rulebook, test.reading)
            if sign is not None:
                found.setdefault(sign, {})[test] = None
        return {sign: list(tests) for sign, tests in found.items()}

    def build(self) -> Remainder:
        for layer in self.rulebook.layers():
            for rule in layer:
                self.fired[rule.name] = self._rule(rule)
            for rule in layer:
                key = (rule.concludes, rule.value)
                self.concluded[key] = self.diagrams.any_of((self._concluded(*key), self.fired[rule.name]))
        return Remainder(self.questions, self.options, self.diagrams, self._ending(), self.fired, self.concluded)

    def _rule(self, rule: Rule) -> Diagram:
        return self.diagrams.any_of(map(self._branch, self.branches[rule.name]))

    def _branch(self, branch: Branch) -> Diagram:
        passing: dict[int, frozenset[int]] = {}
        for test in branch.tests:
            if isinstance(test, FindingTest):
                continue
            question = self.position.get(_sign(self.rulebook, test.reading) or "")
            if question is not None:
                passes = self._passing(test, self.questions[question])
                passing[question] = passing.get(question, passes) & passes
            elif not test.holds(self.fixed):
                return self.diagrams.leaf(False)
        return self.diagrams.all_of((self.diagrams.each_among(passing), *self._findings(branch)))

    def _passing(self, test: Test, sign: str) -> frozenset[int]:
        if test not in self.passing:
            self.passing[test] = self.options[sign].passing(test)
        return self.passing[test]

    def _findings(self, branch: Branch) -> Iterator[Diagram]:
        for test in branch.findings:
            yield from (self._concluded(test.finding, value) for value in sorted(test.concluded))
            for value in sorted(test.not_concluded):
                yield self.diagrams.negated(self._concluded(test.finding, value))

    def _ending(self) -> Diagram:
        clash = self.diagrams.any_of(
            self._clash(name, finding.values) for name, finding in self.rulebook.findings.items()
        )
        root = self._winner(conflict=False)
        if clash is not self.diagrams.leaf(False):
            root = self.diagrams.choose(clash, self._winner(conflict=True), root)
        if self.rulebook.several is Several.MUST_AGREE:
            no_winner = self.diagrams.leaf(Ending(None, conflict=True))
            root = self.diagrams.choose(self._clash(ADVICE, self.rulebook.advice), no_winner, root)
        return root

    def _winner(self, conflict: bool) -> Diagram:
        """The first advice that is given, in the order in which they win."""
        root: Diagram = self.diagrams.leaf(Ending(None, conflict))
        for advice in reversed(tuple(self.rulebook.advice)):
            given = self._concluded(ADVICE, advice)
            root = self.diagrams.choose(given, self.diagrams.leaf(Ending(advice, conflict)), root)
        return root

    def _clash(self, name: str, values: Iterable[str]) -> Diagram:
        """Where a finding, or the advice, is concluded in more than one way."""
        seen: Diagram = self.diagrams.leaf(False)
        clash: Diagram = seen
        for value in values:
            given = self._concluded(name, value)
            clash = self.diagrams.any_of((clash, self.diagrams.all_of((seen, given))))
            seen = self.diagrams.any_of((seen, given))
        return clash

    def _concluded(self, name: str, value: str) -> Diagram:
        return self.concluded.get((name, value), self.diagrams.leaf(False))

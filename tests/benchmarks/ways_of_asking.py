"""The ways of asking that are compared by effort: the true optimum, the chooser, and the simple ones.

Efforts are in looks across the bed.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import inf
from random import Random
from statistics import mean
from typing import NamedTuple

from assistant.interview.choosing import Chooser, Merged, likelihoods
from assistant.interview.diagrams import Diagram, Leaf, Node, questions_in
from assistant.interview.remainder import Remainder
from assistant.model.signs import Sign

MOST_REMAINDERS = 20_000
WALKS = 200
Policy = Callable[[Diagram], int]


class Start(NamedTuple):
    """Where an interview starts: what remains of a rulebook, and the signs that nobody has asked yet."""

    rest: Remainder
    signs: Mapping[str, Sign]
    unasked: frozenset[str]


class TooMany(Exception):
    """More remainders than can be gone through."""


class Optimum:
    """The least expected effort of all ways of asking."""

    def __init__(self, rest: Remainder, signs: Mapping[str, Sign]) -> None:
        self.merged = Merged(rest, signs)
        self.root = self.merged.of(rest.root)
        self.costs = [signs[name].effort.cost for name in rest.questions]
        self.every: dict[Diagram, float] = {}
        self.exact: dict[Diagram, float] = {}
        self.at_least: dict[Diagram, float] = {}
        self.probability: dict[tuple[Diagram, int], float] = {}
        self.differing: dict[frozenset[Diagram], float] = {}

    def by_trying_all(self, diagram: Diagram) -> float:
        """Every question at every step. Raises `TooMany`."""
        if isinstance(diagram, Leaf):
            return 0.0
        if diagram not in self.every:
            ways = [self._cost(diagram, question, self.by_trying_all) for question in questions_in(diagram)]
            self.every[diagram] = min(ways)
            if len(self.every) > MOST_REMAINDERS:
                raise TooMany
        return self.every[diagram]

    def _cost(self, diagram: Node, question: int, of: Callable[[Diagram], float]) -> float:
        after = self.merged.after(diagram, question)
        return self.costs[question] + sum(share * of(left) for left, share in after.items())

    def by_bounds(self, diagram: Diagram, limit: float = inf) -> float:
        """The same; a value from the limit on only says that it is no less."""
        if isinstance(diagram, Leaf):
            return 0.0
        known = self.exact.get(diagram, max(self.at_least.get(diagram, 0.0), self.bound(diagram)))
        if diagram in self.exact or known >= limit:
            return known
        best = limit
        for total, question in self._first(diagram):
            for left, share in self.merged.after(diagram, question).items():
                if total >= best:
                    break
                bound = self.bound(left)
                total += share * (self.by_bounds(left, bound + (best - total) / share) - bound)
            best = min(best, total)
        (self.exact if best < limit else self.at_least)[diagram] = best
        return best

    def _first(self, diagram: Node) -> list[tuple[float, int]]:
        """The questions that can come first with what that costs at least; one that is always needed may be it."""
        questions = questions_in(diagram)
        certain = [question for question in questions if self.needed(diagram, question) > 1 - 1e-9]
        return sorted((self._cost(diagram, question, self.bound), question) for question in certain[:1] or questions)

    def bound(self, diagram: Diagram) -> float:
        """The effort of the questions that cannot be left out."""
        return sum(self.costs[question] * self.needed(diagram, question) for question in questions_in(diagram))

    def needed(self, diagram: Diagram, question: int) -> float:
        """The probability that the answer to a question alone, all others as they are, changes the ending."""
        if isinstance(diagram, Leaf) or diagram.question > question:
            return 0.0
        if diagram.question == question:
            return self._differ(frozenset(diagram.children))
        if (diagram, question) not in self.probability:
            shares = zip(self.merged.likely[diagram.question], diagram.children, strict=True)
            self.probability[diagram, question] = sum(share * self.needed(child, question) for share, child in shares)
        return self.probability[diagram, question]

    def _differ(self, diagrams: frozenset[Diagram]) -> float:
        if len(diagrams) == 1 or all(isinstance(diagram, Leaf) for diagram in diagrams):
            return float(len(diagrams) > 1)
        if diagrams not in self.differing:
            question = min(diagram.question for diagram in diagrams)
            self.differing[diagrams] = sum(
                share * self._differ(frozenset(self.merged.diagrams.restrict(d, {question: option}) for d in diagrams))
                for option, share in enumerate(self.merged.likely[question])
            )
        return self.differing[diagrams]


class Interviews:
    """The interviews of one rulebook, by the way of picking questions."""

    def __init__(self, start: Start) -> None:
        self.rest, self.signs, self.unasked = rest, signs, _ = start
        self.costs = [signs[name].effort.cost for name in rest.questions]
        self.likely = [likelihoods(signs[name], rest.options[name]) for name in rest.questions]
        places = {name: place for place, name in enumerate(signs)}
        self.places = [places[name] for name in rest.questions]
        self.known: dict[tuple[Diagram, int], dict[Diagram, float]] = {}

    def after(self, diagram: Diagram, question: int) -> dict[Diagram, float]:
        """What can remain after a question, and how likely each is."""
        if (diagram, question) not in self.known:
            found = self.known[diagram, question] = {}
            for option, share in enumerate(self.likely[question]):
                left = self.rest.diagrams.restrict(diagram, {question: option})
                found[left] = found.get(left, 0.0) + share
        return self.known[diagram, question]

    def effort(self, policy: Policy) -> float:
        """What is to be expected when the policy picks every question until the advice is settled."""
        found: dict[Diagram, float] = {}

        def expected(diagram: Diagram) -> float:
            if isinstance(diagram, Leaf):
                return 0.0
            if diagram not in found:
                question = policy(diagram)
                after = self.after(diagram, question)
                found[diagram] = self.costs[question] + sum(share * expected(left) for left, share in after.items())
            return found[diagram]

        return expected(self.rest.root)

    def chooser(self) -> float:
        """Led by the chooser."""
        chooser = Chooser(self.rest, self.signs)
        return self.effort(lambda diagram: chooser.order(diagram)[0])

    def cheapest(self) -> float:
        """The least effort first, of those that matter."""
        return self.effort(lambda diagram: min(questions_in(diagram), key=lambda q: (self.costs[q], self.places[q])))

    def in_order(self) -> float:
        """In the rulebook's order, of those that matter."""
        return self.effort(lambda diagram: min(questions_in(diagram), key=self.places.__getitem__))

    def in_order_skipping_none(self) -> float:
        """In the rulebook's order, those that cannot matter too, until the advice is settled."""
        unasked = [question for question, name in enumerate(self.rest.questions) if name in self.unasked]
        order = sorted(unasked, key=self.places.__getitem__)
        found: dict[tuple[Diagram, int], float] = {}

        def expected(diagram: Diagram, place: int) -> float:
            if isinstance(diagram, Leaf):
                return 0.0
            if (diagram, place) not in found:
                after = self.after(diagram, order[place])
                below = sum(share * expected(left, place + 1) for left, share in after.items())
                found[diagram, place] = self.costs[order[place]] + below
            return found[diagram, place]

        return expected(self.rest.root, 0)

    def at_random(self) -> float:
        """Any of those that matter: the mean of some hundred interviews."""
        random = Random(1)
        return mean(self._walk(random) for _ in range(WALKS))

    def _walk(self, random: Random) -> float:
        diagram, effort = self.rest.root, 0
        while isinstance(diagram, Node):
            question = random.choice(sorted(questions_in(diagram)))
            effort += self.costs[question]
            (diagram,) = random.choices(*zip(*self.after(diagram, question).items(), strict=True))
        return effort

    def everything(self) -> float:
        """Every sign that nobody has asked."""
        return sum(self.signs[name].effort.cost for name in self.unasked)


WAYS = (
    Interviews.chooser,
    Interviews.cheapest,
    Interviews.in_order,
    Interviews.at_random,
    Interviews.in_order_skipping_none,
    Interviews.everything,
)

"""Which question to ask next: the one whose effort is least likely to be wasted.

A question is needed in a garden when its answer alone, all other answers as they are, would change
the advice. No honest interview leaves it out there, so its effort is spent whatever comes first. All
that an order can save is waste: the effort of questions that turn out not to have been needed. A
question asked first wastes its cost times the probability that it is not needed, and the best
interview is the one that wastes least from first to last. That is searched some questions ahead.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache
from math import inf

from assistant.interview.diagrams import Diagram, Diagrams, Leaf, Node, TooLarge, nodes_below
from assistant.interview.options import Options
from assistant.interview.remainder import Remainder
from assistant.model.quantities import Kind
from assistant.model.readings import Reading, Span, exactly, one_of
from assistant.model.signs import Sign

CANT_TELL_SHARE = 0.10
"""How often a grower can't tell (our own judgement, no source)."""
VAGUE_SHARE = 0.10
"""How often an answer is vague but says something (our own judgement, no source)."""
MOST_LOOKED_AT = 1_000
"""Nodes, and sets of nodes, that are looked at for one choice before settling for the best found."""
_VALUES_IN_A_SPAN = 13
_A_LITTLE = 1e-6
"""Efforts closer than this are the same."""


@lru_cache(maxsize=512)
def likelihoods(sign: Sign, options: Options) -> tuple[float, ...]:
    """How likely each option of a sign is; they add up to one.

    Exact answers are as usual as the author says, else each that the rules tell apart counts alike:
    thresholds stand close where it matters, while how far a range reaches says little of gardens.
    Vague answers count alike among themselves.
    """
    likely = [0.0] * len(options.all)
    likely[options.whole] = CANT_TELL_SHARE
    vague = [number for number, option in enumerate(options.all) if not option.exact and not option.whole]
    for number in vague:
        likely[number] = VAGUE_SHARE / len(vague)
    exact_share = 1 - sum(likely)
    usual = tuple(_usual(sign, options))
    total = sum(weight for _, weight in usual)
    for reading, weight in usual:
        likely[options.index_of(reading)] += exact_share * weight / total
    return tuple(likely)


def _usual(sign: Sign, options: Options) -> Iterator[tuple[Reading, float]]:
    """Exact answers with their weights; a choice to which the author gives none counts once."""
    if sign.choices:
        yield from ((one_of(choice), sign.usual.get(choice, 1.0)) for choice in sign.choices)
    elif sign.usual_spans:
        for span, weight in sign.usual_spans:
            yield from ((exactly(value), weight) for value in _spread(sign, span, options))
    else:
        yield from ((option.reading, 1.0) for option in options.all if option.exact)


def _spread(sign: Sign, span: Span, options: Options) -> Iterator[float]:
    """Values all over a span of the sign's scale, ends included; whole ones, unless it is a length."""
    earliest = options.all[0].reading
    assert isinstance(earliest, Span)
    for step in range(_VALUES_IN_A_SPAN):
        value = span.low + (span.high - span.low) * step / (_VALUES_IN_A_SPAN - 1)
        if sign.kind is not Kind.LENGTH:
            value = min(max(round(value), span.low), span.high)
        yield earliest.low + sign.high - value if sign.kind is Kind.DATE else value


class Chooser:
    """Weighs the questions of one remainder, and of what is left of it after some answers."""

    def __init__(self, remainder: Remainder, signs: Mapping[str, Sign], most_looked_at: int = MOST_LOOKED_AT) -> None:
        places = {name: place for place, name in enumerate(signs)}
        self._costs = tuple(signs[name].effort.cost for name in remainder.questions)
        self._places = tuple(places[name] for name in remainder.questions)
        self._merged = Merged(remainder, signs)
        self._most_looked_at = most_looked_at
        self._left = 0
        self._wasted: dict[Diagram, dict[int, float]] = {}
        self._differing: dict[frozenset[Diagram], float] = {}
        self._least_found: dict[Diagram, tuple[int, float]] = {}

    def order(self, diagram: Diagram) -> tuple[int, ...]:
        """The questions that can still change the advice, the best to ask first.

        Equally good ones go by effort, then in the rulebook's order.
        """
        merged = self._merged.of(diagram)
        if isinstance(merged, Leaf):
            return ()
        self._left = self._most_looked_at
        wasted = self._wastes(merged)
        try:
            for ahead in range(2, len(wasted)):
                wasted = self._wastes_looking_ahead(merged, wasted, ahead)
        except (_EnoughLookedAt, TooLarge):
            pass
        return tuple(sorted(wasted, key=lambda q: (round(wasted[q] / _A_LITTLE), self._costs[q], self._places[q])))

    def _wastes_looking_ahead(self, diagram: Node, wasted: Mapping[int, float], ahead: int) -> dict[int, float]:
        """The least waste with each question first; of one that is not the best only that it is more."""
        found: dict[int, float] = {}
        for question in sorted(wasted, key=wasted.__getitem__):
            bound = min(found.values(), default=inf) + 2 * _A_LITTLE
            found[question] = self._waste_asking(diagram, question, ahead, bound)
        return found

    def _waste_asking(self, diagram: Node, question: int, ahead: int, bound: float) -> float:
        """The least waste with a question first; from the bound on, any value only says that it is no less."""
        total = self._wastes(diagram)[question]
        for rest, share in self._merged.after(diagram, question).items():
            if total >= bound:
                break
            total += share * self._least_waste(rest, ahead - 1, (bound - total) / share)
        return total

    def _least_waste(self, diagram: Diagram, ahead: int, bound: float) -> float:
        """The least waste of so many questions ahead, whichever come first; the bound is meant as above."""
        if isinstance(diagram, Leaf):
            return 0.0
        looked_ahead, least = self._least_found.get(diagram, (0, 0.0))
        if looked_ahead < ahead and least < bound:
            found = self._search(diagram, ahead, bound)
            looked_ahead, least = (ahead, found) if found < bound else (looked_ahead, max(least, found))
            self._least_found[diagram] = looked_ahead, least
        return least

    def _search(self, diagram: Node, ahead: int, bound: float) -> float:
        wasted = self._wastes(diagram)
        questions = sorted(wasted, key=wasted.__getitem__)
        if wasted[questions[0]] < _A_LITTLE:  # nothing is lost by asking it first
            return self._waste_asking(diagram, questions[0], ahead + 1, bound)
        if ahead == 1:
            return wasted[questions[0]]
        for question in questions:
            if wasted[question] >= bound:
                break
            bound = min(bound, self._waste_asking(diagram, question, ahead, bound))
        return bound

    def _wastes(self, diagram: Node) -> dict[int, float]:
        """For each question that matters the effort it is expected to waste when asked first."""
        found = self._wasted.get(diagram)
        if found is None:
            if self._left < 0:
                raise _EnoughLookedAt
            needed = self._needed(diagram)
            found = {question: self._costs[question] * max(0.0, 1 - needed[question]) for question in needed}
            if self._left >= 0:
                self._wasted[diagram] = found
        return found

    def _needed(self, diagram: Node) -> dict[int, float]:
        """The probability that the answer to each question alone, all others as they are, changes the ending."""
        nodes = sorted(nodes_below(diagram), key=lambda node: node.question)
        differing = {node: self._differ(frozenset(node.children)) for node in reversed(nodes)}
        reached: dict[Diagram, float] = {diagram: 1.0}
        needed: dict[int, float] = {}
        for node in nodes:
            needed[node.question] = needed.get(node.question, 0.0) + reached[node] * differing[node]
            for child, share in zip(node.children, self._merged.likely[node.question], strict=True):
                reached[child] = reached.get(child, 0.0) + share * reached[node]
        self._left -= len(nodes)
        return needed

    def _differ(self, diagrams: frozenset[Diagram]) -> float:
        """The probability that what is left to answer ends otherwise in some of these than in others.

        Taken as certain once enough has been looked at.
        """
        if len(diagrams) == 1:
            return 0.0
        found = self._differing.get(diagrams)
        if found is None:
            asking = [diagram.question for diagram in diagrams if isinstance(diagram, Node)]
            self._left -= 1
            if not asking or self._left < 0:
                return 1.0
            found = 0.0
            question = min(asking)
            for option, share in enumerate(self._merged.likely[question]):
                found += share * self._differ(frozenset([_after(diagram, question, option) for diagram in diagrams]))
            if self._left >= 0:
                self._differing[diagrams] = found
        return found


class _EnoughLookedAt(Exception):
    pass


def _after(diagram: Diagram, question: int, option: int) -> Diagram:
    """What remains of a diagram that does not ask anything before this question."""
    return diagram.children[option] if isinstance(diagram, Node) and diagram.question == question else diagram


class Merged:
    """A remainder with the options of a question taken together wherever they lead to the same."""

    def __init__(self, remainder: Remainder, signs: Mapping[str, Sign]) -> None:
        asking: dict[int, list[Node]] = {}
        for node in nodes_below(remainder.root):
            asking.setdefault(node.question, []).append(node)
        self._alike = tuple(_alike(asking.get(question, [])) for question in range(len(remainder.questions)))
        self.likely = tuple(
            _shares(alike, signs[name], remainder.options[name])
            for name, alike in zip(remainder.questions, self._alike, strict=True)
        )
        self.diagrams = Diagrams(tuple(map(len, self._alike)))
        self._of: dict[Diagram, Diagram] = {}
        self._after: dict[tuple[Diagram, int], dict[Diagram, float]] = {}

    def of(self, diagram: Diagram) -> Diagram:
        """The same with like options taken together."""
        if isinstance(diagram, Leaf):
            return self.diagrams.leaf(diagram.value)
        found = self._of.get(diagram)
        if found is None:
            children = tuple(self.of(diagram.children[options[0]]) for options in self._alike[diagram.question])
            found = self._of[diagram] = self.diagrams.node(diagram.question, children)
        return found

    def after(self, diagram: Node, question: int) -> dict[Diagram, float]:
        """What can remain after a question, and how likely each is."""
        found = self._after.get((diagram, question))
        if found is None:
            found = {}
            for rest, share in zip(self.diagrams.after_each(diagram, question), self.likely[question], strict=True):
                found[rest] = found.get(rest, 0.0) + share
            self._after[diagram, question] = found
        return found


def _alike(asking: list[Node]) -> list[list[int]]:
    """The options of one question, grouped by where they lead in every node that asks it."""
    groups: dict[tuple[int, ...], list[int]] = {}
    for option, _ in enumerate(asking[0].children if asking else ()):
        groups.setdefault(tuple([id(node.children[option]) for node in asking]), []).append(option)
    return list(groups.values())


def _shares(alike: list[list[int]], sign: Sign, options: Options) -> tuple[float, ...]:
    likely = likelihoods(sign, options) if alike else ()
    return tuple(sum(likely[option] for option in group) for group in alike)

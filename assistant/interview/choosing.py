"""Which question to ask next: the one whose effort is least likely to be wasted.

A question is needed in a garden when its answer alone, all other answers as they are, would change
the advice. No honest interview leaves it out, so that effort is spent whatever comes first. All that
an order can save is waste: the effort of questions that turn out not to have been needed. Asked
first, a question wastes its cost times the probability that it is not needed, and the best interview
is the one of least waste in all. The waste of later questions is looked at some questions ahead.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import inf

from assistant.interview.diagrams import Diagram, Diagrams, Leaf, Node, nodes_below
from assistant.interview.options import Options
from assistant.interview.remainder import Remainder
from assistant.model.readings import Choices, Reading, one_of
from assistant.model.signs import Sign

CANT_TELL_SHARE = 0.10
"""How often a grower can't tell (our own judgement, no source)."""
VAGUE_SHARE = 0.10
"""How often an answer is vague but says something (our own judgement, no source)."""
MOST_LOOKED_AT = 3_000
"""Nodes that are looked at for one choice before settling for the best found: some 10 ms."""
_NOTHING = 1e-9


def likelihoods(sign: Sign, options: Options) -> tuple[float, ...]:
    """How likely each option of a sign is; they add up to one.

    Exact answers are as likely as the author says, else those that the rules tell apart equally so:
    thresholds stand where it matters, while a range is often wider than gardens are. Vague answers
    are equally likely among themselves.
    """
    likely = [0.0] * len(options.all)
    vague = [number for number, option in enumerate(options.all) if not option.exact and not option.whole]
    for number in vague:
        likely[number] += VAGUE_SHARE / len(vague)
    likely[options.whole] += CANT_TELL_SHARE
    usual = list(_usual(sign)) or [(option.reading, 1.0) for option in options.all if option.exact]
    whole = sum(weight for _, weight in usual)
    exact_share = 1 - sum(likely)
    for reading, weight in usual:
        likely[options.index_of(reading)] += exact_share * weight / whole
    return tuple(likely)


def _usual(sign: Sign) -> Iterator[tuple[Reading, float]]:
    """Exact answers with the weights an author gives; every choice counts alike where nothing is given."""
    for choice in sign.choices:
        yield one_of(choice), sign.usual.get(choice, 1.0)


class Chooser:
    """Weighs the questions of one remainder, looking at so many nodes at most for each choice."""

    def __init__(self, remainder: Remainder, signs: Mapping[str, Sign], most_looked_at: int = MOST_LOOKED_AT) -> None:
        self.most_looked_at = most_looked_at
        places = {name: place for place, name in enumerate(signs)}
        self._costs = tuple(signs[name].effort.cost for name in remainder.questions)
        self._places = tuple(places[name] for name in remainder.questions)
        self._merged = _Merged(remainder, signs)
        self._left = 0
        self._wasted: dict[Diagram, dict[int, float]] = {}
        self._differing: dict[frozenset[Diagram], float] = {}
        self._found: dict[Diagram, tuple[int, float]] = {}

    def order(self, diagram: Diagram) -> tuple[int, ...]:
        """The questions that can still change the advice, the best to ask first.

        The diagram is what is left of the remainder after some answers. Equally good questions go by
        effort, then in the rulebook's order.
        """
        merged = self._merged.of(diagram)
        if isinstance(merged, Leaf):
            return ()
        self._left = self.most_looked_at
        wasted = self._wastes(merged)
        try:
            for ahead in range(2, len(wasted)):
                wasted = self._looking_ahead(merged, wasted, ahead)
        except _EnoughLookedAt:
            pass
        return tuple(sorted(wasted, key=lambda q: (round(wasted[q], 9), self._costs[q], self._places[q])))

    def _looking_ahead(self, diagram: Diagram, wasted: Mapping[int, float], ahead: int) -> dict[int, float]:
        """The least waste with each question first; where that is more than with another, at least that much."""
        found: dict[int, float] = {}
        for question in sorted(wasted, key=wasted.__getitem__):
            found[question] = self._asked_first(diagram, question, ahead, min(found.values(), default=inf))
        return found

    def _asked_first(self, diagram: Diagram, question: int, ahead: int, bound: float) -> float:
        total = self._wastes(diagram)[question]
        for rest, share in self._merged.after(diagram, question).items():
            if total >= bound:
                break
            total += share * self._least(rest, ahead - 1, (bound - total) / share)
        return total

    def _least(self, diagram: Diagram, ahead: int, bound: float) -> float:
        """The least waste, looking so many questions ahead and taking none beyond them; any value from the bound on
        only says that it is at least that."""
        if isinstance(diagram, Leaf):
            return 0.0
        looked, known = self._found.get(diagram, (0, 0.0))
        if looked >= ahead or known >= bound:
            return known
        wasted = self._wastes(diagram)
        least = min(wasted, key=wasted.__getitem__)
        if wasted[least] < _NOTHING:
            found = self._asked_first(diagram, least, ahead + 1, bound)
        elif ahead <= 1:
            found = wasted[least]
        else:
            found = bound
            for question in sorted(wasted, key=wasted.__getitem__):
                if wasted[question] < found:
                    found = min(found, self._asked_first(diagram, question, ahead, found))
        self._found[diagram] = (ahead, found) if found < bound else (looked, max(known, found))
        return found

    def _wastes(self, diagram: Diagram) -> dict[int, float]:
        """For each question that matters the effort to be wasted by asking it first."""
        wasted = self._wasted.get(diagram)
        if wasted is None:
            needed = self._needed(diagram)
            wasted = {question: self._costs[question] * max(0.0, 1 - needed[question]) for question in needed}
            self._wasted[diagram] = wasted
        return wasted

    def _needed(self, diagram: Diagram) -> dict[int, float]:
        """The probability that the answer to each question alone, all others as they are, changes the ending."""
        nodes = sorted(nodes_below(diagram), key=lambda node: node.question)
        self._look_at(len(nodes))
        reached: dict[Diagram, float] = dict.fromkeys(nodes, 0.0)
        reached[diagram] = 1.0
        needed: dict[int, float] = {}
        for node in nodes:
            differing = self._differ(frozenset(node.children))
            needed[node.question] = needed.get(node.question, 0.0) + reached[node] * differing
            for share, child in zip(self._merged.likely[node.question], node.children, strict=True):
                reached[child] = reached.get(child, 0.0) + share * reached[node]
        return needed

    def _differ(self, diagrams: frozenset[Diagram]) -> float:
        """The probability that the same answers to what is left come to different endings in some of these."""
        if len(diagrams) == 1:
            return 0.0
        found = self._differing.get(diagrams)
        if found is None:
            self._look_at(1)
            question = min(diagram.question for diagram in diagrams)
            if all(isinstance(diagram, Leaf) for diagram in diagrams):
                return 1.0
            found = self._differing[diagrams] = sum(
                share
                * self._differ(
                    frozenset(
                        diagram.children[option] if isinstance(diagram, Node) and diagram.question == question else diagram
                        for diagram in diagrams
                    )
                )
                for option, share in enumerate(self._merged.likely[question])
            )
        return found

    def _look_at(self, nodes: int) -> None:
        self._left -= nodes
        if self._left < 0:
            raise _EnoughLookedAt


class _EnoughLookedAt(Exception):
    pass


class _Merged:
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

    def after(self, diagram: Diagram, question: int) -> dict[Diagram, float]:
        """What can remain after a question, and how likely each is."""
        found = self._after.get((diagram, question))
        if found is None:
            found = self._after[diagram, question] = {}
            for option, share in enumerate(self.likely[question]):
                rest = self.diagrams.restrict(diagram, question, option)
                found[rest] = found.get(rest, 0.0) + share
        return found


def _alike(asking: list[Node]) -> list[list[int]]:
    """The options of one question, grouped by where they lead in every node that asks it."""
    groups: dict[tuple[int, ...], list[int]] = {}
    for option, _ in enumerate(asking[0].children if asking else ()):
        groups.setdefault(tuple(id(node.children[option]) for node in asking), []).append(option)
    return list(groups.values())


def _shares(alike: list[list[int]], sign: Sign, options: Options) -> tuple[float, ...]:
    likely = likelihoods(sign, options) if alike else ()
    return tuple(sum(likely[option] for option in group) for group in alike)

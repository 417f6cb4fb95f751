"""The rule engine held against the diagrams: both must come to the same end on every path of answers."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import islice
from random import Random

from assistant.inference import EngineFault, run
from assistant.interview.diagrams import Diagram, Leaf, Node, nodes_below
from assistant.interview.remainder import Ending
from assistant.measures import domains, known_readings
from assistant.model.case import Case
from assistant.model.readings import Reading
from assistant.proofs.gardens import ON, Gardens
from assistant.proofs.report import Check, Flaw

MOST_PATHS = 100
"""Paths tried at random where there are more than this; less than half a second of the engine."""
MOST_TURNS = 2_000
"""Paths tried to take every turn of the diagram; the shipped rulebooks need fewer, a hundred signs some 100,000."""


def find(gardens: Gardens) -> Iterator[Flaw | str]:
    """A flaw for the first path on which the two differ; says so where there are too many paths to try them all."""
    paths = _Paths(gardens)
    total, (tried, every_turn) = paths.count(), paths.chosen()
    if len(tried) < total:
        turns = "some through every turn of the diagram" if every_turn else "not through every turn of the diagram"
        yield f"of {total:,} paths {len(tried):,} were tried, {turns}"
    whole = domains(gardens.rulebook, ON)
    for ways in tried:
        case = gardens.case("The rule engine and the diagrams differ here", ways)
        due, said = gardens.at(gardens.rest.root, {**gardens.unasked, **ways}), _engine_says(gardens, case, whole)
        if said != due:
            yield _flaw(gardens, case, due, said)
            return


def _engine_says(gardens: Gardens, case: Case, whole: Mapping[str, Reading]) -> Ending | str:
    try:
        derivation = run(gardens.rulebook, known_readings(gardens.rulebook, case), whole)
    except EngineFault as fault:
        return str(fault)
    return Ending(derivation.advice, bool(derivation.conflicts))


def _flaw(gardens: Gardens, case: Case, due: object, said: object) -> Flaw:
    message = f"The rule engine says: {_words(said)}; the diagrams say: {_words(due)}."
    hint = "The fault is digday's and not the rulebook's. Please report it with this case."
    return Flaw("engine-differs", "", gardens.rulebook.place, message, hint, (case,))


def _words(ending: object) -> str:
    if not isinstance(ending, Ending):
        return str(ending)
    return f"{ending.advice or 'no advice'}{', in conflict' if ending.conflict else ''}"


class _Paths:
    """The ways from the first question of the whole diagram to its ends, leaving out what no garden can be."""

    def __init__(self, gardens: Gardens) -> None:
        self.questions = gardens.rest.questions
        self.random = Random(0)
        self.nobody = gardens.diagrams.leaf(None)
        self.root = gardens.ends

    def turns(self, node: Node) -> list[tuple[int, Diagram]]:
        """The options of a node that some garden can have, and where they lead."""
        return [(option, child) for option, child in enumerate(node.children) if child is not self.nobody]

    def count(self) -> int:
        """How many paths there are."""
        found: dict[int, int] = {}

        def below(diagram: Diagram) -> int:
            if isinstance(diagram, Leaf):
                return 1
            if id(diagram) not in found:
                found[id(diagram)] = sum(below(child) for _, child in self.turns(diagram))
            return found[id(diagram)]

        return below(self.root)

    def chosen(self) -> tuple[tuple[dict[str, int], ...], bool]:
        """All paths where they are few; else some through the turns, and some at random. And if every turn is taken."""
        if self.count() <= MOST_PATHS:
            return tuple(self.every(self.root)), True
        turning = tuple(islice(self.through_every_turn(), MOST_TURNS + 1))
        some = (*turning[:MOST_TURNS], *self.at_random(MOST_PATHS))
        return tuple({tuple(ways.items()): ways for ways in some}.values()), len(turning) <= MOST_TURNS

    def every(self, diagram: Diagram) -> Iterator[dict[str, int]]:
        """Every path from a diagram on."""
        if isinstance(diagram, Leaf):
            yield {}
            return
        for option, child in self.turns(diagram):
            for rest in self.every(child):
                yield {self.questions[diagram.question]: option, **rest}

    def through_every_turn(self) -> Iterator[dict[str, int]]:
        """Paths that between them take every option of every node."""
        ways_to: dict[int, dict[str, int]] = {id(self.root): {}}
        taken: set[tuple[int, int]] = set()
        for node in nodes_below(self.root):
            for option, child in self.turns(node):
                before = {**ways_to[id(node)], self.questions[node.question]: option}
                ways_to.setdefault(id(child), before)
                if (id(node), option) not in taken:
                    taken.add((id(node), option))
                    yield {**before, **self.onward(child, taken)}

    def at_random(self, most: int) -> Iterator[dict[str, int]]:
        """Paths taken by chance, the same ones at every call."""
        return (self.onward(self.root, set()) for _ in range(most))

    def onward(self, diagram: Diagram, taken: set[tuple[int, int]]) -> dict[str, int]:
        """A path from a diagram on, by chance, but rather by turns not taken yet; it takes them."""
        path: dict[str, int] = {}
        while isinstance(diagram, Node):
            turns = self.turns(diagram)
            fresh = [turn for turn in turns if (id(diagram), turn[0]) not in taken]
            option, child = self.random.choice(fresh or turns)
            taken.add((id(diagram), option))
            path[self.questions[diagram.question]] = option
            diagram = child
        return path


CHECK = Check("The rule engine and the diagrams come to the same end on every path of answers.", find)

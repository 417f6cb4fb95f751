"""Ordered, reduced decision diagrams: equal in meaning is equal as an object.

A node asks one question and has a child for each of its options; a leaf is any hashable value.
Nodes that mean the same are one node, so comparing two diagrams is comparing two references.
"""

from __future__ import annotations

from collections.abc import Collection, Hashable, Iterable, Iterator, Mapping

_AFTER_ALL = 1 << 30
MOST_NODES = 100_000
"""Nodes made before giving up: about three seconds and 90 MB."""


class TooLarge(ValueError):
    """What remains of a rulebook has more nodes than can be held."""


class Leaf:
    """The end of the questions: what every further answer would come to."""

    __slots__ = ("value",)
    question = _AFTER_ALL

    def __init__(self, value: Hashable) -> None:
        self.value = value


class Node:
    """A question by its number in the order, and what remains after each of its options."""

    __slots__ = ("children", "question")

    def __init__(self, question: int, children: tuple[Diagram, ...]) -> None:
        self.question = question
        self.children = children


Diagram = Leaf | Node


class Diagrams:
    """The nodes in use, one for each meaning, and the results of combining them.

    `options[question]` is how many options that question has. Raises `TooLarge` beyond `most_nodes`.
    """

    def __init__(self, options: tuple[int, ...], most_nodes: int = MOST_NODES) -> None:
        self.options = options
        self.most_nodes = most_nodes
        self.leaves: dict[Hashable, Leaf] = {}
        self.nodes: dict[tuple[int, tuple[int, ...]], Node] = {}
        self.combined: dict[tuple[int, int, int], Diagram] = {}

    def leaf(self, value: Hashable) -> Leaf:
        """The leaf of a value."""
        found = self.leaves.get(value)
        if found is None:
            found = self.leaves[value] = Leaf(value)
        return found

    def node(self, question: int, children: tuple[Diagram, ...]) -> Diagram:
        """The diagram that goes on with the child of the option given; a question that changes nothing is left out."""
        key = (question, tuple(map(id, children)))
        if len(set(key[1])) == 1:
            return children[0]
        found = self.nodes.get(key)
        if found is None:
            if len(self.nodes) >= self.most_nodes:
                raise TooLarge(f"what remains of the rulebook has more than {self.most_nodes} nodes")
            found = self.nodes[key] = Node(question, children)
        return found

    def each_among(self, passing: Mapping[int, Collection[int]]) -> Diagram:
        """True where each question has one of the options given for it, false elsewhere."""
        false = self.leaf(False)
        joined: Diagram = self.leaf(True)
        for question in sorted(passing, reverse=True):
            wanted = passing[question]
            children = tuple(joined if option in wanted else false for option in range(self.options[question]))
            joined = self.node(question, children)
        return joined

    def choose(self, condition: Diagram, then: Diagram, otherwise: Diagram) -> Diagram:
        """`then` where the condition is true, `otherwise` where it is false."""
        if isinstance(condition, Leaf):
            return then if condition.value else otherwise
        if then is otherwise:
            return then
        key = (id(condition), id(then), id(otherwise))
        found = self.combined.get(key)
        if found is None:
            question = min(condition.question, then.question, otherwise.question)
            parts = (self._children(part, question) for part in (condition, then, otherwise))
            found = self.combined[key] = self.node(question, tuple(map(self.choose, *parts)))
        return found

    def _children(self, diagram: Diagram, question: int) -> tuple[Diagram, ...]:
        """What remains after each option of a question that the diagram does not come later than."""
        if isinstance(diagram, Node) and diagram.question == question:
            return diagram.children
        return (diagram,) * self.options[question]

    def all_of(self, parts: Iterable[Diagram]) -> Diagram:
        """True where every part is."""
        joined: Diagram = self.leaf(True)
        for part in sorted(parts, key=_question, reverse=True):
            joined = self.choose(part, joined, self.leaf(False))
        return joined

    def any_of(self, parts: Iterable[Diagram]) -> Diagram:
        """True where some part is."""
        joined: Diagram = self.leaf(False)
        for part in sorted(parts, key=_question, reverse=True):
            joined = self.choose(part, self.leaf(True), joined)
        return joined

    def restrict(self, diagram: Diagram, answers: Mapping[int, int]) -> Diagram:
        """What remains of a diagram once some questions, early or late in the order, have an option each."""
        last = max(answers, default=-1)
        found: dict[int, Diagram] = {}

        def visit(current: Diagram) -> Diagram:
            if isinstance(current, Leaf) or current.question > last:
                return current
            if id(current) not in found:
                option = answers.get(current.question)
                found[id(current)] = (
                    self.node(current.question, tuple(map(visit, current.children)))
                    if option is None
                    else visit(current.children[option])
                )
            return found[id(current)]

        return visit(diagram)

    def after_each(self, diagram: Diagram, question: int) -> tuple[Diagram, ...]:
        """What remains of a diagram after each option of a question, in one walk."""
        found: dict[int, tuple[Diagram, ...]] = {}

        def visit(current: Diagram) -> tuple[Diagram, ...]:
            if isinstance(current, Leaf) or current.question >= question:
                return self._children(current, question)
            if id(current) not in found:
                ways = zip(*map(visit, current.children), strict=True)
                found[id(current)] = tuple(self.node(current.question, children) for children in ways)
            return found[id(current)]

        return visit(diagram)

    def negated(self, part: Diagram) -> Diagram:
        """True where the part is false."""
        return self.choose(part, self.leaf(False), self.leaf(True))


def _question(diagram: Diagram) -> int:
    return diagram.question


def nodes_below(diagram: Diagram) -> Iterator[Node]:
    """Every node of a diagram, each once, parents before children."""
    seen: set[int] = set()
    waiting = [diagram]
    while waiting:
        current = waiting.pop()
        if isinstance(current, Node) and id(current) not in seen:
            seen.add(id(current))
            yield current
            waiting.extend(current.children)


def questions_in(diagram: Diagram) -> frozenset[int]:
    """The questions whose answer can still make a difference."""
    return frozenset(node.question for node in nodes_below(diagram))


def leaves_below(diagram: Diagram) -> frozenset[Leaf]:
    """Every leaf that some way of answering comes to."""
    if isinstance(diagram, Leaf):
        return frozenset((diagram,))
    return frozenset(child for node in nodes_below(diagram) for child in node.children if isinstance(child, Leaf))

"""Which question to ask next: the one that leaves the least effort to be expected, its own included.

What is left after an answer is judged by asking on in the diagram's own order, an upper bound that
is cheap to fold. Exact answers are taken as likely as the author says (else equally), can't tell
and the vague answers as less so.
"""

from __future__ import annotations

from collections.abc import Mapping

from assistant.interview.diagrams import Diagram, Leaf, Node, nodes_below
from assistant.interview.options import Option
from assistant.interview.remainder import Remainder
from assistant.model.readings import Choices
from assistant.model.signs import Sign

CANT_TELL_SHARE = 0.10
"""How often a grower can't tell (our own judgement, no source)."""
VAGUE_SHARE = 0.10
"""How often an answer is vague but says something (our own judgement, no source)."""


def likelihoods(sign: Sign, options: tuple[Option, ...]) -> tuple[float, ...]:
    """How likely each option of a sign is; they add up to one."""
    weights = [_weight(sign, option) for option in options]
    shares = {"exact": 1 - CANT_TELL_SHARE - VAGUE_SHARE, "whole": CANT_TELL_SHARE, "vague": VAGUE_SHARE}
    kinds = [_kind(option) for option in options]
    sums = {kind: sum(weight for weight, its in zip(weights, kinds, strict=True) if its == kind) for kind in shares}
    raw = [shares[kind] * weight / sums[kind] for weight, kind in zip(weights, kinds, strict=True)]
    return tuple(share / sum(raw) for share in raw)


def _kind(option: Option) -> str:
    return "exact" if option.exact else "whole" if option.whole else "vague"


def _weight(sign: Sign, option: Option) -> float:
    if option.exact and sign.usual and isinstance(option.reading, Choices):
        (choice,) = option.reading.possible
        return sign.usual.get(choice, 1.0)
    return 1.0


class Chooser:
    """Weighs the questions of one remainder."""

    def __init__(self, remainder: Remainder, signs: Mapping[str, Sign]) -> None:
        self.remainder = remainder
        self.costs = tuple(signs[name].effort.cost for name in remainder.questions)
        self.likely = tuple(likelihoods(signs[name], remainder.options[name].all) for name in remainder.questions)
        self._effort: dict[int, float] = {}

    def effort(self, diagram: Diagram) -> float:
        """The effort to be expected when asking on in the diagram's order."""
        if isinstance(diagram, Leaf):
            return 0.0
        found = self._effort.get(id(diagram))
        if found is None:
            shares = self.likely[diagram.question]
            below = sum(share * self.effort(child) for share, child in zip(shares, diagram.children, strict=True))
            found = self._effort[id(diagram)] = self.costs[diagram.question] + below
        return found

    def effort_from(self, diagram: Diagram, question: int, nodes: tuple[Node, ...]) -> float:
        """The effort to be expected when this question comes first, its own included."""
        asking = [node for node in nodes if node.question == question]
        alike: dict[tuple[int, ...], list[int]] = {}
        for option in range(self.remainder.diagrams.options[question]):
            alike.setdefault(tuple(id(node.children[option]) for node in asking), []).append(option)
        total = float(self.costs[question])
        for options in alike.values():
            rest = self.remainder.diagrams.restrict(diagram, question, options[0])
            total += sum(self.likely[question][option] for option in options) * self.effort(rest)
        return total

    def order(self, diagram: Diagram) -> tuple[int, ...]:
        """The questions that can still change the advice, the best to ask first."""
        nodes = tuple(nodes_below(diagram))
        open_questions = sorted({node.question for node in nodes})
        return tuple(sorted(open_questions, key=lambda question: self.effort_from(diagram, question, nodes)))

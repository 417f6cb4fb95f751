"""How many more questions an interview is to be expected to ask."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.interview.choosing import Chooser, likelihoods
from assistant.interview.diagrams import Diagram, Leaf
from assistant.interview.remainder import Remainder
from assistant.model.signs import Sign

MOST_STANDINGS = 300
"""Ways an interview can stand that are followed before giving up: some 100 ms."""


def expected_questions(remainder: Remainder, signs: Mapping[str, Sign]) -> float | None:
    """The number of questions still to come, on average over the likely answers; None when too many ways must be tried.

    Follows the questions by what each is likely to waste, looking no further ahead, which is quick
    and close to what is asked in the end.
    """
    try:
        return _Follower(remainder, signs).expected(remainder.root)
    except _TooMany:
        return None


class _TooMany(Exception):
    pass


class _Follower:
    def __init__(self, remainder: Remainder, signs: Mapping[str, Sign]) -> None:
        self.remainder = remainder
        self.chooser = Chooser(remainder, signs, most_looked_at=0)
        self.likely = {name: likelihoods(signs[name], remainder.options[name]) for name in remainder.open}
        self.found: dict[Diagram, float] = {}

    def expected(self, diagram: Diagram) -> float:
        """The questions still to come where so much remains."""
        if isinstance(diagram, Leaf):
            return 0.0
        if diagram not in self.found:
            if len(self.found) >= MOST_STANDINGS:
                raise _TooMany
            question = self.chooser.order(diagram)[0]
            self.found[diagram] = 1 + sum(
                share * self.expected(rest) for rest, share in self._after(diagram, question).items()
            )
        return self.found[diagram]

    def _after(self, diagram: Diagram, question: int) -> dict[Diagram, float]:
        """What can remain after a question, and how likely each is."""
        after: dict[Diagram, float] = {}
        likely = self.likely[self.remainder.questions[question]]
        for rest, share in zip(self.remainder.diagrams.after_each(diagram, question), likely, strict=True):
            after[rest] = after.get(rest, 0.0) + share
        return after

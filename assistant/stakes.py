"""What hangs on a question: what each answer to it would mean."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import groupby

from assistant.explain.changes import option_words, run_words
from assistant.interview.diagrams import Diagram, Leaf, leaves_below
from assistant.interview.options import Option
from assistant.interview.remainder import Remainder, ending_of
from assistant.model.readings import Known, Origin, Span
from assistant.season import Visit, advice_and_headline


def why_asked(visit: Visit, sign: str) -> str:
    """What each answer to a question would mean, in a sentence or two."""
    rest = visit.course.rest
    if sign in visit.not_needed:
        return "No advice hangs on this any more; an answer is only kept for the record."
    if rest is None:
        return "The rules that are still open need this answer."
    if sign not in rest.open:
        return "The advice stands; your answer says how soon to act on it."
    told = [f"{answers}: {then}" for answers, then in _Stakes(visit, rest, sign).all()]
    return ". ".join(words[:1].upper() + words[1:] for words in told) + "."


class _Stakes:
    def __init__(self, visit: Visit, rest: Remainder, sign: str) -> None:
        self.visit = visit
        self.rest = rest
        self.sign = sign

    def all(self) -> Iterator[tuple[str, str]]:
        """Answers of one consequence together, each with its consequence; can't tell comes last."""
        options = self.rest.options[self.sign]
        together: dict[str, list[str]] = {}
        for run, then in self._runs([option for option in options.all if option.exact]):
            together.setdefault(then, []).append(run)
        cant_tell = self._consequence(options.all[options.whole])
        together.setdefault(cant_tell, []).append("can't tell")
        yield from ((" or ".join(answers), then) for then, answers in together.items())

    def _runs(self, exact: list[Option]) -> Iterator[tuple[str, str]]:
        """Exact answers with what they come to; neighbouring numbers of one consequence as one run."""
        if isinstance(exact[0].reading, Span):
            exact = sorted(exact, key=lambda option: option.reading.low if isinstance(option.reading, Span) else 0)
        for then, neighbours in groupby(exact, key=self._consequence):
            yield self._words(list(neighbours)), then

    def _words(self, neighbours: list[Option]) -> str:
        rulebook, units = self.visit.rulebook, self.visit.case.units
        first, last = neighbours[0].reading, neighbours[-1].reading
        if isinstance(first, Span) and isinstance(last, Span):
            return run_words(rulebook, self.rest, self.sign, Span(first.low, last.low), units)
        numbers = [self.rest.option_for(self.sign, option.reading) for option in neighbours]
        return " or ".join(option_words(rulebook, self.rest, self.sign, number, units) for number in numbers)

    def _consequence(self, option: Option) -> str:
        number = self.rest.option_for(self.sign, option.reading)
        after = self.rest.after(self.rest.root, {self.sign: number})
        return self._settled(option) if isinstance(after, Leaf) else self._still_open(after)

    def _settled(self, option: Option) -> str:
        """The headline the answer would bring, with its day."""
        answers = {**self.visit.case.answers, self.sign: Known(option.reading, Origin.ANSWERED)}
        return advice_and_headline(self.visit.rulebook, replace(self.visit.case, answers=answers))[1].rstrip(".")

    def _still_open(self, after: Diagram) -> str:
        """What the answer leaves, or what it rules out, whichever is the shorter list."""
        before, left = self._given(self.rest.root), self._given(after)
        ruled_out = [headline for headline in before if headline not in left]
        if not ruled_out:
            return "leaves all open"
        if len(ruled_out) < len(left):
            return f"rules out {_listed(ruled_out, 'and')}"
        return f"leaves {_listed(left, 'or')}"

    def _given(self, diagram: Diagram) -> list[str]:
        """The headlines that some way of answering on comes to, the most pressing first."""
        given = {ending_of(leaf).advice for leaf in leaves_below(diagram)}
        nothing = ["no advice"] if None in given else []
        return [f"“{kind.headline}”" for name, kind in self.visit.rulebook.advice.items() if name in given] + nothing


def _listed(words: list[str], last: str) -> str:
    return f"{', '.join(words[:-1])} {last} {words[-1]}" if len(words) > 1 else words[0]

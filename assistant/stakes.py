"""What hangs on a question: what each answer to it would mean."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import groupby
from typing import NamedTuple

from assistant.explain.changes import run_words
from assistant.interview.diagrams import Diagram, Leaf, leaves_below
from assistant.interview.remainder import Remainder, ending_of
from assistant.model.readings import Known, Origin, Reading, Span, hull, one_of
from assistant.season import Visit, advice_and_headline

CANT_TELL = Origin.CANT_TELL.value
MOST_NAMED = 3
"""Answers of one consequence that are named; the rest are counted."""

FOR_THE_RECORD = "No advice hangs on this any more; an answer is only kept for the record."
SETTLES_THE_DAY = "The advice stands; your answer says how soon to act on it."
ONLY_TOGETHER = "No answer to this rules anything out by itself, but together with others it can."


class Stake(NamedTuple):
    """Answers that would mean the same, in words, and what they would mean."""

    answers: str
    then: str


class Why(NamedTuple):
    """Why a question is asked: in a sentence, or by what each answer to it would mean."""

    words: str
    stakes: tuple[Stake, ...] = ()


def why_asked(visit: Visit, sign: str) -> Why:
    """Why a question is asked, all other answers as they are; an answer it has already does not count."""
    if sign in visit.case.answers:
        visit = visit.forget(sign)
    rest = visit.course.rest
    if sign in visit.not_needed:
        return Why(FOR_THE_RECORD)
    if rest is None:
        return Why("The rules that are still open need this answer.")
    if sign not in rest.open:
        return Why(SETTLES_THE_DAY)
    stakes = _Stakes(visit, rest, sign).all()
    return Why("What your answer would mean:", stakes) if len(stakes) > 1 else Why(ONLY_TOGETHER)


class _Stakes:
    """What each answer to one question would mean, read off what remains of the rulebook."""

    def __init__(self, visit: Visit, rest: Remainder, sign: str) -> None:
        self.visit = visit
        self.rest = rest
        self.sign = sign

    def all(self) -> tuple[Stake, ...]:
        """Answers of one consequence together, in the order of the answers; can't tell is the last of its own."""
        together: dict[str, list[str]] = {}
        for answer, then in self._choices() if self.visit.rulebook.signs[self.sign].choices else self._runs():
            together.setdefault(then, []).append(answer)
        named = _shortened(together)
        cant_tell = self._consequence(self.visit.course.domains[self.sign])
        named[cant_tell] = f"{named[cant_tell]}, {CANT_TELL}" if cant_tell in named else CANT_TELL
        return tuple(Stake(answers, then) for then, answers in named.items())

    def _choices(self) -> Iterator[tuple[str, str]]:
        """Every choice with what it comes to."""
        for choice in self.visit.rulebook.signs[self.sign].choices:
            yield choice, self._consequence(one_of(choice))

    def _runs(self) -> Iterator[tuple[str, str]]:
        """Runs of neighbouring values that come to the same."""
        exact = (option.reading for option in self.rest.options[self.sign].all if option.exact)
        cells = sorted((reading for reading in exact if isinstance(reading, Span)), key=lambda cell: cell.low)
        for then, group in groupby(cells, key=self._consequence):
            run = hull(group)
            yield run_words(self.visit.rulebook, self.rest, self.sign, run, self.visit.case.units), then

    def _consequence(self, reading: Reading) -> str:
        after = self.rest.after(self.rest.root, {self.sign: self.rest.option_for(self.sign, reading)})
        return self._settled(reading) if isinstance(after, Leaf) else self._still_open(after)

    def _settled(self, reading: Reading) -> str:
        """The advice the answer would bring, with its day."""
        answers = {**self.visit.case.answers, self.sign: Known(reading, Origin.ANSWERED)}
        advice, headline = advice_and_headline(self.visit.rulebook, replace(self.visit.case, answers=answers))
        if advice is None:
            return headline
        return _plain(advice) + headline.removeprefix(self.visit.rulebook.advice[advice].headline)

    def _still_open(self, after: Diagram) -> str:
        """What the answer leaves, or what it rules out, whichever is the shorter list."""
        before, left = self._given(self.rest.root), self._given(after)
        ruled_out = [advice for advice in before if advice not in left]
        if not ruled_out:
            return "leaves all open"
        if len(ruled_out) < len(left):
            return f"rules out {_listed(ruled_out, 'and')}"
        return f"leaves {_listed(left, 'or')}"

    def _given(self, diagram: Diagram) -> list[str]:
        """The advice that some way of answering on comes to, the most pressing first."""
        given = {ending_of(leaf).advice for leaf in leaves_below(diagram)}
        nothing = ["no advice"] if None in given else []
        return [f"“{_plain(name)}”" for name in self.visit.rulebook.advice if name in given] + nothing


def _shortened(together: Mapping[str, list[str]]) -> dict[str, str]:
    """The answers of each consequence in words; many are counted, and most of all are just the others."""
    named: dict[str, str] = {}
    largest = max(together, key=lambda then: len(together[then]))
    for then in sorted(together, key=lambda then: then == largest and len(together[then]) > MOST_NAMED):
        answers = together[then]
        if then == largest and len(answers) > MOST_NAMED and len(together) > 1:
            named[then] = "any other"
        elif len(answers) > MOST_NAMED:
            named[then] = f"{', '.join(answers[: MOST_NAMED - 1])} and {len(answers) - MOST_NAMED + 1} more"
        else:
            named[then] = ", ".join(answers)
    return named


def _plain(advice: str) -> str:
    """The short name of an advice, such as `dig at once`."""
    return advice.replace("-", " ")


def _listed(words: list[str], last: str) -> str:
    return f"{', '.join(words[:-1])} {last} {words[-1]}" if len(words) > 1 else words[0]

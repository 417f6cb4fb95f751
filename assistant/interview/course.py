"""The course of an interview: what can still change the advice, what to ask next, and what hangs on it."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from functools import cached_property

from assistant.interview.diagrams import TooLarge, leaves_below
from assistant.interview.options import TooManyChoices
from assistant.interview.remainder import Remainder, ending_of, remainder, remainder_of_unasked
from assistant.model.readings import Known, Reading
from assistant.model.rules import Rulebook


class Course:
    """Where an interview stands. Exact where the remainder can be held; else by the open rules, never too few."""

    def __init__(self, rulebook: Rulebook, known: Mapping[str, Known], domains: Mapping[str, Reading]) -> None:
        self.rulebook = rulebook
        self.known = known
        self.domains = domains

    @cached_property
    def rest(self) -> Remainder | None:
        """What remains of the rulebook; None when that is too large to hold."""
        for way in (remainder_of_unasked, remainder):
            with suppress(TooLarge, TooManyChoices):
                return way(self.rulebook, self.known, self.domains)
        return None

    @cached_property
    def left(self) -> tuple[str, ...]:
        """The unasked signs whose answer can still change the advice, least effort first."""
        if self.rest is None:
            from assistant.interview.open_rules import questions_left  # seldom needed

            return questions_left(self.rulebook, self.known, self.domains)
        still = self.rest.open
        names = [name for name in self.rulebook.signs if name in still]
        return tuple(sorted(names, key=lambda name: self.rulebook.signs[name].effort.cost))

    @cached_property
    def next(self) -> str | None:
        """The question that leaves the least effort to be expected; None when no answer can change the advice."""
        if self.rest is None or not self.left:
            return next(iter(self.left), None)
        from assistant.interview.choosing import Chooser  # only an interview needs it, a verdict does not

        return self.rest.questions[Chooser(self.rest, self.rulebook.signs).order(self.rest.root)[0]]

    @property
    def reachable(self) -> frozenset[str | None]:
        """The advice that some way of answering on comes to; None is no advice."""
        if self.rest is None:
            return frozenset(self.rulebook.advice)
        return frozenset(ending_of(leaf).advice for leaf in leaves_below(self.rest.root))

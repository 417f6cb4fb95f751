"""The use cases both front ends call: a visit to the garden, an answer, the advice."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cached_property

from assistant.explain.evidence import signs_behind
from assistant.explain.wording import headline
from assistant.inference import run
from assistant.interview.answers import parse_answer
from assistant.interview.course import Course
from assistant.measures import domains, known_readings
from assistant.measures.digging import ROOTS
from assistant.model.case import Case, TestDig
from assistant.model.derivation import Derivation, Outcome, Verdict
from assistant.model.readings import Known, Origin
from assistant.model.rules import ADVICE, AfterNights, DayChoice, Rulebook
from assistant.model.signs import Sign
from assistant.reckoning.days import soonest


def advise(rulebook: Rulebook, case: Case) -> Verdict:
    """The verdict on what is known of a case, asking nothing."""
    return Visit(rulebook, case).verdict()


def advice_and_headline(rulebook: Rulebook, case: Case) -> tuple[str | None, str]:
    """What the rules come to on a case, and its headline, without looking for questions."""
    derivation = run(rulebook, known_readings(rulebook, case), domains(rulebook, case.on))
    days = _act_by(derivation, case), _look_again(derivation, case)
    return derivation.advice, headline(rulebook, derivation.advice, bool(derivation.conflicts), *days)


def _act_by(derivation: Derivation, case: Case) -> date | None:
    days = _days(derivation, "act_by")
    return soonest(days, case.on, derivation.knowledge.readings, case.garden, case.on)


def _look_again(derivation: Derivation, case: Case) -> date | None:
    days = _days(derivation, "look_again")
    return soonest(days, case.on, derivation.knowledge.readings, case.garden, case.on + timedelta(days=1))


def _outcome(derivation: Derivation, left: bool) -> Outcome:
    if derivation.conflicts:
        return Outcome.CONFLICT
    if left:
        return Outcome.OPEN
    return Outcome.SETTLED if derivation.advice else Outcome.NO_ADVICE


def _days(derivation: Derivation, which: str) -> list[DayChoice]:
    """The candidate days of the rules that gave the winning advice."""
    firings = derivation.firings_for(ADVICE, derivation.advice) if derivation.advice else ()
    return [choice for firing in firings for choice in getattr(firing.rule, which)]


def _day_questions(derivation: Derivation) -> tuple[str, ...]:
    """The unasked signs that settle not the advice but the day to act by, such as the nights until a frost."""
    choices = _days(derivation, "act_by") + _days(derivation, "look_again")
    names = [choice.reading for choice in choices if isinstance(choice, AfterNights)]
    return tuple(name for name in dict.fromkeys(names) if derivation.known[name].origin is Origin.NOT_ASKED)


def _nights(rulebook: Rulebook, advice: str | None) -> set[str]:
    """The signs that the days of an advice are counted by, whichever rules give it."""
    rules = rulebook.rules_concluding(ADVICE, advice) if advice else ()
    return {day.reading for rule in rules for day in rule.act_by + rule.look_again if isinstance(day, AfterNights)}


@dataclass(frozen=True)
class Visit:
    """One walk through the garden: a rulebook and the case as far as it is answered. Answering gives a new visit."""

    rulebook: Rulebook
    case: Case

    @cached_property
    def known(self) -> dict[str, Known]:
        """What is known of every sign and measure."""
        return known_readings(self.rulebook, self.case)

    @cached_property
    def course(self) -> Course:
        """Where the interview stands."""
        return Course(self.rulebook, self.known, domains(self.rulebook, self.case.on))

    @cached_property
    def _derivation(self) -> Derivation:
        return run(self.rulebook, self.known, self.course.domains)

    @cached_property
    def left(self) -> tuple[str, ...]:
        """The unasked signs that can still change the advice; when there are none, those that move its day."""
        return self.course.left or _day_questions(self._derivation)

    @property
    def not_needed(self) -> tuple[str, ...]:
        """The unasked signs that can no longer change anything, in the rulebook's order."""
        unasked = (name for name in self.rulebook.signs if self.known[name].origin is Origin.NOT_ASKED)
        return tuple(name for name in unasked if name not in self.left)

    def next_question(self) -> Sign | None:
        """The question to ask now, the one that leaves least to do; None when no answer can change the advice."""
        name = self.course.next or next(iter(self.left), None)
        return self.rulebook.signs[name] if name else None

    def next_for_the_record(self, skipped: Collection[str] = ()) -> Sign | None:
        """Once nothing can change the advice, the least effort not asked for yet; the answer is only kept."""
        rest = [self.rulebook.signs[name] for name in self.not_needed if name not in skipped]
        return min(rest, key=lambda sign: sign.effort.cost, default=None)

    def answer(self, sign: str, text: str) -> Visit:
        """The visit with a sign answered, or answered anew.

        Raises `NotAValue` with what to write instead.
        """
        known = parse_answer(self.rulebook.signs[sign], text, self.case.on, self.case.units)
        return replace(self, case=replace(self.case, answers={**self.case.answers, sign: known}))

    def forget(self, sign: str) -> Visit:
        """The visit with a sign not asked."""
        answers = {name: known for name, known in self.case.answers.items() if name != sign}
        return replace(self, case=replace(self.case, answers=answers))

    def dig(self, dig: TestDig | None) -> Visit:
        """The visit with a test dig, which answers for the size of the roots in place of what was said; or without."""
        visit = self.forget(ROOTS) if dig else self
        return replace(visit, case=replace(visit.case, test_dig=dig))

    def verdict(self) -> Verdict:
        """The verdict on what is known so far."""
        derivation = self._derivation
        act_by, look_again = _act_by(derivation, self.case), _look_again(derivation, self.case)
        conflict = bool(derivation.conflicts)
        return Verdict(
            title=self.case.title,
            on=self.case.on,
            derivation=derivation,
            outcome=_outcome(derivation, bool(self.course.left)),
            headline=headline(self.rulebook, derivation.advice, conflict, act_by, look_again),
            act_by=act_by,
            look_again=look_again,
            decided_by=signs_behind(derivation),
            would_change=(),
            questions_left=self.left,
        )

    @property
    def answered(self) -> tuple[str, ...]:
        """The signs answered, can't tell included, in the order they were first given."""
        return tuple(self.case.answers)

    @property
    def at_most_left(self) -> int:
        """How many more questions there can be, one that may follow for the day of the advice included."""
        return len(self.left) + (self._most_for_the_day() if self.course.left else 0)

    def _most_for_the_day(self) -> int:
        """The most questions that can come once the advice is settled, whichever it is."""
        return max(
            len(_nights(self.rulebook, advice).intersection(self.not_needed)) for advice in self.course.reachable
        )

    @cached_property
    def about_left(self) -> int | None:
        """How many more questions are to be expected; None where that takes too long to work out."""
        if self.course.rest is None or not self.course.left:
            return None
        from assistant.interview.expecting import expected_questions  # only an interview tells it

        expected = expected_questions(self.course.rest, self.rulebook.signs)
        return None if expected is None else max(1, round(expected))

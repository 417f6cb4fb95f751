"""What the engine leaves behind when it has run, and the verdict that is made of it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from enum import Enum
from typing import NamedTuple

from assistant.model.conditions import Knowledge
from assistant.model.readings import Known
from assistant.model.rules import ADVICE, Rule, Rulebook


class Firing(NamedTuple):
    """One rule that fired: the branch of its condition that held, by the names it used.

    `readings` are the signs and measures, `findings` the earlier conclusions with their value.
    """

    rule: Rule
    readings: tuple[str, ...]
    findings: tuple[tuple[str, str], ...]


class Conflict(NamedTuple):
    """A finding, or the advice, that rules concluded in ways that disagree."""

    about: str
    values: tuple[str, ...]


class Derivation(NamedTuple):
    """The record of one run: the rules in the order they fired, and what came of them.

    `advice` is the winning advice, None when no rule gave any or when rules disagree over it.
    """

    rulebook: Rulebook
    known: Mapping[str, Known]
    firings: tuple[Firing, ...]
    knowledge: Knowledge
    advice: str | None
    conflicts: tuple[Conflict, ...]
    cautions: tuple[str, ...]

    @property
    def fired(self) -> tuple[str, ...]:
        """The names of the rules that fired, in order."""
        return tuple(firing.rule.name for firing in self.firings)

    @property
    def advice_given(self) -> tuple[str, ...]:
        """Every piece of advice that some rule gave, in the rulebook's order."""
        given = {firing.rule.value for firing in self.firings if firing.rule.concludes == ADVICE}
        return tuple(advice for advice in self.rulebook.advice if advice in given)

    def firings_for(self, conclusion: str, value: str) -> tuple[Firing, ...]:
        """The firings that gave a finding, or the advice, that value."""
        return tuple(
            firing for firing in self.firings if firing.rule.concludes == conclusion and firing.rule.value == value
        )


class Outcome(str, Enum):
    """How a run ended. No two of these are ever shown as the same thing."""

    SETTLED = "settled"
    OPEN = "open"
    NO_ADVICE = "no-advice"
    CONFLICT = "conflict"


class Change(NamedTuple):
    """A change of one sign, from and to in people's words, with the advice it leads to and its headline."""

    sign: str
    before: str
    after: str
    then: str | None
    headline: str


class Verdict(NamedTuple):
    """The answer to a case, ready to be worded.

    `decided_by` are the signs the advice rests on; in a full verdict a smallest set of answers that
    alone forces it. `would_change` has for each sign the nearest change that alone changes the
    advice, `joint_change` the fewest changes that do so together (full verdicts only). `forced` is
    whether `decided_by` alone forces the advice.
    """

    title: str
    on: date
    derivation: Derivation
    outcome: Outcome
    headline: str
    act_by: date | None
    look_again: date | None
    decided_by: tuple[str, ...]
    would_change: tuple[Change, ...]
    questions_left: tuple[str, ...]
    joint_change: tuple[Change, ...] = ()
    forced: bool = False

    @property
    def advice(self) -> str | None:
        """The winning advice, if any."""
        return self.derivation.advice

"""A question that nobody needs: no answer to it changes the advice, a day that comes with it, or a caution."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from assistant.interview.diagrams import questions_in
from assistant.model.conditions import Condition, findings_in, readings_in
from assistant.model.rules import ADVICE, AfterNights, Rule, Rulebook, WhenReached
from assistant.proofs.gardens import Gardens
from assistant.proofs.report import Check, Flaw


def find(gardens: Gardens) -> Iterator[Flaw | str]:
    """One flaw for each sign that the interview could do without."""
    needed = {*_deciding(gardens), *_days_and_warnings(gardens.rulebook)}
    looked_at = {sign for rule in gardens.rulebook.rules for sign in _signs(gardens.rulebook, readings_in(rule.when))}
    for sign in gardens.rulebook.signs.values():
        if sign.name not in needed:
            why = "no answer to it changes anything" if sign.name in looked_at else "no rule looks at it"
            message = f"Nobody needs the question '{sign.name}': {why}."
            hint = "Drop the sign, or write the rule it was meant for."
            yield Flaw("question-nobody-needs", sign.name, sign.place, message, hint)


def _deciding(gardens: Gardens) -> Iterator[str]:
    """The signs on which the advice hangs, or which rule gives it where that brings a day or a disagreement."""
    bringing = [gardens.fires(rule.name) for rule in gardens.rulebook.rules if _brings_more(rule)]
    for diagram in (gardens.ends, *bringing):
        yield from (gardens.rest.questions[number] for number in questions_in(diagram))


def _brings_more(rule: Rule) -> bool:
    return rule.concludes == ADVICE and bool(rule.act_by or rule.look_again or rule.disputed)


def _days_and_warnings(rulebook: Rulebook) -> Iterator[str]:
    """The signs that a day is counted by, and those that cautions look at, also through findings."""
    for rule in rulebook.rules:
        for choice in (*rule.act_by, *rule.look_again):
            if isinstance(choice, AfterNights):
                yield from _signs(rulebook, (choice.reading,))
            elif isinstance(choice, WhenReached):
                yield from _signs(rulebook, (choice.reading, choice.other))
    for caution in rulebook.cautions.values():
        yield from _behind(rulebook, caution.when)


def _behind(rulebook: Rulebook, condition: Condition) -> Iterator[str]:
    yield from _signs(rulebook, readings_in(condition))
    for finding in findings_in(condition):
        for rule in rulebook.rules_concluding(finding) if finding != ADVICE else ():
            yield from _behind(rulebook, rule.when)


def _signs(rulebook: Rulebook, readings: Iterable[str]) -> Iterator[str]:
    """The signs that readings are, or are reckoned from."""
    for name in readings:
        sign = name if name in rulebook.signs else rulebook.measures[name].sign
        if sign is not None:
            yield sign


CHECK = Check("Every question is needed for the advice, its days or a caution.", find)

"""What the fired rules amount to: findings concluded, the winning advice, and where rules disagree."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from assistant.model.derivation import Conflict
from assistant.model.rules import ADVICE, Rule, Rulebook, Several


def concluded_by(rules: Iterable[Rule]) -> dict[str, frozenset[str]]:
    """Every value each finding, and the advice, was given by the fired rules."""
    values: dict[str, frozenset[str]] = {}
    for rule in rules:
        values[rule.concludes] = values.get(rule.concludes, frozenset()) | {rule.value}
    return values


def winner(rulebook: Rulebook, given: frozenset[str]) -> str | None:
    """The advice that counts among those given; None when there is none or they must agree and do not."""
    if rulebook.several is Several.MUST_AGREE and len(given) > 1:
        return None
    return next((advice for advice in rulebook.advice if advice in given), None)


def conflicts(rulebook: Rulebook, concluded: Mapping[str, frozenset[str]]) -> tuple[Conflict, ...]:
    """The findings concluded in several ways, in rulebook order, and the advice where it must agree."""
    clashes = [
        Conflict(name, tuple(value for value in finding.values if value in concluded[name]))
        for name, finding in rulebook.findings.items()
        if len(concluded.get(name, ())) > 1
    ]
    given = concluded.get(ADVICE, frozenset())
    if rulebook.several is Several.MUST_AGREE and len(given) > 1:
        clashes.append(Conflict(ADVICE, tuple(advice for advice in rulebook.advice if advice in given)))
    return tuple(clashes)


def findings_only(concluded: Mapping[str, frozenset[str]]) -> dict[str, frozenset[str]]:
    """What was concluded without the advice."""
    return {name: values for name, values in concluded.items() if name != ADVICE}

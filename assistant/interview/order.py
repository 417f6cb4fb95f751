"""The order of the questions in a remainder: signs that decide together stand together, which keeps it small."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.model.conditions import findings_in, readings_in
from assistant.model.rules import ADVICE, Rule, Rulebook


def question_order(rulebook: Rulebook) -> tuple[str, ...]:
    """All signs as one meets them when following the rules down, from the advice that wins first."""
    followed: set[str] = set()
    met = dict.fromkeys(name for advice in rulebook.advice for name in _below(rulebook, ADVICE, advice, followed))
    return (*met, *(name for name in rulebook.signs if name not in met))


def _below(rulebook: Rulebook, conclusion: str, value: str | None, followed: set[str]) -> Iterator[str]:
    """The signs behind a conclusion, those of each rule before those of the findings it rests on."""
    for rule in rulebook.rules_concluding(conclusion, value):
        yield from _signs(rulebook, rule)
        for finding in findings_in(rule.when):
            if finding not in followed:
                followed.add(finding)
                yield from _below(rulebook, finding, None, followed)


def _signs(rulebook: Rulebook, rule: Rule) -> Iterator[str]:
    for name in readings_in(rule.when):
        sign = name if name in rulebook.signs else rulebook.measures[name].sign
        if sign is not None:
            yield sign

"""Two values of a finding, or two pieces of advice that must agree, concluded of one garden."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from assistant.model.rules import ADVICE, Rule, Several
from assistant.proofs.gardens import Gardens, Ways
from assistant.proofs.report import Check, Flaw


def find(gardens: Gardens) -> Iterator[Flaw | str]:
    """One flaw for each two values that some garden is given together, at a rule that does so."""
    for about, values in _single_valued(gardens):
        for one, other in combinations(values, 2):
            both = gardens.both(gardens.concluded(about, one), gardens.concluded(about, other))
            ways = gardens.simplest(both)
            if ways is not None:
                yield _flaw(gardens, about, (one, other), ways)


def _single_valued(gardens: Gardens) -> Iterator[tuple[str, tuple[str, ...]]]:
    """What may have one value only, with its values."""
    for finding in gardens.rulebook.findings.values():
        yield finding.name, tuple(finding.values)
    if gardens.rulebook.several is Several.MUST_AGREE:
        yield ADVICE, tuple(gardens.rulebook.advice)


def _flaw(gardens: Gardens, about: str, values: tuple[str, str], ways: Ways) -> Flaw:
    first, second = (_giver(gardens, about, value, ways) for value in values)
    what = "advice" if about == ADVICE else f"finding '{about}'"
    code = "advice-clash" if about == ADVICE else "finding-clash"
    message = f"The {what} comes to both {values[0]} (rule '{first.name}') and {values[1]} (rule '{second.name}')."
    title = f"The rules {first.name} and {second.name} disagree here"
    hint = "Narrow one of the two rules until no garden meets both."
    return Flaw(code, about, second.place, message, hint, (gardens.case(title, ways),))


def _giver(gardens: Gardens, about: str, value: str, ways: Ways) -> Rule:
    """The first rule that concludes the value of such a garden."""
    garden = {**gardens.unasked, **ways}
    rules = gardens.rulebook.rules_concluding(about, value)
    return next(rule for rule in rules if gardens.at(gardens.rest.fired[rule.name], garden))


CHECK = Check("No two pieces of advice, and no two values of a finding, disagree.", find)

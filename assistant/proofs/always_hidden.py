"""A rule that never shows: wherever it fires, others have said as much already.

Advice is hidden where advice that is listed earlier wins over it. A rule is also hidden where other
rules conclude the same thing, and it adds nothing to theirs: no day to act by or look again on, and
no disagreement, that they do not name too. Of rules that hide each other the first is let stand.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from assistant.interview.diagrams import Diagram
from assistant.model.rules import ADVICE, Rule, Several
from assistant.proofs.gardens import Gardens
from assistant.proofs.report import Check, Flaw

MOST_ALIKE = 200
"""Rules of one conclusion that are held against each other, each against each."""


def find(gardens: Gardens) -> Iterator[Flaw | str]:
    """One flaw for each rule that fires in some garden but shows in none, with a garden where it is hidden."""
    hidden: set[str] = set()
    alike = Counter((rule.concludes, rule.value) for rule in gardens.rulebook.rules)
    if max(alike.values(), default=0) > MOST_ALIKE:
        yield f"more than {MOST_ALIKE} rules conclude the same thing"
        return
    for rule in reversed(gardens.rulebook.rules):
        fires = gardens.fires(rule.name)
        if fires is gardens.nowhere:
            continue  # a flaw of its own
        hiders = _winning(gardens, rule, fires) or _repeated(gardens, rule, fires, hidden)
        if hiders:
            hidden.add(rule.name)
            yield _flaw(gardens, rule, hiders)


def _winning(gardens: Gardens, rule: Rule, fires: Diagram) -> str:
    """The earlier advice that always wins over the rule's; empty when the rule can win."""
    if rule.concludes != ADVICE or gardens.rulebook.several is not Several.FIRST_WINS:
        return ""
    order = list(gardens.rulebook.advice)
    earlier = order[: order.index(rule.value)]
    won = [advice for advice in earlier if gardens.both(fires, gardens.concluded(ADVICE, advice)) != gardens.nowhere]
    by_any = gardens.either(gardens.concluded(ADVICE, advice) for advice in won)
    if not won or gardens.but_not(fires, by_any) is not gardens.nowhere:
        return ""
    return f"wherever it fires, the advice {_or(won)} is given too and wins"


def _repeated(gardens: Gardens, rule: Rule, fires: Diagram, hidden: set[str]) -> str:
    """The rules that always say as much; empty when the rule says something of its own."""
    others = [
        other
        for other in gardens.rulebook.rules_concluding(rule.concludes, rule.value)
        if other is not rule and other.name not in hidden and _covers(other, rule)
    ]
    needed = [other.name for other in others if gardens.both(fires, gardens.fires(other.name)) is not gardens.nowhere]
    if not needed or gardens.but_not(fires, gardens.either(map(gardens.fires, needed))) is not gardens.nowhere:
        return ""
    return f"wherever it fires, the rule {_or(needed)} says as much"


def _covers(other: Rule, rule: Rule) -> bool:
    """Whether the other rule names every day and every disagreement that the rule does."""
    return (
        set(rule.act_by) <= set(other.act_by)
        and set(rule.look_again) <= set(other.look_again)
        and set(rule.disputed) <= set(other.disputed)
    )


def _flaw(gardens: Gardens, rule: Rule, why: str) -> Flaw:
    ways = gardens.simplest(gardens.fires(rule.name))
    assert ways is not None
    return Flaw(
        "always-hidden",
        rule.name,
        rule.place,
        f"The rule '{rule.name}' never shows: {why}.",
        "Drop the rule, narrow the others, or let it conclude something of its own.",
        (gardens.case(f"The rule {rule.name} fires here and changes nothing", ways),),
    )


def _or(names: list[str]) -> str:
    return " or ".join(f"'{name}'" for name in names)


CHECK = Check("No rule is always hidden by others.", find)

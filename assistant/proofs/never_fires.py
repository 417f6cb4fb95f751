"""A rule that no garden can make fire: its tests exclude each other, or it waits for what is never concluded."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.model.conditions import All, Concluded, Condition
from assistant.model.rules import Rule
from assistant.proofs.gardens import Gardens
from assistant.proofs.report import Check, Flaw


def find(gardens: Gardens) -> Iterator[Flaw | str]:
    """One flaw for each rule that fires in no garden, whatever is answered and whatever its frost dates."""
    for rule in gardens.rulebook.rules:
        if gardens.fires(rule.name) is gardens.nowhere:
            yield Flaw(
                "never-fires",
                rule.name,
                rule.place,
                f"The rule '{rule.name}' can never fire: no garden meets its whole condition.",
                _hint(gardens, rule),
            )


def _hint(gardens: Gardens, rule: Rule) -> str:
    for part in _parts(rule.when):
        if isinstance(part, Concluded) and not _happens(gardens, part):
            return f"Its finding '{part.finding}' never comes to {' or '.join(sorted(part.values))}; mend that first."
    return "Look for tests that exclude each other, or a bound that is never reached; mend the condition, or drop it."


def _happens(gardens: Gardens, part: Concluded) -> bool:
    return any(gardens.concluded(part.finding, value) is not gardens.nowhere for value in part.values)


def _parts(condition: Condition) -> tuple[Condition, ...]:
    """The parts that must all hold."""
    return condition.parts if isinstance(condition, All) else (condition,)


CHECK = Check("Every rule fires in some garden.", find)

"""The rules read straight off their meaning, without the engine: the yardstick the engine is held against.

Walks the layers of a rulebook and asks each condition whether it surely holds. Also tells the
state of every rule, which the interview and the explanations need.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from assistant.inference.conclusions import concluded_by, conflicts, findings_only, winner
from assistant.model.conditions import Knowledge, Truth, surely, truth
from assistant.model.derivation import Conflict
from assistant.model.quantities import rounded
from assistant.model.readings import Reading, Span
from assistant.model.rules import ADVICE, Rule, Rulebook


class Evaluation(NamedTuple):
    """What the rules come to: the names of those that fired, and what they concluded."""

    fired: tuple[str, ...]
    concluded: Mapping[str, frozenset[str]]
    advice: str | None
    conflicts: tuple[Conflict, ...]
    cautions: tuple[str, ...]


def evaluate(rulebook: Rulebook, readings: Mapping[str, Reading], domains: Mapping[str, Reading]) -> Evaluation:
    """The rules that must fire on these readings, layer by layer, and what comes of them."""
    known = knowledge(readings, domains)
    fired: list[Rule] = []
    for layer in rulebook.layers():
        fired += [rule for rule in layer if surely(rule.when, known)]
        known = known._replace(concluded=findings_only(concluded_by(fired)))
    concluded = concluded_by(fired)
    advice = winner(rulebook, concluded.get(ADVICE, frozenset()))
    advised = with_advice(known, advice)
    return Evaluation(
        fired=tuple(rule.name for rule in fired),
        concluded=known.concluded,
        advice=advice,
        conflicts=conflicts(rulebook, concluded),
        cautions=tuple(name for name, caution in rulebook.cautions.items() if surely(caution.when, advised)),
    )


def truth_of_rules(rulebook: Rulebook, known: Knowledge) -> dict[str, Truth]:
    """The state of every rule by name, given what was concluded in the end (`Derivation.knowledge`)."""
    return {rule.name: truth(rule.when, known) for rule in rulebook.rules}


def with_advice(known: Knowledge, advice: str | None) -> Knowledge:
    """What cautions are held against: the findings, and the advice as if it were one."""
    return known._replace(concluded={**known.concluded, ADVICE: frozenset({advice} if advice else ())})


def knowledge(readings: Mapping[str, Reading], domains: Mapping[str, Reading]) -> Knowledge:
    """Readings and domains on the scale of comparisons (hundredths), with nothing concluded yet."""
    return Knowledge(
        {name: _to_scale(reading) for name, reading in readings.items()},
        {name: _to_scale(domain) for name, domain in domains.items()},
    )


def _to_scale(reading: Reading) -> Reading:
    return Span(rounded(reading.low), rounded(reading.high)) if isinstance(reading, Span) else reading

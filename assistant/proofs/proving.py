"""All checks, one after the other, and what came of them."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.inference import TooManyBranches
from assistant.interview.diagrams import TooLarge
from assistant.interview.options import TooManyChoices
from assistant.model.rules import Rulebook
from assistant.proofs import (
    always_hidden,
    clashes,
    directions,
    engine,
    never_fires,
    no_advice,
    scenarios,
    unneeded_questions,
    unused_sources,
)
from assistant.proofs.frosts import FURTHEST, frost_measures
from assistant.proofs.gardens import Gardens, gardens_of
from assistant.proofs.report import Check, Flaw, Report, Unproved

CHECKS: tuple[Check, ...] = (
    never_fires.CHECK,
    always_hidden.CHECK,
    no_advice.CHECK,
    clashes.CHECK,
    directions.CHECK,
    unneeded_questions.CHECK,
    scenarios.CHECK,
    unused_sources.CHECK,
    engine.CHECK,
)
_TOO_MUCH = (TooLarge, TooManyChoices, TooManyBranches)


def prove(rulebook: Rulebook) -> Report:
    """Everything that can be proved of a rulebook, or speaks against it, or is too much to try."""
    try:
        gardens = gardens_of(rulebook)
    except _TOO_MUCH as limit:
        return Report((), tuple(Unproved(check.says, str(limit)) for check in CHECKS), ())
    flaws: list[Flaw] = []
    unproved = list(_out_of_range(rulebook))
    proved: list[str] = []
    for check in CHECKS:
        found, doubts = _outcome(check, gardens)
        flaws += found
        unproved += (Unproved(check.says, why) for why in doubts)
        if not found and not doubts:
            proved.append(check.says)
    return Report(tuple(sorted(flaws, key=lambda flaw: (flaw.place, flaw.code))), tuple(unproved), tuple(proved))


def _out_of_range(rulebook: Rulebook) -> Iterator[Unproved]:
    """Measures of days to a frost date that leave out gardens within half a year of it."""
    for name, measure in frost_measures(rulebook).items():
        if measure.low > -FURTHEST or measure.high < FURTHEST:
            why = f"the range of '{name}' leaves out days within half a year; {-FURTHEST}..{FURTHEST} would hold them"
            yield Unproved("All of this holds for gardens at any distance from their frost dates.", why)


def _outcome(check: Check, gardens: Gardens) -> tuple[list[Flaw], list[str]]:
    """What a check finds, up to where it becomes too large."""
    flaws: list[Flaw] = []
    doubts: list[str] = []
    try:
        for item in check.find(gardens):
            (doubts.append(item) if isinstance(item, str) else flaws.append(item))
    except _TOO_MUCH as limit:
        doubts.append(str(limit))
    return flaws, doubts

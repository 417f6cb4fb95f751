"""Invented cases for the checks against published figures, made from signs as a grower writes them."""

from __future__ import annotations

from datetime import date

from assistant.interview.answers import parse_answer
from assistant.model.case import Case, FrostDates, Garden, MonthDay
from assistant.model.derivation import Verdict
from assistant.model.quantities import Units
from assistant.rulebook import read_rulebook
from assistant.season import advise

RULEBOOK = read_rulebook("sweetpotato/when-to-dig")
ON = date(2031, 9, 15)
GARDEN = Garden({"first_frost": FrostDates(MonthDay(10, 8), MonthDay(10, 20), MonthDay(11, 2))})


def verdict(signs: dict[str, str], on: date = ON, units: Units = Units.US, garden: Garden = GARDEN) -> Verdict:
    """The verdict on a garden with these signs."""
    answers = {name: parse_answer(RULEBOOK.signs[name], text, on, units) for name, text in signs.items()}
    return advise(RULEBOOK, Case("An invented garden", RULEBOOK.name, on, units, garden, answers))


def advice(signs: dict[str, str], on: date = ON, units: Units = Units.US, garden: Garden = GARDEN) -> str | None:
    """The advice alone."""
    return verdict(signs, on, units, garden).advice


def finding(name: str, signs: dict[str, str], on: date = ON) -> str:
    """The one value that was found."""
    (value,) = verdict(signs, on).derivation.knowledge.concluded[name]
    return value

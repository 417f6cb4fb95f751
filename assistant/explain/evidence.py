"""What a derivation rests on: the firings behind the advice, their signs, and what goes with them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeVar

from assistant.model.derivation import Derivation, Firing
from assistant.model.rules import ADVICE, COMMON_PRACTICE, Caution, Disagreement, Source

Thing = TypeVar("Thing")


def firings_behind(derivation: Derivation) -> tuple[Firing, ...]:
    """The firings that gave the advice and, before them, those that gave the findings they rest on.

    Where rules disagree over the advice, everything that speaks for any side.
    """
    given = (derivation.advice,) if derivation.advice else derivation.advice_given
    waiting = [(ADVICE, value) for value in given]
    behind: set[str] = set()
    while waiting:
        for firing in derivation.firings_for(*waiting.pop()):
            if firing.rule.name not in behind:
                behind.add(firing.rule.name)
                waiting.extend(firing.findings)
    return tuple(firing for firing in derivation.firings if firing.rule.name in behind)


def signs_behind(derivation: Derivation) -> tuple[str, ...]:
    """The signs whose readings the advice rests on, in the rulebook's order."""
    rulebook = derivation.rulebook
    names = {name for firing in firings_behind(derivation) for name in firing.readings}
    signs = {name if name in rulebook.signs else rulebook.measures[name].sign for name in names}
    return tuple(name for name in rulebook.signs if name in signs)


def cautions(derivation: Derivation) -> tuple[Caution, ...]:
    """The cautions that go with the verdict, in the rulebook's order."""
    return tuple(derivation.rulebook.cautions[name] for name in derivation.cautions)


def disagreements(derivation: Derivation) -> tuple[Disagreement, ...]:
    """Where handbooks differ on what this verdict rests on: its firings and its cautions."""
    carriers = [firing.rule.disputed for firing in firings_behind(derivation)]
    carriers += [caution.disputed for caution in cautions(derivation)]
    return tuple(derivation.rulebook.disagreements[name] for name in _each_once(carriers))


def sources(derivation: Derivation, of_cautions: bool = True) -> tuple[Source, ...]:
    """The published sources of the firings behind the advice, the disagreements and, if wanted, the cautions."""
    cited = [firing.rule.sources for firing in firings_behind(derivation)]
    cited += [caution.sources for caution in cautions(derivation) if of_cautions]
    cited += [side.sources for disagreement in disagreements(derivation) for side in disagreement.sides]
    found = (derivation.rulebook.sources.get(code) for code in _each_once(cited) if code != COMMON_PRACTICE)
    return tuple(source for source in found if source)


def _each_once(groups: Iterable[Iterable[Thing]]) -> list[Thing]:
    return list(dict.fromkeys(thing for group in groups for thing in group))

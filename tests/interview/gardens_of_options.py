"""Small random rulebooks whose every way of answering can be listed, to hold the remainder against."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations, product
from random import Random

from random_rulebooks import Maker, domains

from assistant.inference.evaluator import evaluate
from assistant.interview.remainder import Ending
from assistant.model.conditions import Compare, leaves
from assistant.model.quantities import Kind, rounded
from assistant.model.readings import Choices, Known, Origin, Reading, Span
from assistant.model.rules import Rulebook
from assistant.model.signs import Effort, Sign


def small_rulebook(seed: int, rules: int = 7) -> Rulebook:
    """A rulebook of one number and two choices, with findings, *could* and *can't tell*."""
    maker = Maker(Random(seed))
    signs = (
        Sign("number", Kind.NUMBER, "", "", Effort.LOOK_UP, low=0, high=4),
        Sign("leaf", Kind.CHOICE, "", "", Effort.GLANCE, choices=dict.fromkeys(("green", "yellow", "black"), "")),
        Sign("cover", Kind.CHOICE, "", "", Effort.STOOP, choices=dict.fromkeys(("yes", "no"), "")),
    )
    blank = replace(maker.rulebook(), signs={sign.name: sign for sign in signs}, measures={}, tables={}, cautions={})
    return replace(blank, rules=tuple(maker.rules(blank, rules)))


def unasked(rulebook: Rulebook) -> dict[str, Known]:
    return {name: Known(whole, Origin.NOT_ASKED) for name, whole in domains(rulebook).items()}


def every_reading(rulebook: Rulebook, sign: Sign) -> list[Reading]:
    """All sets of choices; all runs between values at, just below and just above each bound and end."""
    if sign.kind is Kind.CHOICE:
        choices = list(sign.choices)
        return [Choices(frozenset(some)) for size in range(len(choices)) for some in combinations(choices, size + 1)]
    bounds = {leaf.bound for rule in rulebook.rules for leaf in leaves(rule.when) if isinstance(leaf, Compare)}
    near = {rounded(bound + step) for bound in (*bounds, sign.low, sign.high) for step in (-0.01, 0, 0.01)}
    values = sorted(value for value in near if sign.low <= value <= sign.high)
    return [Span(low, high) for low in values for high in values if low <= high]


def every_garden(rulebook: Rulebook) -> Iterator[tuple[dict[str, Reading], Ending]]:
    """Every way of answering, and what the plain evaluator makes of it."""
    names = list(rulebook.signs)
    whole = domains(rulebook)
    for readings in product(*(every_reading(rulebook, sign) for sign in rulebook.signs.values())):
        garden = dict(zip(names, readings, strict=True))
        found = evaluate(rulebook, garden, whole)
        yield garden, Ending(found.advice, bool(found.conflicts))

"""How the assistant stands beside the rules of thumb: who does best, and where it falls short, in plain words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from assistant.outlook.replay.scores import HINDSIGHT, Score, Scores
from assistant.outlook.replay.thumbs import THUMBS

ASSISTANT = "assistant"
ENOUGH = 0.85
"""The share of hindsight's worth that the worst tenth of autumns should reach. Our choice."""


def worse_value(views: Sequence[Scores], name: str) -> float:
    """A policy's mean value in the worse of the two views; 0 where no autumn bore anything."""
    return min(score.value_mean or 0.0 for score in _both(views, name))


def best_rule(views: Sequence[Scores]) -> str:
    """The rule of thumb with the highest value in its worse view."""
    return max(THUMBS, key=lambda name: worse_value(views, name))


def summary(views: Sequence[Scores]) -> str:
    """Who does best, counted by the view that is worse for each."""
    rule = best_rule(views)
    own, other = (worse_value(views, name) for name in (ASSISTANT, rule))
    first, second = ((ASSISTANT, own), (rule, other)) if own >= other else ((rule, other), (ASSISTANT, own))
    return (
        f"Counted by the view that is worse for each, {_called(first[0])} keeps most of what hindsight would have had, "
        f"{first[1]:.1%}, before {_called(second[0])} with {second[1]:.1%}."
    )


def shortfalls(views: Sequence[Scores]) -> Iterator[str]:
    """Where the assistant falls short of hindsight or of a rule of thumb; nothing when it does nowhere."""
    rule = best_rule(views)
    if worse_value(views, ASSISTANT) <= worse_value(views, rule):
        yield f"Its value is not above that of {_called(rule)}."
    for view in views:
        yield from _in_view(view)


def _in_view(view: Scores) -> Iterator[str]:
    by_name = {score.name: score for score in view.policies}
    own, perfect = by_name[ASSISTANT], by_name[HINDSIGHT]
    kindest = min((by_name[name] for name in THUMBS), key=lambda score: score.crops_hurt)
    where = f"Where a light frost {'does no harm' if view.frost.value == 'harmless' else 'hurts'}"
    if own.crops_lost > perfect.crops_lost:
        yield f"{where}, it lost {_crops(own.crops_lost)}; hindsight lost {perfect.crops_lost}."
    if own.crops_hurt > kindest.crops_hurt:
        yield f"{where}, it hurt {_crops(own.crops_hurt)}; {_called(kindest.name)} hurt {kindest.crops_hurt}."
    if own.value_p10 is not None and own.value_p10 < ENOUGH:
        yield f"{where}, its worst tenth of autumns kept {own.value_p10:.0%} of hindsight's worth or less."


def _both(views: Sequence[Scores], name: str) -> list[Score]:
    return [score for view in views for score in view.policies if score.name == name]


def _called(name: str) -> str:
    return "the assistant" if name == ASSISTANT else f"the rule {name}"


def _crops(number: int) -> str:
    return f"{number} crop{'s' * (number != 1)}"

"""How each policy did over the autumns: its worth beside hindsight's, crops hurt and lost, walks and hills."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from statistics import fmean, median
from typing import NamedTuple

from assistant.outlook.replay.beds import Bed
from assistant.outlook.replay.grower import Season
from assistant.outlook.replay.yardstick import View

WORST = 0.1
"""The share of autumns that the worst tenth is the upper end of."""


class Score(NamedTuple):
    """One policy under one view. Values are shares of hindsight's worth, None where no autumn bore anything."""

    name: str
    value_mean: float | None
    value_p10: float | None
    crops_hurt: int
    crops_lost: int
    day_dug_median: float
    visits_mean: float
    hills_mean: float


class Scores(NamedTuple):
    """All policies under one view of what a light frost costs."""

    frost: View
    policies: tuple[Score, ...]


HINDSIGHT = "hindsight"


def scores(
    beds: Sequence[Bed], seasons: Mapping[str, Sequence[Season]], days: Sequence[Sequence[int]]
) -> tuple[Scores, ...]:
    """The scores of every policy under both views; `days` are those on which a bed can be dug, for hindsight."""
    return tuple(_under(view, beds, seasons, days) for view in View)


def _under(
    view: View, beds: Sequence[Bed], seasons: Mapping[str, Sequence[Season]], days: Sequence[Sequence[int]]
) -> Scores:
    best = [max(possible, key=bed.worth[view].__getitem__) for bed, possible in zip(beds, days, strict=True)]
    perfect = [Season(day, 1, 0) for day in best]
    everyone = {**seasons, HINDSIGHT: perfect}
    return Scores(view, tuple(_score(name, view, beds, went, best) for name, went in everyone.items()))


def _score(name: str, view: View, beds: Sequence[Bed], seasons: Sequence[Season], best: Sequence[int]) -> Score:
    shares = sorted(_shares(view, beds, seasons, best))
    kept = [bed.kept[view][season.dug] for bed, season in zip(beds, seasons, strict=True)]
    return Score(
        name=name,
        value_mean=fmean(shares) if shares else None,
        value_p10=quantile(shares, WORST) if shares else None,
        crops_hurt=sum(share < 1 for share in kept),
        crops_lost=sum(share == 0 for share in kept),
        day_dug_median=median(season.dug for season in seasons),
        visits_mean=fmean(season.visits for season in seasons),
        hills_mean=fmean(season.hills for season in seasons),
    )


def _shares(view: View, beds: Sequence[Bed], seasons: Sequence[Season], best: Sequence[int]) -> Iterable[float]:
    """Each autumn's worth beside hindsight's, but for autumns in which nobody could have had anything."""
    for bed, season, perfect in zip(beds, seasons, best, strict=True):
        most = bed.worth[view][perfect]
        if most > 0:
            yield bed.worth[view][season.dug] / most


def quantile(ordered: Sequence[float], share: float) -> float:
    """The value below which this share of an ordered sequence lies, in between by proportion."""
    place = (len(ordered) - 1) * share
    below = int(place)
    above = min(below + 1, len(ordered) - 1)
    return ordered[below] + (place - below) * (ordered[above] - ordered[below])

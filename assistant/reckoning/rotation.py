"""How long a bed rests from sweet potatoes, by its history and the disease seen in it; and what can grow there now.

A rest is counted in full seasons without the crop. "Once in four years" leaves three of them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date, timedelta
from enum import Enum
from typing import NamedTuple

from assistant.model.readings import Span

SWEET_POTATOES = "sweet-potatoes"
POTATOES = "potatoes"
NO_DISEASE = "none"
USUAL_REST = 3
RESTS: Mapping[str, int] = {
    NO_DISEASE: USUAL_REST,
    "other-rot": USUAL_REST,
    "root-knot": USUAL_REST,
    "scurf": 4,
    "black-rot": 4,
    "wilt": 8,
}
"""Seasons of rest by disease. 3 meets once in four years (Purdue) and three years (Infonet); 4 after black rot is North
Carolina State's least; 4 after scurf is the long end of 2 to 4 from memory; 8 after wilt is our judgement on what is
called many years."""
KEEPS_ROOT_KNOT = (SWEET_POTATOES, POTATOES)
"""Potatoes feed the root-knot of sweet potatoes; in turns yields fell each year (ARS, Johnson et al. 1996)."""


class Said(NamedTuple):
    """One published rotation: who says so, the years as published, and whether they are `once in` so many years or
    so many years `away`."""

    who: str
    source: str
    years: Span
    counts: str
    after: str = ""

    @property
    def seasons_off(self) -> Span:
        """The full seasons without the crop that it comes to."""
        less = 1 if self.counts == "once in" else 0
        return Span(self.years.low - less, self.years.high - less)


MANY = 99
PUBLISHED = (
    Said("North Carolina SweetPotato Commission", "R07e", Span(2, 3), "once in", "black-rot"),
    Said("North Carolina State University", "R77", Span(4, MANY), "away", "black-rot"),
    Said("Infonet-Biovision", "R83", Span(3, 3), "away", "black-rot"),
    Said("Purdue University", "R22", Span(3, 4), "once in"),
    Said("USDA, in the 1940s", "R40", Span(4, 5), "once in"),
)
"""What is in print; read in all five."""


class Season(NamedTuple):
    """What a bed grew in a year, and the disease it had."""

    year: int
    crop: str
    disease: str = NO_DISEASE


class Held(NamedTuple):
    """Why a bed may not have sweet potatoes before a year: the season that holds it and the seasons of rest."""

    until: int
    season: Season
    rest: int


def held_until(history: Iterable[Season]) -> Held | None:
    """The first year in which the bed may have sweet potatoes again, and which season says so; None without any.

    A season after root-knot with potatoes counts as one with sweet potatoes.
    """
    seasons = sorted(history)
    return max(_holding(seasons), key=lambda held: held.until, default=None)


def _holding(seasons: Sequence[Season]) -> Iterator[Held]:
    root_knot = False
    for season in seasons:
        root_knot = root_knot or season.disease == "root-knot"
        if season.crop == SWEET_POTATOES or (root_knot and season.crop in KEEPS_ROOT_KNOT):
            rest = RESTS[season.disease]
            yield Held(season.year + rest + 1, season, rest)


def seasons_rested(history: Iterable[Season], year: int) -> int | None:
    """The full seasons of rest before the crop that is dug in a year; None when the bed never had any.

    Potatoes after root-knot are no rest.
    """
    years = [each.season.year for each in _holding(sorted(history)) if each.season.year < year]
    return year - max(years) - 1 if years else None


def last_disease(history: Iterable[Season]) -> str:
    """The disease of the latest sweet potatoes; the one that asks for the longest rest where several are written."""
    crops = [season for season in history if season.crop == SWEET_POTATOES]
    latest = max((season.year for season in crops), default=0)
    found = [season.disease for season in crops if season.year == latest]
    return max(found, key=RESTS.__getitem__, default=NO_DISEASE)


class Fit(str, Enum):
    """Whether there is time for a crop."""

    NOW = "now"
    EARLY = "too early"
    LATE = "too late"


class Taker(NamedTuple):
    """What can follow: the weeks before the ground freezes between which it goes in, and a note."""

    name: str
    first: float
    last: float
    sources: tuple[str, ...]
    note: str = ""
    feeds_root_knot: bool = False

    def fit(self, weeks: float) -> Fit:
        """Whether so many weeks before the ground freezes is its time."""
        if weeks < self.last:
            return Fit.LATE
        return Fit.NOW if weeks <= self.first else Fit.EARLY

    def window(self, freeze: date) -> tuple[date, date]:
        """The first and last day to plant it, the ground freezing on a day."""
        return freeze - timedelta(weeks=self.first), freeze - timedelta(weeks=self.last)


TAKERS = (
    Taker("garlic", 8, 2, ("R126", "M-GARLIC"), "under four weeks mulch it at once"),
    Taker("winter rye", 14, 3, ("R125", "M-COVERS"), "the latest cover there is"),
    Taker("winter wheat", 12, 5, ("M-COVERS",), "easier to turn under than rye"),
    Taker("oats", 14, 8, ("M-COVERS",), "killed by frost, leaves a mulch"),
    Taker("hairy vetch", 14, 8, ("M-COVERS",), "with rye; brings nitrogen, so feed less", True),
    Taker("crimson clover", 14, 8, ("M-COVERS", "R100"), "did not replace fertilizer in its first two years", True),
)
"""Weeks of rye and garlic: read for single places and turned into weeks by our judgement; the rest from memory."""


def takers(weeks: float, root_knot: bool = False) -> list[tuple[Taker, Fit]]:
    """What there is time for so many weeks before the ground freezes; after root-knot nothing that feeds it."""
    return [(taker, taker.fit(weeks)) for taker in TAKERS if not (root_knot and taker.feeds_root_knot)]

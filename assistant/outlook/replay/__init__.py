"""The same garden in every autumn of a station's record: the rulebook beside rules of thumb and perfect hindsight."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from random import Random

from assistant.model.case import MonthDay
from assistant.model.readings import Span
from assistant.model.rules import Rulebook
from assistant.model.weather import StationRecord
from assistant.outlook.replay.autumns import Autumn, autumns
from assistant.outlook.replay.beds import DAYS, Bed, nature
from assistant.outlook.replay.eyes import THERMOMETER, Eyes
from assistant.outlook.replay.forecasts import Forecasts, forecasts
from assistant.outlook.replay.grower import Grower, Season
from assistant.outlook.replay.scores import Scores, scores
from assistant.outlook.replay.standing import ASSISTANT
from assistant.outlook.replay.thumbs import THUMBS

__all__ = ["Planting", "Replay", "replay"]

SATURDAY = 5
US_NO_1 = Span(1.75, 3.5)
"""Inches across; U.S. No. 1 (LSU AgCenter 2009)."""


@dataclass(frozen=True)
class Planting:
    """What is planted when, what size is wanted (in), and the seed that everything drawn by lot comes from."""

    on: MonthDay
    variety: str
    wanted: Span = US_NO_1
    seed: int = 1


@dataclass(frozen=True)
class Replay:
    """How the policies did. `skipped` says why a year's autumn could not be followed.

    `weekends` are the scores of growers who can dig at weekends only; None where nobody asked.
    """

    planting: Planting
    station: str
    years: tuple[int, ...]
    skipped: Mapping[int, str]
    views: tuple[Scores, ...]
    weekends: tuple[Scores, ...] | None = None


def replay(record: StationRecord, rulebook: Rulebook, planting: Planting, weekends: bool = False) -> Replay:
    """Play every policy through every autumn of the record. Without any autumn to follow there are no scores."""
    followed, skipped = autumns(record, planting.on)
    plays = [_Play(autumn, rulebook, planting) for autumn in followed]
    years = tuple(autumn.year for autumn in followed)
    any_day = _scored(plays, _any_day) if plays else ()
    at_weekends = _scored(plays, _weekend) if plays and weekends else None
    return Replay(planting, record.name, years, skipped, any_day, at_weekends)


class _Play:
    """One autumn with its bed and its forecasts. What is drawn depends on the seed and the year alone."""

    def __init__(self, autumn: Autumn, rulebook: Rulebook, planting: Planting) -> None:
        self.autumn = autumn
        self.rulebook = rulebook
        self.planting = planting
        full_days = rulebook.tables["varieties"].rows[planting.variety].values["days"]
        self.bed = Bed(autumn, nature(self.lot("bed"), full_days), planting.wanted)
        self.forecasts: Forecasts = forecasts(autumn, self.lot("forecasts"))

    def lot(self, what: str) -> Random:
        """Where chance comes from, for one thing drawn by lot."""
        return Random(f"{self.planting.seed} {what} {self.autumn.year}")

    def assisted(self, days: Sequence[int]) -> Season:
        """The season of a grower who follows the assistant and has time on these days."""
        error = self.lot("thermometer").gauss(0, THERMOMETER)
        eyes = Eyes(self.rulebook, self.planting.variety, self.bed, self.forecasts, error)
        return Grower(eyes, self.lot("hills"), days).season()


CanDig = Callable[[Autumn, int], bool]
"""Whether there is time to dig so many days after planting."""


def _any_day(autumn: Autumn, day: int) -> bool:
    return True


def _weekend(autumn: Autumn, day: int) -> bool:
    return autumn.on(day).weekday() >= SATURDAY


def _scored(plays: Sequence[_Play], can_dig: CanDig) -> tuple[Scores, ...]:
    days = [[day for day in DAYS if can_dig(play.autumn, day)] for play in plays]
    seasons = {ASSISTANT: [play.assisted(possible) for play, possible in zip(plays, days, strict=True)]}
    for name, thumb in THUMBS.items():
        wanted = [thumb(play.bed, play.forecasts) for play in plays]
        seasons[name] = [Season(_first_from(day, possible), 1, 0) for day, possible in zip(wanted, days, strict=True)]
    return scores([play.bed for play in plays], seasons, days)


def _first_from(day: int, possible: Sequence[int]) -> int:
    """The first possible day from a day on; the last one when none is left."""
    return next((each for each in possible if each >= day), possible[-1])

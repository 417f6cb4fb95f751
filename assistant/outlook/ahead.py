"""The six weeks ahead of a garden: the odds of cold, the soil, the roots and the advice, day by day.

What comes of them: the first good day to dig, the latest safe one at the grower's own risk, and what a week's wait
gains and risks. Where handbooks disagree over what a frost on the vines costs, both views are kept apart.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from enum import Enum
from functools import cached_property
from typing import NamedTuple

from assistant.inference import run
from assistant.interview.course import Course
from assistant.measures import domains, known_readings
from assistant.model.case import Case
from assistant.model.readings import Choices, Known, Span
from assistant.model.rules import Rulebook
from assistant.outlook.cold import FREEZE, HARD_FREEZE, OF_FROSTS, ColdAhead
from assistant.outlook.later import Later
from assistant.outlook.size import Roots, grams_gained, growing_days, roots_after
from assistant.outlook.soil import LAST_SAFE_SOIL, Soil, soil_ahead
from assistant.reckoning.freeze_dates import Counted
from assistant.reckoning.frost_odds import THRESHOLDS
from assistant.reckoning.ranges import Range
from assistant.reckoning.soil_warmth import WITHIN

SIX_WEEKS = 42
A_WEEK = 7
RISK = 0.1
DIGGING = ("sort-and-salvage", "dig-at-once", "dig-before-frost", "dig-now")
"""The advice that says to dig."""
LOOKING = "test-dig"
MOST = 0.5
"""The share of roots at the wanted size from which most of them are."""


class View(str, Enum):
    """What a frost on the vines costs, which handbooks dispute."""

    HARMLESS = "harmless"
    HURTS = "hurts"

    @property
    def limit(self) -> int:
        """°F of the air that does harm: a killing freeze, or the first freeze on the vines."""
        return HARD_FREEZE if self is View.HARMLESS else FREEZE


class End(str, Enum):
    """Why a day is the latest safe one."""

    RISK = "the risk is reached"
    UNKNOWN = "nothing is known of the nights after it"
    HORIZON = "the outlook ends"


class LatestSafe(NamedTuple):
    """The last day to dig with no more than the accepted chance of harm before it, and why it is the last."""

    on: date
    end: End


class DayAhead(NamedTuple):
    """One day: the coming night, what may have come before that day's light, soil, roots, and the advice.

    Chances (0 to 1) are by limit in °F; those of the `night` are of the one after the day, those `by` it of all
    nights from tonight to the one before it. `harm` is the chance that waiting until this day has cost the crop.
    """

    on: date
    low: Range | None
    night: Mapping[int, float | None]
    by: Mapping[int, float | None]
    counted: Counted | None
    soil: Range | None
    roots: Roots | None
    harm: Mapping[View, float | None]
    advice: str | None


class Week(NamedTuple):
    """What waiting a week gains (grams a plant, and the share at the wanted size then) and what it risks."""

    grams: Range
    share: Range | None
    risk: Mapping[View, float | None]


@dataclass(frozen=True, eq=False)
class Outlook:
    """The days ahead of a case, today first, at an accepted risk (0 to 1)."""

    rulebook: Rulebook
    case: Case
    risk: float
    known: Mapping[str, Known]
    cold: ColdAhead
    growing: Sequence[Span]
    days: tuple[DayAhead, ...]

    @cached_property
    def open(self) -> tuple[str, ...]:
        """The signs not asked whose answer can still change the advice for today."""
        return Course(self.rulebook, self.known, domains(self.rulebook, self.case.on)).left

    @property
    def first_good_day(self) -> date | None:
        """The first day on which the rules would say to dig, or most roots are expected at the wanted size."""
        return next((day.on for day in self.days if _is_good(day)), None)

    @property
    def first_look(self) -> date | None:
        """The first day on which the rules would say to dig up a hill and look."""
        return next((day.on for day in self.days if day.advice == LOOKING), None)

    def latest_safe(self, view: View) -> LatestSafe | None:
        """The latest safe day in a view; None when nothing is known of the coming nights."""
        last = None
        for day in self.days:
            harm = day.harm[view]
            if harm is None:
                return LatestSafe(last, End.UNKNOWN) if last not in (None, self.case.on) else None
            if harm > self.risk:
                return LatestSafe(last or day.on, End.RISK)
            last = day.on
        return LatestSafe(self.days[-1].on, End.HORIZON)

    @cached_property
    def week(self) -> Week:
        """What waiting a week gains and risks."""
        then, now = self.days[A_WEEK], self.days[0]
        risk = {view: _added(now.harm[view], then.harm[view]) for view in View}
        return Week(grams_gained(self.growing[A_WEEK]), then.roots.share if then.roots else None, risk)


def outlook(rulebook: Rulebook, case: Case, risk: float = RISK, days: int = SIX_WEEKS) -> Outlook:
    """The outlook for a case. Raises `NotAValue` when the grower's own frost dates are not in order."""
    known = known_readings(rulebook, case)
    cold = ColdAhead(case, _frosts_seen(known))
    told = known.get("soil_temperature")
    soil = soil_ahead(case, told, days) if told else [None] * (days + 1)
    growing = growing_days(soil, vines_dead=_vines_dead(known))
    later = Later(rulebook, case, known, cold, soil, growing)
    return Outlook(rulebook, case, risk, known, cold, growing, tuple(_days(later, days)))


def _days(later: Later, days: int) -> list[DayAhead]:
    cold, case = later.cold, later.case
    by = {limit: cold.by(limit, days) for limit in THRESHOLDS}
    chilled = _chilled(later.soil)
    found = []
    for day in range(days + 1):
        on, soil, low = case.on + timedelta(days=day), later.soil[day], cold.expected(day)
        found.append(
            DayAhead(
                on=on,
                low=Range(low.mean - WITHIN * low.spread, low.mean, low.mean + WITHIN * low.spread) if low else None,
                night={limit: cold.that_night(limit, day) for limit in THRESHOLDS},
                by={limit: by[limit][day] for limit in THRESHOLDS},
                counted=cold.counted(on),
                soil=soil.range if soil else None,
                roots=roots_after(case.test_dig, later.growing[day]) if case.test_dig else None,
                harm={view: _either(by[view.limit][day], chilled[day]) for view in View},
                advice=_advice(later, day),
            )
        )
    return found


def _advice(later: Later, day: int) -> str | None:
    case = later.case_on(day)
    return run(later.rulebook, known_readings(later.rulebook, case), domains(later.rulebook, case.on)).advice


def _chilled(soil: Sequence[Soil | None]) -> list[float]:
    """The chance that the soil has been too cold by each day; as long as nothing tells of it, it counts for nothing."""
    chance, found = 0.0, []
    for day in soil:
        chance = max(chance, day.below(LAST_SAFE_SOIL)) if day else chance
        found.append(chance)
    return found


def _either(one: float | None, other: float) -> float | None:
    """The chance of one or the other, as if they were strangers."""
    return None if one is None else 1 - (1 - one) * (1 - other)


def _added(now: float | None, then: float | None) -> float | None:
    """The chance that comes on top of what has come already."""
    if now is None or then is None:
        return None
    return (then - now) / (1 - now) if now < 1 else 0.0


def _is_good(day: DayAhead) -> bool:
    return day.advice in DIGGING or (day.roots is not None and day.roots.share.likely >= MOST)


def _frosts_seen(known: Mapping[str, Known]) -> frozenset[int]:
    frosts = _surely(known.get("frost"))
    black = FREEZE if _surely(known.get("vines")) == "frost-blackened" else None
    seen = OF_FROSTS.get(frosts or "none", frozenset())
    return seen | OF_FROSTS["light"] if black else seen


def _vines_dead(known: Mapping[str, Known]) -> bool:
    return _surely(known.get("vines")) in ("withered", "frost-blackened") or _surely(known.get("frost")) in (
        "light", "hard")  # fmt: skip


def _surely(known: Known | None) -> str | None:
    """The one choice that is left, if it is one."""
    possible = known.reading.possible if known and isinstance(known.reading, Choices) else frozenset[str]()
    return next(iter(possible)) if len(possible) == 1 else None

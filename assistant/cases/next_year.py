"""The year after the dig: dates, beds and slips reckoned, and put before the rules of the next year."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import date, timedelta
from typing import NamedTuple

from assistant.cases.beds import Beds
from assistant.measures import with_frost_dates
from assistant.model.case import Case, MonthDay
from assistant.model.derivation import Verdict
from assistant.model.quantities import NotAValue, Units, format_number
from assistant.model.readings import Choices, Known, Origin, Reading, exactly, one_of
from assistant.model.rules import Rulebook
from assistant.model.signs import Sign
from assistant.reckoning.frost_odds import Hemisphere, Odds
from assistant.reckoning.planting import (
    Planting,
    Spring,
    Start,
    dates_of,
    ground_freezes,
    spring_from_dates,
    spring_of,
    start_of_slips,
)
from assistant.reckoning.ranges import Range
from assistant.reckoning.rotation import (
    NO_DISEASE,
    SWEET_POTATOES,
    Fit,
    Held,
    Season,
    Taker,
    held_until,
    last_disease,
    seasons_rested,
    takers,
)
from assistant.reckoning.slips import POUNDS_PER_FOOT, Layout, SlipPlan, slip_plan
from assistant.season import advise

RULEBOOK = "sweetpotato/next-year"
NEVER = 30
"""Weeks until the ground freezes where it does not, and seasons of rest of a bed that never had the crop, as the rules
have them."""
TO_THE_DIG = timedelta(days=150)
"""From planting to a date in the year of the dig, which names a season in the south as in the north."""


class Wanted(NamedTuple):
    """What is wanted of next year's crop: pounds, their use, months in store on the average, and how it is grown."""

    pounds: float | None = None
    use: str = "eaten"
    months: float = 3
    layout: Layout = Layout()
    per_foot: Range = POUNDS_PER_FOOT
    presprouted: bool = False
    percent: float | None = None


class OwnDates(NamedTuple):
    """What the grower knows of dates; they stand above those of a record."""

    soil_warm: MonthDay | None = None
    freezes: MonthDay | None = None
    never_freezes: bool = False
    hemisphere: Hemisphere | None = None


class Freeze(NamedTuple):
    """When the ground usually freezes; a day of None where in most winters it does not."""

    day: date | None
    winters: int | None = None
    frozen: int | None = None

    def weeks(self, on: date) -> int:
        """Whole weeks left from a day on."""
        return NEVER if self.day is None else min(max((self.day - on).days // 7, 0), NEVER - 1)


class BedState(NamedTuple):
    """A bed, what holds it back, and the seasons it will have rested by next year's dig; None when it never had any."""

    name: str
    held: Held | None
    rested: int | None
    ready: bool


class NextYear(NamedTuple):
    """Everything that can be said of the year after the dig: `year` is that of the dig to come, `late_freeze` the day
    by which the last freeze is past in nine springs of ten, `season` the days from planting to the first freeze, in one
    year of ten at most and usually."""

    case: Case
    verdict: Verdict
    wanted: Wanted
    spring: Spring
    planting: Planting
    late_freeze: date | None
    start: Start | None
    year: int
    freeze: Freeze | None
    takers: tuple[tuple[Taker, Fit], ...]
    season: tuple[int, int] | None
    beds: tuple[BedState, ...]
    chosen: BedState | None
    slips: SlipPlan | None


def next_year(rulebook: Rulebook, case: Case, beds: Beds, bed: str | None, wanted: Wanted, own: OwnDates) -> NextYear:
    """The plan for the year after the case's day. What the grower said of a sign stands above what is reckoned.

    Raises `NotAValue` when a record does not show its hemisphere, dates are out of order, or a season lies ahead.
    """
    case = with_frost_dates(case)
    spring = _spring(case, own)
    planting = spring.next_planting(case.on)
    year = ((planting.plant_out or date(case.on.year + 1, 5, 1)) + TO_THE_DIG).year
    _check_years(beds, year)
    freeze = _freeze(case, own)
    states = tuple(_state(name, seasons, year) for name, seasons in beds.items())
    chosen = next((state for state in states if state.name == bed), None) if bed else _best(states)
    signs = {**_date_signs(case.on, planting, freeze), **_bed_signs(beds, chosen, year)}
    case = replace(case, answers={**_known(rulebook, signs), **case.answers})
    return NextYear(
        case,
        advise(rulebook, case),
        wanted,
        spring,
        planting,
        late_freeze=spring.freeze_past(planting.last_freeze.year, 0.9) if planting.last_freeze else None,
        start=start_of_slips(planting.plant_out) if planting.plant_out else None,
        year=year,
        freeze=freeze,
        takers=tuple(takers(freeze.weeks(case.on), _root_knot(case))) if freeze else (),
        season=_season_days(case, planting),
        beds=states,
        chosen=chosen,
        slips=_slips(wanted),
    )


def _slips(wanted: Wanted) -> SlipPlan | None:
    if wanted.pounds is None:
        return None
    return slip_plan(wanted.pounds, wanted.use, wanted.months, wanted.layout, wanted.per_foot, wanted.presprouted)


def own_case(on: date, units: Units) -> Case:
    """A case of which nothing is said yet."""
    return Case("The bed after the dig", RULEBOOK, on, units)


def _spring(case: Case, own: OwnDates) -> Spring:
    record = case.weather.record if case.weather else None
    told = spring_of(record, own.hemisphere) if record else Spring()
    said = spring_from_dates(case.garden.dates.get("last_frost"), own.soil_warm)
    return Spring(said.last_freeze or told.last_freeze, said.soil_warm or told.soil_warm)


def _freeze(case: Case, own: OwnDates) -> Freeze | None:
    if own.never_freezes:
        return Freeze(None)
    if own.freezes:
        return Freeze(own.freezes.nearest(case.on))
    record = case.weather.record if case.weather else None
    if record is None:
        return None
    seasons = ground_freezes(record, own.hemisphere)
    odds = Odds.from_seasons(seasons)
    if odds is None:
        return None
    dates = dates_of(seasons)
    usual = odds.quantile(0.5, case.on.year)
    day = (dates.p50 if dates else MonthDay.of(usual)).nearest(case.on) if usual else None
    return Freeze(day, seasons.number, len(seasons.dates))


def _check_years(beds: Beds, year: int) -> None:
    for name, seasons in beds.items():
        last = max(season.year for season in seasons)
        if last > year:
            raise NotAValue(f"{name} has the season {last}, and the next dig is that of {year}; check the years")


def _season_days(case: Case, planting: Planting) -> tuple[int, int] | None:
    frost, plant_out = case.garden.dates.get("first_frost"), planting.plant_out
    if frost is None or plant_out is None:
        return None
    early, usual = (day.nearest(plant_out + TO_THE_DIG) for day in (frost.p10, frost.p50))
    return (early - plant_out).days, (usual - plant_out).days


def _state(name: str, seasons: tuple[Season, ...], year: int) -> BedState:
    held = held_until(seasons)
    return BedState(name, held, seasons_rested(seasons, year), held is None or held.until <= year)


def _best(states: tuple[BedState, ...]) -> BedState | None:
    """The bed that is ready and has rested the longest; else the one that is ready first."""
    ready = [state for state in states if state.ready]
    if ready:
        return max(ready, key=lambda state: NEVER if state.rested is None else state.rested)
    return min(states, key=lambda state: state.held.until if state.held else 0, default=None)


def _date_signs(on: date, planting: Planting, freeze: Freeze | None) -> Mapping[str, Reading]:
    found: dict[str, Reading] = {}
    if planting.plant_out:
        found["weeks_to_planting"] = exactly(min(max((planting.plant_out - on).days // 7, 0), 52))
    if freeze:
        found["weeks_to_freeze"] = exactly(freeze.weeks(on))
    return found


def _bed_signs(beds: Beds, chosen: BedState | None, year: int) -> Mapping[str, Reading]:
    """What a history says of the bed meant for next year, and of this year's crop."""
    found: dict[str, Reading] = {}
    if chosen:
        rested = NEVER if chosen.rested is None else min(chosen.rested, NEVER)
        found["years_since"] = exactly(rested)
        found["bed_disease"] = one_of(chosen.held.season.disease if chosen.held else NO_DISEASE)
    this_year = [
        season
        for seasons in beds.values()
        for season in seasons
        if season.crop == SWEET_POTATOES and season.year == year - 1
    ]
    if this_year:
        found["disease"] = one_of(last_disease(this_year))
    return found


def _known(rulebook: Rulebook, signs: Mapping[str, Reading]) -> Mapping[str, Known]:
    return dict(_in_words(rulebook.signs, signs))


def _in_words(signs: Mapping[str, Sign], told: Mapping[str, Reading]) -> Iterator[tuple[str, Known]]:
    for name, reading in told.items():
        if name not in signs:
            continue
        if isinstance(reading, Choices):
            yield name, Known(reading, Origin.RECKONED, ", ".join(sorted(reading.possible)))
        else:
            yield name, Known(reading, Origin.RECKONED, format_number(reading.low))


def _root_knot(case: Case) -> bool:
    return any(
        isinstance(known.reading, Choices) and known.reading.possible == {"root-knot"}
        for name in ("disease", "bed_disease")
        if (known := case.answers.get(name))
    )

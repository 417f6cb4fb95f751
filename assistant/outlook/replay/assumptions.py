"""What a replay takes for granted, each with who says so: the figures of the yardstick in words."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.model.quantities import format_number
from assistant.model.readings import Span
from assistant.outlook.assumptions import JUDGEMENT, MEMORY, Assumption
from assistant.outlook.replay import yardstick as figures
from assistant.outlook.replay.autumns import MOST_IN_A_ROW, MOST_MISSING
from assistant.outlook.replay.beds import YELLOWING_NIGHTS
from assistant.outlook.replay.eyes import THERMOMETER
from assistant.outlook.replay.grower import HILLS, LONGEST
from assistant.outlook.replay.thumbs import FORECAST_FROST
from assistant.reckoning.forecast_odds import MEAN_ABSOLUTE_ERROR, NIGHT_TO_NIGHT
from assistant.reckoning.growth import SEASON_GROWTH
from assistant.reckoning.soil_warmth import STANDARD_ERROR

COMMON = "common practice"
CROP_DEVELOPMENT = "Sweetpotato DiagNotes, Crop development"
NATIONAL_CROP = "University of New Hampshire research summary 2015"


def assumptions(wanted: Span, full_days: Span) -> list[Assumption]:
    """Everything that a replay rests on, for the size wanted (in) and the days of the variety."""
    return [*_growth(full_days), *_worth(wanted), *_frost(), *_freezes(), *_forecast(), *_grower(), *_record()]


def _growth(full_days: Span) -> Iterator[Assumption]:
    yield _said(
        f"Roots begin to swell {_range(figures.BULKING_BEGINS)} days after planting, drawn for each autumn.",
        CROP_DEVELOPMENT,
    )
    yield _said(
        f"In soil of {figures.SUMMER_SOIL} °F a plant then gains {_usual(SEASON_GROWTH)} grams of roots a day, "
        "drawn for each autumn.",
        NATIONAL_CROP,
        JUDGEMENT,
    )
    yield _said(
        f"That is so for the days of the variety, {_range(full_days)}, in summer's soil and longer in cooler soil.",
        "the rulebook's table of varieties",
    )
    yield _said(
        "After them growth goes on at anything from none (the likeliest) to all of its pace and fades to nothing by "
        f"day {_range(figures.GROWTH_FADES)}, for what a delay gained was inconsistent.",
        "R03",
        "R13",
        JUDGEMENT,
    )
    yield _said(
        f"Growth is fastest in soil of {figures.BEST_SOIL} °F and less to either side, none below "
        f"{_range(figures.NO_GROWTH_BELOW)} °F (drawn for each autumn), and over with the first frost on the vines.",
        "R59",
        "R63",
        "R15",
    )
    yield _said(
        f"The soil is reckoned from the air; the true one is off by {STANDARD_ERROR} °F (standard deviation).",
        "Zheng, Hunt and Running 1993",
    )


def _worth(wanted: Span) -> Iterator[Assumption]:
    yield _said(
        f"A plant has {_usual(figures.ROOTS_PER_PLANT)} roots. Their weights scatter by {figures.ROOT_SPREAD:.0%} "
        f"about the mean (lognormal), {figures.ALIKE_IN_A_HILL:.0%} of that from hill to hill.",
        "R17",
        JUDGEMENT,
    )
    yield _said(
        f"The worth of a crop is its weight in roots {_range(wanted)} in across; larger ones, and smaller ones from "
        f"{figures.CANNER:g} in up, count {figures.OFF_SIZE_WORTH:g}.",
        "R32a",
        "R94",
        JUDGEMENT,
    )
    yield _said(f"After {figures.LAST_DAY} days nothing is left to wait for.", "R13")


def _frost() -> Iterator[Assumption]:
    yield _said(
        f"A low of {figures.FROST_SURE} °F always frosts the vines, one of {figures.FROST_NEVER} never, in between by "
        "lot in proportion. Lows count in whole °F.",
        "W01",
        "W02",
        JUDGEMENT,
    )
    yield _said(
        f"Harmless: a light frost costs nothing in the first {figures.DUG_PROMPTLY} days, then "
        f"{figures.LOST_EACH_DAY:.0%} of the crop's worth a day, up to {figures.MOST_LOST_TO_FROST:.0%}.",
        "R09",
        "R35",
        JUDGEMENT,
    )
    yield _said(
        f"Hurts: any frost on the vines costs {figures.KEEPING_LOST:.0%}, and {figures.LOST_EACH_DAY:.0%} more a day, "
        f"up to {figures.MOST_LOST_TO_FROST:.0%}.",
        "R36",
        "R07b",
        JUDGEMENT,
    )


def _freezes() -> Iterator[Assumption]:
    yield _said(
        f"Under both views each night of {figures.HARD_FREEZE} °F or below halves what the crop is worth, and "
        f"{figures.DEEP_FREEZE} °F ends it.",
        "W01",
        COMMON,
        JUDGEMENT,
    )
    yield _said(
        f"Cold soil: {figures.CHILLING_DAYS} days below {figures.CHILLING_SOIL} °F cost {figures.LOST_TO_CHILL:.0%}, "
        f"each further one {figures.LOST_EACH_DAY:.0%}; a day below {figures.DEADLY_SOIL} °F ends the crop.",
        "R43",
        "R07a",
        "R15",
        JUDGEMENT,
    )
    yield _said(
        f"A crop with any such loss is hurt; one left with {figures.NOTHING_LEFT:.0%} or less is lost and hurt.",
        JUDGEMENT,
    )


def _forecast() -> Iterator[Assumption]:
    errors = ", ".join(format_number(error) for error in MEAN_ABSOLUTE_ERROR[:7])
    yield _said(f"Forecasts of the next seven nights err by {errors} °F on average and are right on average.", MEMORY)
    yield _said(
        f"Nights forecast on one day err together (correlation {NIGHT_TO_NIGHT:g} from one to the next), and later "
        "forecasts of a night only add to earlier ones.",
        "Clemson record 1930 to 2020",
        JUDGEMENT,
    )


def _grower() -> Iterator[Assumption]:
    yield _said(
        "The grower asks the assistant every day with the day's forecast, walks to the bed on the days it names, every "
        f"{LONGEST} days at least from day {figures.FIRST_LOOK} on, digs up {HILLS} hills where roots decide, and "
        "digs the crop on the last chance that the advice leaves.",
        JUDGEMENT,
    )
    yield _said("Soil fit to dig, no flood, no rot, a warm place to cure and no cover for the bed.", JUDGEMENT)
    yield _said(
        f"The grower's thermometer in the soil errs by {THERMOMETER:g} °F (standard deviation). It also "
        "tells the grower how far the bed is from the reckoned soil.",
        JUDGEMENT,
    )
    yield _said(f"Vines yellow once the nights of a week average below {YELLOWING_NIGHTS} °F.", COMMON)
    yield _said(
        f"Rules of thumb are kept to the day. A forecast frost is {FORECAST_FROST} °F or below on one of seven nights.",
        "W02",
    )
    yield _said("Hindsight digs on the best day, knowing all that came.", JUDGEMENT)


def _record() -> Iterator[Assumption]:
    yield _said(
        "Frost dates, usual lows and odds come from the other years of the record, never from the autumn itself. The "
        "bed is as warm as the station.",
        JUDGEMENT,
    )
    yield _said(
        f"An autumn with more than {MOST_IN_A_ROW} days missing in a row, or {MOST_MISSING} in all, is left out; "
        "shorter gaps are filled in from their neighbours.",
        JUDGEMENT,
    )


def _said(says: str, *sources: str) -> Assumption:
    return Assumption(says, sources)


def _range(span: Span) -> str:
    return f"{format_number(span.low)} to {format_number(span.high)}"


def _usual(ends: tuple[float, float, float]) -> str:
    low, usual, high = map(format_number, ends)
    return f"{usual} as a rule, {low} to {high},"

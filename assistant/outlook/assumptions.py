"""What an outlook takes for granted, each with who says so; only what this outlook rests on is listed."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from assistant.model.quantities import Kind, Units, format_value
from assistant.model.weather import Forecast, StationRecord
from assistant.outlook.ahead import Outlook
from assistant.outlook.cold import FREEZE, ColdAhead
from assistant.outlook.soil import LAST_SAFE_SOIL
from assistant.reckoning.forecast_odds import NIGHT_TO_NIGHT, forecast_spread
from assistant.reckoning.frost_odds import THRESHOLDS
from assistant.reckoning.growth import GROWTH_ENDS, SEASON_GROWTH
from assistant.reckoning.soil_warmth import STANDARD_ERROR

JUDGEMENT = "our own judgement"
MEMORY = "from memory"


class Assumption(NamedTuple):
    """One thing taken for granted, and where it comes from: codes of the rulebook's sources, or titles."""

    says: str
    sources: tuple[str, ...]


def assumptions(outlook: Outlook) -> list[Assumption]:
    """Everything that this outlook rests on."""
    return [*_cold(outlook), *_soil(outlook), *_harm(outlook), *_growth(outlook), *_advice(outlook)]


def missing(outlook: Outlook) -> list[str]:
    """What nothing tells, and what to write so that it does."""
    case, found = outlook.case, []
    weather, dates = case.weather, case.garden.dates
    if weather is None or weather.forecast is None:
        told = outlook.cold.nights.forecast is not None
        what = "Of the forecast only the coldest night is known" if told else "No forecast"
        found.append(f"{what}: give the nights with --forecast FILE, or their lows with --lows.")
    if weather is None or weather.record is None:
        found.append(
            "No station's record, so the lows of later nights and the soil are not known: give one with --weather FILE."
        )
        if "first_frost" not in dates:
            found.append(
                "No frost dates, so nothing is known beyond the forecast: write into the case, for instance, "
                "garden: {first_frost: {p10: 10-08, p50: 10-20, p90: 11-02}}."
            )
    if case.test_dig is None:
        found.append("No test dig, so the roots' size is not reckoned on: add test_dig: to the case.")
    if outlook.open:
        asks = " ".join(outlook.rulebook.signs[name].ask for name in outlook.open)
        found.append(f"Not asked, though an answer may change the advice: {asks}")
    return found


def _cold(outlook: Outlook) -> Iterator[Assumption]:
    cold, case = outlook.cold, outlook.case
    units = case.units
    limits = ", ".join(_degrees(limit, units) for limit in THRESHOLDS)
    yield Assumption(
        f"A low counts in whole °F: at or below {limits} it is a frost, a freeze, a killing freeze.", ("W01", "W02")
    )
    if case.weather and case.weather.forecast:
        yield _forecast(case.weather.forecast, cold, units)
    yield from _beyond(cold)
    if cold.reach > 1 or cold.record:
        yield Assumption(
            f"Nights go together (correlation {NIGHT_TO_NIGHT} from one to the next), so their chances are not simply "
            "multiplied.", ("Clemson SC record 1930 to 2020",)
        )  # fmt: skip
    yield Assumption("The bed is as cold as the station; in a hollow and on grass it is colder.", ("M-SIGNS",))
    yield from _come(cold, units)


def _forecast(forecast: Forecast, cold: ColdAhead, units: Units) -> Assumption:
    near, far = (_difference(forecast_spread(lead), units) for lead in (0, 7))
    return Assumption(
        f"The forecast ({forecast.source or 'as given'}) speaks for {cold.reach} nights. A forecast low errs by "
        f"{near} tonight and {far} in a week (standard deviation), and never by more than lows scatter.",
        (f"working values {MEMORY}; no readable table was found",),
    )


def _beyond(cold: ColdAhead) -> Iterator[Assumption]:
    own, record = "first_frost" in cold.case.garden.dates, cold.record
    if own:
        yield _by_dates(cold)
    if record:
        yield from _by_record(cold, record, own)


def _by_dates(cold: ColdAhead) -> Assumption:
    first = cold.odds[FREEZE].middle
    apart = {at: odds.middle - first for at, odds in cold.odds.items() if at != FREEZE and odds.share}
    days = ", ".join(f"{at} °F {abs(by):.0f} days {'sooner' if by < 0 else 'later'}" for at, by in apart.items())
    station = cold.record.name if cold.record else "Clemson SC, 1930 to 2020"
    return Assumption(
        f"The first {FREEZE} °F comes as your own dates say: a normal curve through them, none having come so far; the "
        f"first {days}, as at {station} on average.",
        ("your frost dates", station),
    )


def _told_by_record(cold: ColdAhead) -> bool:
    return any(odds.seasons for odds in cold.odds.values())


def _by_record(cold: ColdAhead, record: StationRecord, own: bool) -> Iterator[Assumption]:
    beyond = "Beyond the forecast" if cold.reach else "As there is no forecast"
    yield Assumption(
        f"{beyond}, each night is as usual for its date at {record.name}: the mean and spread of the lows within a "
        "week of it, over all years.", (record.name,)
    )  # fmt: skip
    if _told_by_record(cold) and not own:
        seasons = max(odds.seasons or 0 for odds in cold.odds.values())
        yield Assumption(
            f"The first frost comes as in the {seasons} autumns of {record.name}: the share that had one, times a "
            "normal curve through its dates, none having come so far.",
            ("method of NOAA's 1971-2000 freeze tables", "Vestal 1971, Monthly Weather Review 99:650"),
        )


def _come(cold: ColdAhead, units: Units) -> Iterator[Assumption]:
    passed = cold.at_station - cold.seen
    if cold.seen:
        yield Assumption("A frost has come, as you say, so its odds are certain and growth is over.", ("R15",))
    if passed:
        limits = " and ".join(_degrees(limit, units) for limit in sorted(passed, reverse=True))
        yield Assumption(f"The station has had {limits} this season; those odds are of another such night, by the "
                         "usual lows.", (JUDGEMENT,))  # fmt: skip


def _soil(outlook: Outlook) -> Iterator[Assumption]:
    units = outlook.case.units
    if outlook.days[0].soil is not None:
        yield Assumption(
            "The soil at 4 in (10 cm) closes a quarter of its gap to the air each day, bare ground; such an estimate "
            f"errs by {_difference(STANDARD_ERROR, units)}, and more as the weather ahead is not known.",
            ("Zheng, Hunt and Running 1993, Climate Research 2:183-191",),
        )


def _harm(outlook: Outlook) -> Iterator[Assumption]:
    units = outlook.case.units
    soil = f", or soil below {_degrees(LAST_SAFE_SOIL, units)}" if outlook.days[0].soil else " (the soil is not known)"
    yield Assumption(
        "Where a frost on the vines is held harmless if the crop is dug promptly, harm begins with a killing freeze, "
        f"28 °F (-2.2 °C) in the air{soil}.", ("R09", "R11", "R14", "R13")
    )  # fmt: skip
    yield Assumption(
        "Where a frost on the vines is held to hurt keeping, harm begins with the first freeze on the vines, "
        "32 °F (0 °C), as well.", ("R36", "R35")
    )  # fmt: skip
    if outlook.days[0].soil:
        yield Assumption("Some handbooks see harm begin in soil below 55 °F (12.8 °C); the latest safe day does not "
                         "wait for that.", ("R07a", "R09", "R11"))  # fmt: skip
        yield Assumption("Whether the air freezes and whether the soil is too cold are taken as independent.",
                         (JUDGEMENT,))  # fmt: skip


def _growth(outlook: Outlook) -> Iterator[Assumption]:
    low, high = (_degrees(end, outlook.case.units) for end in (GROWTH_ENDS.low, GROWTH_ENDS.high))
    soil = f"none in soil below {low}, in full from {high}" if outlook.days[0].soil else "half of it in unknown soil"
    yield Assumption(
        f"A plant gains 0 to {SEASON_GROWTH.high:g} g of roots a day, {SEASON_GROWTH.likely:g} as the season's mean; "
        f"{soil}, none under dead vines. A gain from waiting is never certain: trials found it inconsistent.",
        ("R03", "R59", "R15", "New Hampshire research summary 2015, by our arithmetic"),
    )
    if outlook.case.test_dig:
        yield Assumption(
            "Roots share the plant's gain by their weight and grow wider, not longer; the hills dug are a fair sample.",
            ("Japanese Journal of Crop Science 73(1):65, abstract", JUDGEMENT),
        )


def _advice(outlook: Outlook) -> Iterator[Assumption]:
    yield Assumption("Today's advice is the rulebook's on what is known. On a later day it is what the rules would "
                     "say if no frost comes before, and the coldest forecast of the week after it is as likely as "
                     "not.", (outlook.rulebook.name,))  # fmt: skip
    yield Assumption("Vines, soil and roots stay as they were seen, but that roots may grow, days pass, and what was "
                     "forecast runs out; a look at the roots holds for a week.", (JUDGEMENT,))  # fmt: skip


def _degrees(value: float, units: Units) -> str:
    return format_value(Kind.TEMPERATURE, value, units)


def _difference(value: float, units: Units) -> str:
    """A difference between temperatures."""
    return f"{value:.1f} °F" if units is Units.US else f"{value * 5 / 9:.1f} °C"

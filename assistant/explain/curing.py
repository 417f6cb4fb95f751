"""The words for a cure: how far it is, how long yet, by whose recipe, what counted for nothing, dew and water."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date, datetime, timedelta
from math import ceil, inf

from assistant.explain.room_air import CURING
from assistant.measures.curing import Cure
from assistant.model.quantities import Kind, Units, celsius, format_day, format_number, format_value
from assistant.model.readings import Span
from assistant.model.room_log import RoomLog
from assistant.reckoning.curing import Recipe
from assistant.reckoning.moist_air import Air, water_to_add
from assistant.reckoning.yields import GRAMS_PER_POUND

WANTED = Air(85, 88)
"""What water is reckoned for when the place is cooler than recipes ask: the middle of them."""
LEAST_WATER = 0.003
"""Pounds: less than a sip is not worth telling."""


def share_words(share: Span) -> str:
    """A range of shares as percents, such as 48 to 120 %."""
    low, high = round(share.low * 100), round(share.high * 100)
    return f"{low} %" if low == high else f"{low} to {high} %"


def progress_words(cure: Cure) -> str:
    """How far it is, from the slowest to the quickest handbook."""
    share = share_words(Span(cure.progress.slow, cure.progress.quick))
    return f"The cure is {share} done, from the slowest to the quickest handbook."


def left_words(cure: Cure, on: date, units: Units) -> str:
    """When it will be done, should the air stay as it was read last."""
    if not cure.now.known:
        return "Read the warmth and the damp again, to tell how long it takes yet."
    fewest, most = cure.days_left
    air = _air_words(cure, units)
    if fewest == inf:
        return f"{air} no handbook calls anything healed, however long it lasts."
    if most == 0:
        return "Every handbook calls that done."
    first = "is done now" if fewest <= 0 else f"is done on {_day(on, fewest)}"
    if most is None:
        return f"{air} it {first} by the quickest, and never by the slowest."
    return f"{air} it {first} by the quickest and on {_day(on, most)} by the slowest."


def plan_words(cure: Cure, units: Units) -> str:
    """How long a cure takes that is yet to begin, in the air of the place."""
    fewest, most = cure.days_left
    air = _air_words(cure, units)
    if fewest == inf:
        return f"{air} no handbook calls anything healed, however long it lasts."
    by_slowest = "and is never done by the slowest" if most is None else f"and {ceil(most)} by the slowest"
    return f"{air} a cure takes {ceil(fewest)} days by the quickest handbook, {by_slowest}."


def unhealing_words(cure: Cure) -> Iterator[str]:
    """The days that counted little or nothing, and who disagrees."""
    so_far = cure.progress
    if so_far.disputed:
        yield (
            f"{_days(so_far.disputed)} between 60 and 70 °F (16 and 21 °C): Michigan State cures at 65 in two to three "
            "weeks, others say that nothing heals there. The slow end counts nothing for them, the quick end that pace."
        )
    if so_far.cold:
        yield f"{_days(so_far.cold)} below 60 °F (16 °C), which no handbook counts."
    if so_far.hot:
        yield f"{_days(so_far.hot)} above 90 °F (32 °C), where no handbook cures."
    if so_far.dry:
        yield f"{_days(so_far.dry)} drier than 80 percent: some kinds heal all the same, some never make a whole layer."
    if so_far.unknown:
        yield f"{_days(so_far.unknown)} without readings: anything may have been."


def recipe_words(recipe: Recipe, units: Units) -> str:
    """A recipe in one line: who, how warm, how damp, how long."""
    damp = _ends(recipe.humidity, format_number)
    warm = _ends(recipe.temperature, lambda value: _degrees(value, units))
    return f"{recipe.named}: {warm} {_unit(units)}, {damp} %, {_ends(recipe.days, format_number)} days"


def dew_words(air: Air, roots: float | None, units: Units) -> str:
    """Where this air drops its water, and whether the roots are that cold."""
    dew = format_value(Kind.TEMPERATURE, round(air.dew_point, 1), units)
    if roots is None:
        return f"In this air everything colder than {dew} gets wet, roots too."
    told = format_value(Kind.TEMPERATURE, roots, units)
    if not air.wets(roots):
        return f"Roots at {told} stay dry: in this air only what is colder than {dew} gets wet."
    return f"Roots at {told} will sweat, as all does that is colder than {dew}. Warm them before you add water."


def water_words(air: Air, cubic_feet: float, outside: Air | None, units: Units) -> Iterator[str]:
    """How much water brings the place to the damp that recipes ask for, and how much each change of its air takes."""
    wanted = wanted_air(air)
    goal = f"{format_value(Kind.TEMPERATURE, wanted.temperature, units)} and {wanted.humidity:.0f} %"
    size = f"{cubic_feet:.0f} ft³" if units is Units.US else f"{cubic_feet * 0.3048**3:.1f} m³"
    once = water_to_add(air, wanted, cubic_feet)
    yield f"To bring {size} of this air to {goal} takes {_water(once)}, besides what walls and crates soak up."
    if outside:
        again = water_to_add(outside, wanted, cubic_feet)
        heated = outside.only_heated(wanted.temperature).humidity
        yield f"Air from outside, only heated, ends at {heated:.1f} %; each change of the air takes {_water(again)}."


def wanted_air(air: Air) -> Air:
    """What the place should be: as warm as it is, where recipes are content with that."""
    content = CURING.temperature.low <= air.temperature <= CURING.temperature.high
    return Air(air.temperature, WANTED.humidity) if content else WANTED


def log_words(log: RoomLog, on: date) -> Iterator[str]:
    """What the log holds, how old its last reading is, what of it was not used, and where it has gaps."""
    yield f"{len(log.readings)} readings from {_moment(log.start)} to {_moment(log.end)}."
    old = (on - log.end.date()).days
    if old > 1:
        yield f"The last reading is {old} days old; what came after may have been anything."
    if log.set_aside:
        counted = ", ".join(f"{number} × {kind}" for kind, number in log.set_aside.items())
        yield f"Set aside or set right: {counted}."
    for gap in log.gaps[:3]:
        yield f"No readings from {_moment(gap.start)} to {_moment(gap.end)}."
    if len(log.gaps) > 3:
        yield f"And {len(log.gaps) - 3} more gaps."


def _shown(fahrenheit: float, units: Units) -> float:
    return fahrenheit if units is Units.US else celsius(fahrenheit)


def _degrees(fahrenheit: float, units: Units) -> str:
    return f"{round(_shown(fahrenheit, units)):g}"


def _unit(units: Units) -> str:
    return "°F" if units is Units.US else "°C"


def _ends(span: Span, words: Callable[[float], str]) -> str:
    low, high = words(span.low), words(span.high)
    return low if low == high else f"{low} to {high}"


def _air_words(cure: Cure, units: Units) -> str:
    air = cure.air
    if air is None:
        return "In such air"
    return f"At {format_value(Kind.TEMPERATURE, air.temperature, units)} and {format_number(air.humidity)} %"


def _water(pounds: float) -> str:
    if pounds < LEAST_WATER:
        return "no water"
    told = f"{pounds:.1f} lb" if pounds >= 1 else f"{pounds * 16:.1f} oz"
    return f"{told} of water ({pounds * GRAMS_PER_POUND / 1000:.2g} L)"


def _days(days: float) -> str:
    return f"{days:.1f} day{'s' * (round(days, 1) != 1)}"


def _day(on: date, days: float) -> str:
    return format_day(on + timedelta(days=ceil(days)), year=False)


def _moment(at: datetime) -> str:
    return f"{at.day} {at:%B %H:%M}"

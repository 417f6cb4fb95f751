"""Words for weights, days and shares of a store, in the grower's units."""

from __future__ import annotations

from datetime import date

from assistant.model.quantities import Kind, Units, format_day, format_number, format_value, short_day
from assistant.reckoning.lot_ledger import Account
from assistant.reckoning.ranges import Range
from assistant.reckoning.yields import GRAMS_PER_POUND

KILOGRAMS = GRAMS_PER_POUND / 1000


def in_units(pounds: float, units: Units) -> float:
    """A weight in pounds, or in kilograms."""
    return pounds if units is Units.US else pounds * KILOGRAMS


def unit_of(units: Units) -> str:
    """The unit of weights."""
    return "lb" if units is Units.US else "kg"


def weight(pounds: float, units: Units) -> str:
    """A weight with its unit, to a tenth."""
    return f"{number(pounds, units)} {unit_of(units)}"


def number(pounds: float, units: Units) -> str:
    """A weight without its unit, to a tenth."""
    return format_number(round(in_units(pounds, units), 1) + 0.0)


def weights(range_: Range, units: Units) -> str:
    """A likely weight and the range around it."""
    if round(range_.low, 1) == round(range_.high, 1):
        return weight(range_.likely, units)
    return f"{weight(range_.likely, units)} ({number(range_.low, units)} to {number(range_.high, units)})"


def degrees(fahrenheit: float, units: Units) -> str:
    """A temperature in the grower's unit, to a tenth."""
    return format_value(Kind.TEMPERATURE, round(fahrenheit, 1), units)


def short_day_of_year(on: date) -> str:
    """A day with its year in few letters, such as 4 Mar 2032."""
    return f"{short_day(on)} {on.year}"


def percent(share: float) -> str:
    """A share in percent, with a decimal where it is small."""
    return f"{share * 100:.1f} %" if 0 < share < 0.095 else f"{share * 100:.0f} %"


def left_after(account: Account, units: Units) -> str:
    """One line on a lot after an entry."""
    stage = account.stages[-1]
    said = f"{account.lot}: {stage.entry.what} on {format_day(stage.entry.on)}; {weight(account.left, units)} left"
    return f"{said}, {weight(stage.shrunk, units)} shrunk." if stage.shrunk > 0.05 else f"{said}."

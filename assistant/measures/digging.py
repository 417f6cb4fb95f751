"""What a test dig says of the sign it answers."""

from __future__ import annotations

from assistant.model.case import TestDig
from assistant.model.quantities import Kind, Units, format_value
from assistant.model.readings import Choices, Known, Origin, Reading, Span
from assistant.model.signs import Measure
from assistant.reckoning.test_dig import median_range

ROOTS = "roots"
"""The sign that a test dig answers when the grower has not."""


def roots_dug(dig: TestDig, domain: Reading, units: Units = Units.US) -> Known:
    """The sizes the bed's middle root may have, by the wanted diameters; any size when too few were dug."""
    roots = sum(map(len, dig.hills))
    dug = f"{roots} root{'s' * (roots != 1)} of {len(dig.hills)} hill{'s' * (len(dig.hills) != 1)}"
    middle = median_range(dig.hills)
    if middle is None:
        return Known(domain, Origin.TEST_DIG, f"{dug}, too few to tell")
    possible = {
        "too-small": middle.low < dig.wanted.low,
        "right": middle.low <= dig.wanted.high and middle.high >= dig.wanted.low,
        "too-big": middle.high > dig.wanted.high,
    }
    low, high = (format_value(Kind.LENGTH, end, units) for end in (middle.low, middle.high))
    written = f"{dug}; middle root {low} to {high} across"
    return Known(Choices(frozenset(size for size, holds in possible.items() if holds)), Origin.TEST_DIG, written)


def grown_by(measure: Measure, days: Known, dig: TestDig | None) -> Known:
    """The days in the ground by which the roots of a test dig may come to the wanted size, at published growth."""
    ahead = _days_of_growth(dig) if dig else None
    if ahead is None:
        return Known(measure.domain, Origin.NOT_ASKED)
    assert isinstance(days.reading, Span), "days are counted"
    soonest, latest = days.reading.low + ahead.low, days.reading.high + ahead.high
    return Known(Span(min(soonest, measure.high), min(latest, measure.high)), Origin.TEST_DIG)


def _days_of_growth(dig: TestDig) -> Span | None:
    from assistant.reckoning.growth import days_at_published_growth  # only a test dig needs it

    return days_at_published_growth(dig.hills, dig.wanted.low)

"""What `frost` tells on request: how cold a clear night may get, and the heat added up since a day."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from typing import Any, NamedTuple

from assistant.cli.output import BLANK, Line
from assistant.model.quantities import Kind, NotAValue, Units, celsius, fahrenheit, format_value, parse_value
from assistant.model.readings import Span
from assistant.model.weather import StationRecord
from assistant.reckoning.heat_units import (
    MOST_COOL_NIGHTS,
    SWEET_POTATO_BASE,
    SWEET_POTATO_CEILING,
    Method,
    share_of_cool_nights,
    sweet_potato_units,
    units,
)
from assistant.reckoning.night_minimum import CLEAR_CALM_NIGHT

WITHIN = 1.2816
"""Standard errors to either side that hold 8 nights of 10."""
CLEAR_NIGHT_LIMITS = (
    "For a clear, calm night only: wind under 2 m/s (4 mph), no cloud, no fog, no rain. Two hours after sunset.",
    "Fitted to 63 such nights of one inland station by the two steps of FAO ENR Series 10 (2005). Elsewhere it can be "
    "13 °F (7 °C) off, so hold it against a few nights of your own first.",
)
HEAT_LIMITS = (
    "The sweet potato rule is a prompt to dig up a hill and look, at 2,600 °F days (Villordon and others 2009; "
    "its base of 60 °F is from memory). The other methods are those of UC leaflet 21373 (1983) between the same limits."
)


def clear_night(evening: Sequence[str], unit: Units) -> Span:
    """The low (°F) to expect in 8 clear, calm nights of 10, from the evening's temperature and its dew point.

    Raises `NotAValue`, also for a dew point above the temperature.
    """
    warm, dew = (parse_value(Kind.TEMPERATURE, text, unit) for text in evening)
    if dew > warm:
        raise NotAValue(
            "a dew point is never above the temperature; write the temperature first, as in --evening 46 30"
        )
    low = CLEAR_CALM_NIGHT.low(celsius(warm), celsius(dew))
    room = WITHIN * CLEAR_CALM_NIGHT.error
    return Span(fahrenheit(low - room), fahrenheit(low + room))


def clear_night_lines(span: Span, unit: Units) -> Iterator[Line]:
    """The same in words, with its limits."""
    ends = [format_value(Kind.TEMPERATURE, float(round(end)), unit) for end in (span.low, span.high)]
    yield BLANK
    yield Line("Tonight, if it stays clear and calm", "section")
    yield Line(f"The low comes to {ends[0]} to {ends[1]} in 8 nights of 10.", indent=2)
    yield from (Line(limit, "quiet", indent=2) for limit in CLEAR_NIGHT_LIMITS)


class HeatSums(NamedTuple):
    """Heat units (°F days) from a day to the end of a record; `rule` is None where nights are too cool for it."""

    since: date
    until: date
    rule: float | None
    by_method: dict[str, float]
    missing: int

    def as_json(self) -> dict[str, Any]:
        """The same as plain data."""
        sums = {name: round(total, 1) for name, total in self.by_method.items()}
        rule = None if self.rule is None else round(self.rule, 1)
        days = {"since": self.since.isoformat(), "until": self.until.isoformat(), "missing_days": self.missing}
        return {**days, "sweet_potato_rule": rule, "methods": sums}


def heat_sums(record: StationRecord, since: date) -> HeatSums:
    """Heat units by every method between 60 and 90 °F. Raises `NotAValue` for a day after the record."""
    until = record.days[-1].on
    if since > until:
        raise NotAValue(f"the record ends on {until.isoformat()}, before {since.isoformat()}")
    days = [day for day in record.days if day.on >= since and day.low is not None and day.high is not None]
    pairs = [(day.low, day.high) for day in days if day.low is not None and day.high is not None]
    next_lows = [low for low, _ in pairs[1:]] + [pairs[-1][0]] if pairs else []
    cool = share_of_cool_nights(low for low, _ in pairs) > MOST_COOL_NIGHTS
    by_method = {
        method.value: sum(
            units(method, low, high, next_low, SWEET_POTATO_BASE, SWEET_POTATO_CEILING)
            for (low, high), next_low in zip(pairs, next_lows, strict=True)
        )
        for method in Method
    }
    rule = None if cool else sum(sweet_potato_units(low, high) for low, high in pairs)
    return HeatSums(since, until, rule, by_method, (until - since).days + 1 - len(pairs))


def heat_lines(sums: HeatSums) -> Iterator[Line]:
    """The sums as a table, with what they are good for."""
    yield BLANK
    yield Line(f"Heat units from {sums.since.isoformat()} to {sums.until.isoformat()}, °F days", "section")
    told = "refused: more than half the nights are below 60 °F" if sums.rule is None else f"{sums.rule:,.0f}"
    yield Line(f"sweet potato rule  {told}", indent=2)
    for name, total in sums.by_method.items():
        yield Line(f"{name:<17}  {total:,.0f}", indent=2)
    if sums.missing:
        yield Line(f"{sums.missing} days are not on record and count nothing.", indent=2)
    yield Line(HEAT_LIMITS, "quiet", indent=2)

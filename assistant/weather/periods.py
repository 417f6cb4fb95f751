"""The US weather service's `forecast` reply: periods of day and night, the night's low in each night's period.

Layout: the service's own description (GitHub weather-gov/api: gridpoints.md, openapi.yaml 1.9.0).
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from datetime import date, datetime, timedelta
from typing import Any

from assistant.model.place import BadInput, Place, refuse
from assistant.model.quantities import fahrenheit, rounded
from assistant.model.weather import Forecast, ForecastNight

SOURCE = "US National Weather Service forecast"
AN_HOUR = timedelta(hours=1)
_WHICH = "Save the reply of the address that the service calls `forecast`, or type the lows in."


def read_periods(text: str, file: str) -> Forecast:
    """The nights of a reply. Raises `BadInput` when it is none, or one without nights."""
    place = Place(file, 1, 1)
    try:
        reply = json.loads(text)
    except json.JSONDecodeError as error:
        message = "This is neither the weather service's `forecast` in JSON nor a MEX bulletin."
        raise refuse("not-a-forecast", Place(file, error.lineno, error.colno), message, _WHICH) from None
    except (RecursionError, ValueError):  # a number of thousands of digits
        raise refuse("not-a-forecast", place, "This JSON is nested too deep, or a number too long.", _WHICH) from None
    properties = _properties(reply, place)
    try:
        nights = tuple(_nights(properties["periods"]))
        issued = _day(properties.get("generatedAt") or properties.get("updateTime") or _first(properties))
    except (KeyError, TypeError, ValueError, AttributeError, IndexError, OverflowError):
        raise refuse("not-a-forecast", place, "The periods of this forecast cannot be read.", _WHICH) from None
    if not nights:
        raise refuse("not-a-forecast", place, "This forecast has no night with a low.", _WHICH)
    return Forecast(issued, nights, SOURCE)


def _properties(reply: object, place: Place) -> Mapping[str, Any]:
    """What holds the periods. Raises `BadInput` with what the reply is instead."""
    whole: Mapping[str, Any] = reply if isinstance(reply, dict) else {}
    properties = whole.get("properties", whole)
    if isinstance(properties, dict) and isinstance(properties.get("periods"), list):
        if _hourly(properties["periods"]):
            raise refuse("not-a-forecast", place, "This is the forecast by the hour.", _WHICH)
        return properties
    raise _something_else(whole, place)


def _something_else(whole: Mapping[str, Any], place: Place) -> BadInput:
    if isinstance(whole.get("detail"), str):
        message = f"The weather service sent no forecast but a notice: {whole['detail'][:200]}"
        return refuse("not-a-forecast", place, message, "Ask it again later, or type the lows in.")
    return refuse("not-a-forecast", place, "This JSON holds no list of periods.", _WHICH)


def _hourly(periods: list[Any]) -> bool:
    try:
        lasting = [_moment(period["endTime"]) - _moment(period["startTime"]) for period in periods]
    except (KeyError, TypeError, ValueError, AttributeError):
        return False
    return len(lasting) > 1 and max(lasting) <= AN_HOUR


def _nights(periods: list[Any]) -> Iterator[ForecastNight]:
    """The low of each night by the date on which the night ends."""
    for period in periods:
        low = None if period["isDaytime"] else _low(period)
        if low is not None:
            yield ForecastNight(_day(period["endTime"]), low)


def _low(period: Mapping[str, Any]) -> float | None:
    """The temperature of a period in °F: a number with its unit beside it, or a value that carries its own."""
    value, unit = period["temperature"], str(period.get("temperatureUnit") or "F")
    if isinstance(value, dict):
        value, unit = value["value"], str(value.get("unitCode", "")).removeprefix("wmoUnit:deg")
    if value is None:
        return None
    if isinstance(value, bool) or unit not in ("F", "C"):
        raise ValueError(unit)
    return fahrenheit(float(value)) if unit == "C" else rounded(float(value))


def _first(properties: Mapping[str, Any]) -> str:
    return str(properties["periods"][0]["startTime"])


def _day(moment: str) -> date:
    return _moment(moment).date()


def _moment(text: str) -> datetime:
    return datetime.fromisoformat(text.replace("Z", "+00:00"))

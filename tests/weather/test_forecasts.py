"""Forecast lows: from the weather service's reply, from a MEX bulletin, and as typed."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import date
from pathlib import Path

import pytest

from assistant.model.place import BadInput
from assistant.model.quantities import NotAValue, Units
from assistant.model.weather import Forecast
from assistant.weather import read_forecast, typed_forecast

ON = date(2031, 10, 4)


def lows(forecast: Forecast) -> list[tuple[str, float]]:
    return [(f"{night.morning:%m-%d}", night.low) for night in forecast.nights]


# The sample of NOAA's page on the MEX message (vlab.noaa.gov/web/mdl/mex-card), in the public domain.
BULLETIN = """\
 IAD   GFSX MOS GUIDANCE   3/05/2013  0000 UTC
 FHR  24| 36  48| 60  72| 84  96|108 120|132 144|156 168|180 192
 TUE  05| WED 06| THU 07| FRI 08| SAT 09| SUN 10| MON 11| TUE 12 CLIMO
 X/N  47| 34  42| 32  44| 29  45| 32  50| 33  57| 38  58| 40  54 29 53
 TMP  42| 36  39| 34  39| 32  41| 34  44| 37  50| 42  52| 43  47
 DPT  23| 26  28| 24  29| 24  25| 25  29| 30  34| 34  38| 34  28
"""
# The noon run begins with a low; columns as such bulletins have them, numbers invented.
NOON = """\
KXYZ   GFSX MOS GUIDANCE   12/30/2031  1200 UTC
 FHR  24  36| 48  60| 72  84| 96 108|120 132|144 156|168 180|192
      WED 31| THU 01| FRI 02| SAT 03| SUN 04| MON 05| TUE 06|WED CLIMO
 N/X   4  14|-11   0|999   9| -3  13| 17  29|  5  18| 13  28| 12 19 34
"""


def read(tmp_path: Path, text: str, on: date) -> Forecast:
    path = tmp_path / "forecast.txt"
    path.write_text(text, encoding="utf-8")
    return read_forecast(path, on)


def test_the_lows_of_noaas_sample_bulletin_are_34_to_40(tmp_path: Path) -> None:
    forecast = read(tmp_path, BULLETIN, date(2013, 3, 5))
    assert [night.low for night in forecast.nights] == [34, 32, 29, 32, 33, 38, 40]
    assert [night.morning.day for night in forecast.nights] == [6, 7, 8, 9, 10, 11, 12]
    assert (forecast.issued, forecast.source) == (date(2013, 3, 5), "MEX bulletin for IAD")


def test_the_noon_run_begins_with_the_low_of_the_next_morning(tmp_path: Path) -> None:
    forecast = read(tmp_path, NOON, date(2031, 12, 30))
    assert lows(forecast) == [
        ("12-31", 4), ("01-01", -11), ("01-03", -3), ("01-04", 17), ("01-05", 5), ("01-06", 13), ("01-07", 12),
    ]  # fmt: skip


def test_nights_that_are_over_are_left_out(tmp_path: Path) -> None:
    assert lows(read(tmp_path, BULLETIN, date(2013, 3, 10))) == [("03-11", 38), ("03-12", 40)]


def period(start: str, end: str, day: bool, temperature: object, **more: object) -> dict[str, object]:
    return {"startTime": start, "endTime": end, "isDaytime": day, "temperature": temperature} | more


def reply(*periods: Mapping[str, object], **more: object) -> str:
    properties = {"units": "us", "generatedAt": "2031-10-04T20:10:04+00:00", "periods": periods} | more
    return json.dumps({"type": "Feature", "properties": properties})


TONIGHT = period("2031-10-04T18:00:00-04:00", "2031-10-05T06:00:00-04:00", False, 41, temperatureUnit="F")
SUNDAY = period("2031-10-05T06:00:00-04:00", "2031-10-05T18:00:00-04:00", True, 66, temperatureUnit="F")
SUNDAY_NIGHT = period("2031-10-05T18:00:00-04:00", "2031-10-06T06:00:00-04:00", False, 38, temperatureUnit="F")


def test_a_nights_low_belongs_to_the_morning_on_which_it_ends(tmp_path: Path) -> None:
    forecast = read(tmp_path, reply(TONIGHT, SUNDAY, SUNDAY_NIGHT), ON)
    assert lows(forecast) == [("10-05", 41), ("10-06", 38)]
    assert (forecast.issued, forecast.source) == (ON, "US National Weather Service forecast")


def test_what_is_left_of_last_night_is_no_night_to_come(tmp_path: Path) -> None:
    overnight = period("2031-10-04T02:00:00-04:00", "2031-10-04T06:00:00-04:00", False, 53, temperatureUnit="F")
    assert lows(read(tmp_path, reply(overnight, TONIGHT), ON)) == [("10-05", 41)]


@pytest.mark.parametrize(
    ("temperature", "unit", "low"),
    [
        (5, {"temperatureUnit": "C"}, 41.0),
        ({"unitCode": "wmoUnit:degC", "value": 3.3}, {}, 37.94),
        ({"unitCode": "wmoUnit:degF", "value": 38}, {"temperatureUnit": "F"}, 38.0),
    ],
)
def test_temperatures_come_in_either_unit_and_either_form(
    tmp_path: Path, temperature: object, unit: dict[str, object], low: float
) -> None:
    night = {**TONIGHT, "temperatureUnit": None, "temperature": temperature} | unit
    assert lows(read(tmp_path, reply(night), ON)) == [("10-05", low)]


def test_a_night_without_a_low_is_left_out(tmp_path: Path) -> None:
    assert lows(read(tmp_path, reply({**TONIGHT, "temperature": None}, SUNDAY_NIGHT), ON)) == [("10-06", 38)]


def test_a_long_reply_on_one_line_is_read(tmp_path: Path) -> None:
    assert lows(read(tmp_path, reply({**TONIGHT, "detailedForecast": "Clear. " * 9000}), ON)) == [("10-05", 41)]


HOUR = period("2031-10-04T18:00:00-04:00", "2031-10-04T19:00:00-04:00", False, 50, temperatureUnit="F")
NO_FORECASTS: dict[str, tuple[str, str]] = {
    "empty": ("", "empty"),
    "neither": ("DATE,TMIN,TMAX\n", ":1:1: This is neither"),
    "cut off": (reply(TONIGHT)[:99], ":1:"),
    "a list": ("[1, 2]", "no list of periods"),
    "nested too deep": ("[" * 100_000, "nested too deep"),
    "by the hour": (reply(HOUR, HOUR), "by the hour"),
    "periods of nothing": (reply({}), "cannot be read"),
    "a word for a temperature": (reply({**TONIGHT, "temperature": "cool"}), "cannot be read"),
    "true for a temperature": (reply({**TONIGHT, "temperature": True}), "cannot be read"),
    "in kelvin": (reply({**TONIGHT, "temperatureUnit": "K"}), "cannot be read"),
    "days alone": (reply(SUNDAY), "no night"),
    "a notice": (json.dumps({"title": "Unavailable", "detail": "Forecast Grid Expired"}), "Forecast Grid Expired"),
    "last year's": (reply(TONIGHT).replace("2031", "2030"), "forecast of 4 October 2030 .* 4 October 2031"),
    "an impossible low": (reply({**TONIGHT, "temperature": 410}), "no low"),
    "two stations": (BULLETIN + NOON, ":7:1: A second station, KXYZ"),
    "no such day": (BULLETIN.replace("3/05", "13/05"), ":1:28: There is no such day"),
    "a value that is no number": (BULLETIN.replace("47| 34", "47| XX"), ":4:2: 'XX' in this row is no number"),
    "a value that was lost": (BULLETIN.replace("47| 34", "47|   "), ":4:2: There are 16 values here for 15 hours"),
    "half a bulletin": ("\n".join(BULLETIN.splitlines()[:3]), "lacks the rows"),
}


@pytest.mark.parametrize("what", NO_FORECASTS)
def test_what_is_no_forecast_is_refused_with_what_to_do(tmp_path: Path, what: str) -> None:
    text, words = NO_FORECASTS[what]
    with pytest.raises(BadInput, match=words):
        read(tmp_path, text, ON)


@pytest.mark.parametrize(
    ("text", "units", "expected"),
    [
        ("44 40 38 35", Units.US, [44, 40, 38, 35]),
        ("44 F, 40 F", Units.METRIC, [44, 40]),
        ("44F;40f", Units.US, [44, 40]),
        ("7 4.5 -1", Units.METRIC, [44.6, 40.1, 30.2]),
        ("7 °C, -1°C", Units.US, [44.6, 30.2]),
        ("−2", Units.US, [-2]),  # a true minus sign
    ],
)
def test_typed_lows_begin_with_tonights(text: str, units: Units, expected: list[float]) -> None:
    forecast = typed_forecast(text, ON, units)
    assert [night.low for night in forecast.nights] == expected
    assert forecast.nights[0].morning == date(2031, 10, 5)
    assert (forecast.issued, forecast.source) == (ON, "typed in")


NO_LOWS = ["", "cold", "44 K", "44, , cold", "42-44", "42..44", "4400", "44x", "1e3", " ".join(["40"] * 17)]


@pytest.mark.parametrize("text", NO_LOWS)
def test_what_is_no_list_of_lows_is_refused_with_an_example(text: str) -> None:
    with pytest.raises(NotAValue, match="tonight's first, such as 44 40 38"):
        typed_forecast(text, ON)


def test_no_forecast_reads_into_memory_without_end(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("assistant.weather.forecasts.BIGGEST", 1000)
    with pytest.raises(BadInput, match="too much"):
        read(tmp_path, reply({**TONIGHT, "detailedForecast": "Clear. " * 9000}), ON)


def any_json(value: object) -> str:
    return json.dumps({"properties": {"periods": value}})


@pytest.mark.parametrize("value", [[], {}, None, "x", [[]], [None], [1]])
def test_periods_that_are_none_are_refused(tmp_path: Path, value: object) -> None:
    with pytest.raises(BadInput):
        read(tmp_path, any_json(value), ON)

"""Moist air against PsychroLib in inch-pound units, published tables and formulas, with the tolerance beside each.

The table below was made by PsychroLib 2.5.0 (ASHRAE Fundamentals 2017, chapter 1) in inch-pound units; the program asks
it in metric ones. Published values: the moist-air table of engineeringtoolbox.com (read) and FAO-56 (from memory).
"""

from __future__ import annotations

from math import exp

import psychrolib
import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.model.quantities import fahrenheit
from assistant.reckoning.moist_air import Air, by_wet_bulb, saturation, water_to_add

# °F, %, then saturation (kPa), water ratio, dew point (°F), wet bulb (°F), deficit (kPa)
TABLE = """
85 90 4.1125 .023580 81.73 82.48 .4112
85 85 4.1125 .022223 79.98 81.17 .6169
85 95 4.1125 .024942 83.40 83.76 .2056
80 90 3.4981 .019944 76.80 77.62 .3498
85 50 4.1125 .012883 64.29 70.78 2.0562
70 50 2.5047 .007783 50.53 58.45 1.2524
60 90 1.7674 .009920 57.06 58.19 .1767
58 90 1.6454 .009224 55.09 56.25 .1645
55 85 1.4762 .007798 50.58 52.48 .2214
50 90 1.2280 .006859 47.19 48.48 .1228
32 90  .6112 .003395 29.71 30.97 .0611
"""
ROWS = [tuple(map(float, line.split())) for line in TABLE.strip().splitlines()]
LAST_DIGIT = {"pressure": 0.00006, "ratio": 0.0000011, "degrees": 0.011}  # half of it, and the units' own rounding

temperatures = st.floats(35, 110)
humidities = st.floats(5, 100)


@pytest.mark.parametrize("row", ROWS)
def test_moist_air_is_what_the_library_says_in_inch_pound_units(row: tuple[float, ...]) -> None:
    temperature, humidity, pressure, ratio, dew, wet, deficit = row
    air = Air(temperature, humidity)
    assert saturation(temperature) == pytest.approx(pressure, abs=LAST_DIGIT["pressure"])
    assert air.water_ratio == pytest.approx(ratio, abs=LAST_DIGIT["ratio"])
    assert air.dew_point == pytest.approx(dew, abs=LAST_DIGIT["degrees"])
    assert air.wet_bulb == pytest.approx(wet, abs=LAST_DIGIT["degrees"])
    assert air.deficit == pytest.approx(deficit, abs=LAST_DIGIT["pressure"])


# ASHRAE's real-gas value of saturated air at 85 °F is .02643 (from memory); the perfect gas is .4 to .5 % lower, and
# ASHRAE itself puts the error below .7 % (read).
def test_saturated_air_is_within_seven_thousandths_of_the_real_gas() -> None:
    assert Air(85, 100).water_ratio == pytest.approx(0.02643, rel=0.007)


# Pascals at °C, engineeringtoolbox.com (read); the two fits differ by less than .1 %.
@pytest.mark.parametrize(
    ("degrees", "pascals"), [(10, 1227), (15, 1704), (20, 2337), (25, 3167), (30, 4243), (35, 5623), (40, 7378)]
)
def test_saturation_is_that_of_a_published_table(degrees: float, pascals: float) -> None:
    assert saturation(fahrenheit(degrees)) * 1000 == pytest.approx(pascals, rel=0.0012)


# FAO-56 (Allen and others 1998), equation 11 (from memory): its fit is within .3 % of ASHRAE's between 5 and 40 °C.
@given(st.floats(5, 40))
def test_saturation_is_near_the_formula_of_fao_56(degrees: float) -> None:
    theirs = 0.6108 * exp(17.27 * degrees / (degrees + 237.3))
    assert saturation(degrees * 9 / 5 + 32) == pytest.approx(theirs, rel=0.003)


# Pairs of thermometers, °F, and the humidity by PsychroLib (reckoned), to its last digit.
@pytest.mark.parametrize(
    ("dry", "wet", "humidity"),
    [(85, 83, 92.0), (85, 82, 88.1), (85, 80, 80.7), (80, 78, 91.6), (60, 58, 89.0), (55, 53, 88.0)],
)
def test_two_thermometers_tell_the_humidity(dry: float, wet: float, humidity: float) -> None:
    assert by_wet_bulb(dry, wet).humidity == pytest.approx(humidity, abs=0.051)


# Stull (2011): 20 °C and 50 % have a wet bulb of 13.70 °C; his fit is good to .3 °C (from memory).
def test_the_wet_bulb_is_near_stulls_example() -> None:
    assert Air(68, 50).wet_bulb == pytest.approx(fahrenheit(13.70), abs=0.3 * 9 / 5)


def test_air_from_a_cellar_that_is_only_heated_is_dry() -> None:
    """55 °F and 85 % end at 30.5 % at 85 °F, 1.2548 of 4.1125 kPa (reckoned with PsychroLib)."""
    assert Air(55, 85).only_heated(85).humidity == pytest.approx(30.51, abs=0.01)


def test_air_for_curing_wets_what_is_colder_than_81_7() -> None:
    assert Air(85, 90).wets(81.7)
    assert not Air(85, 90).wets(81.8)


@given(temperatures, humidities)
def test_the_units_of_another_user_of_the_library_do_no_harm(temperature: float, humidity: float) -> None:
    before = Air(temperature, humidity).dew_point
    psychrolib.SetUnitSystem(psychrolib.IP)
    theirs = psychrolib.GetTDewPointFromRelHum(temperature, humidity / 100)
    assert Air(temperature, humidity).dew_point == before == pytest.approx(theirs, abs=0.05)


@given(temperatures, st.floats(5, 99))
def test_water_added_is_the_water_that_the_wanted_air_holds_more(temperature: float, humidity: float) -> None:
    """By the library's own ratio of water to dry air and volume of moist air, in inch-pound units, at sea level."""
    psychrolib.SetUnitSystem(psychrolib.IP)
    now, wanted = (psychrolib.GetHumRatioFromRelHum(temperature, share, 14.695949) for share in (humidity / 100, 1.0))
    volumes = [psychrolib.GetMoistAirVolume(temperature, ratio, 14.695949) for ratio in (now, wanted)]
    theirs = 1000 * (wanted / volumes[1] - now / volumes[0])
    ours = water_to_add(Air(temperature, humidity), Air(temperature, 100), 1000)
    assert ours == pytest.approx(theirs, rel=0.001, abs=1e-6)


@given(temperatures, humidities, st.floats(0, 30))
def test_heating_never_makes_air_damper_and_water_is_never_taken_out(
    temperature: float, humidity: float, more: float
) -> None:
    air = Air(temperature, humidity)
    assert air.only_heated(temperature + more).humidity <= humidity + 1e-9
    assert water_to_add(air, Air(temperature, humidity / 2), 100) == 0


@pytest.mark.parametrize("degrees", [-41, 201, float("nan")])
def test_a_temperature_of_no_room_is_refused(degrees: float) -> None:
    with pytest.raises(ValueError, match="no temperature"):
        saturation(degrees)


def test_a_wet_thermometer_is_never_the_warmer() -> None:
    with pytest.raises(ValueError, match="wet thermometer"):
        by_wet_bulb(80, 81)

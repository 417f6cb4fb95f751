"""How far off the soil ahead may be, against weather drawn by lot."""

from random import Random
from statistics import pstdev

import pytest

from assistant.outlook.soil import Soil, _course, _State
from assistant.reckoning.forecast_odds import NIGHT_TO_NIGHT, Climate
from assistant.reckoning.soil_warmth import FOLLOWS, STANDARD_ERROR

DAYS = 30


def test_the_weather_to_come_spreads_the_soil_as_in_autumns_drawn_by_lot() -> None:
    """Air with a spread of 8 °F whose departures go from day to day; the exponential lag of the soil's estimate."""
    random, ends = Random(5), []
    for _ in range(20_000):
        departure = soil = 0.0
        for day in range(DAYS):
            fresh = random.gauss(0, 8)
            departure = NIGHT_TO_NIGHT * departure + (1 - NIGHT_TO_NIGHT**2) ** 0.5 * fresh if day else fresh
            soil += FOLLOWS * (departure - soil)
        ends.append(soil)
    *_, state = _course(_State(60.0), [Climate(50, 8)] * DAYS)
    assert state.weather**0.5 == pytest.approx(pstdev(ends), rel=0.02)
    # Known of such a lag: a / (2 - a) * (1 + (1 - a) r) / (1 - (1 - a) r) of the air's variance, in the long run.
    assert state.weather**0.5 == pytest.approx(0.6137 * 8, rel=0.01)


def test_the_error_of_an_estimate_stays_and_that_of_a_thermometer_grows_into_it() -> None:
    air = [Climate(50, 0)] * DAYS
    *_, estimated = _course(_State(60.0), air)
    *_, measured = _course(_State(60.0, known=1.0), air)
    assert estimated.known == pytest.approx(STANDARD_ERROR**2)
    assert measured.known == pytest.approx(STANDARD_ERROR**2, rel=0.01)


def test_the_chance_of_cold_soil_is_one_half_at_the_estimate() -> None:
    assert Soil(50, 4, 3.6).below(50) == pytest.approx(0.5)
    assert Soil(50 + 1.2816 * 4, 4, 3.6).below(50) == pytest.approx(0.1, abs=1e-4)

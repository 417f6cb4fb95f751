"""Heat units against published tables."""

import pytest

from assistant.reckoning.heat_units import (
    MOST_COOL_NIGHTS,
    Method,
    average_units,
    clipped_units,
    share_of_cool_nights,
    sweet_potato_units,
    units,
)

# Zalom et al. 1983, Degree-Days, UC leaflet 21373, table 7 (thresholds 55 and 90 °F, horizontal cutoff), as carried
# in the test data of the R package degday: low, high, next low; single and double triangle, single and double sine.
ZALOM = [
    (96, 110, 91, 35.00, 35.00, 35.00, 35.00),
    (45, 54, 38, 0, 0, 0, 0),
    (60, 80, 75, 15.00, 18.75, 15.00, 18.75),
    (75, 88, 60, 26.50, 22.75, 26.50, 22.75),
    (50, 82, 45, 11.39, 10.62, 11.85, 11.31),
    (45, 70, 50, 4.50, 5.06, 5.31, 5.70),
    # The double triangle of this row is printed as 24.88; by the leaflet's own method it is 27.125, a misprint.
    (60, 100, 75, 23.75, 27.125, 22.82, 26.26),
    (75, 95, 60, 29.38, 25.76, 28.91, 25.30),
    (50, 101, 48, 19.56, 19.19, 18.95, 18.69),
    (48, 95, 50, 16.76, 17.13, 16.96, 17.23),
    (91, 105, 96, 35, 35, 35, 35),
    (38, 50, 45, 0, 0, 0, 0),
]
CURVES = (Method.SINGLE_TRIANGLE, Method.DOUBLE_TRIANGLE, Method.SINGLE_SINE, Method.DOUBLE_SINE)


@pytest.mark.parametrize("row", ZALOM)
def test_triangles_and_sines_give_the_published_table(row: tuple[float, ...]) -> None:
    low, high, next_low, *published = row
    for method, expected in zip(CURVES, published, strict=True):
        # printed to two places, some cells rounded twice
        assert units(method, low, high, next_low, 55, 90) == pytest.approx(expected, abs=0.0101)


# McMaster and Wilhelm 1997, Agricultural and Forest Meteorology 87:291-300, table 1, base 0 °C: high, low, the
# two readings of "the mean less the base".
MCMASTER = [
    (20, 10, 15, 15),
    (10, 1, 5.5, 5.5),
    (8, -2, 3, 4),
    (6, 0, 3, 3),
    (10, 5, 7.5, 7.5),
    (5, -5, 0, 2.5),
    (-2, -7, 0, 0),
    (-5, -10, 0, 0),
    (10, -2, 4, 5),
    (15, 2, 8.5, 8.5),
]


@pytest.mark.parametrize(("high", "low", "first", "second"), MCMASTER)
def test_the_two_readings_of_the_mean_differ_as_published(high: float, low: float, first: float, second: float) -> None:
    assert average_units(low, high, 0) == pytest.approx(first)
    assert clipped_units(low, high, 0) == pytest.approx(second)


# Villordon et al. 2009 (R01): the daily formula was read, the base of 60 °F is from memory; the four days are
# worked by hand from it.
@pytest.mark.parametrize(("high", "low", "expected"), [(95, 72, 30), (84, 66, 24), (80, 58, 0), (62, 60, 2)])
def test_the_sweet_potato_rule_counts_warm_nights_only(high: float, low: float, expected: float) -> None:
    assert sweet_potato_units(low, high) == expected


def test_a_maritime_summer_never_brings_a_test_dig_by_heat() -> None:
    # Mount Vernon WA: 275 °C days above 15.5 °C, 495 °F days, in the whole of an 18-week season (R63), with highs
    # near 75 °F and lows near 52 °F: the rule counts nothing there, and refuses itself.
    nights = [52.0] * 126
    assert sum(sweet_potato_units(low, 75.0) for low in nights) == 0
    assert share_of_cool_nights(nights) > MOST_COOL_NIGHTS


# Spot checks of one day each, reckoned by quadrature of the curves (no publication): average of clipped ends,
# triangle and sine between 55 and 90 or 60 and 86 °F.
@pytest.mark.parametrize(
    ("low", "high", "base", "ceiling", "average", "clipped", "sine"),
    [(50, 75, 55, 90, 7.5, 10.0, 8.4693), (48, 62, 55, 90, 0, 3.5, 2.2282), (70, 98, 60, 86, 18, 18, 20.4981)],
)
def test_one_day_by_every_method(
    low: float, high: float, base: float, ceiling: float, average: float, clipped: float, sine: float
) -> None:
    assert units(Method.AVERAGE, low, high, low, base, ceiling) == pytest.approx(average)
    assert units(Method.CLIPPED, low, high, low, base, ceiling) == pytest.approx(clipped)
    assert units(Method.SINGLE_SINE, low, high, low, base, ceiling) == pytest.approx(sine, abs=5e-5)
    numeric = _by_quadrature(low, high, base, ceiling)
    assert units(Method.SINGLE_SINE, low, high, low, base, ceiling) == pytest.approx(numeric, abs=1e-3)


def _by_quadrature(low: float, high: float, base: float, ceiling: float) -> float:
    from math import pi, sin

    steps = 20000
    course = ((low + high) / 2 + (high - low) / 2 * sin(2 * pi * step / steps) for step in range(steps))
    return sum(min(max(value, base), ceiling) - base for value in course) / steps

"""A log drawn against its limits: nothing is lost, and what lies outside is seen."""

from __future__ import annotations

import re
from datetime import datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.explain.log_plot import INSIDE, LIMITS, OUTSIDE, Series, plot_lines, series_words
from assistant.explain.log_svg import plot_svg
from assistant.model.readings import Span

BEGIN = datetime(2031, 10, 4, 8)
HOUR = timedelta(hours=1)


def series(values: list[float], every: timedelta = HOUR) -> Series:
    return Series("Warmth", "°F", tuple((BEGIN + every * at, value) for at, value in enumerate(values)), Span(80, 90))


values = st.lists(st.floats(20, 130), min_size=1, max_size=200)


@given(values, st.integers(20, 120))
def test_a_plot_keeps_to_its_width_and_shows_what_lies_outside(told: list[float], width: int) -> None:
    lines = plot_lines(series(told), width)
    assert all(len(line) <= width for line in lines[1:])
    drawing = "".join(lines[1:-1])
    assert (OUTSIDE in drawing) == any(not 80 <= value <= 90 for value in told)
    assert INSIDE in drawing or OUTSIDE in drawing
    assert len(lines) <= 20


def test_each_reading_stands_in_its_row() -> None:
    rows = {line.split("│")[0].strip(): line.split("│")[1] for line in plot_lines(series([82, 95, 84]), 30)[1:-1]}
    assert rows["82"].startswith(INSIDE)
    assert OUTSIDE in rows["94"]
    assert rows["84"].rstrip(LIMITS).endswith(INSIDE)


def test_the_days_stand_below_where_they_begin() -> None:
    days = plot_lines(series([84] * 100), 80)[-1]
    assert re.findall(r"\d+ Oct", days) == ["4 Oct", "5 Oct", "6 Oct", "7 Oct"]
    assert days.endswith("7 Oct")


@given(values)
def test_the_picture_has_every_reading_inside_its_frame(told: list[float]) -> None:
    picture = plot_svg(series(told))
    lines = re.findall(r'points="([^"]*)"', picture)
    points = [tuple(map(float, point.split(","))) for line in lines for point in line.split()]
    assert len(points) >= len(told)
    assert all(0 <= across <= 640 and 0 <= down <= 180 for across, down in points)


@pytest.mark.parametrize(("hours", "lines"), [(24, 1), (37, 3)])
def test_the_line_breaks_at_a_gap(hours: int, lines: int) -> None:
    assert plot_svg(series([84, 85, 86], HOUR * hours)).count("<polyline") == lines


@given(values, st.integers(9, 20))
def test_a_plot_keeps_to_its_lines(told: list[float], height: int) -> None:
    assert len(plot_lines(series(told), 60, height)) <= height


def test_the_words_hold_the_ends_what_lies_outside_and_the_last() -> None:
    assert series_words(series([82, 95.5, 79, 84])) == (
        "Warmth: 4 readings, 4 Oct: 79 to 95.5 °F, 2 of them outside the 80 to 90 wanted; the last 84."
    )
    assert series_words(series([85])) == "Warmth: 1 reading, 4 Oct: 85 °F, all inside the 80 to 90 wanted; the last 85."

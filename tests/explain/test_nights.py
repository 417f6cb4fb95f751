"""Night lows as they were told at visits: marks at their days and degrees, and the same in words."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.explain.nights import Night, night_chart, night_words
from assistant.explain.range_plot import chart_lines
from assistant.model.quantities import Units
from assistant.model.readings import Span, exactly

ON = date(2031, 10, 4)


def forecast(low: Span) -> Night:
    return Night(True, date(2031, 10, 6), date(2031, 10, 6), low)


def test_frost_freeze_and_killing_freeze_each_have_a_line_even_where_there_is_little_room() -> None:
    lines = chart_lines(night_chart((Night(False, ON, ON, exactly(71)), forecast(exactly(33))), Units.US), 37, 9)
    named = {line.split("│")[0].strip(): line.split("│")[1] for line in lines if "┄" in line}
    assert {value: text.strip("┄ ").split(" ┄")[0] for value, text in named.items()} == {
        "36": "frost",
        "32": "freeze",
        "28": "killing freeze",
    }
    assert "33○" in named["32"]
    assert "↑71" in lines[1]


@given(st.lists(st.integers(-20, 90), min_size=1, max_size=8), st.integers(37, 100), st.integers(9, 24))
def test_the_coldest_night_is_always_in_the_picture(lows: list[int], width: int, height: int) -> None:
    nights = tuple(
        Night(True, ON.replace(day=at + 1), ON.replace(day=at + 1), exactly(low)) for at, low in enumerate(lows)
    )
    lines = chart_lines(night_chart(nights, Units.US), width, height)
    assert "○" in "".join(lines[1:-1]) or min(lows) > 40


@pytest.mark.parametrize(
    ("low", "words"),
    [
        (exactly(37), "The last of these is above 36 °F (frost)."),
        (exactly(36), "The last of these is at or below 36 °F (frost)."),
        (Span(31, 38), "The last of these may be at or below 32 °F (freeze)."),
        (exactly(20), "The last of these is at or below 28 °F (killing freeze)."),
    ],
)
def test_the_words_say_which_line_the_last_night_reaches(low: Span, words: str) -> None:
    assert night_words((forecast(low),), Units.US)[-1] == words


def test_the_words_hold_every_night_with_its_range_in_the_growers_units() -> None:
    nights = (Night(False, ON, ON, Span(50, 59)), Night(True, ON, date(2031, 10, 11), exactly(41)))
    assert night_words(nights, Units.METRIC)[:2] == [
        "4 Oct: nights of the past week 10 to 15 °C.",
        "Lowest forecast 5 °C, some night from 4 Oct to 11 Oct.",
    ]

"""Which values far from those around them are believed: by how far, and by what the season is used to."""

from __future__ import annotations

from collections import Counter
from datetime import date
from statistics import NormalDist

import pytest

from assistant.weather.screening import screened

SPREAD = 8.5  # °F; of October lows at Clemson
USUAL = 51.0
NIGHT = date(2035, 10, 24)


def octobers(night: float, around: float) -> dict[date, tuple[float | None, float | None]]:
    """Lows of twenty late Octobers spread like a normal curve; one night, and the week around it, as given."""
    lows = [NormalDist(USUAL, SPREAD).inv_cdf((at * 37 % 320 + 0.5) / 320) for at in range(320)]
    days = {date(2016 + at // 16, 10, 16 + at % 16): low for at, low in enumerate(lows)}
    week = {NIGHT.replace(day=day): around for day in range(20, 29)}
    return {on: (low, None) for on, low in (days | week | {NIGHT: night}).items()}


@pytest.mark.parametrize(
    ("night", "around", "kind"),
    [
        (22, 51, None),  # 29 °F colder than the nights around, 3.4 spreads from the season: a front
        (10, 51, None),  # 41 °F and 4.8
        (5, 51, "spike"),  # 46 °F and 5.4: no front does that to one night alone
        (-2, 27, "spike"),  # 29 °F and 6.2: such nights are not known here
        (-2, 20, None),  # 22 °F and 6.2, in a cold week
        (60, 12, None),  # 48 °F from a cold week around, but what October is used to
        (-40, -40, "out of season"),  # a week of 10 spreads
    ],
)
def test_a_value_is_held_against_its_week_and_its_season(night: float, around: float, kind: str | None) -> None:
    set_aside: Counter[str] = Counter()
    kept = {day.on: day.low for day in screened(octobers(night, around), set_aside)}
    assert (NIGHT in kept) is (kind is None)
    assert kind is None or set_aside[kind] >= 1


def test_highs_are_screened_like_lows_and_do_not_take_the_low_with_them() -> None:
    days = {on: (20.0, high) for on, (high, _) in octobers(150.0 - 40, 51).items()}
    set_aside: Counter[str] = Counter()
    (day,) = (day for day in screened(days, set_aside) if day.on == NIGHT)
    assert (day.low, day.high, set_aside) == (20.0, None, {"spike": 1})


def test_few_values_show_spikes_but_have_no_season() -> None:
    week = {date(2031, 10, day): (50.0, None) for day in range(1, 8)}
    set_aside: Counter[str] = Counter()
    assert len(screened(week | {date(2031, 10, 4): (0.0, None)}, set_aside)) == 6
    assert len(screened({date(2031, 10, 4): (0.0, None)}, set_aside)) == 1
    assert set_aside == {"spike": 1}

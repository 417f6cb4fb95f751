"""The progress of a cure against published recipes and trials, each with where it is known from."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.measures.curing import recipes_of
from assistant.model.readings import Span, exactly
from assistant.model.room_log import RoomReading
from assistant.reckoning.curing import Progress, Recipe, by_recipe, days_to_go, pace, progress, stretches
from assistant.rulebook import read_rulebook

DAY = timedelta(days=1)
BEGIN = datetime(2031, 10, 4, 8)
SHORT = 1e-9
RECIPES = {recipe.named: recipe for recipe in recipes_of(read_rulebook("sweetpotato/curing"))}

in_the_band = st.floats(60, 90)
humidities = st.floats(10, 100)


def steady(days: int, temperature: float, humidity: float | None) -> list[RoomReading]:
    """A reading twice a day, always the same."""
    return [RoomReading(BEGIN + DAY * half / 2, temperature, humidity) for half in range(2 * days + 1)]


def after(days: int, temperature: float, humidity: float | None) -> Progress:
    return progress(stretches(steady(days, temperature, humidity)))


# Each recipe in the middle of its temperature and humidity: done by the quickest no later than its longest time, and by
# the slowest no earlier than its shortest. Sources beside the rows in the rulebook, all read.
@pytest.mark.parametrize("recipe", RECIPES.values(), ids=lambda recipe: recipe.named)
def test_no_recipe_is_outside_the_range(recipe: Recipe) -> None:
    warm, damp = ((span.low + span.high) / 2 for span in (recipe.temperature, recipe.humidity))
    fewest, most = days_to_go(progress([]), pace(exactly(warm), exactly(damp)))
    assert fewest <= recipe.days.high + SHORT
    assert most is None or most >= recipe.days.low - SHORT


# North Carolina (read): 80 to 85 °F, 90 to 95 %, 4 to 7 days.
def test_four_days_are_enough_for_north_carolina_at_the_quickest() -> None:
    assert after(4, 82, 92).quick == pytest.approx(1)
    assert by_recipe(RECIPES["North Carolina growers"], stretches(steady(4, 82, 92))) == Span(4 / 7, 1.0)
    assert by_recipe(RECIPES["North Carolina growers"], stretches(steady(7, 82, 92))).low == pytest.approx(1)


# Mississippi State (read): 80 to 85 °F, 85 to 90 %, 6 to 8 days.
def test_six_to_eight_days_are_enough_for_mississippi() -> None:
    assert by_recipe(RECIPES["Mississippi State"], stretches(steady(6, 82, 88))) == Span(6 / 8, 1.0)
    assert after(6, 82, 88).quick >= 1 > after(6, 82, 88).slow


# Michigan State (read): 65 to 70 °F, covered, two to three weeks. Clemson (from memory): nothing heals below 70 °F.
def test_a_cool_cure_is_done_in_two_to_three_weeks_or_never() -> None:
    at_67 = after(14, 67, 88)
    assert at_67.quick == pytest.approx(1)
    assert at_67.slow == 0
    assert at_67.disputed == 14
    assert days_to_go(at_67, pace(exactly(67), exactly(88))) == (0, None)
    fewest, most = days_to_go(progress([]), pace(exactly(70), exactly(88)))
    assert fewest == pytest.approx(14)
    assert most == pytest.approx(21)


# USDA 1944 and Texas A&M (read): up to 14 days at 80 °F are as long as any recipe at full heat.
def test_fourteen_days_at_80_are_enough_for_the_slowest() -> None:
    assert after(14, 80, 88).slow == pytest.approx(1)
    assert after(13, 80, 88).slow < 1


# Wounds healed whole in about 5 days (Rees and others 2008), with suberin across them after 6 days at 29 °C, 84.2 °F
# (Nielsen and Johnson 1974; both read as abstracts): within the range, as finished by some and not by others.
@pytest.mark.parametrize("days", [5, 6])
def test_wounds_heal_in_trials_within_the_range(days: int) -> None:
    so_far = after(days, 84.2, 88)
    assert so_far.slow < 1 <= so_far.quick


# Daines and others (1974; read): a cure near 60 °F (15.5 °C) worked worse. Nothing colder is counted by anybody.
def test_nothing_heals_at_60_and_below() -> None:
    assert after(30, 60, 88).quick == 0
    assert after(30, 50, 88)[:2] == (0, 0)
    assert after(30, 50, 88).cold == 30


# van Oirschot and others (2006; read): at 65 ± 10 % some kinds never heal. Blankenship and Boyette (2002; read): 50 to
# 85 % improved the hold of all skins in 7 days at 30 °C, 86 °F.
def test_dry_air_heals_by_one_trial_and_not_by_another() -> None:
    for humidity in (55, 65, 75):
        assert after(7, 86, humidity).slow == 0
        assert after(7, 86, humidity).quick >= 1
    assert after(7, 86, 49).quick == 0


@given(in_the_band, st.floats(0, 30), humidities)
def test_warmer_within_the_curing_band_never_takes_longer(warm: float, more: float, humidity: float) -> None:
    warmer = min(warm + more, 90.0)
    here, there = (days_to_go(progress([]), pace(exactly(each), exactly(humidity))) for each in (warm, warmer))
    assert there[0] <= here[0]
    assert (there[1] or float("inf")) <= (here[1] or float("inf"))


@given(in_the_band, humidities, st.floats(0, 90))
def test_damper_never_takes_longer(warm: float, humidity: float, more: float) -> None:
    damper = min(humidity + more, 100.0)
    here, there = (pace(exactly(warm), exactly(each)) for each in (humidity, damper))
    assert there.slow >= here.slow
    assert there.quick >= here.quick


readings = st.lists(st.tuples(st.integers(1, 60), st.floats(30, 120), st.none() | humidities), min_size=1, max_size=12)


def log_of(steps: list[tuple[int, float, float | None]]) -> list[RoomReading]:
    told, at = [], BEGIN
    for hours, temperature, humidity in steps:
        at += timedelta(hours=hours)
        told.append(RoomReading(at, temperature, humidity))
    return told


@given(readings)
def test_the_slowest_is_never_ahead_of_the_quickest(steps: list[tuple[int, float, float | None]]) -> None:
    so_far = progress(stretches(log_of(steps)))
    assert 0 <= so_far.slow <= so_far.quick + SHORT


@given(readings)
def test_one_more_reading_never_takes_progress_away(steps: list[tuple[int, float, float | None]]) -> None:
    before, now = (progress(stretches(log_of(some))) for some in (steps[:-1], steps))
    assert now.slow >= before.slow
    assert now.quick >= before.quick


@given(readings, st.integers(0, 11), st.floats(60, 90), st.floats(60, 90))
def test_a_warmer_reading_never_takes_progress_away(
    steps: list[tuple[int, float, float | None]], which: int, one: float, other: float
) -> None:
    """All readings within the band; one of them made warmer."""
    warm = [(hours, min(max(temperature, 60.0), 90.0), humidity) for hours, temperature, humidity in steps]
    at = which % len(warm)
    cooler, warmer = (
        [*warm[:at], (warm[at][0], temperature, warm[at][2]), *warm[at + 1 :]] for temperature in sorted((one, other))
    )
    before, now = (progress(stretches(log_of(some))) for some in (cooler, warmer))
    assert now.slow >= before.slow - SHORT
    assert now.quick >= before.quick - SHORT


@given(in_the_band, in_the_band, humidities, humidities, st.floats(0, 1), st.floats(0, 1))
def test_a_vague_reading_holds_the_pace_of_each_exact_one(
    one: float, other: float, dry: float, damp: float, warmth: float, dampness: float
) -> None:
    warm, moist = Span(*sorted((one, other))), Span(*sorted((dry, damp)))
    vague = pace(warm, moist)
    exact = pace(
        exactly(warm.low + (warm.high - warm.low) * warmth), exactly(moist.low + (moist.high - moist.low) * dampness)
    )
    assert vague.slow <= exact.slow + SHORT
    assert vague.quick >= exact.quick - SHORT


@pytest.mark.parametrize("temperature", [50, 85])
def test_a_gap_counts_nothing_for_the_slowest_and_all_for_the_quickest(temperature: float) -> None:
    gap = [RoomReading(BEGIN, temperature, 88), RoomReading(BEGIN + 2 * DAY, temperature, 88)]
    so_far = progress(stretches(gap))
    assert so_far.slow == 0
    assert so_far.quick == pytest.approx(0.5)
    assert so_far.unknown == 2

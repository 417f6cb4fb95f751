"""Laws of the count of cold: it adds up, and a colder store never lowers it."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.model.room_log import Gap, RoomLog, RoomReading
from assistant.reckoning.chilling import cold_in, hours_to_harm, strict_hours_to_harm
from assistant.reckoning.spells import Spell, spells_of

START = datetime(2031, 11, 1)
temperatures = st.lists(st.floats(20, 80), min_size=1, max_size=60)


def hourly(degrees: list[float]) -> list[Spell]:
    return [Spell(START + timedelta(hours=at), 1.0, each, 85.0) for at, each in enumerate(degrees)]


@given(temperatures, st.floats(0, 30))
def test_a_colder_store_never_lowers_the_count(degrees: list[float], colder: float) -> None:
    before, after = cold_in(hourly(degrees)), cold_in(hourly([each - colder for each in degrees]))
    assert all(now >= then - 1e-9 for then, now in zip(before.dose, after.dose, strict=True))
    assert all(after.hours[limit] >= hours for limit, hours in before.hours.items())
    assert after.freezing_hours >= before.freezing_hours
    if before.harmed_at:
        assert after.harmed_at is not None
        assert after.harmed_at <= before.harmed_at + timedelta(seconds=1)


@given(temperatures)
def test_harm_has_a_date_exactly_when_there_is_enough_cold_for_it(degrees: list[float]) -> None:
    cold = cold_in(hourly(degrees * 3))
    assert cold.is_harmful == (cold.harmed_at is not None)


@given(temperatures, temperatures)
def test_the_count_adds_up_over_spells(one: list[float], other: list[float]) -> None:
    together = cold_in(hourly(one + other)).dose
    apart = [a + b for a, b in zip(cold_in(hourly(one)).dose, cold_in(hourly(other)).dose, strict=True)]
    assert list(together) == pytest.approx(apart)


@given(st.floats(-20, 90))
def test_the_strictest_source_never_allows_more_time(temperature: float) -> None:
    kind, strict = hours_to_harm(temperature), strict_hours_to_harm(temperature)
    assert kind is None or (strict is not None and strict <= kind)


def test_between_the_published_temperatures_the_time_changes_evenly() -> None:
    assert hours_to_harm(42.5) == (24 + 72) / 2
    assert hours_to_harm(20) == 24
    assert hours_to_harm(50.01) is None


def test_the_harm_is_dated_within_the_spell_that_completes_it() -> None:
    spells = [Spell(START, 48, 50.0, None), Spell(START + timedelta(days=10), 48, 50.0, None)]
    assert cold_in(spells).harmed_at == START + timedelta(days=11)


def test_hours_without_a_temperature_tell_nothing() -> None:
    cold = cold_in([Spell(START, 500, None, 85.0)])
    assert (cold.dose.high, cold.harmed_at, set(cold.hours.values())) == (0, None, {0.0})


def readings(*hours: float) -> tuple[RoomReading, ...]:
    return tuple(RoomReading(START + timedelta(hours=hour), 50.0, 85.0) for hour in hours)


def test_a_reading_holds_until_the_next_and_the_last_for_the_usual_step() -> None:
    assert [spell.hours for spell in spells_of(RoomLog("log", readings(0, 1, 2, 4), {}))] == [1, 1, 2, 1]


def test_a_gap_counts_for_no_more_than_the_usual_step() -> None:
    gap = Gap(START + timedelta(hours=2), START + timedelta(hours=50))
    told = spells_of(RoomLog("log", readings(0, 1, 2, 50, 51), {}, (gap,)))
    assert [spell.hours for spell in told] == [1, 1, 1, 1, 1]


def test_one_reading_tells_of_no_time() -> None:
    assert [spell.hours for spell in spells_of(RoomLog("log", readings(0), {}))] == [0]

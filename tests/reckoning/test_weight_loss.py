"""Laws of weight in store: it never grows, drier air and worse cures take more, and cold makes it untold."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.reckoning.moist_air import Air
from assistant.reckoning.spells import Spell
from assistant.reckoning.weight_loss import Cure, daily_loss, loss_over

START = datetime(2031, 11, 1)
cures = st.sampled_from(Cure)
airs = st.tuples(st.floats(50, 85), st.one_of(st.none(), st.floats(0, 100)))


def daily(air: Sequence[tuple[float, float | None]]) -> list[Spell]:
    return [Spell(START + timedelta(days=at), 24.0, *each) for at, each in enumerate(air)]


@given(st.lists(airs, min_size=1, max_size=10), airs, cures)
def test_weights_never_grow(
    air: list[tuple[float, float | None]], more: tuple[float, float | None], cure: Cure
) -> None:
    before, after = loss_over(daily(air), cure).left, loss_over(daily([*air, more]), cure).left
    assert before.low <= before.likely <= before.high <= 1
    assert all(now < then for then, now in zip(before, after, strict=True))


@given(st.floats(50, 85), st.floats(0, 100), st.floats(0, 100), cures)
def test_drier_air_takes_no_less(temperature: float, one: float, other: float, cure: Cure) -> None:
    dry, damp = (daily_loss(Air(temperature, humidity), cure) for humidity in sorted((one, other)))
    assert dry is not None
    assert damp is not None
    assert all(more >= less - 1e-12 for more, less in zip(dry, damp, strict=True))


@given(st.floats(50, 85), st.floats(0, 100))
def test_a_better_cure_keeps_more(temperature: float, humidity: float) -> None:
    full, none = (daily_loss(Air(temperature, humidity), cure) for cure in (Cure.FULL, Cure.NONE))
    assert full is not None
    assert none is not None
    assert all(less < more for less, more in zip(full, none, strict=True))


def test_a_log_in_spells_loses_what_its_days_lose() -> None:
    air = Air(57, 80)
    loss = daily_loss(air, Cure.FULL)
    assert loss is not None
    left = loss_over(daily([(57, 80)] * 30), Cure.FULL).left
    assert left.likely == pytest.approx((1 - loss.likely) ** 30)
    assert left.low == pytest.approx((1 - loss.high) ** 30)


def test_from_the_first_cold_spell_on_nothing_is_told() -> None:
    warm = loss_over(daily([(58, 85)] * 5), Cure.FULL)
    told = loss_over(daily([(58, 85)] * 5 + [(49.9, 85)] + [(58, 85)] * 5), Cure.FULL)
    assert told.untold_from == START + timedelta(days=5)
    assert told.left == warm.left
    assert loss_over(daily([(50, 85)]), Cure.FULL).untold_from is None


def test_humidity_that_nobody_measured_widens_the_range() -> None:
    measured, guessed = (loss_over(daily([(58, humidity)] * 30), Cure.FULL).left for humidity in (85.0, None))
    assert guessed.low < measured.low
    assert measured.high < guessed.high
    assert guessed.likely == measured.likely

"""Eating up: against a walk in small steps, and the laws that more eaters empty a store sooner."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.reckoning.using_up import PARTS, Plan, Portion, in_order, plan_of, rate_to_finish, short_by

ON = date(2032, 1, 15)


def portion(part: str = "sound", pounds: float = 30, stored: int = 90, keeps: tuple[int, int] = (30, 90)) -> Portion:
    first, last = (ON + timedelta(days=days) for days in keeps)
    return Portion("north", part, pounds, ON - timedelta(days=stored), (first, last))


portions = st.lists(
    st.builds(
        portion,
        st.sampled_from(PARTS),
        st.floats(0.5, 200),
        st.integers(0, 300),
        st.tuples(st.integers(1, 60), st.integers(60, 200)),
    ),
    min_size=1,
    max_size=4,
)


def walked(store: list[Portion], per_day: float, loss: float, days: int, steps: int = 200) -> list[float]:
    """Pounds of each portion after some days, in small steps: first all dry, then the first that has any is eaten."""
    left = [each.pounds for each in in_order(store)]
    for _ in range(days * steps):
        left = [each * (1 - loss) ** (1 / steps) for each in left]
        bite = per_day / steps
        for at, each in enumerate(left):
            eaten = min(bite, each)
            left[at], bite = each - eaten, bite - eaten
    return left


@pytest.mark.parametrize(("per_day", "loss"), [(0.4, 0.0), (0.4, 0.0015), (1.1, 0.01)])
def test_what_is_left_is_what_a_walk_in_small_steps_leaves(per_day: float, loss: float) -> None:
    store = [portion("sound", 30, keeps=(40, 60)), portion("nicked", 8, keeps=(10, 60))]
    plan = plan_of(store, ON, per_day, loss)
    for at, turn in enumerate(plan.turns):
        for end, keeps in enumerate(turn.portion.keeps):
            days = (keeps - ON).days
            assert turn.left_at[end] == pytest.approx(walked(store, per_day, loss, days)[at], abs=0.05)
        assert turn.gone is not None
        gone = (turn.gone - ON).days
        assert walked(store, per_day, loss, gone - 1)[at] > 0
        assert walked(store, per_day, loss, gone + 1)[at] == pytest.approx(0, abs=0.05)


def test_what_spoils_soonest_is_eaten_first_and_among_equals_the_oldest() -> None:
    store = [portion(part) for part in reversed(PARTS)] + [portion("sound", stored=200)]
    ordered = in_order(store)
    assert [each.part for each in ordered] == [*PARTS, "sound"]
    assert ordered[-2].stored < ordered[-1].stored


@given(portions, st.floats(0.05, 5), st.floats(0, 5), st.floats(0, 0.01))
def test_who_eats_more_leaves_no_more(store: list[Portion], per_day: float, more: float, loss: float) -> None:
    slow, quick = plan_of(store, ON, per_day, loss), plan_of(store, ON, per_day + more, loss)
    assert all(less <= much + 1e-9 for less, much in zip(quick.too_much, slow.too_much, strict=True))
    assert slow.gone is None or (quick.gone is not None and quick.gone <= slow.gone)


@given(portions, st.floats(0.05, 5), st.floats(0, 0.01))
def test_nothing_is_left_over_that_was_not_there(store: list[Portion], per_day: float, loss: float) -> None:
    for turn in plan_of(store, ON, per_day, loss).turns:
        assert all(0 <= left <= turn.portion.pounds for left in turn.left_at)


@given(portions, st.floats(0, 0.01), st.booleans())
def test_the_rate_to_finish_does_and_a_little_less_does_not(store: list[Portion], loss: float, latest: bool) -> None:
    rate = rate_to_finish(store, ON, loss, latest)
    assert rate is not None
    assert plan_of(store, ON, rate, loss).too_much[latest] == pytest.approx(0, abs=1e-4)
    assert plan_of(store, ON, rate * 0.98, loss).too_much[latest] > 0


def test_what_is_past_its_time_sets_no_pace() -> None:
    assert rate_to_finish([portion(keeps=(-5, -1))], ON) is None
    with_old = rate_to_finish([portion(keeps=(-5, -1), part="nicked", pounds=3), portion(keeps=(30, 60))], ON)
    assert with_old == pytest.approx(33 / 30)


def test_what_is_past_its_first_day_is_measured_by_its_last() -> None:
    plan = plan_of([portion(pounds=30, keeps=(-5, 20))], ON, 1.0)
    assert plan.turns[0].left_at == (30, 10)
    assert plan.too_much == (10, 10)


def test_too_little_is_what_the_days_without_any_would_take() -> None:
    plan = plan_of([portion(pounds=30)], ON, 1.0)
    assert plan.gone == ON + timedelta(days=30)
    assert short_by(plan, ON + timedelta(days=40), 1.0) == 10
    assert short_by(plan, ON + timedelta(days=20), 1.0) == 0
    assert short_by(Plan((), None, (0, 0)), ON, 1.0) == 0


@pytest.mark.parametrize(("per_day", "loss"), [(0.0, 0.0), (-1.0, 0.0), (1.0, 1.0), (1.0, -0.1)])
def test_a_rate_or_a_loss_that_cannot_be_is_refused(per_day: float, loss: float) -> None:
    with pytest.raises(ValueError, match="share of their weight"):
        plan_of([portion()], ON, per_day, loss)

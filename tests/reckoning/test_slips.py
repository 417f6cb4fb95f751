"""Slips and rows for so many pounds: laws of the ranges."""

from __future__ import annotations

from math import log, sqrt
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.reckoning.ranges import Range
from assistant.reckoning.slips import (
    Layout,
    SlipPlan,
    bed_area,
    divided,
    inverse,
    kept,
    most_fertilizer,
    most_nitrogen,
    slip_plan,
)

POUNDS = st.floats(1, 10_000)
MONTHS = st.floats(0, 12)
RANGES = st.tuples(st.floats(0.1, 1), st.floats(1, 2), st.floats(2, 9)).map(lambda ends: Range(*ends))


@given(POUNDS, st.sampled_from(["eaten", "sold"]), MONTHS)
def test_every_figure_is_a_range_in_order_above_zero(pounds: float, use: str, months: float) -> None:
    for figure in slip_plan(pounds, use, months):
        assert 0 < figure.low <= figure.likely <= figure.high


@given(POUNDS, MONTHS, st.floats(1.01, 3))
def test_more_pounds_and_a_longer_store_never_need_less(pounds: float, months: float, more: float) -> None:
    plan = slip_plan(pounds, "eaten", months)
    for larger in (slip_plan(pounds * more, "eaten", months), slip_plan(pounds, "eaten", months * more)):
        assert all(after.likely >= before.likely for before, after in zip(plan, larger, strict=True))


@given(POUNDS, MONTHS)
def test_what_is_dug_is_never_less_than_what_is_wanted(pounds: float, months: float) -> None:
    assert slip_plan(pounds, "eaten", months).dug.low >= pounds


@given(st.floats(0, 24), st.floats(0, 24))
def test_weights_never_grow_in_store(first: float, more: float) -> None:
    before, after = kept(first), kept(first + more)
    assert all(late <= early for early, late in zip(before, after, strict=True))
    assert kept(0) == Range(1, 1, 1)


def test_closer_plants_take_the_same_row_and_more_slips() -> None:
    wide, close = (slip_plan(100, "eaten", 3, Layout(spacing)) for spacing in (12, 8))
    assert close.row_feet == wide.row_feet
    assert close.slips.likely == pytest.approx(wide.slips.likely * 1.5)


def test_roots_kept_warm_before_bedding_save_seed_alone() -> None:
    cold, warm = (slip_plan(100, "eaten", 3, presprouted=presprouted) for presprouted in (False, True))
    assert warm.slips == cold.slips
    assert warm.seed_pounds.likely == pytest.approx(cold.seed_pounds.likely / 2.5)


def test_a_box_is_forty_pounds() -> None:
    plan = slip_plan(1000, "sold", 0)
    assert plan.seed_pounds.likely == pytest.approx(plan.boxes.likely * 40)


def test_your_own_yield_narrows_the_row() -> None:
    own, usual = slip_plan(100, "eaten", 3, per_foot=Range(1, 1.2, 1.4)), slip_plan(100, "eaten", 3)
    assert usual.row_feet.low < own.row_feet.low < own.row_feet.high < usual.row_feet.high


@given(st.floats(0.1, 100), RANGES)
def test_one_range_alone_divides_end_by_end(amount: float, by: Range) -> None:
    assert divided(amount, by) == pytest.approx(Range(amount / by.high, amount / by.likely, amount / by.low))
    assert inverse(inverse(by)) == pytest.approx(by)


@given(st.floats(0.1, 100), RANGES, RANGES)
def test_two_ranges_reach_further_than_one_and_less_far_than_their_ends_together(
    amount: float, first: Range, second: Range
) -> None:
    both = divided(amount, first, second)
    assert amount / (first.high * second.high) * 0.999 <= both.low <= divided(amount / second.likely, first).low * 1.001
    assert divided(amount / second.likely, first).high * 0.999 <= both.high <= amount / first.low / second.low * 1.001


def test_independent_ranges_hold_their_share_of_random_trials() -> None:
    """Ends taken as 90 % of a law in ratios: about nine in ten of random quotients fall between the ends."""
    random, by = Random(1), (Range(0.5, 1, 2), Range(0.8, 1, 1.25), Range(0.6, 1, 1 / 0.6))
    ends = divided(1, *by)
    spreads = [log(each.high) / 1.645 for each in by]
    trials = [sum(random.gauss(0, spread) for spread in spreads) for _ in range(4000)]
    held = sum(log(ends.low) <= trial <= log(ends.high) for trial in trials) / len(trials)
    assert held == pytest.approx(0.9, abs=3 * sqrt(0.9 * 0.1 / 4000))


def test_feeding_goes_by_the_area_of_the_rows() -> None:
    area = bed_area(100, 36)
    assert area == 300
    assert most_fertilizer(area, 10) == pytest.approx(most_nitrogen(area) * 10)


def test_another_use_is_an_error() -> None:
    with pytest.raises(KeyError):
        slip_plan(100, "given away", 3)


def test_a_plan_names_every_step() -> None:
    assert SlipPlan._fields == ("dug", "row_feet", "plants", "slips", "seed_roots", "seed_pounds", "boxes")

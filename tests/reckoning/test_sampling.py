"""Dig another hill or stop."""

from __future__ import annotations

from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.reckoning.sampling import (
    Answer,
    Plan,
    hill_chance,
    hills_for_share,
    hills_for_weight,
    progress,
    prospect,
)


def test_two_hills_of_nothing_but_wanted_roots_are_enough() -> None:
    assert progress(((5, 5),)).answer is None
    assert progress(((5, 5), (5, 5))).answer is Answer.MOST
    assert progress(((0, 5), (0, 4))).answer is Answer.FEW


def test_hills_on_both_sides_ask_for_more_and_at_last_say_so() -> None:
    assert progress(((2, 5), (3, 5))).more_hills >= 1
    assert progress(((2, 5), (3, 5)) * 4).answer is Answer.BETWEEN


def test_an_empty_hill_is_no_evidence_but_counts_towards_the_last_one() -> None:
    assert progress(((5, 5), (0, 0))).evidence == progress(((5, 5),)).evidence
    assert progress(((0, 0),) * 8).answer is Answer.BETWEEN
    assert progress(()).more_hills >= 1


@given(st.lists(st.integers(1, 8).flatmap(lambda of: st.tuples(st.integers(0, of), st.just(of))), max_size=10))
def test_it_stops_exactly_when_no_more_hills_are_asked(hills: list[tuple[int, int]]) -> None:
    found = progress(tuple(hills))
    assert (found.answer is None) == (found.more_hills > 0)


@given(st.integers(0, 7), st.integers(1, 8), st.floats(0, 1))
def test_one_more_wanted_root_is_never_evidence_of_fewer(some: int, of: int, likeness: float) -> None:
    plan = Plan(likeness=min(likeness, 0.9))
    if some < of:
        assert plan.weight(some + 1, of) > plan.weight(some, of) - 1e-12


@given(st.floats(0.05, 0.95), st.integers(1, 6), st.floats(0, 0.9))
def test_the_chances_of_a_hill_add_up(share: float, of: int, likeness: float) -> None:
    assert sum(hill_chance(some, of, share, likeness) for some in range(of + 1)) == pytest.approx(1)


# Truth: the same plan walked by chance, 4,000 beds a share; the exact walk is to be within 0.03 (4 standard errors) and
# the number of hills within 0.15.
@pytest.mark.parametrize("share", [0.2, 0.35, 0.5, 0.65, 0.9])
def test_the_prospect_is_what_comes_of_digging(share: float) -> None:
    plan, chance, ends, hills = Plan(), Random(3), dict.fromkeys(Answer, 0), 0
    around = 1 / plan.likeness - 1
    for _ in range(4000):
        evidence, dug, answer = 0.0, 0, None
        while answer is None:
            of_hill = chance.betavariate(share * around, (1 - share) * around)
            evidence += plan.weight(sum(chance.random() < of_hill for _ in range(5)), 5)
            dug += 1
            answer = plan.answer(evidence, dug)
        ends[answer] += 1
        hills += dug
    exact = prospect(plan, share, 5)
    assert exact[:3] == pytest.approx([ends[answer] / 4000 for answer in Answer], abs=0.03)
    assert exact.hills == pytest.approx(hills / 4000, abs=0.15)


@given(st.floats(0.05, 0.5), st.floats(0.2, 0.8), st.integers(1, 9))
def test_more_precision_never_takes_fewer_hills(within: float, share: float, roots: int) -> None:
    assert hills_for_share(within / 2, share, roots) >= hills_for_share(within, share, roots)
    assert hills_for_weight(within / 2, share) >= hills_for_weight(within, share)

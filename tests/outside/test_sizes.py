"""Sizes of grades and what a test dig says of them, against the published figures (inches and centimetres)."""

from __future__ import annotations

from datetime import date

import pytest
from gardens import GARDEN, ON, RULEBOOK

from assistant.model.case import Case, TestDig
from assistant.model.quantities import centimetres
from assistant.model.readings import Span
from assistant.season import advise

GRADES = RULEBOOK.tables["grades"].rows


# Smith 2009, LSU AgCenter, "Sweet potatoes get grades": U.S. No. 1 is 1 3/4 to 3 1/2 in across and 3 to 9 in long.
def test_us_no_1_is_1_75_to_3_5_inches_across_and_3_to_9_long() -> None:
    assert GRADES["us-no-1"].values == {"diameter": Span(1.75, 3.5), "length": Span(3, 9)}


# The same in centimetres: 4.445 and 8.89.
def test_us_no_1_in_centimetres() -> None:
    diameter = GRADES["us-no-1"].values["diameter"]
    assert (centimetres(diameter.low), centimetres(diameter.high)) == pytest.approx((4.445, 8.89))


# Release of Orleans, HortScience 47(12):1817: trials count 5.1 to 8.9 cm (2 to 3 1/2 in) as No. 1.
def test_trials_ask_a_quarter_inch_more_than_the_grade() -> None:
    trial = GRADES["research-no-1"].values["diameter"]
    assert centimetres(trial.low) == pytest.approx(5.1, abs=0.05)
    assert trial.low - GRADES["us-no-1"].values["diameter"].low == 0.25


# USDA AMS, Sweetpotatoes for Canning or Freezing: 1 to 2 1/4 in across and 2 to 7 in long.
def test_canning_no_1_is_1_to_2_25_inches_across_and_2_to_7_long() -> None:
    assert GRADES["canning-no-1"].values == {"diameter": Span(1, 2.25), "length": Span(2, 7)}


# Sizes as above: the whole sample just inside or just outside the grade.
@pytest.mark.parametrize(
    ("diameter", "size"),
    [(1.74, "too-small"), (1.75, "right"), (3.5, "right"), (3.51, "too-big")],
)
def test_a_test_dig_is_held_against_the_limits_of_us_no_1(diameter: float, size: str) -> None:
    dig = TestDig(Span(1.75, 3.5), ((diameter,) * 4, (diameter,) * 4))
    verdict = advise(RULEBOOK, _case(ON, dig))
    assert verdict.derivation.knowledge.concluded["size"] == {size}


def _case(on: date, dig: TestDig) -> Case:
    return Case("A test dig", RULEBOOK.name, on, garden=GARDEN, test_dig=dig)

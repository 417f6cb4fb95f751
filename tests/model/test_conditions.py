from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.model.conditions import (
    ALWAYS,
    All,
    AnyOf,
    CantTell,
    Compare,
    CompareTo,
    Concluded,
    Condition,
    Could,
    Knowledge,
    Not,
    OneOf,
    Op,
    Truth,
    findings_in,
    is_plain,
    leaves,
    readings_in,
    truth,
)
from assistant.model.readings import Choices, Reading, Span, exactly, one_of

FREEZE = Compare("low", Op.AT_MOST, 32)
GREEN = OneOf("vines", frozenset({"green"}))
RIGHT = Concluded("size", frozenset({"right"}))
DOMAINS: dict[str, Reading] = {
    "low": Span(-20, 100),
    "vines": one_of("green", "yellowing"),
    "days": Span(0, 300),
    "needed": Span(90, 120),
}


def state(condition: Condition, *concluded: str, **readings: Reading) -> Truth:
    """The state of a condition where all other readings are the whole domain."""
    known = Knowledge({**DOMAINS, **readings}, DOMAINS, {"size": frozenset(concluded)} if concluded else {})
    return truth(condition, known)


@pytest.mark.parametrize(
    ("reading", "expected"),
    [
        (Span(29, 36), Truth.OPEN),
        (Span(29, 32), Truth.TRUE),
        (Span(32.01, 36), Truth.FALSE),
        (Span(-20, 100), Truth.OPEN),
    ],
)
def test_a_threshold_is_true_for_the_whole_reading_false_for_none_of_it_or_open(reading: Span, expected: Truth) -> None:
    assert state(FREEZE, low=reading) is expected


@pytest.mark.parametrize(
    ("op", "reading", "expected"),
    [
        (Op.AT_LEAST, Span(90, 95), Truth.TRUE),
        (Op.AT_LEAST, Span(89.99, 95), Truth.OPEN),
        (Op.AT_LEAST, Span(80, 89.99), Truth.FALSE),
        (Op.ABOVE, Span(90, 95), Truth.OPEN),
        (Op.ABOVE, Span(80, 90), Truth.FALSE),
        (Op.AT_MOST, Span(80, 90), Truth.TRUE),
        (Op.AT_MOST, Span(90.01, 95), Truth.FALSE),
        (Op.BELOW, Span(80, 90), Truth.OPEN),
        (Op.BELOW, Span(90, 95), Truth.FALSE),
        (Op.BELOW, Span(80, 89.99), Truth.TRUE),
    ],
)
def test_each_comparison_at_its_bound(op: Op, reading: Span, expected: Truth) -> None:
    assert state(Compare("days", op, 90), days=reading) is expected


@pytest.mark.parametrize(
    ("days", "needed", "expected"),
    [
        (exactly(110), Span(90, 110), Truth.TRUE),
        (exactly(109), Span(90, 110), Truth.OPEN),
        (exactly(89), Span(90, 110), Truth.FALSE),
        (Span(105, 115), Span(90, 110), Truth.OPEN),
    ],
)
def test_days_in_the_ground_against_the_days_a_variety_takes(days: Span, needed: Span, expected: Truth) -> None:
    assert state(CompareTo("days", Op.AT_LEAST, "needed"), days=days, needed=needed) is expected


def test_could_counts_a_forecast_of_29_to_36_as_a_freeze_and_is_never_open() -> None:
    assert state(Could(FREEZE), low=Span(29, 36)) is Truth.TRUE
    assert state(Could(FREEZE), low=Span(33, 36)) is Truth.FALSE
    assert state(Could(FREEZE)) is Truth.TRUE


def test_not_could_and_could_not_are_different_things() -> None:
    assert state(Not(Could(FREEZE)), low=Span(29, 36)) is Truth.FALSE
    assert state(Could(Not(FREEZE)), low=Span(29, 36)) is Truth.TRUE


def test_a_choice_is_certain_only_when_nothing_else_is_possible() -> None:
    assert state(GREEN) is Truth.OPEN
    assert state(GREEN, vines=one_of("green")) is Truth.TRUE
    assert state(GREEN, vines=one_of("yellowing")) is Truth.FALSE


def test_cant_tell_is_the_whole_domain_and_never_open() -> None:
    assert state(CantTell("vines")) is Truth.TRUE
    assert state(CantTell("low"), low=Span(-20, 99)) is Truth.FALSE


def test_a_finding_is_open_until_concluded_and_disputed_when_concluded_two_ways() -> None:
    assert state(RIGHT) is Truth.OPEN
    assert state(RIGHT, "right") is Truth.TRUE
    assert state(RIGHT, "small") is Truth.FALSE
    assert state(RIGHT, "right", "small") is Truth.DISPUTED
    assert state(Could(RIGHT)) is Truth.TRUE
    assert state(Not(RIGHT)) is Truth.OPEN


def test_always_is_true_and_any_of_nothing_is_false() -> None:
    assert state(ALWAYS) is Truth.TRUE
    assert state(AnyOf(())) is Truth.FALSE


@given(st.floats(-1000, 1000), st.floats(-1000, 1000), st.sampled_from(list(Op)))
def test_of_a_comparison_and_its_opposite_exactly_one_holds(value: float, bound: float, op: Op) -> None:
    assert op.holds(value, bound) != op.opposite.holds(value, bound)
    assert op.opposite.opposite is op


@given(st.integers(-5, 5), st.integers(0, 4), st.integers(-6, 6), st.sampled_from(list(Op)))
def test_a_threshold_is_true_exactly_when_it_holds_for_every_value_of_the_reading(
    low: int, width: int, bound: int, op: Op
) -> None:
    values = [op.holds(value, bound) for value in range(low, low + width + 1)]
    expected = Truth.TRUE if all(values) else Truth.OPEN if any(values) else Truth.FALSE
    assert state(Compare("low", op, bound), low=Span(low, low + width)) is expected


@given(st.sets(st.sampled_from("abcd"), min_size=1), st.sets(st.sampled_from("abcd"), min_size=1))
def test_a_choice_is_true_exactly_when_it_holds_for_every_possible_one(possible: set[str], wanted: set[str]) -> None:
    holds = [choice in wanted for choice in possible]
    expected = Truth.TRUE if all(holds) else Truth.OPEN if any(holds) else Truth.FALSE
    assert state(OneOf("vines", frozenset(wanted)), vines=Choices(frozenset(possible))) is expected


def test_names_and_leaves_come_once_and_in_the_order_written() -> None:
    condition = All((AnyOf((GREEN, FREEZE)), Not(CompareTo("days", Op.BELOW, "needed")), Could(RIGHT), FREEZE))
    assert readings_in(condition) == ("vines", "low", "days", "needed")
    assert findings_in(condition) == ("size",)
    assert [type(leaf).__name__ for leaf in leaves(condition)] == [
        "OneOf",
        "Compare",
        "CompareTo",
        "Concluded",
        "Compare",
    ]


def test_could_and_cant_tell_are_not_plain_however_deep() -> None:
    assert is_plain(All((AnyOf((GREEN, RIGHT)), Not(FREEZE))))
    assert not is_plain(All((GREEN, Not(AnyOf((Could(FREEZE),))))))
    assert not is_plain(AnyOf((CantTell("low"),)))

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.model.readings import Choices, Span, exactly, hull, one_of

numbers = st.floats(-1000, 1000, allow_nan=False)
spans = st.tuples(numbers, numbers).map(lambda ends: Span(min(ends), max(ends)))
choices = st.sets(st.sampled_from("abcd"), min_size=1).map(lambda names: Choices(frozenset(names)))


def test_a_span_the_wrong_way_round_and_a_reading_of_no_choice_are_refused() -> None:
    with pytest.raises(ValueError, match="a span runs from low to high"):
        Span(2, 1)
    with pytest.raises(ValueError, match="allows at least one choice"):
        one_of()


@given(spans, numbers)
def test_an_exact_value_lies_within_a_span_exactly_when_it_is_between_its_ends(span: Span, value: float) -> None:
    assert exactly(value).within(span) == (span.low <= value <= span.high)


@given(spans, spans)
def test_the_meet_is_within_both_and_none_only_when_they_do_not_touch(one: Span, other: Span) -> None:
    both = one.meet(other)
    assert both == other.meet(one)
    if both is None:
        assert one.high < other.low or other.high < one.low
    else:
        assert both.within(one)
        assert both.within(other)
        assert {both.low, both.high} <= {one.low, one.high, other.low, other.high}


@given(st.lists(spans, min_size=1))
def test_the_hull_covers_every_span_and_ends_where_one_ends(all_spans: list[Span]) -> None:
    whole = hull(all_spans)
    assert all(span.within(whole) for span in all_spans)
    assert whole.low in {span.low for span in all_spans}
    assert whole.high in {span.high for span in all_spans}


small_spans = st.tuples(st.integers(0, 4), st.integers(0, 4)).map(lambda ends: Span(min(ends), max(ends)))


@given(*[small_spans | choices] * 3)
def test_within_is_an_order(one: Span | Choices, two: Span | Choices, three: Span | Choices) -> None:
    assert one.within(one)
    if one.within(two) and two.within(one):
        assert one == two
    if one.within(two) and two.within(three):
        assert one.within(three)


def test_a_number_never_lies_within_choices() -> None:
    assert not exactly(1).within(one_of("a"))
    assert not one_of("a").within(exactly(1))
